"""Nuts, heads, holes and washers by thread, and what is said where no standard lists a size."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import LibraryError
from splitline.library.dimensions import NO_STANDARD, clearance_hole, head, nut, washer
from splitline.library.store import Library
from splitline.library.threads import parse_designation

LIBRARY = Library.load()
INCH = 0.0254


def test_nuts_of_both_systems() -> None:
    # ASME B18.2.4.6M and B18.2.2
    metric = nut(LIBRARY, parse_designation("M48x3"), "heavy-hex")
    assert (metric.across_flats, metric.height) == pytest.approx((0.080, 0.048))
    inch = nut(LIBRARY, parse_designation("1 3/4-8UN"), "heavy-hex")
    assert inch.across_flats == pytest.approx(2.75 * INCH)
    assert inch.height == pytest.approx(1.759 * INCH)
    assert nut(LIBRARY, parse_designation("M20"), "hex").across_flats == pytest.approx(0.030)


@pytest.mark.parametrize("form", NO_STANDARD)
def test_forms_without_a_standard_ask_for_sizes(form: str) -> None:
    with pytest.raises(LibraryError, match=f"a {form} nut follows no standard: give across_flats"):
        nut(LIBRARY, parse_designation("M48x3"), form)


def test_a_site_can_add_such_a_nut(tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_text(
        '[[nuts]]\nname = "M48 sleeve nut"\nsource = "drawing 12"\nstyle = "sleeve"\ndiameter = "48 mm"\n'
        'across_flats = "65 mm"\nheight = "90 mm"\nbearing_diameter = "64 mm"\n',
        "utf-8",
    )
    found = nut(Library.load(tmp_path), parse_designation("M48x3"), "sleeve")
    assert (found.across_flats, found.height_min, found.source) == (0.065, 0.09, "drawing 12")


def test_a_size_off_the_list_names_the_nearest() -> None:
    with pytest.raises(LibraryError, match=r"no heavy-hex nut in the library for M33x3.5 \(nearest: M30 .*, M36 "):
        nut(LIBRARY, parse_designation("M33"), "heavy-hex")
    with pytest.raises(LibraryError, match="no hardened washer"):
        washer(LIBRARY, parse_designation("M200x4"))


def test_heads() -> None:
    socket = head(LIBRARY, parse_designation("M36"), "socket")
    assert (socket.across_flats, socket.height) == pytest.approx((0.027, 0.036))  # ISO 4762
    assert head(LIBRARY, parse_designation("1-8UNC"), "hex").across_flats == pytest.approx(1.5 * INCH)


def test_holes_and_washers() -> None:
    # ISO 273: the rows a CAD library has wrong are right here
    assert clearance_hole(LIBRARY, parse_designation("M12")).diameter == pytest.approx(13.5e-3)
    assert clearance_hole(LIBRARY, parse_designation("M16"), "coarse").diameter == pytest.approx(18.5e-3)
    assert clearance_hole(LIBRARY, parse_designation("M48x3")).diameter == pytest.approx(52e-3)
    # ASME B16.5: bolt + 1/8 in
    assert clearance_hole(LIBRARY, parse_designation("1 3/4-8UN")).diameter == pytest.approx(1.875 * INCH)
    with pytest.raises(LibraryError, match="no fine clearance hole"):
        clearance_hole(LIBRARY, parse_designation("1 3/4-8UN"), "fine")
    assert washer(LIBRARY, parse_designation("M48x3"), "plain").outer_diameter == pytest.approx(92e-3)
    assert washer(LIBRARY, parse_designation("1 3/4-8UN")).thickness == pytest.approx(0.178 * INCH)

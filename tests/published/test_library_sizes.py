"""Heavy hex nuts, hexagon nuts and heads against published tables."""

from __future__ import annotations

import math

import pytest

from splitline.library.dimensions import head, nut
from splitline.library.store import Library
from splitline.library.threads import parse_designation

LIBRARY = Library.load()
INCH = 0.0254


@pytest.mark.parametrize(
    ("thread", "flats", "corners", "height"),
    [
        ("1/2-13UNC", 0.875, 1.01, 0.504),
        ("3/4-10UNC", 1.25, 1.443, 0.758),
        ("1-8UNC", 1.625, 1.876, 1.012),
        ("1 1/4-8UN", 2.0, 2.309, 1.251),
        ("1 1/2-8UN", 2.375, 2.742, 1.505),
        ("2-8UN", 3.125, 3.608, 2.013),
        ("2 1/2-8UN", 3.875, 4.474, 2.505),
        ("3-8UN", 4.625, 5.34, 3.013),
    ],
)
def test_heavy_hex_nuts(thread: str, flats: float, corners: float, height: float) -> None:
    # ASME B18.2.2 heavy hex nut table (two further full and two partial copies agree; two others have misprints)
    found = nut(LIBRARY, parse_designation(thread), "heavy-hex")
    assert found.across_flats == pytest.approx(flats * INCH, rel=0.001)
    assert found.height == pytest.approx(height * INCH, rel=0.001)
    # Greatest width across corners is that across flats over cos 30°.
    assert found.across_flats / math.cos(math.pi / 6) == pytest.approx(corners * INCH, rel=0.001)


@pytest.mark.parametrize(
    ("thread", "flats", "nut_height", "head_height"), [("M20", 30, 18.0, 12.5), ("M48", 75, 38, 30)]
)
def test_iso_hexagons(thread: str, flats: float, nut_height: float, head_height: float) -> None:
    # ISO 4032 and ISO 4014 columns of an open CAD part library (Apache-2.0)
    size = parse_designation(thread)
    found = nut(LIBRARY, size, "hex")
    assert (found.across_flats, found.height) == pytest.approx((flats * 1e-3, nut_height * 1e-3), rel=1e-6)
    assert head(LIBRARY, size, "hex").height == pytest.approx(head_height * 1e-3, rel=1e-6)


def test_every_heavy_hex_nut_recomputed() -> None:
    """Copies of the table carry misprints, so each row is computed again from the standard's own formulas.

    ASME B18.2.2 heavy hex (formulas from memory): F = 1.5 D + 1/8; F_min = 1.45 D + 1/8; basic height D less 1/64 in to
    1 1/8, 1/32 to 2, 3/64 to 3, 1/16 to 4 in; tolerance ± (0.012 + 0.016 D).
    """
    rows = [row for row in LIBRARY.rows("nuts") if row["style"] == "heavy-hex" and not row.name.startswith("M")]
    assert len(rows) == 22
    for row in rows:
        d = row["diameter"] / INCH
        basic = d - (1 / 64 if d <= 1.125 else 1 / 32 if d <= 2 else 3 / 64 if d <= 3 else 1 / 16)
        tolerance = 0.012 + 0.016 * d
        assert row["across_flats"] / INCH == pytest.approx(1.5 * d + 0.125, abs=1e-4), row.name
        # 9/16 is printed 0.565 for 0.568; a misprint of 1/64 in would still show.
        assert row["height"] / INCH == pytest.approx(basic + tolerance, abs=3e-3), row.name
        assert row["height_min"] / INCH == pytest.approx(basic - tolerance, abs=1.2e-3), row.name
        assert row["bearing_diameter"] / INCH == pytest.approx(0.95 * (1.45 * d + 0.125), abs=1e-3), row.name


def test_every_hex_nut_from_three_quarters_recomputed() -> None:
    """ASME B18.2.2 hex nuts 3/4 to 1 1/2 in: same tolerance ± (0.012 + 0.016 D) about the basic height (from memory)."""
    basic = {"3/4": 41 / 64, "7/8": 3 / 4, "1": 55 / 64, "1 1/8": 31 / 32, "1 1/4": 17 / 16, "1 3/8": 75 / 64}
    for size, height in {**basic, "1 1/2": 41 / 32}.items():
        row = LIBRARY.find("nuts", f"{size} hex")
        d = row["diameter"] / INCH
        tolerance = 0.012 + 0.016 * d
        assert row["across_flats"] / INCH == pytest.approx(1.5 * d, abs=1e-4), size
        assert row["height"] / INCH == pytest.approx(height + tolerance, abs=1.2e-3), size
        assert row["height_min"] / INCH == pytest.approx(height - tolerance, abs=1.2e-3), size


def test_bearing_faces_are_about_nineteen_twentieths_of_the_flats() -> None:
    """ISO 4032/4014 and ASME B18.2.x limit the bearing circle to 0.95 of the least width across flats."""
    for row in (*LIBRARY.rows("nuts"), *LIBRARY.rows("heads")):
        if row["style"] != "socket":
            assert 0.85 < row["bearing_diameter"] / row["across_flats"] < 0.97, row.name

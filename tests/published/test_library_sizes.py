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

"""Two-hook upending against a published table: a published article, 2013, Table 1."""

from __future__ import annotations

import math

import pytest

from splitline.lifting.upending import upending

# 150 t vessel, tail lug 3.0 m off the axis, 36.48 m between lugs, main hook 67.6 t when level
TABLE = {0: (67.6, 82.4), 45: (73.9, 76.1), 70: (82.8, 67.2), 80: (93.8, 56.2), 85: (107.5, 42.5), 90: (150.0, 0.0)}


def test_shares_against_angle() -> None:
    centre = 67.6 / 150 * 36.48
    result = upending((36.48, 0, 0), (0, 0, 3.0), (centre, 0, 0), 150.0)
    found = {round(math.degrees(a)): (h, t) for a, h, t in zip(result.angles, result.head, result.tail, strict=True)}
    for angle, (main, tail) in TABLE.items():
        assert found[angle][0] == pytest.approx(main, rel=0.004)
        assert found[angle][1] == pytest.approx(tail, rel=0.004, abs=1e-9)

"""Beams on an elastic foundation: Hetényi, Beams on Elastic Foundation (1946), from memory (standard formulas)."""

from __future__ import annotations

from math import cos, cosh, exp, pi, sin, sinh

import numpy as np
import pytest

from splitline.tightening.contact import Flange, beam_compliance, infinite_beam_descent

FLANGE = Flange(2e11, 0.13, 0.15, 5e10)
K = FLANGE.line_stiffness
DECAY = (K / (4 * FLANGE.bending)) ** 0.25


def test_endless_beam_under_one_load() -> None:
    """w(0) = λ/(2k); no descent first at λx = 3π/4; w(π/λ) = −e^(−π)·w(0)."""
    assert infinite_beam_descent(FLANGE, 0.0) == pytest.approx(DECAY / (2 * K), rel=1e-9, abs=0.0)
    assert infinite_beam_descent(FLANGE, 0.75 * pi / DECAY) == pytest.approx(0.0, abs=1e-15 * DECAY / K + 1e-20)
    assert infinite_beam_descent(FLANGE, pi / DECAY) == pytest.approx(-exp(-pi) * DECAY / (2 * K), rel=1e-9, abs=0.0)


def test_half_endless_beam_loaded_at_its_end() -> None:
    """w(x) = (2λ/k)·e^(−λx)·cos λx: four times the descent of the endless beam under the load."""
    places = [0.0, 0.1, 0.3, 0.8]
    column = beam_compliance(FLANGE, places, 0.0, 12.0)[:, 0]
    for place, descent in zip(places, column, strict=True):
        assert descent == pytest.approx(2 * DECAY / K * exp(-DECAY * place) * cos(DECAY * place), rel=1e-9, abs=0.0)


@pytest.mark.parametrize("length", [0.3, 0.8, 2.0])
def test_free_beam_loaded_in_the_middle(length: float) -> None:
    """Middle: (λ/2k)·(cosh l + cos l + 2)/(sinh l + sin l); ends: (2λ/k)·cosh(l/2)·cos(l/2)/(sinh l + sin l), l = λL."""
    span = DECAY * length
    column = beam_compliance(FLANGE, [0.0, length / 2, length], 0.0, length)[:, 1]
    below = sinh(span) + sin(span)
    assert column[1] == pytest.approx(DECAY / (2 * K) * (cosh(span) + cos(span) + 2) / below, rel=1e-9, abs=0.0)
    ends = 2 * DECAY / K * cosh(span / 2) * cos(span / 2) / below
    assert np.array([column[0], column[2]]) == pytest.approx([ends, ends], rel=1e-8, abs=0.0)

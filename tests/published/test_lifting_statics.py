"""Cable statics of the textbooks, hung as lifts: each cable becomes a leg, the ring becomes the hook.

A ring held by cables and a load held by legs are the same equilibrium upside down: legs run from the hook against the
cables' directions. Legs are unstretching, the centre of gravity is far below.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest

from splitline.lifting.bridle import angle_factor
from splitline.lifting.hang import Hang, hang
from splitline.lifting.mass import level_shares


def hung(directions: Sequence[Sequence[float]], weight: float, length: float = 4.0) -> Hang:
    """Legs against the given cable directions (z up), hook at the origin."""
    picks = [-length * np.array(d, dtype=float) / np.linalg.norm(d) for d in directions]
    return hang([p.tolist() for p in picks], [length] * len(picks), [None] * len(picks), (0.0, 0.0, -30.0), weight)


def y_up(direction: Sequence[float]) -> tuple[float, float, float]:
    x, y, z = direction
    return (x, -z, y)


S60 = math.sin(math.radians(60.0))
CASES = [
    # Hibbeler & Gupta, Statics and Dynamics, ch. 3, Ex 3.2 p. 75: one cable level, one at 30 degrees; kN
    ("Ex 3.2", [(math.cos(math.radians(30)), 0, 0.5), (-1, 0, 0)], 2.452, (4.9, 4.25), 0.002),
    # the same, Ex 3.5 p. 84; N
    ("Ex 3.5", [(0, 1, 0), (-0.8, 0, 0.6), (0.5, -S60, 0)], 90.0, (207.8, 150.0, 240.0), 0.001),
    # the same, Ex 3.7 p. 86
    ("Ex 3.7", [(-3, -4, 8), (-3, 4, 8), (1, 0, 0)], 40.0, (23.6, 23.6, 15.0), 0.002),
    # Hibbeler, Statics 14e, R3-7: C (0, 6, 0) held from A, B and D; lb
    ("R3-7", [(2, -6, 0), (-2, -6, 0), (0, 6, 8)], 500.0, (198.0, 198.0, 625.0), 0.003),
    # Schaum's Engineering Mechanics (McLean), Ex 5.5-1 p. 58; lb
    ("5.5-1", [(6, 0, 2), (-4, 0, 2)], 25.0, (31.6, 33.5), 0.002),
    # the same, Ex 6.6-3/6.6-4 p. 82-83, y up; N
    ("6.6-3", [y_up((-3, 6, -2)), y_up((4, 0, -2)), y_up((-3, 0, 4))], 60.0, (70.0, 80.5, 70.0), 0.001),
    # Beer & Johnston P2.104: balloon line held by three cables, here as drawn (hook up); lb
    (
        "P2.104",
        [tuple(-v for v in y_up(d)) for d in ((-0.6, -0.8, 0), (0.3242, -0.75676, 0.56757), (0, -0.8615, -0.50769))],
        215.0,
        (54.0, 100.0, 112.0),
        0.005,
    ),
]


@pytest.mark.parametrize(("name", "directions", "weight", "tensions", "tolerance"), CASES, ids=[c[0] for c in CASES])
def test_cables(
    name: str,
    directions: list[tuple[float, float, float]],
    weight: float,
    tensions: tuple[float, ...],
    tolerance: float,
) -> None:
    state = hung(directions, weight)
    assert state.tensions == pytest.approx(tensions, rel=tolerance), name
    assert state.tilt == pytest.approx(0.0, abs=1e-4)
    assert state.state == "stable"


def test_ring_on_three_legs() -> None:
    # Schaum's (McLean) Ex 6.6-6 p. 85: ring of radius 2 ft, hook 4 ft above, 200 lb on three legs
    picks = [(2 * math.cos(a), 2 * math.sin(a), 0.0) for a in (0.0, 2 * math.pi / 3, 4 * math.pi / 3)]
    state = hang(picks, [math.sqrt(20.0)] * 3, [None] * 3, (0, 0, -1), 200.0)
    assert state.tensions == pytest.approx([74.5] * 3, rel=0.002)
    assert math.degrees(math.pi / 2 - state.angles[0]) == pytest.approx(26.6, rel=0.002)


def test_vertical_shares_of_three_supports() -> None:
    # Schaum's (McLean) Ex 6.6-9 p. 86: four loads on a plate on three supports, N and mm
    loads = [(30, 200, 300), (10, 400, 200), (20, 200, 500), (50, 400, 500)]
    total = sum(w for w, _, _ in loads)
    centre = (sum(w * x for w, x, _ in loads) / total, sum(w * z for w, _, z in loads) / total)
    shares = level_shares(total, centre, [(0, 600), (600, 600), (600, 0)])
    assert shares == pytest.approx((53.3, 23.3, 33.3), rel=0.002)


def test_least_angle_of_a_sling() -> None:
    # Hibbeler, lifting-sling problem: 500 kg, 3.5 kN a leg, g = 9.81: 44.48 degrees at least
    assert 500 * 9.81 / 2 * angle_factor(math.radians(44.48)) == pytest.approx(3500, rel=0.002)


def test_shackle_spacing() -> None:
    # Nicholls's Seamanship p. 280: 3 tons on two 6 ft legs of 2 tons: 41.417 degrees from the vertical, 7.94 ft apart
    state = hang([(-3.97, 0, 0), (3.97, 0, 0)], [6.0, 6.0], [None, None], (0, 0, -1), 3.0)
    assert state.tensions == pytest.approx([2.0, 2.0], rel=0.001)
    assert 90 - math.degrees(state.angles[0]) == pytest.approx(41.417, rel=0.001)


def test_offset_centre_between_vertical_slings() -> None:
    # rigging reference card (common practice): 10,000 lb, 8 and 2 ft from the slings
    assert level_shares(10_000, (8, 0), [(0, 0), (10, 0)]) == pytest.approx((2000, 8000), rel=1e-6)


def test_unequal_legs() -> None:
    # open rigging course, T = L D2 S1/(H (D1 + D2)); its printed sling lengths do not close the triangle
    far, near = level_shares(4000, (2, 0), [(0, 0), (12, 0)])
    assert (far * 4 / 3, near * 14 / 3) == pytest.approx((4444.44, 3111.11), rel=1e-4)
    # the same formula with lengths that close it
    lengths = [math.hypot(2, 3), math.hypot(10, 3)]
    assert lengths == pytest.approx([3.6056, 10.4403], rel=1e-4)
    state = hang([(-2, 0, -3), (10, 0, -3)], lengths, [None, None], (0, 0, -4), 4000)
    assert state.tensions == pytest.approx([4006.17, 2320.07], rel=1e-4)

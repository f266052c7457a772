"""Source: Multi-leg sets on rigid loads against an independent energy-minimisation solution (scipy/numpy, residual below 1e-9).

Tension-only, linear, weightless legs, T = EA (l - L)/L; load free to tilt on one hook; z up in the load's frame.
"""

from __future__ import annotations

import math

import pytest

from splitline.lifting.hang import hang
from splitline.lifting.spreader import Beam, hang_below
from splitline.lifting.tolerance import worst_case

LUGS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]
RAISED = [(1.5, 1.0, 0.02), *LUGS[1:]]
STEPPED = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.3), (-1.5, -1.0, 0.3), (1.5, -1.0, 0.0)]
CENTRE = (0.0, 0.0, -0.6)

# name, lugs m, lengths m, EA kN, centre m; tensions kN, tilt deg, hook m, leg angles deg; 120 kN, relative 1e-4
CASES = [
    ("four equal", LUGS, (3.0,) * 4, (20e3,) * 4, CENTRE,
     (37.493,) * 4, 0.0, (0.0, 0.0, 2.404948), (53.144,) * 4),
    ("one leg 0.5 % short", LUGS, (2.985, 3.0, 3.0, 3.0), (20e3,) * 4, CENTRE,
     (62.53155, 12.51967, 62.60053, 12.42563), 0.25926, (0.00754, 0.011289, 2.400218), (53.043, 53.091, 53.139, 53.091)),
    ("diagonals 0.25 % apart, stiff", LUGS, (2.9925, 3.0075, 2.9925, 3.0075), (64307.2,) * 4, CENTRE,
     (75.122, 0.0, 75.122, 0.0), 0.0, (0.0, 0.0, 2.392904), (53.006,) * 4),
    ("lugs not in one plane", STEPPED, (3.458, 3.294, 3.294, 3.458), (40e3,) * 4, (0.1, 0.0, -0.6),
     (38.68148, 32.23727, 32.23727, 38.68148), 0.00245, (0.099846, 0.0, 3.00341), (60.195, 55.087, 55.087, 60.195)),
    ("two legs twice as stiff", LUGS, (3.0,) * 4, (20e3, 40e3, 20e3, 40e3), CENTRE,
     (25.0041, 50.0082, 25.0041, 50.0082), 0.0, (0.0, 0.0, 2.402606), (53.118,) * 4),
    ("cut for an offset centre", LUGS, (2.8302, 3.1321, 3.1953, 2.9), (40e3,) * 4, (0.3, 0.1, -0.6),
     (46.70461, 34.40025, 28.77164, 39.10661), 0.01238, (0.299697, 0.099426, 2.403537), (58.034, 50.061, 48.725, 55.89)),
    ("shallow", LUGS, (2.0817,) * 4, (20e3,) * 4, CENTRE,
     (59.47129,) * 4, 0.0, (0.0, 0.0, 1.053226), (30.295,) * 4),
    ("one lug 20 mm high", RAISED, (3.0,) * 4, (20e3,) * 4, CENTRE,
     (10.72848, 64.03895, 10.98687, 64.13866), 0.27376, (-0.007988, -0.011959, 2.409889),
     (53.022, 53.201, 53.151, 53.201)),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=[case[0] for case in CASES])
def test_four_legs(case: tuple) -> None:  # type: ignore[type-arg]
    _, lugs, lengths, rigidity, centre, tensions, tilt, hook, angles = case
    state = hang(lugs, lengths, [value * 1e3 for value in rigidity], centre, 120e3)
    assert [t / 1e3 for t in state.tensions] == pytest.approx(tensions, rel=1e-4, abs=1e-6)
    assert math.degrees(state.tilt) == pytest.approx(tilt, rel=1e-4, abs=5e-6)
    assert state.hook == pytest.approx(hook, rel=1e-4, abs=5e-6)
    assert [math.degrees(a) for a in state.angles] == pytest.approx(angles, rel=1e-4)
    assert state.residual < 1e-9


def test_three_unstretching_legs() -> None:
    lugs = [(1.4, 0.0, 0.0), (-1.0, 1.1, 0.0), (-0.9, -1.2, 0.0)]
    state = hang(lugs, (2.8, 3.1, 3.0), (None,) * 3, (-0.1, 0.05, -0.5), 80e3)
    assert [t / 1e3 for t in state.tensions] == pytest.approx((33.71686, 31.63939, 26.47491), rel=1e-4)
    assert math.degrees(state.tilt) == pytest.approx(7.46283, rel=1e-4)
    assert state.hook == pytest.approx((0.257024, -0.130129, 2.552777), rel=1e-4)
    assert [math.degrees(a) for a in state.angles] == pytest.approx((59.2456, 62.4661, 60.1782), rel=1e-4)


def test_two_unstretching_legs_with_an_offset_centre() -> None:
    # also closed form: the rigid triangle tilts by atan(e/(H + h)) = atan(0.2/2.5)
    state = hang([(-1.5, 0, 0), (1.5, 0, 0)], (2.5, 2.5), (None, None), (0.2, 0, -0.5), 60e3)
    assert [t / 1e3 for t in state.tensions] == pytest.approx((33.39331, 41.36783), rel=1e-4)
    assert math.degrees(state.tilt) == pytest.approx(4.57392, rel=1e-4)
    assert state.tilt == pytest.approx(math.atan(0.2 / 2.5), rel=1e-5)
    assert [math.degrees(a) for a in state.angles] == pytest.approx((48.5562, 57.704), rel=1e-4)


def test_spreader_two_and_two_nearly_rigid() -> None:
    stiff = 2e9
    beam = Beam(5e3, ((1.5, 0, 0.1), (-1.5, 0, 0.1)), ((1.5, 0, -0.1), (-1.5, 0, -0.1)), (2.2, 2.2), (stiff, stiff))
    lugs = [(1.5, 0.8, 0), (1.5, -0.8, 0), (-1.5, 0.8, 0), (-1.5, -0.8, 0)]
    state = hang_below(beam, lugs, (0, 0, 1, 1), (1.5,) * 4, (stiff,) * 4, CENTRE, 120e3)
    assert [t / 1e3 for t in state.upper_tensions] == pytest.approx((85.43517,) * 2, rel=5e-4)
    assert [t / 1e3 for t in state.tensions] == pytest.approx((35.46472,) * 4, rel=5e-4)
    assert state.compression / 1e3 == pytest.approx(58.24877, rel=5e-4)
    assert (state.tilt, state.beam_tilt) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_measured_sharing_of_a_stiff_load() -> None:
    # engineering note on measured four-leg sharing: 700 kgf on four nominally equal chains carried 348/303/23/18 kgf;
    # every measured share must lie between the least and the greatest the solver finds for +-0.25 % of length
    span = [(0.5, 0.5, 0), (-0.5, 0.5, 0), (-0.5, -0.5, 0), (0.5, -0.5, 0)]
    weight, angle = 692.0, math.asin(math.sqrt(1.0 - 0.5 / 1.0))
    capacity = 2000.0
    worst = worst_case(span, (1.0,) * 4, (capacity / 0.0037,) * 4, (0, 0, -0.3), weight, 0.0025, 0.02)
    measured = [348.0, 303.0, 23.0, 18.0]
    for share in measured:
        tension = share / math.sin(angle)
        assert min(worst.lowest) - 0.02 * weight <= tension <= max(worst.tensions) * 1.02
    assert min(worst.lowest) == 0.0

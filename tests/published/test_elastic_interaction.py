"""Sequential tightening with given interaction coefficients, worked by hand.

Method: elastic-interaction coefficients (Bibel & Ezell 1992; Bibel & Goddard 1994), from memory. The numbers are worked
out by hand from the rule ΔF_i = a_ij·ΔF_j for bolts already tightened, ΔF_j = target − F_j; they are not measured.
"""

from __future__ import annotations

import numpy as np
import pytest

from splitline.tightening.correction import level_loads
from splitline.tightening.interaction import measured_circle
from splitline.tightening.joint import Measured
from splitline.tightening.passes import planned_passes
from splitline.tightening.prediction import predict

FOUR = Measured(measured_circle([1.0, -0.1, 0.02], 4))
CROSS = ((1,), (3,), (2,), (4,))


def test_four_bolts_two_passes() -> None:
    found = predict(FOUR, planned_passes(CROSS, [100.0] * 4, (1.0, 1.0)))
    assert found.after_pass[0] == pytest.approx([82.0, 102.0, 80.0, 100.0], rel=1e-5)
    assert found.after_pass[1] == pytest.approx([99.8435, 100.0746, 99.4507, 100.0], rel=1e-5)


def test_eight_bolts_round() -> None:
    joint = Measured(measured_circle([1.0, -0.15, -0.02], 8))
    steps = tuple((bolt,) for bolt in range(1, 9))
    found = predict(joint, planned_passes(steps, [100.0] * 8, (1.0, 1.0)))
    assert found.after_pass[0] == pytest.approx([66, 81, 83, 83, 83, 83, 85, 100], rel=0.002)
    assert found.after_pass[0].mean() == pytest.approx(83, rel=0.002)
    assert np.ptp(found.after_pass[1]) == pytest.approx(5.754, rel=0.002)


def test_four_bolts_pulled_so_that_they_end_level() -> None:
    found = level_loads(FOUR, (), CROSS, [100.0] * 4)
    assert found.loads == pytest.approx([117.404, 98.0, 119.8, 100.0], rel=1e-5)
    assert found.prediction.final == pytest.approx([100.0] * 4)

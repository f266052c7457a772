"""Loads that end level, rounds and what they buy, tensioner groups."""

from __future__ import annotations

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.tightening.contact import gapped_ring
from splitline.tightening.correction import further_rounds, least_rounds, level_loads
from splitline.tightening.joint import Measured
from splitline.tightening.order import circle_steps, coverage_steps
from splitline.tightening.prediction import predict
from splitline.tightening.tensioner import tensioner_groups
from tests.tightening.joints import BOLT, TARGET, cover, flange, usual

LEVEL = np.full(24, TARGET)


@pytest.mark.parametrize("softer", [1, 8])
@pytest.mark.parametrize("tools", [1, 2, 4])
def test_ends_level_in_one_pass(softer: float, tools: int) -> None:
    joint = cover(24, softer)
    found = level_loads(joint, (), circle_steps("cross", 24, tools), LEVEL)
    assert found.level
    assert found.spread < 1e-6
    assert found.loads.mean() > TARGET
    last = circle_steps("cross", 24, tools)[-1]
    assert found.loads[[bolt - 1 for bolt in last]] == pytest.approx(TARGET)


def test_loads_of_the_first_pass_are_the_inverse_of_the_matrix() -> None:
    """Nut positions of the level state, e = M·F, set one after another: each step's load follows by linear algebra."""
    joint, steps = cover(12, 8), circle_steps("cross", 12)
    position = joint.matrix @ np.full(12, TARGET)
    loads, tight = np.zeros(12), []
    for (bolt,) in steps:
        tight.append(bolt - 1)
        loads[bolt - 1] = np.linalg.solve(joint.matrix[np.ix_(tight, tight)], position[tight])[-1]
    assert level_loads(joint, (), steps, LEVEL[:12]).loads == pytest.approx(loads, rel=1e-6)


def test_levelling_after_other_passes_needs_less_overpull() -> None:
    joint, steps = cover(24, 8), circle_steps("cross", 24)
    at_once = level_loads(joint, (), steps, LEVEL)
    after = level_loads(joint, usual(24, rounds=0)[:3], steps, LEVEL)
    assert after.level
    assert TARGET < after.loads.max() < at_once.loads.max()


def test_slack_joints_level_too() -> None:
    joint = cover(24, 40)
    found = level_loads(joint, usual(24, rounds=0)[:3], circle_steps("cross", 24), LEVEL, np.full(24, 3 * TARGET))
    assert found.level
    assert found.spread < 1e-5


def test_gapped_joint_levels() -> None:
    joint = gapped_ring(flange(), 0.59, np.full(12, BOLT), np.full(12, 3e-4))
    assert level_loads(joint, (), circle_steps("cross", 12), LEVEL[:12]).spread < 1e-5


def test_yield_bounds_the_pull_and_the_bolts_it_stops_are_named() -> None:
    joint, steps = cover(24, 40), circle_steps("cross", 24)
    found = level_loads(joint, (), steps, LEVEL, np.full(24, 1.2 * TARGET))
    assert found.loads.max() <= 1.2 * TARGET
    assert found.capped
    short = set(np.flatnonzero(found.prediction.final < TARGET * (1 - 1e-6)) + 1)
    assert short == set(found.capped)


def test_a_bolt_that_gains_cannot_be_levelled_by_a_wrench() -> None:
    joint = Measured(np.array([[1.0, 0.2, 0.0], [0.2, 1.0, 0.0], [0.0, 0.0, 1.0]]))
    found = level_loads(joint, (), ((1,), (2,), (3,)), [100.0] * 3)
    assert found.level  # pulled to less, it gains the rest
    assert found.loads == pytest.approx([80.0, 100.0, 100.0])
    late = level_loads(joint, (usual(3)[0],), ((1,), (2,), (3,)), [TARGET * 0.05] * 3)
    assert not late.level  # holds more already


def test_limit_below_target_is_refused() -> None:
    with pytest.raises(InputError, match="bolt 3"):
        level_loads(
            cover(12), (), circle_steps("cross", 12), LEVEL[:12], [2 * TARGET, 2 * TARGET, 1.0] + [2 * TARGET] * 9
        )


def test_rounds_and_what_they_buy() -> None:
    joint = cover(24, 8)
    passes = usual(24, 2, 1)
    rows = further_rounds(predict(joint, passes), passes, LEVEL, 1, 4)
    none = usual(24, 2, 0)
    assert further_rounds(predict(joint, none), none, LEVEL, 0, 4) == rows
    for rounds, row in enumerate(rows):
        final = predict(joint, usual(24, 2, rounds)).final / TARGET
        assert row.spread == pytest.approx((final.max() - final.min()) / final.mean())
        assert row.lowest == pytest.approx(final.min())
    assert rows[1].moved > rows[-1].moved == 0  # in the end no nut moves
    least = least_rounds(rows, 0.02)
    assert least is not None
    assert least.rounds == 1
    assert least_rounds(rows, 0.0) is None


def test_first_tensioner_group_is_pulled_higher() -> None:
    joint = cover(24, 8)
    groups = tensioner_groups(joint, coverage_steps(24, 0.5), TARGET, 1.15, 2 * TARGET)
    assert groups[0].left > 1.1 * TARGET
    assert groups[1].left == pytest.approx(TARGET)
    for group in groups:
        assert group.pull == pytest.approx(1.15 * group.left)
        assert group.breakaway == pytest.approx(TARGET, rel=1e-6)
        assert group.breakaway_least == pytest.approx(0.95 * TARGET, rel=1e-6)
        assert not group.capped


def test_tensioner_stopped_by_its_limit_says_so() -> None:
    groups = tensioner_groups(cover(24, 40), coverage_steps(24, 0.5), TARGET, 1.15, 1.3 * TARGET)
    assert groups[0].capped
    assert groups[0].pull <= 1.3 * TARGET * (1 + 1e-9)
    assert groups[0].breakaway < TARGET
    with pytest.raises(InputError, match="loss"):
        tensioner_groups(cover(24), coverage_steps(24, 0.5), TARGET, 0.9, 2 * TARGET)
    with pytest.raises(InputError, match="limit"):
        tensioner_groups(cover(24), coverage_steps(24, 0.5), TARGET, 1.15, 1.1 * TARGET)


def test_full_coverage_is_level_at_once() -> None:
    joint = cover(24, 40)
    (group,) = tensioner_groups(joint, coverage_steps(24, 1.0), TARGET, 1.1, 2 * TARGET)
    assert group.left == pytest.approx(TARGET)

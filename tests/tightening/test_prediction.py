"""Tightening step by step while no bolt is slack, against the same thing done by plain linear algebra."""

from __future__ import annotations

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.tightening.interaction import measured_circle
from splitline.tightening.joint import Elastic, Measured
from splitline.tightening.order import circle_steps
from splitline.tightening.passes import Pass, planned_passes
from splitline.tightening.prediction import predict, spread
from tests.tightening.joints import TARGET, cover, usual


def by_hand(joint: Elastic, passes: tuple[Pass, ...]) -> np.ndarray:
    """Solve M·F = e over the tightened bolts anew at every step; one bolt a step, nothing slack."""
    position, tight, rows = np.zeros(joint.bolts), [], []
    for one in passes:
        for (bolt,) in one.pulled():
            if bolt not in tight:
                tight.append(bolt)
            held = np.zeros(joint.bolts)
            held[tight] = np.linalg.solve(joint.matrix[np.ix_(tight, tight)], position[tight])
            if held[bolt] < one.loads[bolt]:
                unit = np.linalg.inv(joint.matrix[np.ix_(tight, tight)])[tight.index(bolt), tight.index(bolt)]
                position[bolt] += (one.loads[bolt] - held[bolt]) / unit
        held = np.zeros(joint.bolts)
        held[tight] = np.linalg.solve(joint.matrix[np.ix_(tight, tight)], position[tight])
        rows.append(held)
    return np.array(rows)


@pytest.mark.parametrize("softer", [1, 8])
def test_same_as_solving_anew_at_every_step(softer: float) -> None:
    joint, passes = cover(12, softer), usual(12)
    found = predict(joint, passes)
    assert not found.slack
    assert found.after_pass == pytest.approx(by_hand(joint, passes), rel=1e-9)


@pytest.mark.parametrize("tools", [1, 2, 4])
@pytest.mark.parametrize("softer", [1, 8, 40])
def test_bolts_of_a_step_end_at_their_loads_together(tools: int, softer: float) -> None:
    joint, passes = cover(24, softer), usual(24, tools)
    found = predict(joint, passes)
    state = iter(found.after_step)
    for one in passes:
        for step in one.pulled():
            held = next(state)[list(step)]
            assert (held >= one.loads[list(step)] * (1 - 1e-9)).all()
    last = list(passes[-1].pulled()[-1])
    assert found.final[last] == pytest.approx(TARGET, rel=1e-6)


def test_a_wrench_never_slackens_a_nut() -> None:
    """Coefficient above 0: bolt 1 gains from its neighbour and keeps more than its target."""
    joint = Measured(np.array([[1.0, 0.2, 0.0], [0.2, 1.0, 0.0], [0.0, 0.0, 1.0]]))
    found = predict(joint, planned_passes(((1,), (2,), (3,)), [100.0] * 3, (1.0, 1.0)))
    assert found.after_pass.tolist() == [[120.0, 100.0, 100.0], [120.0, 100.0, 100.0]]
    assert found.moved[3:] == ((), (), ())


def test_of_two_tools_only_the_one_that_is_short_moves() -> None:
    joint = Measured(np.array([[1.0, 0.2, -0.1], [0.2, 1.0, -0.1], [-0.1, -0.1, 1.0]]))
    loads = np.array([100.0, 100.0, 100.0])
    first = Pass("first", ((1,), (2,), (3,)), loads)
    # After the first pass bolt 1 holds 110, bolt 2 90, bolt 3 100.
    found = predict(joint, (first, Pass("second", ((1, 2), (3,)), loads)))
    assert found.after_pass[0] == pytest.approx([110.0, 90.0, 100.0])
    assert found.moved[3] == (2,)
    assert found.after_step[3] == pytest.approx([112.0, 100.0, 99.0])


def test_the_other_tool_takes_over_when_its_bolt_is_pulled_short() -> None:
    """Bolt 1 holds its load until bolt 2, pulled with it, takes from it: then both move and end at their loads."""
    joint = cover(12, 8)
    loads = np.full(12, TARGET)
    uneven = loads.copy()
    uneven[1] *= 0.5
    rest = tuple((bolt,) for bolt in range(3, 13))
    found = predict(joint, (Pass("uneven", ((2,), (1,), *rest), uneven), Pass("even", ((1, 2), *rest), loads)))
    assert found.moved[12] == (1, 2)
    assert found.after_step[12][:2] == pytest.approx([TARGET, TARGET])


def test_symmetric_joint_and_order_give_a_symmetric_answer() -> None:
    """Four tools a quarter apart: everything repeats every quarter."""
    final = predict(cover(24, 8), usual(24, tools=4)).final
    assert final == pytest.approx(np.roll(final, 6), rel=1e-9)


def test_order_of_the_numbers_does_not_matter() -> None:
    """The same joint numbered from another bolt gives the same loads, moved round."""
    joint, steps = cover(20, 8), circle_steps("cross", 20)
    turned = tuple((bolt % 20 + 1,) for (bolt,) in steps)
    one = predict(joint, planned_passes(steps, [TARGET] * 20, (0.5, 1.0))).final
    other = predict(joint, planned_passes(turned, [TARGET] * 20, (0.5, 1.0))).final
    assert other == pytest.approx(np.roll(one, 1), rel=1e-9)


def test_loads_scale() -> None:
    joint, steps = cover(24, 8), circle_steps("cross", 24)
    one = predict(joint, planned_passes(steps, [TARGET] * 24, (0.3, 1.0))).final
    other = predict(joint, planned_passes(steps, [2 * TARGET] * 24, (0.3, 1.0))).final
    assert other == pytest.approx(2 * one, rel=1e-9)


def test_rounds_close_the_spread() -> None:
    found = predict(cover(24, 8), usual(24, rounds=4))
    spreads = [spread(row) for row in found.after_pass[3:]]
    assert spreads == sorted(spreads, reverse=True)
    assert spreads[-1] < 1e-4


def test_cross_beats_round_where_a_bolt_is_left_low() -> None:
    """Going round leaves the first bolt with one neighbour pulled early and one last; one pass, soft joint."""
    joint = Measured(measured_circle([1.0, -0.1, -0.02], 24))
    lows = {
        order: predict(joint, planned_passes(circle_steps(order, 24), [TARGET] * 24, (1.0,))).final.min()
        for order in ("cross", "round")
    }
    assert lows["round"] == pytest.approx(TARGET * (1 - 0.24), rel=0.01)
    assert lows["cross"] == pytest.approx(TARGET * (1 - 0.24), rel=0.01)


def test_spread_of_unlike_targets_is_by_share() -> None:
    assert spread(np.array([1.0, 2.0]), np.array([1.0, 2.0])) == 0
    assert spread(np.array([0.8, 1.0, 1.2])) == pytest.approx(0.4)
    assert spread(np.zeros(3)) == 0


def test_two_hundred_bolts_in_four_passes_are_solved_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """One factor for all 800 steps, each O(n) with it; the time it takes is measured in tests/bench."""
    solved: list[str] = []
    for name in ("cholesky", "inv", "solve"):
        plain = getattr(np.linalg, name)
        monkeypatch.setattr(np.linalg, name, lambda *a, plain=plain, name=name: (solved.append(name), plain(*a))[1])
    joint = cover(200, 1, 6.0)
    passes = planned_passes(circle_steps("cross", 200), [TARGET] * 200, (0.3, 0.6, 1.0), 0.1)
    solved.clear()
    found = predict(joint, passes)
    assert len(found.final) == 200
    assert sorted(solved) == ["cholesky", "inv"]


def test_refused_passes() -> None:
    joint = cover(12)
    good = usual(12)[0]
    with pytest.raises(InputError, match="no pass"):
        predict(joint, ())
    with pytest.raises(InputError, match="once"):
        predict(joint, (Pass("half", good.steps[:6], good.loads),))
    with pytest.raises(InputError, match="above 0"):
        predict(joint, (Pass("none", good.steps, 0 * good.loads),))
    for shares, snug in (((), 0.0), ((1.3,), 0.0), ((1.0,), -0.1), ((0.0,), 0.0)):
        if snug < 0:
            assert len(planned_passes(good.steps, [TARGET] * 12, shares, snug)) == 1
        else:
            with pytest.raises(InputError):
                planned_passes(good.steps, [TARGET] * 12, shares, snug)
    with pytest.raises(InputError, match="target"):
        planned_passes(good.steps, [0.0] * 12, (1.0,))

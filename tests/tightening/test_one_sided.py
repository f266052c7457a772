"""Bolts that go slack and come back, faces that close: every state must satisfy the conditions of rest."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.tightening.contact import beam_compliance, gapped_beam, gapped_ring, gapped_sides
from splitline.tightening.interaction import joint_matrix, measured_circle, two_sides
from splitline.tightening.joint import Elastic, Gapped, Measured
from splitline.tightening.order import circle_steps, line_steps
from splitline.tightening.passes import planned_passes
from splitline.tightening.prediction import Hand, predict, spread
from splitline.tightening.together import pull_together
from splitline.tightening.unilateral import Unilateral
from tests.tightening.joints import BOLT, TARGET, cover, flange, usual


def at_rest(state: Unilateral) -> bool:
    """F ≥ 0; no room where there is force, none that is negative where there is not (Kuhn and Tucker)."""
    part, force = state.taking_part, state.force
    room = state.matrix @ force - state.position
    scale = 1e-7 * np.abs(state.position).max()
    return bool(
        (force >= 0).all()
        and (force[~part] == 0).all()
        and (room[part] >= -scale).all()
        and (np.abs(room[part & (force > 0)]) <= scale).all()
    )


@pytest.mark.parametrize("softer", [30, 100, 1000])
@pytest.mark.parametrize("tools", [1, 2, 4])
def test_slack_bolts_keep_the_conditions_of_rest(softer: float, tools: int) -> None:
    joint, passes = cover(24, softer), usual(24, tools)
    hand = Hand(joint, [bolt for step in passes[0].pulled() for bolt in step])
    seen_slack = False
    for one in passes:
        for step in one.pulled():
            loads = one.loads[list(step)]
            before = hand.one_sided.position.copy() if hand.one_sided is not None else None
            hand.pull(step, loads)
            assert (hand.loads()[list(step)] >= loads * (1 - 1e-9)).all()
            if hand.one_sided is not None:
                assert at_rest(hand.one_sided)
                seen_slack = seen_slack or hand.slack
                if before is not None:
                    assert (hand.one_sided.position >= before - 1e-12).all()  # no nut went back
    assert seen_slack


@given(st.integers(0, 10_000), st.integers(4, 14))
@settings(max_examples=40, deadline=None)
def test_random_joints_stay_at_rest(seed: int, bolts: int) -> None:
    random = np.random.default_rng(seed)
    root = random.standard_normal((bolts, bolts))
    joint = Elastic(root @ root.T / bolts + 0.05 * np.eye(bolts))
    hand = Hand(joint, list(range(bolts)))
    for _ in range(3):
        for bolt in range(bolts):
            load = np.array([random.uniform(0.5, 2.0)])
            hand.pull((bolt,), load)
            assert hand.loads()[bolt] >= load[0] * (1 - 1e-9)
            if hand.one_sided is not None:
                assert at_rest(hand.one_sided)


def test_slack_bolt_comes_back_when_its_neighbour_lets_go() -> None:
    """Bolt 2 lifts off its face beside bolt 1 pulled hard, holds nothing, and is pulled again."""
    joint = cover(24, 100)
    found = predict(joint, usual(24, rounds=3))
    assert found.slack
    assert (found.after_step[3 * 24] == 0).any()
    assert (found.final > 0).all()


def test_measured_coefficients_leave_a_gap_that_must_be_taken_up() -> None:
    joint = Measured(measured_circle([1.0, -0.6], 4))
    found = predict(joint, planned_passes(((1,), (2,), (4,), (3,)), [100.0] * 4, (1.0,)))
    assert found.after_step[2].tolist() == [0.0, 100.0, 0.0, 100.0]  # bolt 1 has 20 to take up
    assert found.slack


def test_no_gap_is_the_joint_with_faces_in_contact() -> None:
    joint = gapped_ring(flange(), 0.59, np.full(24, BOLT), np.zeros(24), 4)
    closed, passes = Elastic(joint.closed), usual(24)
    one, other = predict(joint, passes).after_pass, predict(closed, passes).after_pass
    assert one[1:] == pytest.approx(other[1:], rel=3e-4)
    assert one[0] == pytest.approx(other[0], rel=5e-3)  # faces far from the first bolts open: they cannot pull


def test_closed_face_points_converge_to_the_series() -> None:
    errors = []
    for per in (1, 2, 4):
        joint = gapped_ring(flange(), 0.59, np.full(24, BOLT), np.zeros(24), per)
        inverse = np.linalg.inv(joint.matrix)[:24, 0]
        errors.append(np.abs(inverse / inverse[0] - joint.interaction[:, 0]).max())
    assert errors == sorted(errors, reverse=True)
    assert errors[-1] < 1e-4


def test_a_gap_makes_the_first_pass_uneven_and_rounds_mend_it() -> None:
    found = predict(gapped_ring(flange(), 0.59, np.full(24, BOLT), np.full(24, 1e-3)), usual(24))
    tight = predict(cover(24), usual(24))
    assert spread(found.after_pass[0]) > 5 * spread(tight.after_pass[0])
    assert spread(found.final) < 0.01


@pytest.mark.parametrize("height", [1e-5, 2e-4, 2e-3])
def test_gapped_joint_stays_at_rest(height: float) -> None:
    random = np.random.default_rng(7)
    joint = gapped_ring(flange(), 0.59, np.full(16, BOLT), height * random.random(16))
    passes = usual(16)
    hand = Hand(joint, [bolt for step in passes[0].pulled() for bolt in step])
    for one in passes:
        for step in one.pulled():
            hand.pull(step, one.loads[list(step)])
            assert hand.one_sided is not None
            assert at_rest(hand.one_sided)


def test_warp_of_one_place_shows_at_that_place() -> None:
    gap = np.zeros(24)
    gap[11:14] = [5e-4, 1e-3, 5e-4]
    found = predict(gapped_ring(flange(), 0.59, np.full(24, BOLT), gap), usual(24))
    assert 10 <= int(found.after_pass[1].argmin()) <= 14


def test_split_line_with_a_gap() -> None:
    places = [0.1 + 0.2 * at for at in range(6)]
    stiff, bow = np.full(6, BOLT), np.array([0.0, 0.6, 1.0, 1.0, 0.6, 0.0])
    sides = [gapped_beam(flange(), places, 0.0, 1.2, stiff, height * bow) for height in (0.0, 5e-4)]
    joint = gapped_sides(*sides)
    passes = planned_passes(line_steps("centre-out", places, places), [TARGET] * 12, (0.3, 0.6, 1.0), 0.1, 1)
    found = predict(joint, passes)
    alone = predict(
        sides[1], planned_passes(line_steps("centre-out", places, []), [TARGET] * 6, (0.3, 0.6, 1.0), 0.1, 1)
    )
    assert found.final[6:] == pytest.approx(alone.final, rel=0.02)
    compliance = beam_compliance(flange(), places, 0.0, 1.2)
    closed = predict(Elastic(joint_matrix(two_sides(compliance, compliance), np.full(12, BOLT))), passes)
    assert found.final[:6] == pytest.approx(closed.final[:6], rel=5e-3)
    assert spread(found.after_pass[0][6:]) > spread(found.after_pass[0][:6])


def test_gap_needs_a_value_for_each_bolt() -> None:
    for gap in ([0.0] * 11, [-1e-4] * 12, [float("nan")] * 12):
        with pytest.raises(InputError, match="each of the 12"):
            gapped_ring(flange(), 0.59, np.full(12, BOLT), gap)


def test_a_pass_over_a_gapped_joint_ends_with_the_last_bolt_at_its_load() -> None:
    joint: Gapped = gapped_ring(flange(), 0.59, np.full(12, BOLT), np.full(12, 3e-4))
    steps = circle_steps("cross", 12, 2)
    found = predict(joint, planned_passes(steps, [TARGET] * 12, (1.0,)))
    assert found.final[[bolt - 1 for bolt in steps[-1]]] == pytest.approx(TARGET)


def test_a_nut_that_would_have_to_go_back_is_left_where_it_is() -> None:
    """Two bolts that load one another, by hand: e = M F, M = [[2, −1], [−1, 2]]. Both at 1, wanted 3 and 1.1 together.

    Both loads at once would take the second nut from e = 1 to −3 + 2.2 = −0.8: back. Left where it is, it ends at 2.
    """
    joint = Elastic(np.array([[2.0, -1.0], [-1.0, 2.0]]))
    held, wanted = np.array([1.0, 1.0]), np.array([3.0, 1.1])
    state = joint.one_sided([0, 1], held)
    assert state.pull((0, 1), wanted) == (0,)
    assert state.force == pytest.approx([3.0, 2.0])
    assert state.position[1] == pytest.approx(1.0)
    loads, moved = pull_together(joint.gains([0, 1]), held, (0, 1), wanted)
    assert moved == (0,)
    assert loads == pytest.approx([3.0, 2.0])


def test_a_bolt_that_holds_more_is_not_touched() -> None:
    joint = Elastic(np.array([[2.0, -1.0], [-1.0, 2.0]]))
    held = np.array([3.0, 2.0])
    state = joint.one_sided([0, 1], held)
    assert state.pull((0, 1), np.array([1.0, 1.0])) == ()
    assert state.force == pytest.approx(held)

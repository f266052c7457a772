"""Scatter: exact where it is linear, the same as tightening many times over, honest where it is not."""

from __future__ import annotations

from dataclasses import replace
from math import erf, sqrt

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.tightening.contact import gapped_ring
from splitline.tightening.interaction import measured_circle
from splitline.tightening.joint import Elastic, Measured
from splitline.tightening.order import circle_steps
from splitline.tightening.passes import planned_passes
from splitline.tightening.prediction import predict
from splitline.tightening.scatter import scatter, sensitivity
from splitline.tightening.trials import draw_factors, one_trial, sample_extremes, simulate
from tests.tightening.joints import BOLT, TARGET, cover, flange, usual


def test_without_interaction_each_bolt_is_its_own_draw() -> None:
    """Closed form: n independent normals, P(lowest < x) = 1 − (1 − Φ((x − F)/(σF)))^n; no common part."""
    joint = Elastic(np.eye(20) / BOLT)
    passes = usual(20)
    found = scatter(joint, passes, predict(joint, passes), 0.25, 0.0, need=0.7 * TARGET, trials=100_000)
    assert found.exact
    assert found.mean == pytest.approx(TARGET)
    assert found.deviation == pytest.approx(0.125 * TARGET)
    below = (1 + erf(-0.3 / 0.125 / sqrt(2))) / 2
    assert found.chance_below_need == pytest.approx(1 - (1 - below) ** 20, rel=0.02)
    each = 1 - 0.99 ** (1 / 20)
    z = -3.2883  # Φ⁻¹(5.02e-4), normal table
    assert (1 + erf(z / sqrt(2))) / 2 == pytest.approx(each, rel=0.01)
    assert found.low == pytest.approx(TARGET * (1 + 0.125 * z), rel=0.01)


def test_all_common_moves_every_bolt_alike() -> None:
    joint, passes = cover(24), usual(24)
    prediction = predict(joint, passes)
    found = scatter(joint, passes, prediction, 0.25, 1.0, trials=100_000)
    assert found.deviation == pytest.approx(0.125 * prediction.final, rel=1e-9)
    assert found.low == pytest.approx(prediction.final.min() * (1 - 2.3263 * 0.125), rel=0.01)
    assert found.high == pytest.approx(prediction.final.max() * (1 + 2.3263 * 0.125), rel=0.01)


@pytest.mark.parametrize("softer", [1, 8])
def test_exact_mean_and_deviation_agree_with_tightening_over_and_over(softer: float) -> None:
    joint, passes = cover(16, softer), usual(16)
    prediction = predict(joint, passes)
    found = scatter(joint, passes, prediction, 0.2, 0.5)
    loads = simulate(joint, passes, 0.1, 0.5, 20_000)
    assert found.exact
    assert found.mean == pytest.approx(prediction.final)
    assert loads.mean(axis=0) == pytest.approx(found.mean, rel=4 * 0.1 / sqrt(20_000))
    assert loads.std(axis=0) == pytest.approx(found.deviation, rel=4 / sqrt(2 * 20_000))
    matrix = sensitivity(joint, passes, prediction, 0.1, 0.5).matrix
    drawn = sample_extremes(prediction.final, matrix, 0.1, 0.5)
    assert np.percentile(loads.min(axis=1), 1) == pytest.approx(np.percentile(drawn.lowest, 1), rel=1e-6)  # same draws
    assert np.percentile(loads.min(axis=1), 1) == pytest.approx(found.low, rel=0.01)


def test_vectorised_trials_are_the_plain_prediction() -> None:
    for joint, passes in (
        (cover(12, 8), usual(12, tools=2)),
        (cover(24, 60), usual(24)),  # slack bolts
        (Measured(measured_circle([1.0, -0.3, 0.05], 12)), usual(12, tools=4)),
    ):
        loads = simulate(joint, passes, 0.15, 0.5, 150)
        factors = draw_factors(joint.bolts, 0.15, 0.5, 150)
        for trial in (0, 7, 100):
            assert loads[trial] == pytest.approx(one_trial(joint, passes, factors[trial]), rel=1e-6)


def test_predicted_path_is_the_derivative() -> None:
    """P against differences, linear, slack and with a gap."""
    gapped = gapped_ring(flange(), 0.59, np.full(12, BOLT), np.full(12, 2e-4))
    for joint, passes in ((cover(12, 8), usual(12)), (cover(24, 40), usual(24)), (gapped, usual(12))):
        prediction = predict(joint, passes)
        matrix = sensitivity(joint, passes, prediction, 0.1, 0.5).matrix
        for bolt in (0, 5):
            factors = np.ones(joint.bolts)
            factors[bolt] += 1e-6
            slope = (one_trial(joint, passes, factors) - prediction.final) / 1e-6
            assert matrix[:, bolt] == pytest.approx(slope, abs=1e-4 * TARGET)


def test_slack_bolts_are_said_and_the_path_is_checked() -> None:
    joint, passes = cover(24, 50), usual(24, rounds=2)
    found = scatter(joint, passes, predict(joint, passes), 0.25, 0.5)
    loads = simulate(joint, passes, 0.125, 0.5, 60)
    factors = draw_factors(24, 0.125, 0.5, 60)
    linear = found.mean + (factors - 1) @ sensitivity(joint, passes, predict(joint, passes), 0.125, 0.5).matrix.T
    assert not found.exact
    assert "predicted path" in found.basis
    assert np.abs(linear[: len(loads)].min(axis=1) - loads.min(axis=1)).max() < 0.02 * TARGET


def test_measured_with_gains_is_simulated_and_says_so() -> None:
    """Opposite bolts that gain hold more than a pull gives: the wrench skips them, differently in each trial."""
    joint = Measured(measured_circle([1.0, -0.45, 0.3], 8))
    steps = tuple((bolt,) for bolt in range(1, 9))
    passes = planned_passes(steps, [100.0] * 8, (0.5, 1.0, 1.0))
    found = scatter(joint, passes, predict(joint, passes), 0.25, 0.0, trials=4000)
    assert "4000 simulated" in found.basis
    assert not found.exact


def test_need_and_limit_per_bolt_and_some_bolts_only() -> None:
    joint, passes = cover(12), usual(12)
    prediction = predict(joint, passes)
    limit = np.full(12, 10 * TARGET)
    limit[3] = 0.9 * TARGET
    found = scatter(joint, passes, prediction, 0.1, 0.5, need=0.5 * TARGET, limit=limit)
    assert found.chance_over_limit > 0.9
    others = [bolt for bolt in range(1, 13) if bolt != 4]
    rest = scatter(joint, passes, prediction, 0.1, 0.5, need=0.5 * TARGET, limit=limit, of=others)
    assert rest.chance_over_limit == 0
    assert rest.low == pytest.approx(found.low, rel=0.01)
    assert len(found.bolt_percentile(-2.326)) == 12


def test_the_same_plan_gives_the_same_figures() -> None:
    joint, passes = cover(24), usual(24)
    prediction = predict(joint, passes)
    one, other = (scatter(joint, passes, prediction, 0.25, 0.5) for _ in range(2))
    assert (one.low, one.high) == (other.low, other.high)


def test_chunks_do_not_change_the_numbers() -> None:
    mean, matrix = np.full(5, 10.0), np.eye(5)
    some = sample_extremes(mean, matrix, 0.1, 0.5, trials=3000)
    more = sample_extremes(mean, matrix, 0.1, 0.5, trials=9000)
    assert more.lowest[:3000] == pytest.approx(some.lowest)


def test_no_scatter_leaves_the_prediction() -> None:
    joint, passes = cover(12, 8), usual(12)
    prediction = predict(joint, passes)
    found = scatter(joint, passes, prediction, 0.0, 0.5, trials=200)
    assert found.low == pytest.approx(prediction.final.min())
    assert found.deviation == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("within", "common", "trials"), [(-0.1, 0.5, 1000), (1.0, 0.5, 1000), (0.2, 1.1, 1000), (0.2, 0.5, 9)]
)
def test_refused(within: float, common: float, trials: int) -> None:
    joint, passes = cover(12), usual(12)
    with pytest.raises(InputError):
        scatter(joint, passes, predict(joint, passes), within, common, trials=trials)


def test_many_slack_trials_make_fewer_trials(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("splitline.tightening.trials.EXACT_RUNS", 10)
    joint = cover(12, 300)
    passes = planned_passes(circle_steps("round", 12), [TARGET] * 12, (0.5, 1.0))
    loads = simulate(joint, passes, 0.1, 0.5, 2000)
    assert 10 <= len(loads) < 2000
    factors = draw_factors(12, 0.1, 0.5, 2000)
    again = predict(joint, [replace(one, loads=one.loads * factors[3]) for one in passes]).final
    assert loads[3] == pytest.approx(again)


def test_many_bolts_with_slack_say_how_rough_the_path_is() -> None:
    """Too long to work out hundreds of times: the path stands, with its error beside it."""
    joint, passes = cover(48, 400, 1.2), usual(48)
    found = scatter(joint, passes, predict(joint, passes), 0.4, 0.0, trials=1000)
    assert "along the predicted path, within" in found.basis
    assert found.trials == 1000

"""Coefficients fitted to readings: known ones come back, what cannot be told is not invented."""

from __future__ import annotations

import numpy as np
import pytest

from splitline.errors import InputError
from splitline.tightening.coefficients import Reading, fit_coefficients
from splitline.tightening.interaction import measured_circle
from splitline.tightening.joint import Measured
from splitline.tightening.prediction import predict
from tests.tightening.joints import cover, usual

TRUE = [1.0, -0.12, -0.03]


def readings(bolts: int, scale: float = 1.0, noise: float = 0.0, after: int = 4) -> list[Reading]:
    final = predict(Measured(measured_circle(TRUE, bolts)), usual(bolts, rounds=0)).after_pass[after - 1]
    random = np.random.default_rng(11)
    return [
        Reading(after, bolt, float(load * scale * (1 + noise * random.standard_normal())))
        for bolt, load in enumerate(final, 1)
    ]


@pytest.mark.parametrize("bolts", [16, 20, 28, 32])
def test_known_coefficients_come_back_with_the_common_scale(bolts: int) -> None:
    found = fit_coefficients(usual(bolts, rounds=0), readings(bolts, 0.93), bolts)
    assert found.coefficients == pytest.approx(TRUE, abs=1e-8)
    assert found.scale == pytest.approx(0.93)
    assert found.rest < 1e-8


def test_noise_goes_into_the_errors() -> None:
    found = fit_coefficients(usual(32, rounds=0), readings(32, noise=0.02), 32)
    for value, true, error in zip(found.coefficients[1:], TRUE[1:], found.errors[1:], strict=True):
        assert abs(value - true) < 3 * error
    assert found.rest == pytest.approx(0.02, rel=0.4)
    assert found.readings == 32


def test_what_readings_cannot_tell_apart_is_taken_together() -> None:
    """24 bolts start 1 4 2 5 3 6: every bolt's later neighbours stand in pairs, so only the sum shows."""
    found = fit_coefficients(usual(24, rounds=0), readings(24), 24)
    assert len(found.coefficients) == 2
    assert found.coefficients[1] == pytest.approx(-0.15, abs=1e-6)


def test_few_bolts_read_are_enough_for_one_coefficient() -> None:
    some = [readings(24)[bolt - 1] for bolt in (1, 2, 3, 13)]
    assert fit_coefficients(usual(24, rounds=0), some, 24, 1).coefficients[1] == pytest.approx(-0.15, abs=1e-6)


def test_fit_to_an_elastic_joint_predicts_the_next_round() -> None:
    """Readings of one pass, the coefficients of distance 1 and 2: the next pass is foretold closely."""
    joint, passes = cover(20, 6), usual(20, rounds=1)
    true = predict(joint, passes)
    taken = [Reading(4, bolt, float(load)) for bolt, load in enumerate(true.after_pass[3], 1)]
    found = fit_coefficients(passes[:4], taken, 20)
    told = predict(Measured(measured_circle(found.coefficients, 20)), passes)
    assert told.final == pytest.approx(true.final, rel=0.01)


def test_refused() -> None:
    passes = usual(24, rounds=0)
    with pytest.raises(InputError, match="too few"):
        fit_coefficients(passes, readings(24)[:3], 24)
    with pytest.raises(InputError, match="no such"):
        fit_coefficients(passes, [*readings(24), Reading(9, 1, 1.0)], 24)
    with pytest.raises(InputError, match="reach"):
        fit_coefficients(passes, readings(24), 24, 13)
    last = [Reading(1, bolt, 1.0) for bolt in (6, 12, 18, 24)]  # pulled last, nothing after them
    with pytest.raises(InputError, match="early and late"):
        fit_coefficients(usual(24, rounds=0), last, 24, 1)

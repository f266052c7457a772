"""What scatter of the tightening method does to the preloads: mean, spread, percentiles and chances."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.integral import Integral, integral
from splitline.tightening.joint import Gapped, Joint, Measured
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import Prediction
from splitline.tightening.sampling import Extremes, Tally, sample_extremes
from splitline.tightening.sensitivity import Sensitivity, sensitivity
from splitline.tightening.trials import affordable, path_error, simulate

Array = NDArray[np.float64]

_LEVEL = 0.01  # chance of the low preload, and of the high one
_ERROR = 0.003  # error of low and high, share of the mean, up to which integration stands for trials
_TABLE = 1e-4  # the same, of the integration itself
_PATH = 0.05  # error of the lowest and highest bolt, share of the mean, up to which the path stands for all trials


@dataclass(frozen=True, slots=True, eq=False)
class Scattered:
    """Preloads at the end with scatter. Per bolt: mean and standard deviation, N. ``basis`` says how they were found.

    ``low``: 1st percentile of the lowest bolt; ``high``: 99th percentile of the highest. ``trials``: how many low, high and
    chances come from, 0 where they were integrated.
    """

    mean: Array
    deviation: Array
    low: float
    high: float
    chance_below_need: float
    chance_over_limit: float
    trials: int
    exact: bool
    basis: str
    extremes: Extremes | Integral

    def bolt_percentile(self, z: float) -> Array:
        """Preload of each bolt at ``z`` standard deviations from its mean (−2.326: 1st percentile), N."""
        loads: Array = self.mean + z * self.deviation
        return loads


def scatter(
    joint: Joint,
    passes: Sequence[Pass],
    prediction: Prediction,
    within: float,
    common: float,
    *,
    need: Array | float = 0.0,
    limit: Array | float = float("inf"),
    trials: int = 20_000,
    of: Sequence[int] | None = None,
) -> Scattered:
    """Scatter of the predicted preloads. ``within``: preload within ± this share at two standard deviations.

    ``common``: share of that variance common to all bolts (one lubricant batch, one tool); the rest is one draw per bolt
    for the whole job. Linear while nothing is slack: mean and deviation are then exact, extremes integrated where the
    bolts' own parts are nearly independent (within a bound), else drawn in ``trials`` trials. With slack bolts the
    predicted path is held against single tightenings, and the tightening simulated where it strays. ``of``: the bolts
    (from 1) low, high and chances speak of. InputError out of range.
    """
    if not 0 <= within < 1 or not 0 <= common <= 1 or trials < 100:
        raise InputError("scatter must be from 0 to below 1, its common share from 0 to 1, trials at least 100")
    sigma = within / 2
    chosen = np.arange(joint.bolts) if of is None else np.asarray(of) - 1
    bounds = [bound if np.ndim(bound) == 0 else np.asarray(bound)[chosen] for bound in (need, limit)]
    if not (isinstance(joint, Measured) and prediction.slack):
        answer = sensitivity(joint, passes, prediction, sigma, common)
        if answer.exact:
            how = "exact mean and deviation"
            return _linear(prediction.final, answer, chosen, sigma, common, bounds, trials, how)
        if not isinstance(joint, Measured):
            error = path_error(joint, passes, prediction.final, answer.matrix, sigma, common)
            if error <= _PATH or not affordable(joint, passes):
                how = (
                    f"mean and deviation along the predicted path, within {max(error, 5e-4):.1%} of single tightenings"
                )
                return _linear(prediction.final, answer, chosen, sigma, common, bounds, trials, how)
    assert not isinstance(joint, Gapped)
    loads = simulate(joint, passes, sigma, common, trials)
    found = Tally(len(loads), *bounds)
    found.take(0, loads[:, chosen])
    basis = f"{len(loads)} simulated tightenings, fixed seed (bolts go slack or hold more than a pull gives)"
    return _told(loads.mean(axis=0), loads.std(axis=0), found.extremes(), False, basis)


def _linear(
    mean: Array,
    answer: Sensitivity,
    chosen: NDArray[np.int_],
    sigma: float,
    common: float,
    bounds: Sequence[Array | float],
    trials: int,
    how: str,
) -> Scattered:
    matrix = answer.matrix
    together, own = matrix.sum(axis=1), np.sqrt((matrix**2).sum(axis=1))
    deviation = sigma * np.sqrt(common * together**2 + (1 - common) * own**2)
    if (told := _integrated(mean, matrix, deviation, answer.exact, chosen, sigma, common, bounds, how)) is not None:
        return told
    found = _sampled(mean, matrix, chosen, sigma, common, bounds, trials)
    return _told(mean, deviation, found, answer.exact, f"{how}; extremes from {trials} trials, fixed seed")


def _integrated(
    mean: Array,
    matrix: Array,
    deviation: Array,
    exact: bool,
    chosen: NDArray[np.int_],
    sigma: float,
    common: float,
    bounds: Sequence[Array | float],
    how: str,
) -> Scattered | None:
    """Low, high and chances by integration; None where its error is not certain to be small."""
    found = integral(mean, matrix, sigma, common, chosen)
    if found is None:
        return None
    low, high, whole = found.low(_LEVEL), found.high(_LEVEL), float(mean[chosen].mean())
    error = max(found.low_error(low), found.high_error(high)) / whole + _TABLE
    if not error <= _ERROR:
        return None
    below, over = found.lowest_below(bounds[0]), found.highest_over(bounds[1])
    said = f"{how}; extremes integrated over the common factor, within {error:.2%} of the mean preload"
    return Scattered(mean, deviation, low, high, below, over, 0, exact, said, found)


def _sampled(
    mean: Array,
    matrix: Array,
    chosen: NDArray[np.int_],
    sigma: float,
    common: float,
    bounds: Sequence[Array | float],
    trials: int,
) -> Extremes:
    """Extremes over the chosen bolts only; all bolts' factors still act on them."""
    if len(chosen) == len(mean):
        return sample_extremes(mean, matrix, sigma, common, bounds[0], bounds[1], trials)
    covariance = matrix[chosen] @ matrix[chosen].T
    root = np.linalg.cholesky(covariance + 1e-12 * covariance.trace() * np.eye(len(chosen)))
    together = matrix[chosen].sum(axis=1)
    return sample_extremes(mean[chosen], root, sigma, common, bounds[0], bounds[1], trials, together)


def _told(mean: Array, deviation: Array, found: Extremes, exact: bool, basis: str) -> Scattered:
    low = float(np.percentile(found.lowest, 1))
    high = float(np.percentile(found.highest, 99))
    below, over = float((found.over_need < 0).mean()), float((found.under_limit < 0).mean())
    return Scattered(mean, deviation, low, high, below, over, len(found.lowest), exact, basis, found)

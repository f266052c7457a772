"""Interaction coefficients from readings: what measured preloads of an earlier pass say about the joint at hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.interaction import measured_circle
from splitline.tightening.joint import Measured
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import predict

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Reading:
    """Preload of one bolt (from 1) measured after a pass (from 1, snug included), N."""

    after_pass: int
    bolt: int
    preload: float


@dataclass(frozen=True, slots=True)
class Fitted:
    """Coefficients by distance along the circle, first 1.0, each with its standard error (0 for the first).

    ``scale``: measured over intended load, common to all (friction, tool); ``rest``: standard deviation of what the fit
    leaves, share of the mean reading; ``readings``: how many it rests on.
    """

    coefficients: tuple[float, ...]
    errors: tuple[float, ...]
    scale: float
    rest: float
    readings: int


def fit_coefficients(passes: Sequence[Pass], readings: Sequence[Reading], bolts: int, reach: int = 2) -> Fitted:
    """Least squares for coefficients up to ``reach`` bolts away and a common scale, by Gauss–Newton on the prediction.

    ``passes``: as really done. Where the readings cannot tell the coefficients apart (starts 1 2 3 of a cross order with
    equal loads), a smaller reach is taken, which then stands for their sum. InputError with fewer than reach + 2 readings,
    or a bolt or pass that does not exist. Scatter of single bolts goes into the errors: read many bolts.
    """
    if not 1 <= reach <= bolts // 2:
        raise InputError(f"coefficients can reach 1 to {bolts // 2} bolts away, not {reach}")
    if len(readings) < reach + 2:
        raise InputError(
            f"{len(readings)} readings are too few for {reach} coefficients and a scale: {reach + 2} at least"
        )
    for reading in readings:
        if not 1 <= reading.bolt <= bolts or not 1 <= reading.after_pass <= len(passes) or not reading.preload > 0:
            raise InputError(
                f"reading of bolt {reading.bolt} after pass {reading.after_pass}: no such bolt, pass or load"
            )
    for within in range(reach, 1, -1):
        found = _fitted(passes, readings, bolts, within)
        if found is not None:
            return found
    found = _fitted(passes, readings, bolts, 1)
    if found is None:
        raise InputError(
            "these readings cannot tell interaction from tool and friction: read bolts pulled early and late"
        )
    return found


def _fitted(passes: Sequence[Pass], readings: Sequence[Reading], bolts: int, reach: int) -> Fitted | None:
    """The fit for one reach, or None where the readings cannot tell its coefficients apart."""
    rows = np.array([r.after_pass - 1 for r in readings]), np.array([r.bolt - 1 for r in readings])
    measured = np.array([r.preload for r in readings], dtype=np.float64)

    def model(values: Array) -> Array:
        joint = Measured(measured_circle([1.0, *values[:reach]], bolts))
        loads: Array = values[reach] * predict(joint, passes).after_pass[rows]
        return loads

    solved = _gauss_newton(model, measured, reach)
    if solved is None:
        return None
    values, slope = solved
    residual = measured - model(values)
    variance = float(residual @ residual) / max(len(readings) - reach - 1, 1)
    errors = np.sqrt(np.diag(np.linalg.inv(slope.T @ slope)) * variance)
    return Fitted(
        (1.0, *map(float, values[:reach])),
        (0.0, *map(float, errors[:reach])),
        float(values[reach]),
        float(np.sqrt(variance)) / float(measured.mean()),
        len(readings),
    )


def _gauss_newton(model: Callable[[Array], Array], measured: Array, reach: int) -> tuple[Array, Array] | None:
    values = np.append(-0.05 / np.arange(1, reach + 1) ** 2, 1.0)
    values[reach] = float(measured.mean()) / max(float(model(values).mean()), 1e-300)
    slope = np.zeros((len(measured), reach + 1))
    for _ in range(30):
        now = model(values)
        for at in range(reach + 1):
            step = 1e-6 * (values[reach] if at == reach else 1.0)
            moved = values.copy()
            moved[at] += step
            slope[:, at] = (model(moved) - now) / step
        scale = np.linalg.norm(slope, axis=0)
        if (scale == 0).any() or np.linalg.cond(slope / np.where(scale == 0, 1, scale)) > 1e8:
            return None
        change = np.linalg.lstsq(slope / scale, measured - now, rcond=None)[0] / scale
        values = values + change
        values[:reach] = np.clip(values[:reach], -0.9, 0.9)
        if np.abs(change / np.append(np.ones(reach), values[reach])).max() < 1e-10:
            break
    return values, slope

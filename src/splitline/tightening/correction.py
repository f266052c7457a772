"""Loads that end level: how high each bolt is pulled so that, after the others have taken their toll, it holds its target."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.gains import Gains
from splitline.tightening.joint import Joint
from splitline.tightening.order import Step
from splitline.tightening.passes import Pass, planned_passes
from splitline.tightening.prediction import Prediction, predict, spread

Array = NDArray[np.float64]

_TURNS = 200
_LEVEL = 1e-7  # share of the target left between wanted and reached


@dataclass(frozen=True, slots=True, eq=False)
class Correction:
    """Loads of the last pass (N per bolt) that end level, and what they leave.

    ``capped``: bolts (from 1) stopped by their limit; ``level``: whether every bolt but those ends at its target (else a
    bolt holds more than its target already, and a wrench does not slacken it).
    """

    loads: Array
    prediction: Prediction
    spread: float
    capped: tuple[int, ...]
    level: bool


def level_loads(
    joint: Joint,
    before: Sequence[Pass],
    steps: Sequence[Step],
    targets: Sequence[float] | Array,
    limits: Sequence[float] | Array | None = None,
    gains: Gains | None = None,
) -> Correction:
    """Loads of one more pass after ``before`` (may be empty) that leave each bolt at its target (N), none above its limit.

    Each bolt is pulled to its target plus what later steps take from it; what they take depends on later loads only, so
    the repeated prediction settles. InputError for limits below targets.
    """
    wanted = np.asarray(targets, dtype=np.float64)
    most = np.full(len(wanted), np.inf) if limits is None else np.asarray(limits, dtype=np.float64)
    if (most < wanted).any():
        raise InputError(f"the limit of bolt {int(np.argmax(most < wanted)) + 1} lies below its target")
    last = Pass("levelling", tuple(steps), np.minimum(wanted, most))
    prediction = predict(joint, [*before, last], gains)
    for _ in range(_TURNS):
        missing = wanted - prediction.final
        loads = np.clip(last.loads + missing, 0.01 * wanted, most)
        if np.abs(loads - last.loads).max() <= _LEVEL * wanted.max():
            break
        last = replace(last, loads=loads)
        prediction = predict(joint, [*before, last], prediction.gains)
    held = last.loads >= most * (1 - 1e-12)
    capped = held & (prediction.final < wanted * (1 - 1e-6))
    level = bool((np.abs(prediction.final - wanted)[~capped] <= 1e-6 * wanted.max()).all())
    numbers = tuple(int(bolt) + 1 for bolt in np.flatnonzero(capped))
    return Correction(last.loads, prediction, spread(prediction.final, wanted), numbers, level)


@dataclass(frozen=True, slots=True)
class Further:
    """What one more finishing round leaves: number of rounds, spread, lowest share of target, nuts that still moved."""

    rounds: int
    spread: float
    lowest: float
    moved: int


def further_rounds(
    joint: Joint,
    steps: Sequence[Step],
    targets: Sequence[float] | Array,
    shares: Sequence[float],
    snug: float = 0.0,
    most: int = 5,
    moves: float = 0.01,
    gains: Gains | None = None,
) -> tuple[Further, ...]:
    """What 0 to ``most`` finishing rounds leave. ``moves``: share of target by which a nut must take load to count as moved.

    One prediction serves all rows. On the job rounds go on until no nut moves.
    """
    passes = planned_passes(steps, targets, shares, snug, most)
    prediction = predict(joint, passes, gains)
    wanted = np.asarray(targets, dtype=np.float64)
    rows, made = [], len(passes) - most
    for rounds in range(most + 1):
        number = made + rounds - 1
        share = prediction.after_pass[number] / wanted
        moved = _moved(prediction, passes, number, moves * wanted) if rounds else joint.bolts
        rows.append(Further(rounds, spread(share), float(share.min()), moved))
    return tuple(rows)


def least_rounds(rows: Sequence[Further], wanted_spread: float) -> Further | None:
    """The least number of rounds whose spread is within ``wanted_spread``; None when none of them is."""
    return next((row for row in rows if row.spread <= wanted_spread), None)


def _moved(prediction: Prediction, passes: Sequence[Pass], number: int, least: Array) -> int:
    """Bolts of a pass whose own pull added more than ``least``."""
    at = sum(len(one.steps) for one in passes[:number])
    count = 0
    for offset in range(len(passes[number].steps)):
        now, before = prediction.after_step[at + offset], prediction.after_step[at + offset - 1]
        count += sum(now[bolt - 1] - before[bolt - 1] > least[bolt - 1] for bolt in prediction.moved[at + offset])
    return int(count)

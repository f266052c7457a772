"""Loads that end level: how high each bolt is pulled so that, after the others have taken their toll, it holds its target."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.joint import Joint
from splitline.tightening.order import Step
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import Hand, Prediction, carried_out, check_passes, go_on, predict, spread

Array = NDArray[np.float64]

_TURNS = 200
_LEVEL = 1e-7  # share of the target left between wanted and reached


@dataclass(frozen=True, slots=True, eq=False)
class Correction:
    """Loads of the last pass (N per bolt) that end level, and what they leave.

    ``prediction`` is of that pass alone; ``capped``: bolts (from 1) stopped by their limit; ``level``: whether every bolt but
    those ends at its target (else a bolt holds more than its target already, and a wrench does not slacken it).
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
    start: Hand | None = None,
) -> Correction:
    """Loads of one more pass after ``before`` (may be empty) that leave each bolt at its target (N), none above its limit.

    Each bolt is pulled to its target plus what later steps take from it; what they take depends on later loads only, so
    the repeated prediction settles. ``start``: the state after ``before`` where it is known (``Prediction.after``).
    InputError for limits below targets.
    """
    wanted = np.asarray(targets, dtype=np.float64)
    most = np.full(len(wanted), np.inf) if limits is None else np.asarray(limits, dtype=np.float64)
    if (most < wanted).any():
        raise InputError(f"the limit of bolt {int(np.argmax(most < wanted)) + 1} lies below its target")
    last = Pass("levelling", tuple(steps), np.minimum(wanted, most))
    check_passes([*before, last], joint.bolts)
    if start is None and before:
        start = predict(joint, before).state
    elif start is None:
        start = Hand(joint, [bolt for step in last.pulled() for bolt in step])
    prediction = carried_out(start.copy(), [last])
    for _ in range(_TURNS):
        loads = np.clip(last.loads + wanted - prediction.final, 0.01 * wanted, most)
        if np.abs(loads - last.loads).max() <= _LEVEL * wanted.max():
            break
        last = replace(last, loads=loads)
        prediction = carried_out(start.copy(), [last])
    held = last.loads >= most * (1 - 1e-12)
    capped = held & (prediction.final < wanted * (1 - 1e-6))
    level = bool((np.abs(prediction.final - wanted)[~capped] <= 1e-6 * wanted.max()).all())
    numbers = tuple(int(bolt) + 1 for bolt in np.flatnonzero(capped))
    return Correction(last.loads, prediction, spread(prediction.final, wanted), numbers, level)


@dataclass(frozen=True, slots=True)
class Further:
    """What one more check round leaves: number of rounds, spread, lowest share of target, nuts that still moved."""

    rounds: int
    spread: float
    lowest: float
    moved: int


def further_rounds(
    prediction: Prediction,
    passes: Sequence[Pass],
    targets: Sequence[float] | Array,
    rounds: int,
    most: int = 5,
    moves: float = 0.01,
) -> tuple[Further, ...]:
    """What 0 to ``most`` check rounds leave after ``passes``, of which the last ``rounds`` are rounds already.

    ``prediction`` is that of ``passes``; further rounds go on from it. ``moves``: share of target by which a nut must take
    load to count as moved. On the job rounds go on until no nut moves.
    """
    wanted = np.asarray(targets, dtype=np.float64)
    more = [Pass(f"round {number}", passes[-1].steps, wanted) for number in range(rounds + 1, most + 1)]
    steps, ends, moved = prediction.after_step, prediction.after_pass, prediction.moved
    if more:
        after = go_on(prediction, more)
        steps, ends = np.vstack([steps, after.after_step]), np.vstack([ends, after.after_pass])
        moved = moved + after.moved
    each, first = len(passes[-1].steps), sum(len(one.steps) for one in passes[: len(passes) - rounds])
    rows = []
    for number in range(most + 1):
        share = ends[len(passes) - rounds - 1 + number] / wanted
        at = first + (number - 1) * each
        turned = _moved(steps[at - 1 : at + each], moved[at : at + each], moves * wanted) if number else len(wanted)
        rows.append(Further(number, spread(share), float(share.min()), turned))
    return tuple(rows)


def least_rounds(rows: Sequence[Further], wanted_spread: float) -> Further | None:
    """The least number of rounds whose spread is within ``wanted_spread``; None when none of them is."""
    return next((row for row in rows if row.spread <= wanted_spread), None)


def _moved(states: Array, moved: Sequence[Sequence[int]], least: Array) -> int:
    """Bolts of a pass whose own pull added more than ``least``; ``states`` starts with the one before the pass."""
    gained = np.diff(states, axis=0)
    return sum(bool(gained[at, bolt - 1] > least[bolt - 1]) for at, bolts in enumerate(moved) for bolt in bolts)

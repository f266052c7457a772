"""Orders and numbers of passes side by side: what they leave, what they cost, what they risk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.joint import Joint
from splitline.tightening.passes import Pass
from splitline.tightening.prediction import predict, spread
from splitline.tightening.scatter import scatter

BASIS = "common practice, no published source"
PER_STEP = 4.0  # minutes to place the tools, pull and read: one step
PER_PASS = 5.0  # minutes to set pressure or torque and call the pass


def minutes(passes: Sequence[Pass], per_step: float = PER_STEP, per_pass: float = PER_PASS) -> float:
    """Elapsed minutes: ``per_step`` for each placing of the tools (however many work together), ``per_pass`` to start."""
    if not (per_step > 0 and per_pass >= 0):
        raise InputError(f"minutes for a step must be above 0, for a pass 0 or more: {per_step:g}, {per_pass:g}")
    return sum(per_pass + per_step * len(one.steps) for one in passes)


def crew(passes: Sequence[Pass]) -> int:
    """People for the tools that work together, and one who calls the order and writes down; four tools at most."""
    return 1 + min(4, max(len(step) for one in passes for step in one.steps))


Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Bounds:
    """What every bolt must keep and may carry (N), and the scatter of the method (± at two deviations, common share)."""

    need: Array | float
    limit: Array | float
    scatter: float
    common: float


@dataclass(frozen=True, slots=True)
class Row:
    """One way of tightening. Spread (max − min)/mean; lowest: share of target; low: 1st percentile of the lowest, N."""

    name: str
    spread: float
    lowest: float
    highest: float
    low: float
    chance_below_need: float
    chance_over_limit: float
    minutes: float
    crew_minutes: float


def compare(
    joint: Joint,
    ways: Sequence[tuple[str, Sequence[Pass]]],
    targets: Sequence[float] | Array,
    bounds: Bounds,
    per_step: float = PER_STEP,
    trials: int = 5_000,
    of: Sequence[int] | None = None,
) -> tuple[Row, ...]:
    """A row for each named way of tightening the joint; ``targets`` per bolt, N. ``of``: bolts (from 1) the rows speak of."""
    wanted = np.asarray(targets, dtype=np.float64)
    chosen = np.arange(joint.bolts) if of is None else np.asarray(of) - 1
    rows = []
    for name, passes in ways:
        prediction = predict(joint, passes)
        share = (prediction.final / wanted)[chosen]
        found = scatter(
            joint,
            passes,
            prediction,
            bounds.scatter,
            bounds.common,
            need=bounds.need,
            limit=bounds.limit,
            trials=trials,
            of=of,
        )
        time = minutes(passes, per_step)
        rows.append(
            Row(
                name,
                spread(share),
                float(share.min()),
                float(share.max()),
                found.low,
                found.chance_below_need,
                found.chance_over_limit,
                time,
                time * crew(passes),
            )
        )
    return tuple(rows)

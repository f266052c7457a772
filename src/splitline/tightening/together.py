"""One step on bolts that are all tight: who must be pulled so that every load is reached and no nut goes back."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from splitline.tightening.gains import Gains, Pulled

Array = NDArray[np.float64]

REACHED = 1 - 1e-12  # share of the wanted load that counts as held


def pull_together(gains: Gains, force: Array, step: Pulled, loads: Array) -> tuple[Array, Pulled]:
    """New preloads and the bolts moved: the bolts of ``step`` end at their loads together, or above where they held more.

    ``force``: preloads (N; below 0 where a bolt of a measured joint is slack by that much), ``loads``: per bolt of step.
    """
    if len(step) == 1:
        return _pull_one(gains, force, step, float(loads[0]))
    rows = list(step)
    held = np.maximum(force[rows], 0.0)
    moving = [at for at in range(len(rows)) if held[at] < loads[at] * REACHED]
    if not moving:
        return force, ()
    new = force
    for _ in range(3 * len(rows) + 1):
        pulled = tuple(rows[at] for at in moving)
        missing = loads[moving] - held[moving]
        new = force + gains.gain(pulled, gains.bolts) @ missing
        new[list(pulled)] = loads[moving]
        turned = np.linalg.solve(gains.columns(pulled)[list(pulled)], missing)
        back = [at for at, turn in zip(moving, turned, strict=True) if turn < 0]
        late = [at for at in range(len(rows)) if at not in moving and new[rows[at]] < loads[at] * REACHED]
        if not back and not late:
            break
        moving = sorted([at for at in moving if at not in back] + late) or [int(np.argmax(missing))]
    return new, tuple(sorted(rows[at] for at in moving))


def _pull_one(gains: Gains, force: Array, step: Pulled, load: float) -> tuple[Array, Pulled]:
    """The same for a bolt pulled alone, without the arrays."""
    bolt = step[0]
    held = max(float(force[bolt]), 0.0)
    if held >= load * REACHED:
        return force, ()
    new: Array = force + gains.gain(step, gains.bolts)[:, 0] * (load - held)
    new[bolt] = load
    return new, step

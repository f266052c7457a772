"""What is to be done: passes, each with its steps and the load every bolt is pulled to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.order import Step

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Pass:
    """One trip over all bolts: a name (snug, 1, 2, ... round 1), the steps (bolts from 1) and the load of each bolt, N."""

    name: str
    steps: tuple[Step, ...]
    loads: Array

    def pulled(self) -> tuple[tuple[int, ...], ...]:
        """The steps with bolts counted from 0."""
        return tuple(tuple(bolt - 1 for bolt in step) for step in self.steps)


def planned_passes(
    steps: Sequence[Step], targets: Sequence[float] | Array, shares: Sequence[float], snug: float = 0.0, rounds: int = 0
) -> tuple[Pass, ...]:
    """Snug pass (when ``snug`` > 0), a pass per share of the targets (N per bolt), and check rounds at 100 %.

    InputError for a share not above 0, up to 1.2, for a target not above 0, or when there is no pass at all.
    """
    wanted = np.asarray(targets, dtype=np.float64)
    if not (np.isfinite(wanted).all() and (wanted > 0).all()):
        raise InputError("every bolt needs a target preload above 0")
    named = [("snug", snug)] if snug > 0 else []
    named += [(str(number), share) for number, share in enumerate(shares, 1)]
    named += [(f"round {number}", 1.0) for number in range(1, rounds + 1)]
    if not named:
        raise InputError("there is no pass: give shares of the target, such as 0.3, 0.6 and 1")
    if any(not 0 < share <= 1.2 for _, share in named):
        raise InputError("a pass must be at a share of the target above 0 and at most 1.2")
    return tuple(Pass(name, tuple(steps), share * wanted) for name, share in named)

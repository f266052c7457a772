"""What passes cost: minutes with the tools working together, and of the crew. Meant for comparing plans."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.errors import InputError
from splitline.tightening.passes import Pass

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

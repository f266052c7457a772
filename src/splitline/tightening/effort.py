"""What a pass costs: minutes of the crew, by method. Common practice, no published source; meant for comparing plans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.tightening.passes import Pass

BASIS = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Effort:
    """Minutes for one step (moving and setting the tools), for each further bolt of it, and for starting a pass."""

    step: float
    bolt: float
    start: float


_BY_METHOD = {
    "torque wrench": Effort(1.5, 0.0, 3.0),
    "hydraulic wrench": Effort(2.5, 0.0, 5.0),
    "hydraulic tensioner": Effort(8.0, 1.0, 10.0),
    "stretch": Effort(4.0, 0.5, 5.0),
    "turn": Effort(2.0, 0.0, 3.0),
    "heat": Effort(30.0, 1.0, 10.0),
}


def effort_of(method: str) -> Effort:
    """Usual minutes of a tightening method; InputError for a method not known here."""
    if method not in _BY_METHOD:
        raise InputError(f'no usual minutes for "{method}": {", ".join(_BY_METHOD)}')
    return _BY_METHOD[method]


def minutes(passes: Sequence[Pass], effort: Effort) -> float:
    """Elapsed minutes of the passes with the tools of their steps working together."""
    steps = [step for one in passes for step in one.steps]
    return len(passes) * effort.start + sum(effort.step + effort.bolt * (len(step) - 1) for step in steps)


def crew(passes: Sequence[Pass]) -> int:
    """People for the tools that work together, and one who calls the order and writes down; four tools at most."""
    return 1 + min(4, max(len(step) for one in passes for step in one.steps))

"""What every step of the order of work asks of the whole of it, worked out once for a plan and not once a step."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass

from splitline.assess.window import tasks_of, waits_of
from splitline.fitting.windows import Span, one_after_another
from splitline.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Schedule:
    """By place of a step: steps before it without minutes, crew time before it (s); spans, s, one step after another."""

    place: Mapping[str, int]
    unknown: tuple[int, ...]
    people: tuple[float, ...]
    spans: Mapping[str, Span]
    closing: int | None  # place of the step that closes the machine
    of_joint: Mapping[str, tuple[int, ...]]


class Once:
    """A value that is hashed once, however often it is part of a key; equal where the values are."""

    __slots__ = ("_hash", "value")

    def __init__(self, value: Hashable) -> None:
        self.value = value
        self._hash = hash(value)

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        return self is other or (isinstance(other, Once) and self._hash == other._hash and self.value == other.value)


_kept: tuple[Plan, Schedule] | None = None  # the last plan asked about


def schedule_of(plan: Plan) -> Schedule:
    """The schedule of a plan; the one asked for last is kept."""
    global _kept
    kept = _kept
    if kept is None or kept[0] is not plan:
        kept = (plan, _worked_out(plan))
        _kept = kept
    return kept[1]


def _worked_out(plan: Plan) -> Schedule:
    unknown, people = [0], [0.0]
    of_joint: dict[str, list[int]] = {}
    for number, step in enumerate(plan.steps):
        unknown.append(unknown[-1] + (step.minutes is None))
        people.append(people[-1] + 60.0 * (step.minutes or 0.0) * (step.crew or 1))
        if step.joint is not None:
            of_joint.setdefault(step.joint, []).append(number)
    return Schedule(
        {step.id: number for number, step in reversed(tuple(enumerate(plan.steps)))},
        tuple(unknown),
        tuple(people),
        one_after_another(tasks_of(plan.steps), waits_of(plan.windows)),
        _closing(plan),
        {joint: tuple(places) for joint, places in of_joint.items()},
    )


def _closing(plan: Plan) -> int | None:
    """Place of the step that closes the machine: the last on a joint that stays in sight, else the last insertion."""
    hidden = {joint.id for joint in plan.joints if joint.hidden}
    closers = [n for n, step in enumerate(plan.steps) if step.joint is not None and step.joint not in hidden]
    inserts = [n for n, step in enumerate(plan.steps) if step.insertion is not None]
    return max(closers, default=max(inserts, default=None))


def same_for_all(plan: Plan) -> Once:
    """Part of a key: everything an item may look at beside itself."""
    return Once((plan.steps, plan.joints, plan.windows, plan.items))

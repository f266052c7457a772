"""When each step of the order of work starts and ends, and how long a window between two of those moments lasts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from splitline.errors import InputError
from splitline.fitting.guard import not_negative

Moment = tuple[str, Literal["start", "done"]]


@dataclass(frozen=True, slots=True)
class Task:
    """One step: id, duration in s (None = not given), the ids it needs done first, and who does it ('' = the crew)."""

    id: str
    duration: float | None
    needs: tuple[str, ...] = ()
    crew: str = ""


@dataclass(frozen=True, slots=True)
class Span:
    """Start and end of a task, s after the first start."""

    start: float
    done: float


@dataclass(frozen=True, slots=True)
class Wait:
    """At least ``seconds`` must pass from ``begin`` to ``end``: an oil hold, a drain, a cooling time."""

    begin: Moment
    end: Moment
    seconds: float


def _placed(task: Task, start: float, waits: Iterable[Wait], found: dict[str, Span]) -> Span:
    """The task's span from ``start`` on: put off or drawn out by the waits that end in it."""
    spent = not_negative(task.duration or 0.0, f"duration of {task.id}")
    mine = [wait for wait in waits if wait.end[0] == task.id]
    for wait in mine:
        if wait.end[1] == "start" and wait.begin[0] in found:
            start = max(start, moment(found, wait.begin) + wait.seconds)
    done = start + spent
    for wait in mine:
        if wait.end[1] == "done" and wait.begin[0] in found:
            done = max(done, moment(found, wait.begin) + wait.seconds)
        elif wait.end[1] == "done" and wait.begin == (task.id, "start"):
            done = max(done, start + wait.seconds)
    return Span(start, done)


def one_after_another(tasks: Sequence[Task], waits: Sequence[Wait] = ()) -> dict[str, Span]:
    """Times when the steps are done one at a time as listed, waiting where a wait says so. No duration counts 0."""
    clock, found = 0.0, dict[str, Span]()
    for task in tasks:
        found[task.id] = _placed(task, clock, waits, found)
        clock = found[task.id].done
    return found


def earliest(tasks: Sequence[Task], waits: Sequence[Wait] = ()) -> dict[str, Span]:
    """Earliest times with hands enough: a step starts when its needs are done, or else follows the step before.

    Critical-path method (forward pass), tasks in an order that respects their needs; InputError otherwise.
    """
    found: dict[str, Span] = {}
    before = 0.0
    for task in tasks:
        late = [need for need in task.needs if need not in found]
        if late:
            raise InputError(f"step {task.id} needs {', '.join(late)}, which do not come before it")
        start = max((found[need].done for need in task.needs), default=before)
        found[task.id] = _placed(task, start, waits, found)
        before = found[task.id].done
    return found


def moment(spans: dict[str, Span], at: Moment) -> float:
    """Time (s) of a start or an end; InputError for an unknown step."""
    name, which = at
    if name not in spans:
        raise InputError(f"no step {name} in the order of work")
    return spans[name].start if which == "start" else spans[name].done


def elapsed(spans: dict[str, Span], begin: Moment, end: Moment) -> float:
    """Seconds from ``begin`` to ``end``; negative when the end comes first."""
    return moment(spans, end) - moment(spans, begin)


def between(tasks: Sequence[Task], begin: Moment, end: Moment) -> tuple[Task, ...]:
    """The listed tasks that pass between two moments, in order (those whose duration counts)."""
    names = [task.id for task in tasks]
    for name, _ in (begin, end):
        if name not in names:
            raise InputError(f"no step {name} in the order of work")
    first = names.index(begin[0]) + (1 if begin[1] == "done" else 0)
    last = names.index(end[0]) + (1 if end[1] == "done" else 0)
    return tuple(tasks[first:last])


def unknown_durations(tasks: Iterable[Task]) -> tuple[str, ...]:
    """Ids of the tasks without a duration: with one of them inside, the length of a window is not known."""
    return tuple(task.id for task in tasks if task.duration is None)


@dataclass(frozen=True, slots=True)
class Countdown:
    """A running window: seconds since it opened, left to the earliest and to the latest end (None = no limit)."""

    since: float
    wait: float | None
    left: float | None

    @property
    def state(self) -> Literal["wait", "open", "broken"]:
        """``wait`` before the least time is over, ``broken`` after the longest, else ``open``."""
        if self.left is not None and self.left < 0.0:
            return "broken"
        return "wait" if self.wait is not None and self.wait > 0.0 else "open"


def countdown(since: float, at_least: float | None, at_most: float | None) -> Countdown:
    """What a clock shows ``since`` seconds after the window opened, for limits in s."""
    wait = None if at_least is None else at_least - since
    left = None if at_most is None else at_most - since
    return Countdown(since, wait, left)

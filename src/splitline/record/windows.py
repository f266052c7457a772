"""Time limits between two moments of the work, with what is left of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from splitline.record.clock import ClockChange
from splitline.record.entry import Entry
from splitline.record.job import WindowPlan

Phase = Literal["not started", "running", "kept", "broken", "clock changed"]


@dataclass(frozen=True, slots=True)
class WindowState:
    """A window at one moment."""

    plan: WindowPlan
    phase: Phase
    started: datetime | None = None
    ended: datetime | None = None
    elapsed: float = 0.0  # s, up to its end or now
    wait: float = 0.0  # s before its end may come (at_least)
    left: float | None = None  # s until its end must have come (at_most); None: no such limit
    clock: tuple[
        ClockChange, ...
    ] = ()  # the clock was set in between: ``elapsed`` is by the machine's count where it has one

    @property
    def short(self) -> str:
        """What is left or waited for, in a few letters."""
        if self.wait > 0:
            return f"wait {minutes(self.wait)}"
        return minutes(self.elapsed) if self.left is None else f"{minutes(self.left)} left"

    @property
    def holds(self) -> str:
        """What its end still has to wait for, in words; "" where nothing, or where nobody can tell."""
        told = self.phase == "running" or (self.phase == "clock changed" and all(c.exact for c in self.clock))
        return f"{self.plan.title}: wait another {minutes(self.wait)}" if told and self.wait > 0 else ""

    @property
    def said(self) -> str:
        """In words."""
        limits = self.plan
        if self.phase == "clock changed":
            exact = all(change.exact for change in self.clock)
            past = (
                f"by the machine's own count {minutes(self.elapsed)} have passed"
                if exact
                else "how long cannot be told"
            )
            return f"{limits.title}: clock changed; {past}"
        if self.phase == "not started":
            return f"{limits.title}: starts at {limits.start}"
        if self.phase == "broken":
            limit = limits.at_most if limits.at_most is not None and self.elapsed > limits.at_most else limits.at_least
            word = "at most" if limit == limits.at_most else "at least"
            return f"{limits.title}: broken, {minutes(self.elapsed)} and {word} {minutes(limit or 0.0)} is allowed"
        if self.phase == "kept":
            return f"{limits.title}: kept, {minutes(self.elapsed)}"
        if self.wait > 0:
            return f"{limits.title}: wait another {minutes(self.wait)}"
        if self.left is None:
            return f"{limits.title}: {minutes(self.elapsed)} so far, waited long enough"
        return f"{limits.title}: {minutes(self.left)} left"


def minutes(seconds: float) -> str:
    """``75 s`` as ``1:15 min``, two hours as ``2:00 h``."""
    whole = round(seconds)
    if whole >= 3600:
        return f"{whole // 3600}:{whole % 3600 // 60:02d} h"
    return f"{whole // 60}:{whole % 60:02d} min"


def window_state(
    plan: WindowPlan,
    moments: Mapping[str, datetime],
    now: datetime,
    entries: Sequence[Entry] = (),
    changes: Sequence[ClockChange] = (),
) -> WindowState:
    """Where a window stands, from the moments reached so far.

    ``changes``: where the clock was set, by the numbers of ``entries``. One that lies inside the window is taken off its
    time as far as the machine's own count tells it; the window then says so, and a named person has to look at it.
    """
    started, ended = moments.get(plan.start), moments.get(plan.end)
    if started is None:
        return WindowState(plan, "not started", ended=ended)
    inside = _inside(started, ended, entries, changes)
    elapsed = ((ended or now) - started).total_seconds() - sum(change.seconds for change in inside if change.exact)
    early = plan.at_least is not None and elapsed < plan.at_least
    late = plan.at_most is not None and elapsed > plan.at_most
    wait = (plan.at_least or 0.0) - elapsed if early and ended is None else 0.0
    left = None if plan.at_most is None else plan.at_most - elapsed
    if late or (early and ended is not None):
        phase: Phase = "broken"
    elif inside:
        phase = "clock changed"
    else:
        phase = "kept" if ended is not None else "running"
    return WindowState(plan, phase, started, ended, elapsed, wait, left, inside)


def _inside(
    started: datetime, ended: datetime | None, entries: Sequence[Entry], changes: Sequence[ClockChange]
) -> tuple[ClockChange, ...]:
    """The changes between the entry a window began with and the one it ended with."""
    if not changes:
        return ()
    first = _number(started, entries, 0)
    last = None if ended is None else _number(ended, entries, first)
    return tuple(change for change in changes if change.after >= first and (last is None or change.after < last))


def _number(moment: datetime, entries: Sequence[Entry], least: int) -> int:
    """Number of the first entry of that moment; where none has it, of the least that may be it."""
    return next((e.number for e in entries if e.number >= least and moment in (e.done_at, e.entered_at)), least)

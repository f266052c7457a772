"""Time limits between two moments of the work, with what is left of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from splitline.record.job import WindowPlan

Phase = Literal["not started", "running", "kept", "broken"]


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

    @property
    def short(self) -> str:
        """What is left or waited for, in a few letters."""
        if self.wait > 0:
            return f"wait {minutes(self.wait)}"
        return minutes(self.elapsed) if self.left is None else f"{minutes(self.left)} left"

    @property
    def said(self) -> str:
        """In words."""
        limits = self.plan
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


def window_state(plan: WindowPlan, moments: Mapping[str, datetime], now: datetime) -> WindowState:
    """Where a window stands, from the moments reached so far."""
    started, ended = moments.get(plan.start), moments.get(plan.end)
    if started is None:
        return WindowState(plan, "not started", ended=ended)
    elapsed = ((ended or now) - started).total_seconds()
    early = plan.at_least is not None and elapsed < plan.at_least
    late = plan.at_most is not None and elapsed > plan.at_most
    wait = (plan.at_least or 0.0) - elapsed if early and ended is None else 0.0
    left = None if plan.at_most is None else plan.at_most - elapsed
    if late or (early and ended is not None):
        phase: Phase = "broken"
    else:
        phase = "kept" if ended is not None else "running"
    return WindowState(plan, phase, started, ended, elapsed, wait, left)

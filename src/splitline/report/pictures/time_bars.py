"""The order of work over time: as planned above, as done below, a pair of bars a step. Black and white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from splitline.report.shapes import Drawing, Label, Line, Polygon, Shape

ROW = 3.7  # mm
NAME, SIDE, TOP = 62.0, 3.0, 8.0
POINT = 25.4 / 72
LETTER = 0.53  # em, width of a letter on the mean
_HOURS = (0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 96, 168, 336, 672)


@dataclass(frozen=True, slots=True)
class TimedStep:
    """One step. ``planned``: from and to, s from the start of the work; None where nobody gave minutes."""

    number: int
    title: str
    planned: tuple[float, float] | None = None
    started: datetime | None = None
    done: datetime | None = None
    signed: datetime | None = None  # its hold
    hold: bool = False


def time_bars(
    steps: Sequence[TimedStep], begun: datetime, now: datetime, gaps: Sequence[tuple[datetime, datetime]], wide: float
) -> Drawing:
    """Hollow: as planned from ``begun``; black: from its start to its end; grey bands: hours without any entry."""
    return _Bars(begun, now, _last(steps, begun, now), wide).drawing(steps, gaps)


def _last(steps: Sequence[TimedStep], begun: datetime, now: datetime) -> datetime:
    times = [t for step in steps for t in (step.started, step.done, step.signed) if t is not None]
    times += [begun + timedelta(seconds=step.planned[1]) for step in steps if step.planned is not None]
    times += [now for step in steps if step.started is not None and step.done is None]
    return max([*times, begun + timedelta(hours=1)])


class _Bars:
    def __init__(self, begun: datetime, now: datetime, last: datetime, wide: float) -> None:
        self.begun, self.now, self.last, self.wide = begun, now, last, wide
        self.shapes: list[Shape] = []

    def x(self, at: datetime) -> float:
        share = (at - self.begun) / (self.last - self.begun)
        return NAME + min(max(share, 0.0), 1.0) * (self.wide - NAME - SIDE)

    def drawing(self, steps: Sequence[TimedStep], gaps: Sequence[tuple[datetime, datetime]]) -> Drawing:
        high = TOP + ROW * len(steps) + 1.0
        for start, end in gaps:
            x0, x1 = self.x(start), self.x(end)
            self.shapes.append(Polygon(((x0, TOP), (x1, TOP), (x1, high - 1), (x0, high - 1)), 0.1, 0.9, grey=0.9))
        self._axis(high)
        for place, step in enumerate(steps):
            self._step(step, TOP + ROW * place)
        return Drawing(self.wide, high, tuple(self.shapes), self._said(steps, gaps))

    def _axis(self, high: float) -> None:
        hours = (self.last - self.begun).total_seconds() / 3600
        step = next((h for h in _HOURS if hours / h <= 11), hours)
        at = self.begun.replace(minute=0, second=0, microsecond=0)
        if step >= 1:
            at = at.replace(hour=int(at.hour // min(step, 24) * min(step, 24)))
        day = None
        while at <= self.last:
            if at >= self.begun:
                x = self.x(at)
                self.shapes.append(Line(x, TOP - 1, x, high - 1, 0.12, 0.8, 0.55))
                new = at.date() != day
                self.shapes.append(Label(x, TOP - 2.2, f"{at:%H:%M}", 6, "middle"))
                if new and x < self.wide - SIDE - 6:
                    self.shapes.append(Label(x, TOP - 5.2, f"{at:%Y-%m-%d}", 6, "middle", strong=True))
                day = at.date()
            at += timedelta(hours=step)
        self.shapes.append(Line(NAME, TOP, self.wide - SIDE, TOP, 0.25))

    def _step(self, step: TimedStep, y: float) -> None:
        self.shapes.append(Label(5, y + ROW / 2, str(step.number), 6.5, "right", strong=True))
        most = int((NAME - 8) / (6.5 * POINT * LETTER))
        title = step.title if len(step.title) <= most else f"{step.title[: most - 1].rstrip()}…"
        self.shapes.append(Label(6.5, y + ROW / 2, title, 6.5, "left"))
        if step.planned is not None:
            self._bar(self._planned(step.planned[0]), self._planned(step.planned[1]), y + 0.4, 1.1, None)
        end = step.done or (self.now if step.started is not None else None)
        if step.started is not None and end is not None:
            self._bar(self.x(step.started), self.x(end), y + 1.8, 1.3, 0.0 if step.done else 0.6)
        elif step.done is not None:  # nobody wrote down when it began
            x, middle = self.x(step.done), y + 2.4
            self.shapes.append(Polygon(((x, middle - 1), (x + 1, middle), (x, middle + 1), (x - 1, middle)), 0.2, 0.0))
        if step.hold and step.signed is not None:
            x = self.x(step.signed)
            self.shapes += [
                Line(x, y + 1.3, x, y + ROW - 0.2, 0.5),
                Label(x + 0.5, y + 2.4, "H", 5.5, "left", strong=True),
            ]

    def _planned(self, seconds: float) -> float:
        return self.x(self.begun + timedelta(seconds=seconds))

    def _bar(self, x0: float, x1: float, y: float, high: float, fill: float | None) -> None:
        x1 = max(x1, x0 + 0.5)
        self.shapes.append(Polygon(((x0, y), (x1, y), (x1, y + high), (x0, y + high)), 0.2, fill))

    def _said(self, steps: Sequence[TimedStep], gaps: Sequence[tuple[datetime, datetime]]) -> str:
        words = []
        for step in steps:
            own = [_minutes("planned", step.planned[1] - step.planned[0])] if step.planned is not None else []
            if step.started is not None and step.done is not None:
                own.append(_minutes("took", (step.done - step.started).total_seconds()))
            elif step.done is not None:
                own.append(f"done {step.done:%m-%d %H:%M}, its start not written down")
            elif step.started is not None:
                own.append(f"begun {step.started:%m-%d %H:%M}, not done")
            if own:
                words.append(f"{step.number}: {', '.join(own)}")
        none = [f"{a:%m-%d %H:%M} to {b:%m-%d %H:%M}" for a, b in gaps]
        return "; ".join([*words, *([f"no entries {', '.join(none)}"] if none else [])])


def _minutes(word: str, seconds: float) -> str:
    return f"{word} {round(seconds / 60)} min"

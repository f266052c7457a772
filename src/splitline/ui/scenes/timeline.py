"""The order of work of a plan as a timeline."""

from __future__ import annotations

from splitline.plan.model import Window
from splitline.ui.draw.rows import Row
from splitline.ui.draw.timeline import Bar, Span, timeline
from splitline.ui.scenes.view import View
from splitline.ui.session import Session


def timeline_view(session: Session) -> View:
    """A view whose frames scroll the steps."""
    bars = _bars(session)
    spans = [
        s for w in session.draft.plan.windows if (s := _span(session, w, {b.ident: b.bar for b in bars})) is not None
    ]

    def draw(width: int, height: int, frame: int) -> list[Row]:
        return timeline([b.bar for b in bars], spans, width, height, frame)

    return View("t", "timeline", draw, max(len(bars) - 5, 1))


class _Named:
    def __init__(self, ident: str, bar: Bar) -> None:
        self.ident = ident
        self.bar = bar


def _bars(session: Session) -> list[_Named]:
    out = []
    clock = 0.0
    for number, step in enumerate(session.draft.plan.steps, 1):
        result = session.outcome.find("step", step.id)
        results = result.results if result is not None else {}
        start = float(results.get("starts_after", clock))
        end = results.get("ends_after")
        bar = Bar(
            number,
            step.heading,
            start,
            float(end) if end is not None else None,
            hold=step.hold is not None,
            witness=step.witness is not None,
            verdict=result.verdict if result is not None else "",
        )
        clock = bar.end or bar.start
        out.append(_Named(step.id, bar))
    return out


def _span(session: Session, window: Window, bars: dict[str, Bar]) -> Span | None:
    start, end = _moment(window.from_, bars), _moment(window.to, bars)
    if start is None or end is None:
        return None
    result = session.outcome.find("window", window.id)
    return Span(
        window.title,
        start,
        end,
        start + window.at_least if window.at_least is not None else None,
        start + window.at_most if window.at_most is not None else None,
        result.verdict if result is not None else "",
    )


def _moment(text: str | None, bars: dict[str, Bar]) -> float | None:
    """Time of "STEP.start" or "STEP.done"."""
    name, _, which = (text or "").rpartition(".")
    bar = bars.get(name)
    if bar is None:
        return None
    return bar.start if which == "start" else bar.end or bar.start

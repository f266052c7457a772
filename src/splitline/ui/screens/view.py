"""Drawings of an item, each filling the screen: a letter changes to another, arrows play it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.message import Message

from splitline.assess.cautions import STOPPED
from splitline.ui.actions import VIEW
from splitline.ui.draw.cautions import strip_of
from splitline.ui.draw.rows import Row, clean, fit, width
from splitline.ui.reach import LOOKS_ONLY
from splitline.ui.scenes.clearance_views import clearance_views
from splitline.ui.scenes.fit_views import fit_views
from splitline.ui.scenes.insertion_views import insertion_views
from splitline.ui.scenes.joint_views import joint_views
from splitline.ui.scenes.lift_views import lift_views
from splitline.ui.scenes.timeline import timeline_view
from splitline.ui.scenes.view import View
from splitline.ui.screens.place import KEYS, Place
from splitline.ui.screens.why import WhyScreen
from splitline.ui.session import Session
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.drawing import Drawing


def views_of(session: Session, kind: str, index: int) -> tuple[View, ...]:
    """Drawings of an item; none while there is nothing to draw."""
    item: Any = session.draft.item(kind, index)
    if item is None:
        return ()
    result = session.result(kind, index)
    if kind == "joint":
        return joint_views(item, result, session.system, session.path)
    if kind == "lift":
        return lift_views(item, result, session.system)
    if kind == "fit":
        return fit_views(item, result, session.system)
    if kind == "insertion":
        return insertion_views(item, result, session.system)
    if kind == "clearance":
        return clearance_views(item, result, session.system)
    return ()


def timeline_views(session: Session) -> tuple[View, ...]:
    """The order of work over time."""
    return (timeline_view(session),)


class ViewScreen(Place):
    """Esc goes back to the plan."""

    PLACE = VIEW
    BINDINGS: ClassVar[list[Any]] = [
        *KEYS[VIEW],
        Binding("left,up", "frame(-1)", "Before", show=False),
        Binding("right,down,space", "frame(1)", "After", show=False),
        Binding("pageup", "frame(-10)", "Before", show=False),
        Binding("pagedown", "frame(10)", "After", show=False),
        Binding("home", "frame(-100000)", "First", show=False),
        Binding("end", "frame(100000)", "Last", show=False),
        Binding("tab", "other(1)", "Next drawing", show=False, priority=True),
    ]

    class Prepared(Message):
        """What a drawing waited for is there."""

    def __init__(self, session: Session, item: tuple[str, int], views: Sequence[View]) -> None:
        super().__init__()
        self.session = session
        self.item = item
        self.views = tuple(views)
        self.at = 0
        self.frame = self.views[0].start
        self._preparing: set[str] = set()

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield Drawing(id="drawing")
        yield Bar(id="foot")

    def on_mount(self) -> None:
        self._show()

    def offers(self, ident: str) -> bool:
        """Whether a command has something to work on here and now."""
        if ident == "export":
            return self.splitline.reach.pictures
        return ident != "why" or (self.item[0] != "plan" and self.session.result(*self.item) is not None)

    @property
    def view(self) -> View:
        return self.views[self.at]

    def _show(self) -> None:
        view, frame = self.view, self.frame
        right = []
        if view.frames > 1:
            right = [
                Piece(" ◂ ", "key", "frame(-1)"),
                Piece(f"{frame + 1} of {view.frames}", "", ""),
                Piece(" ▸ ", "key", "frame(1)"),
            ]
        right.append(Piece(" ≡ ", "key", "command('palette')"))
        left = self._tabs(self.size.width - sum(width(piece.text) for piece in right))
        self.query_one("#head", Bar).show(left, right)
        self.foot("arrows play" if view.frames > 1 else "")
        self.query_one("#drawing", Drawing).show(lambda cells, rows: self.drawn(cells, rows, frame))
        if view.prepare is not None and view.key not in self._preparing:
            self._preparing.add(view.key)
            self._prepare(view.prepare)

    def drawn(self, cells: int, rows: int, frame: int) -> list[Row]:
        """The drawing, and under it the cautions of what it shows, whole."""
        kind, index = self.item
        result = self.session.result(kind, index) if kind != "plan" else None
        strip = strip_of([c.short for c in result.cautions if c.only != {STOPPED}] if result is not None else (), cells)
        drawn = list(self.view.draw(cells, max(rows - len(strip), 1), frame))[: max(rows - len(strip), 0)]
        return [*drawn, *([()] * (rows - len(strip) - len(drawn))), *strip]

    def _tabs(self, room: int) -> list[Piece]:
        """Title and the letters of the drawings; where room is short the title gives way, then the words."""
        title = str(self.session.raw(*self.item).get("title") or "Plan")
        for words in (True, False):
            tabs: list[Piece] = []
            for number, other in enumerate(self.views):
                here = number == self.at
                action = f"show('{other.key}')"
                tabs.append(Piece(f" {other.key} ", "key", action))
                if words or here:
                    tabs.append(Piece(f"{other.title} ", "strong" if here else "dim", action))
            left = room - sum(width(piece.text) for piece in tabs) - 3
            if left >= min(width(clean(title)), 12) or not words:
                break
        cells = max(min(width(clean(title)), left), 0)
        return [Piece(f" {fit(clean(title), cells)}  ", "title"), *tabs]

    def on_resize(self) -> None:
        self._show()

    def _prepare(self, work: Callable[[], object]) -> None:
        def run() -> None:
            work()
            self.post_message(self.Prepared())

        self.run_worker(run, thread=True, group="prepare", exit_on_error=False)

    def on_view_screen_prepared(self) -> None:
        self._show()

    def on_key(self, event: events.Key) -> None:
        if any(event.key == view.key for view in self.views):
            event.stop()
            event.prevent_default()
            self.action_show(event.key)

    def action_show(self, key: str) -> None:
        place = next((n for n, view in enumerate(self.views) if view.key == key), None)
        if place is not None and place != self.at:
            self.at = place
            self.frame = self.view.start
            self._show()

    def action_other(self, by: int) -> None:
        self.at = (self.at + by) % len(self.views)
        self.frame = self.view.start
        self._show()

    def action_frame(self, by: int) -> None:
        new = max(0, min(self.frame + by, self.view.frames - 1))
        if new != self.frame:
            self.frame = new
            self._show()

    def do_why(self) -> None:
        result = self.session.result(*self.item) if self.item[0] != "plan" else None
        if result is not None:
            self.app.push_screen(WhyScreen(result, ("result", self.view.why), self.session.system))

    def do_units(self) -> None:
        session = self.session
        now = not session.us
        session.shown_us = None if now == session.draft.plan.us else now
        session.take(*session.compute())  # texts of the assessment speak in the units shown
        self._preparing.clear()
        self.views = timeline_views(session) if self.item[0] == "plan" else views_of(session, *self.item)
        self._show()

    def do_export(self) -> None:
        """Save the screen as a picture in the working folder."""
        if not self.splitline.reach.pictures:
            self.splitline.say(
                LOOKS_ONLY if self.view_only else "Pictures are saved on the server's own terminal only.", bad=True
            )
            return
        try:
            name = self.app.save_screenshot()
        except OSError as error:
            self.splitline.say(f"The picture could not be saved: {error.strerror}", bad=True)
        else:
            self.splitline.say(f"Picture saved: {name}")

"""The plans of a folder: title, verdict, progress; recent plans of other folders below."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.message import Message

from splitline.plan import NOT_PLANS
from splitline.ui import marks, memory
from splitline.ui.actions import PLANS
from splitline.ui.draw.rows import Row, clean, counted, fit, right, rule, wrap
from splitline.ui.glass import glass_of
from splitline.ui.listing import Entry, entry_of
from splitline.ui.screens.place import FIRST_PICTURE, KEYS, Place
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.lines import Line, LineView


class PlansScreen(Place):
    """The list fills in while it is looked at."""

    PLACE = PLANS
    BINDINGS: ClassVar[list[Any]] = list(KEYS[PLANS])

    class Found(Message):
        """What is known of one plan."""

        def __init__(self, entry: Entry) -> None:
            super().__init__()
            self.entry = entry

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self.folder = folder.resolve()
        self.entries: dict[Path, Entry] = {}

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield LineView(id="plans", glove=True)
        yield Bar(id="foot")

    @property
    def view(self) -> LineView:
        return self.query_one("#plans", LineView)

    def on_mount(self) -> None:
        left = [Piece(" Plans", "title"), Piece(f"  {self.folder}", "dim")]
        self.query_one("#head", Bar).show(left, [Piece(self.for_glove(" ≡ "), "key", "command('palette')")])
        self.foot()
        self.view.focus()

    def on_screen_resume(self) -> None:
        """Look again: something may have been saved or done meanwhile."""
        if self.app.screen is not self:  # a plan was opened on top before this one was ever seen
            return
        self._list()
        self.set_timer(FIRST_PICTURE, self._fill_in)

    def _list(self) -> None:
        known = self.entries
        here = [p for p in sorted(self._files()) if not p.name.endswith(".record.toml") and p.name not in NOT_PLANS]
        self.entries = {p: known.get(p, Entry(p)) for p in here}
        if not (self.splitline.work_only or self.splitline.served):  # a tablet sees what was served to it, no more
            far = [p for p in memory.recent() if p.resolve() not in {h.resolve() for h in here}]
            self.entries |= {p: replace(known.get(p, Entry(p)), recent=True) for p in far[:6]}
        self.view.show(self._lines)

    def _files(self) -> list[Path]:
        try:
            return [p for p in self.folder.glob("*.toml") if p.is_file() and self.splitline.reach.opens(p)]
        except OSError as error:
            self.splitline.say(f"{self.folder}: {error.strerror}", bad=True)
            return []

    def _fill_in(self) -> None:
        if self.app.screen is not self:
            return
        paths = tuple(self.entries)

        def work() -> None:
            from textual.worker import get_current_worker

            worker = get_current_worker()
            for path in paths:
                if worker.is_cancelled:
                    return
                self.post_message(self.Found(entry_of(path)))

        self.run_worker(work, thread=True, exclusive=True, group="list", exit_on_error=False)

    def on_plans_screen_found(self, event: Found) -> None:
        before = self.entries.get(event.entry.path)
        if before is not None:
            self.entries[event.entry.path] = replace(event.entry, recent=before.recent)
            self.view.rebuild()

    def _lines(self, cells: int) -> Sequence[Line]:
        out: list[Line] = [Line(())]
        here = [e for e in self.entries.values() if not e.recent]
        for entry in here:
            out += self._entry(entry, cells)
        if not here:
            said = f"No plan in {self.folder}. n starts one from a starting plan with example values to replace."
            out += [Line(((part, "dim"),)) for part in wrap(said, cells - 2)]
            out += [Line(()), Line((("  + new plan", "strong"),), "new")]
        far = [e for e in self.entries.values() if e.recent]
        if far:
            out += [Line(()), Line(rule(cells, "recent, elsewhere"))]
            for entry in far:
                out += self._entry(entry, cells)
        return out

    def _entry(self, entry: Entry, cells: int) -> list[Line]:
        mark = (
            marks.PROBLEM
            if entry.problems or entry.unread
            else marks.shape(entry.verdict)
            if entry.verdict
            else marks.OPEN
        )
        style = "problem" if entry.problems or entry.unread else marks.style(entry.verdict)
        title = entry.title or entry.path.stem
        tail = self._tail(entry)
        where = str(entry.path) if entry.recent else entry.path.name
        second = f"{where}" + (f" · rev {entry.revision}" if entry.revision else "")
        if glass_of(self.app).cell[1]:  # whole, a row each: entries are high there in any case
            first, *rest = wrap(title, max(cells - 3, 10), 4)
            below: list[Row] = [((f"   {part}", "strong"),) for part in rest]
            below += [((" ", ""), *tail)]
            below += [((f"   {part}", "dim"),) for part in wrap(second, max(cells - 3, 10), 4)]
            below += [
                ((f"   {part}", "problem"),) for part in wrap(entry.unread, max(cells - 4, 10), 4) if entry.unread
            ]
            head = Line(((f" {mark} ", style), (first, "strong")), entry.path)
            return [head, *(Line(row, belongs=entry.path) for row in below), Line((), belongs=entry.path)]
        row = ((f" {mark} ", style), (fit(clean(title), max(cells - 4 - 46, 16)), "strong"), *tail)
        lines = [Line(row, entry.path), Line(((fit(clean(f"   {second}"), cells), "dim"),), belongs=entry.path)]
        if entry.unread:
            lines += [
                Line(((f"   {part}", "problem"),), belongs=entry.path)
                for part in wrap(entry.unread, max(cells - 4, 10), 4)
            ]
        return [*lines, Line((), belongs=entry.path)]

    def _tail(self, entry: Entry) -> tuple[tuple[str, str], ...]:
        if entry.unread:
            return (("  cannot be read", "problem"),)
        if not entry.verdict and not entry.problems:
            return (("  ...", "dim"),)
        said = marks.word(entry.verdict) if entry.counts else "no checks yet"
        said = counted(entry.problems, "mistake") if entry.problems else said
        style = "problem" if entry.problems else marks.style(entry.verdict)
        counts = tuple(
            (f" {marks.shape(v)}{right(str(n), 3)}", marks.style(v)) if n else ("     ", "") for v, n in entry.counts
        )
        return ((f"  {fit(said, 13)}", style), *counts, (f"  {entry.progress}", "dim"))

    # commands

    def offers(self, ident: str) -> bool:
        """Whether a command has something to work on here and now."""
        on_plan = isinstance(self.view.target, Path)
        makes = self.splitline.reach.makes and not self.splitline.work_only
        return {"open": on_plan, "work": on_plan, "record": on_plan, "new": makes, "search": bool(self.entries)}.get(
            ident, True
        )

    def on_line_view_moved(self, event: LineView.Moved) -> None:
        event.stop()
        self.foot(self._said)

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        self._open(event.target)

    def _open(self, target: Hashable) -> None:
        if target == "new":
            self.do_new()
        elif isinstance(target, Path):
            self.splitline.open_plan(target)

    def do_open(self) -> None:
        self._open(self.view.target)

    def do_work(self) -> None:
        if isinstance(self.view.target, Path):
            self.splitline.open_work(self.view.target)

    def do_record(self) -> None:
        if isinstance(self.view.target, Path):
            self.splitline.open_record(self.view.target)

    def do_search(self) -> None:
        from splitline.ui.screens.picker import Option, PickerScreen

        options = [
            Option(e.path, e.title or e.path.stem, e.path.name, marks.shape(e.verdict)) for e in self.entries.values()
        ]
        self.app.push_screen(PickerScreen("Search plans", options), self._open)

    def do_new(self) -> None:
        if not self.splitline.reach.makes or self.splitline.work_only:
            return
        from splitline.ui.screens.new_plan import NewPlanScreen

        self.app.push_screen(NewPlanScreen(self.folder), self._made)

    def _made(self, path: Path | None) -> None:
        if path is not None:
            self.splitline.open_plan(path)

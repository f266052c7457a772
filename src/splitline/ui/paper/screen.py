"""A filled paper sheet, entered as a table: nothing is stored before Enter all says what it will store."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from dataclasses import replace
from pathlib import Path
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from splitline.errors import SplitlineError
from splitline.ui.actions import PAPER
from splitline.ui.paper import choosing, rows, store
from splitline.ui.paper.sheets_of import sheet_of
from splitline.ui.paper.table import COUNT, Filled, PaperRow, PaperSheet, clock_of, flaws
from splitline.ui.screens.place import KEYS, Offers
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.lines import LineView
from splitline.ui.work import asks
from splitline.ui.work.asking import Question
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.desk import Desk
from splitline.ui.work.flow_set_up import SetUp
from splitline.ui.work.now import Now
from splitline.ui.work.target import Target, TargetRow
from splitline.units import System

_LONGEST = 20
_LETTERS = {"a": "to-here", "v": "reading", "t": "time", "b": "by", "e": "enter"}


class PaperScreen(Offers):
    """The table of one sheet after another. Gives ``ONE_BY_ONE`` where somebody would rather do without a table."""

    PLACE = PAPER
    BINDINGS: ClassVar[list[BindingType]] = [
        *KEYS[PAPER],
        ("left", "across(-1)", "Column left"),
        ("right", "across(1)", "Column right"),
    ]
    DEFAULT_CSS = """
    PaperScreen { layout: vertical; }
    PaperScreen LineView { height: 1fr; }
    """

    def __init__(self, path: Path, desk: Desk | None = None, one_by_one: bool = False) -> None:
        super().__init__()
        self._path = Path(path)
        self._given = desk
        self._one_by_one = one_by_one
        self.desk: Desk
        self.now: Now | None = None
        self.sheet: PaperSheet | None = None
        self.filled: Filled | None = None
        self.set_up: SetUp | None = None
        self.look = rows.Look()
        self._busy = False
        self._left = False

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield Bar(id="facts", ground="ground")
        yield Bar(id="columns", ground="ground")
        yield LineView(id="rows", glove=True)
        yield Bar(id="said", ground="ground")
        yield TargetRow(
            Target("tick", "Tick  Space", "space"),
            Target("to-here", "To here  a", "a"),
            Target("value", "Value  Enter", "enter"),
            Target("time", "Time  t", "t"),
            Target("by", "By  b", "b"),
        )
        yield TargetRow(
            Target("back", "Back  Esc", "escape"),
            Target("reading", "Reading  v", "v"),
            Target("enter", "Enter all  e", "e"),
        )

    @property
    def system(self) -> System:
        return "US" if self.desk.assessment.plan.us else "SI"

    async def ask(self, question: Question) -> str | None:
        """Show a question and wait for its answer."""
        return await self.app.push_screen_wait(question)

    # which table

    def on_mount(self) -> None:
        try:
            self.desk = self._given or Desk(self._path)
        except SplitlineError as error:
            self.app.notify(str(error), severity="error", markup=False, timeout=10)
            self._go(None)
            return
        self._work(self._begin)

    def on_unmount(self) -> None:
        if self._given is None and hasattr(self, "desk"):
            self.desk.leave_seat()

    def _go(self, key: str | None) -> None:
        """Leave, once: what was tapped while the screen was going must not give its answer a second time.

        With a question still over it the screen stays, and can be left afterwards.
        """
        if not self._left and self.is_active:
            self._left = True
            self.dismiss(key)

    def _work(self, todo: Callable[[], Awaitable[None]]) -> None:
        """One thing at a time: a second tap while something is asked or stored does nothing."""
        if not self._busy and not self._left and hasattr(self, "desk"):
            self._busy = True
            self.run_worker(self._guarded(todo), group="paper")

    async def _guarded(self, todo: Callable[[], Awaitable[None]]) -> None:
        try:
            await todo()
        except SplitlineError as error:
            await choosing.tell(self, "NOT STORED", str(error))
        finally:
            self._busy = False

    async def _begin(self) -> None:
        if not self.desk.person:
            person = await asks.name(self, "Who enters it")
            if not person:
                self._go(None)
                return
            self.desk.take_seat(person)
        await self._choose()

    async def _choose(self, said: str = "") -> None:
        """One table after another, until somebody leaves."""
        key: str | None = None
        while key is None or not await self._open(key):
            key = await choosing.which(self, self._one_by_one, said)
            if key is None or key == choosing.ONE_BY_ONE:
                self._go(key)
                return

    async def _open(self, key: str) -> bool:
        found = await choosing.opened(self, key, self.filled.at if self.filled is not None else None)
        if found is None:
            return False
        self.sheet, self.filled, self.set_up = found
        first = next((row.key for row in self.sheet.rows if row.open or not row.act), "")
        self.look = rows.Look(next(iter(self.sheet.columns), ""), "value" if self.sheet.columns else "done", first)
        self._show()
        view = self.query_one("#rows", LineView)
        view.focus()
        view.put_cursor(first, say=False)
        self._say("")
        return True

    # what is shown

    def _show(self) -> None:
        sheet, filled = self.sheet, self.filled
        if sheet is None or filled is None:
            return
        title = Piece(f" {sheet.title}", "title", gives=True)
        self.query_one("#head", Bar).show(
            [title, Piece(f"   {sheet.middle}", "strong")],
            [Piece("  from paper, not stored yet  ", "near"), Piece(f" {self.desk.person} ", "accent")],
        )
        facts = [Piece(f" {text}" if place == 0 else text, style) for place, (text, style) in enumerate(sheet.facts)]
        done = f"done by {filled.by} {filled.at:%d %b %H:%M}, entered by {self.desk.person} "
        self.query_one("#facts", Bar).show(facts, [Piece(done, "dim")])
        self._show_lines()

    def _show_lines(self) -> None:
        sheet, filled, look = self.sheet, self.filled, self.look
        if sheet is None or filled is None:
            return
        now, system = self.desk.clock(), self.system
        view = self.query_one("#rows", LineView)
        head = rows.heads(sheet, look, max(view.content_width, 40), system)
        self.query_one("#columns", Bar).show([Piece(" ")] + [Piece(text, style) for text, style in head])
        view.show(lambda cells: rows.lines(sheet, filled, look, cells, now, system))

    def on_resize(self) -> None:
        if self.is_mounted and self.sheet is not None:
            self.call_after_refresh(self._show_lines)

    def _say(self, text: str, style: str = "strong") -> None:
        """One line above the targets: what was just said, else what the row under the cursor takes."""
        row = self._row()
        if not text and row is not None:
            text, style = rows.about(row, self.look, self.system), "dim"
        ticked = len(self.filled.ticks) if self.filled is not None else 0
        count = f"{ticked} ticked " if ticked else ""
        self.query_one("#said", Bar).show([Piece(f" {text}", style, gives=True)], [Piece(count, "ok")])

    def _row(self) -> PaperRow | None:
        return self.sheet.row(self.look.row) if self.sheet is not None else None

    def on_line_view_moved(self, event: LineView.Moved) -> None:
        event.stop()
        self._commit()
        self.look.row = str(event.target or "")
        self._show_lines()
        self._say("")

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        event.stop()
        if self.look.typing is not None:
            self._commit()
            self.query_one("#rows", LineView).action_move(1)
            return
        self._press({"done": "tick"}.get(self.look.column, self.look.column))

    # filling in

    def on_key(self, event: events.Key) -> None:
        if self.sheet is None or self._busy:
            return
        look, typed = self.look, event.character or ""
        if look.typing is not None and (event.key == "backspace" or (typed.isprintable() and typed)):
            event.stop()
            look.typing = look.typing[:-1] if event.key == "backspace" else (look.typing + typed)[:_LONGEST]
            self._show_lines()
        elif typed and (typed.isdecimal() or typed in "-.,"):
            event.stop()
            self._type(typed)
        elif event.key == "space":
            event.stop()
            self._press("tick")
        elif event.key in ("backspace", "delete"):
            event.stop()
            self._clear()
        elif event.key in _LETTERS:
            event.stop()
            self._press(_LETTERS[event.key])

    def _type(self, first: str) -> None:
        row = self._row()
        if self.look.column not in ("value", "time"):
            self.look.column = "value"
        words = row is not None and row.words and not row.words.startswith(COUNT)
        if row is None or (self.look.column == "value" and (words or not rows.what_of(row, self.look))):
            self._say("nothing is read in this row", "near")
            return
        self.look.typing = first
        self._show_lines()

    def _commit(self) -> None:
        """What was typed goes into its cell."""
        text, self.look.typing = self.look.typing, None
        row, filled, sheet = self._row(), self.filled, self.sheet
        if text is None or row is None or filled is None or sheet is None:
            return
        if self.look.column == "time":
            at = clock_of(text, filled.who_when(sheet)[row.key][0])
            if at is None:
                self.app.notify(f"{text}: four digits; 0310 is ten past three", severity="warning", markup=False)
            else:
                filled.times[row.key] = at
        else:
            self._put(row, text.strip())
        self._show_lines()

    def _put(self, row: PaperRow, text: str) -> None:
        if self.filled is not None:
            self.filled.put(row, rows.what_of(row, self.look), text)

    def _clear(self) -> None:
        row = self._row()
        if row is not None and self.filled is not None:
            self.filled.clear(row, rows.what_of(row, self.look), self.look.column)
            self._show_lines()

    def action_across(self, by: int) -> None:
        self._commit()
        place = rows.COLUMNS.index(self.look.column) + by
        self.look.column = rows.COLUMNS[min(max(place, 0), len(rows.COLUMNS) - 1)]
        self._show_lines()

    # targets

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        self._press(event.target.ident)

    def do_tick(self) -> None:
        self._press("tick")

    def do_to_here(self) -> None:
        self._press("to-here")

    def do_value(self) -> None:
        self._press("value")

    def do_reading(self) -> None:
        self._press("reading")

    def do_time(self) -> None:
        self._press("time")

    def do_by(self) -> None:
        self._press("by")

    def do_enter_all(self) -> None:
        self._press("enter")

    def _press(self, ident: str) -> None:
        if self.sheet is None or self._busy:
            return
        self._commit()
        todo = {"value": self._ask_value, "time": self._ask_time, "by": self._ask_name, "enter": self._enter}
        if ident in todo:
            self._work(todo[ident])
        elif ident == "back":
            self.do_back()
        else:
            {"tick": self._tick, "to-here": self._tick_to_here, "reading": self._next_reading}[ident]()

    def _tick(self) -> None:
        row, sheet, filled = self._row(), self.sheet, self.filled
        if row is None or sheet is None or filled is None:
            return
        if not row.open:
            self._say(row.locked or "there is nothing to tick in this row", "near")
            return
        ticked = filled.tick(sheet, row)
        self._show_lines()
        self._say("")
        if ticked and not sheet.finish:
            self.query_one("#rows", LineView).action_move(1)

    def _tick_to_here(self) -> None:
        if self.sheet is not None and self.filled is not None:
            self.filled.tick_to(self.sheet, self.look.row)
            self._show_lines()
            self._say("")

    def _next_reading(self) -> None:
        if self.sheet is not None and len(self.sheet.columns) > 1:
            names = self.sheet.columns
            at = names.index(self.look.what) if self.look.what in names else -1
            self.look.what = names[(at + 1) % len(names)]
            self.look.column = "value"
            self._show_lines()
            self._say("")

    async def _ask_value(self) -> None:
        row = self._row()
        if row is None:
            return
        text = await choosing.value(self, row, rows.what_of(row, self.look))
        if text is not None:
            self._put(row, text)
            self._show_lines()
            self.query_one("#rows", LineView).action_move(1)

    async def _ask_time(self) -> None:
        row, filled, sheet = self._row(), self.filled, self.sheet
        if row is None or filled is None or sheet is None:
            return
        at = await choosing.clock(self, f"{row.label}: when", filled.who_when(sheet)[row.key][0])
        if at is not None:
            filled.times[row.key] = at
            self._show_lines()

    async def _ask_name(self) -> None:
        row, filled = self._row(), self.filled
        if row is None or filled is None:
            return
        title = f"{row.label}: who signed" if row.sign else f"From {row.label} on: by whom"
        person = await asks.name(self, title, own=False)
        if person:
            filled.names[row.key] = person
            self._show_lines()

    # storing, leaving

    async def _enter(self) -> None:
        sheet, filled = self.sheet, self.filled
        if sheet is None or filled is None:
            return
        wrong = flaws(sheet, filled, self.desk.clock(), self.system)
        if wrong:
            key, why = next(iter(wrong.items()))
            self.query_one("#rows", LineView).put_cursor(key)
            self.look.row = key
            self._show_lines()
            self._say(f"not yet: {why}" + (f" (and {len(wrong) - 1} more)" if len(wrong) > 1 else ""), "fails")
            return
        found = store.todos(sheet, filled, self.system)
        if not found:
            self._say("nothing is filled in yet", "near")
            return
        if not await store.instruments(self, found):
            return
        lines = store.summary(sheet, filled, found, self.set_up)
        count = len(found) + (self.set_up is not None and sheet.set_up)
        outside = any(todo.judged is not None and todo.judged.outside for todo in found)
        start = asks.BACK_FIRST if outside else 0
        choice = Choice("enter", f"Enter all: {count}", "entries")
        if await self.ask(ChoiceScreen("Enter all", [choice], lines, start)) == "enter":
            await self._store(sheet, filled, found)

    async def _store(self, sheet: PaperSheet, filled: Filled, found: list[store.Todo]) -> None:
        """One after the other; the first that is refused ends it, and what is left stays in the table."""
        made, why = 0, ""
        for todo in [None, *found]:
            try:
                if todo is None:
                    made += store.begin(self.desk, sheet, self.set_up, found[0].at, found[0].by)
                    continue
                store.carry_out(self.desk, sheet, todo)
            except SplitlineError as error:
                why = str(error)
                break
            made += 1
            self._stored(filled, todo)
            self._say(f"stored {made}", "ok")
            await asyncio.sleep(0)
        self.now = self.desk.refresh()
        if why:
            fresh = sheet_of(self.now, sheet.key)
            self.sheet = replace(fresh, pairing=sheet.pairing) if fresh is not None else sheet
            if self.sheet.set_up is False:
                self.set_up = None
            self._show()
            self.app.bell()
            await choosing.tell(self, "STOPPED", f"{made} entries stored. {why}", "What is left stays in the table.")
            return
        self.sheet = None
        await self._choose(f"stored: {made} entries of {sheet.title}, {' '.join(sheet.middle.split())}")

    def _stored(self, filled: Filled, todo: store.Todo) -> None:
        for row in todo.rows:
            if todo.what in ("read", "tag"):
                text = filled.values.pop((row.key, todo.read), "")
                self.look.stored.setdefault(row.key, []).append(f"{todo.read} {text}")
            else:
                filled.ticks.pop(row.key, None)

    def do_back(self) -> None:
        if self.look.typing is not None:
            self.look.typing = None
            self._show_lines()
        elif not self._busy:
            self._work(self._leave)

    async def _leave(self) -> None:
        filled = self.filled
        if self.sheet is not None and filled is not None and filled.anything():
            lines = [("What stands in the table is not stored.", "strong")]
            if not await asks.sure(self, "Leave this sheet?", "Leave without storing", lines):
                return
        self.sheet = None
        await self._choose()

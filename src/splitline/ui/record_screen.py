"""What was done, by whom, against the plan; exports. Reads only."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from splitline.assess.recorded import open_book
from splitline.errors import SplitlineError
from splitline.record.as_built import build
from splitline.record.evidence import verify
from splitline.ui.actions import RECORD
from splitline.ui.glass import glass_of, reading
from splitline.ui.paper.screen import PaperScreen
from splitline.ui.prints import offer
from splitline.ui.screens.place import KEYS, Offers
from splitline.ui.widgets.bar import Bar, Piece
from splitline.ui.widgets.lines import Line, LineView
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.desk import Desk
from splitline.ui.work.record_file import WRITES, export
from splitline.ui.work.record_rows import details, page, sections
from splitline.ui.work.target import Target, TargetRow

if TYPE_CHECKING:
    from splitline.record.as_built import AsBuilt
    from splitline.ui.work.desk import Desk

POLL = 1.0  # s
TOUCHED = ("deviations", "entries")  # pages whose lines open on a tablet: the others are only read


class RecordScreen(Offers):
    """Pages of the record; left and right turn them."""

    PLACE = RECORD
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS[RECORD]]
    DEFAULT_CSS = "RecordScreen { layout: vertical; } RecordScreen LineView { height: 1fr; }"

    def __init__(self, path: Path, desk: Desk | None = None) -> None:
        super().__init__()
        self._path = Path(path)
        self._given = desk
        self._desk: Desk | None = None
        self._built: AsBuilt | None = None
        self._exporting = False
        self.page = "summary"

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield LineView(id="lines", glove=True)
        yield Bar(id="said", ground="ground")
        yield TargetRow(
            Target("back", "Back", "escape"),
            Target("before", "◂ Page", "left"),
            Target("after", "Page ▸", "right"),
            Target("verify", "Verify", "v"),
            Target("paper", "Paper", "p"),
            Target("export", "Export", "e"),
            Target("print", "Print", "d"),
        )

    def on_mount(self) -> None:
        try:
            self._desk = self._given or Desk(self._path, view_only=True)
            self._read()
        except SplitlineError as error:
            self.app.notify(str(error), severity="error", markup=False, timeout=10)
            self.dismiss(None)
            return
        self.query_one(LineView).focus()
        self.set_interval(POLL, self._poll)

    def on_screen_resume(self) -> None:
        reading(self.app, True)

    def on_screen_suspend(self) -> None:
        """Tables and work have their own size; a question over this page keeps it."""
        if not isinstance(self.app.screen, ChoiceScreen):
            reading(self.app, False)

    def on_unmount(self) -> None:
        reading(self.app, False)

    def _poll(self) -> None:
        if self._desk is not None and self._desk.changed():
            self._read()

    def _read(self) -> None:
        assert self._desk is not None
        now = self._desk.refresh()
        if now.record.count:
            self._built = open_book(self._path, now.at, now.record).built
        else:
            self._built = build(self._desk.job, now.record, now.at)
        self._show()

    def _show(self, keep: bool = True) -> None:
        assert self._desk is not None
        assert self._built is not None
        built, entries = self._built, self._desk.journal.record.entries
        pages = sections(built)
        if self.page not in dict(pages):
            self.page = "summary"
        place = [key for key, _ in pages].index(self.page)
        system = "US" if self._desk.assessment.plan.us else "SI"
        # On a tablet the boxes are all that is touched.
        palette = [] if glass_of(self.app).cell[0] else [Piece(" ≡ ", "key", "command('palette')")]
        self.query_one("#head", Bar).show(
            [Piece(f" {built.title}", "title"), Piece(f"   {pages[place][1]}", "strong")],
            [Piece(f"  page {place + 1} of {len(pages)} ", "dim"), *palette],
        )
        key = self.page
        dense = bool(glass_of(self.app).cell[1]) and key not in TOUCHED

        def lines(cells: int) -> list[Line]:
            found = page(built, entries, key, cells, "US" if system == "US" else "SI")
            return [replace(line, target=None) for line in found] if dense else found

        self.query_one(LineView).show(lines, keep=keep)

    def turn(self, by: int) -> None:
        if self._built is None:
            return
        keys = [key for key, _ in sections(self._built)]
        self.page = keys[(keys.index(self.page) + by) % len(keys)]
        self._show(keep=False)

    def do_page_before(self) -> None:
        self.turn(-1)

    def do_page_after(self) -> None:
        self.turn(1)

    def do_print(self) -> None:
        """The documents of the plan, as on its own screen."""
        if self._desk is not None and not self._exporting:
            offer(self, self._path, None, self._say)

    def do_back(self) -> None:
        if len(self.app.screen_stack) > 1 and self.app.screen is self and not self._exporting:
            self.dismiss(None)

    def do_verify(self) -> None:
        """Hold the file against its chain, now."""
        try:
            found = verify(self._path)
        except SplitlineError as error:
            self._say(str(error), "fails")
            return
        if found.ok:
            self._say(f"● {found.count} entries stand as they were written; record code {found.head[:16]}", "ok")
        else:
            self._say(f"▲ {found.problems[0].text}", "fails")

    def do_write(self) -> None:
        """Write the record beside the plan."""
        if getattr(self.app, "view_only", False):
            self._say("a view-only screen writes nothing", "near")
            return
        if not self._exporting and self.app.screen is self:  # one at a time, whatever arrives in one frame
            self._exporting = True
            self.run_worker(self._export())

    def do_from_paper(self) -> None:
        """Enter a filled sheet as a table."""
        if getattr(self.app, "view_only", False):
            self._say("a view-only screen writes nothing", "near")
            return
        if self._exporting or self.app.screen is not self:
            return  # the second tap of one frame
        self.app.push_screen(PaperScreen(self._path), lambda _: self._poll())

    async def _export(self) -> None:
        stem = self._path.name.removesuffix(".toml")
        names = {kind: self._path.with_name(f"{stem}-as-built{kind}") for kind in WRITES}
        choices = [
            Choice(kind, kind[1:].upper(), f"writes over {name.name}" if name.exists() else name.name)
            for kind, name in names.items()
        ]
        try:
            found = await self.app.push_screen_wait(ChoiceScreen("Export", choices, (("Beside the plan.", "dim"),)))
        finally:
            self._exporting = False
        if found is None:
            return
        try:
            export(self._path, names[found], force=True)  # the box said so
        except (SplitlineError, OSError) as error:
            self._say(str(error), "fails")
        else:
            self._say(f"written: {names[found].name}", "ok")

    def _say(self, text: str, style: str) -> None:
        self.query_one("#said", Bar).show([Piece(f" {text}", style)])

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        event.stop()
        assert self._desk is not None
        entry = next((each for each in self._desk.journal.record.entries if each.number == event.target), None)
        if entry is not None and self.app.screen is self and not self._exporting:
            self.app.push_screen(ChoiceScreen(f"Entry {entry.number}", (), details(entry)))

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        todo = {
            "back": self.do_back,
            "before": lambda: self.turn(-1),
            "after": lambda: self.turn(1),
            "verify": self.do_verify,
            "paper": self.do_from_paper,
            "export": self.do_write,
            "print": self.do_print,
        }
        todo[event.target.ident]()

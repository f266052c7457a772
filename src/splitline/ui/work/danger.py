"""DANGER on every screen of the plan: red from edge to edge until another named person releases it."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from typing import TYPE_CHECKING, Any, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import ModalScreen
from textual.strip import Strip
from textual.widget import Widget

from splitline.errors import SplitlineError
from splitline.record.danger import is_danger
from splitline.record.stops import Stop
from splitline.ui.draw.letters import ROWS as LETTER_ROWS
from splitline.ui.draw.letters import letters
from splitline.ui.draw.rows import fit, wrap
from splitline.ui.screens.sheet import KeysScreen
from splitline.ui.work import acts, asks
from splitline.ui.work.asking import Question
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.desk import Desk
from splitline.ui.work.now import Now
from splitline.ui.work.target import Target, TargetRow
from splitline.ui.work.text import TextScreen
from splitline.units import System

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen

_RED, _WHITE = "#9c1408", "#ffffff"
_LETTERS = {
    "D": ("### ", "#  #", "#  #", "#  #", "### "),
    "A": (" ## ", "#  #", "####", "#  #", "#  #"),
    "N": ("#  #", "## #", "# ##", "#  #", "#  #"),
    "G": (" ###", "#   ", "# ##", "#  #", " ###"),
    "E": ("####", "#   ", "### ", "#   ", "####"),
    "R": ("### ", "#  #", "### ", "#  #", "#  #"),
}
WORD = 5  # rows the word DANGER keeps whatever stands under it
LOUDEST = 6  # lines of capitals
_ROLES = ("supervisor",)  # where the plan names none; common practice, no published source


def large(cells: int, rows: int) -> list[str]:
    """The word in block letters as large as ``cells`` × ``rows`` allow; itself where they allow none."""
    for tall in (3, 2, 1):
        for wide in (2 * tall, tall):
            lines = [
                (" " * wide).join(
                    "".join(point.replace("#", "█") * wide for point in _LETTERS[c][row]) for c in "DANGER"
                )
                for row in range(5)
                for _ in range(tall)
            ]
            if len(lines[0]) <= cells and len(lines) <= rows:
                return lines
    return ["DANGER"]


class Alarm(Widget):
    """The red field: the word, who called it where, what to do."""

    DEFAULT_CSS = "Alarm { height: 1fr; width: 1fr; }"

    def __init__(self) -> None:
        super().__init__()
        self._loud: tuple[str, ...] = ()
        self._said: tuple[str, ...] = ()
        self._drawn: tuple[tuple[int, int], list[str]] = ((0, 0), [])

    def say(self, loud: tuple[str, ...], lines: tuple[str, ...]) -> None:
        """``loud`` is to be read from the wrench; ``lines`` from nearby."""
        if (loud, lines) != (self._loud, self._said):
            self._loud, self._said = loud, lines
            self._drawn = (0, 0), []
            self.refresh()

    def rows(self, cells: int, rows: int) -> list[str]:
        """All of it for a size, the words never given up for the size of the letters."""
        cells -= 4
        small = [line for text in self._said for line in (*wrap(text, cells, 6), "")]
        words = [[*wrap(text, cells, 6), ""] for text in self._loud]
        for place, text in enumerate(self._loud):  # the first words first, as long as there is room for all the others
            spare = rows - sum(map(len, words)) - len(small) - WORD - 2
            capitals = letters(text, cells, min(LOUDEST, (spare + len(words[place]) - 1) // LETTER_ROWS))
            if capitals:
                words[place] = [*capitals, ""]
        loud = [line for each in words for line in each]
        word = large(cells, max(rows - len(loud) - len(small) - 2, 1))
        return ["", *word, "", *loud, *small]

    def render_line(self, y: int) -> Strip:
        cells = self.size.width
        size = cells, self.size.height
        if self._drawn[0] != size:
            self._drawn = size, self.rows(*size)
        lines = self._drawn[1]
        text = lines[y] if y < len(lines) else ""
        return Strip([Segment(fit(f"  {text}", cells), Style(color=_WHITE, bgcolor=_RED, bold=True))], cells)


class DangerScreen(ModalScreen[str | None]):
    """Lies over whatever the fitter's screen shows or asks; goes when the record says that it was released."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("r", "release", "Release"),
        ("question_mark,f1,ctrl+p,f4", "about", "Help"),
    ]
    AUTO_FOCUS = ""  # no Enter that was on its way releases anything
    DEFAULT_CSS = """
    DangerScreen { background: #9c1408; layout: vertical; }
    DangerScreen Target { height: 5; }
    """

    def __init__(self, work: WorkScreen) -> None:
        super().__init__()
        self._work = work
        self.desk: Desk = work.desk
        self.now: Now | None = work.now
        self._stop: Stop | None = None
        self._busy = False

    @property
    def system(self) -> System:
        return self._work.system

    async def ask(self, question: Question) -> str | None:
        """Show a question and wait for its answer."""
        return await self.app.push_screen_wait(question)

    def compose(self) -> ComposeResult:
        yield Alarm()
        first = () if self._work.view_only else (Target("release", "Release: another person", "r"),)
        yield TargetRow(*first, Target("leave", "Leave this screen"))

    def on_mount(self) -> None:
        self.heed()

    def on_screen_resume(self) -> None:
        self.heed()

    def heed(self) -> None:
        """Show what is open, or go."""
        self.now = now = self._work.now
        self._stop = next((stop for stop in now.stops if is_danger(stop.key)), None) if now is not None else None
        if self._stop is None:
            if self.is_attached and self.app.screen is self:
                self.dismiss(None)
            return
        assert now is not None
        note = next((each for each in now.record.entries if each.number == self._stop.entry), None)
        by = f"Called by {note.done_by} {note.done_at:%H:%M}." if note is not None and note.done_at else ""
        for alarm in self.query(Alarm):
            alarm.say(
                (
                    "Make safe.",
                    now.said(self._stop),
                    "Pressure off, load held or set down, everybody out of the way. Then call.",
                ),
                (
                    by,
                    "Nothing is stored on any screen of this plan before another person releases it.",
                ),
            )

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        if event.target.ident == "release":
            self.action_release()
        elif self.app.screen is self and not self._busy:
            self.dismiss("leave")

    def action_about(self) -> None:
        """The keys of the alarm."""
        if self.app.screen is self and not self._busy:
            self.app.push_screen(KeysScreen((("R", "release: another person than the one who called it", ""),)))

    def action_release(self) -> None:
        if not self._busy and not self._work.view_only and self.app.screen is self:
            self._busy = True
            self.run_worker(self._run(self._release))

    async def _run(self, todo: Callable[[], Coroutine[Any, Any, None]]) -> None:
        try:
            await todo()
        except SplitlineError as error:
            await self.ask(ChoiceScreen("NOT RELEASED", [Choice("seen", "Seen")], [(str(error), "strong")]))
        finally:
            self._busy = False
        await self._work.update()
        self.heed()

    async def _release(self) -> None:
        """Role, name, words; the one who called it is refused by the record."""
        stop = self._stop
        if stop is None:
            return
        roles = tuple(dict.fromkeys(step.hold for step in self.desk.job.steps if step.hold)) or _ROLES
        lines = (("Only when it was made safe, and looked at. Not by the person who called it.", "caution"),)
        role = await asks.reason(self, "Release DANGER: as whom", roles, lines)
        person = await asks.signer(self, f"Release as {role}: who", lines) if role else None
        words = await self.ask(TextScreen("What was made safe", lines)) if person else None
        if role and person and words:
            self._work.say_here(acts.release(self.desk, stop.key, person, role, words), "ok")


def heed(work: WorkScreen, now: Now) -> None:
    """Lay the alarm over everything while a DANGER is open; take it away when it was released."""
    if work.gone:
        return
    shown = next((screen for screen in work.app.screen_stack if isinstance(screen, DangerScreen)), None)
    if shown is not None:
        shown.heed()
    elif work.is_attached and any(is_danger(stop.key) for stop in now.stops):
        work.app.push_screen(DangerScreen(work), lambda said: work.leave() if said == "leave" else None)

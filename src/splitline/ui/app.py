"""The application: places, keys and wiring only.

``SplitlineApp(target)`` opens a folder as a list of plans, a file as a plan. Screens reach each other only through the
methods here, which import them late:

- ``open_plan(path)`` the planner's screen of a plan;
- ``open_work(path)`` the fitter's screen, ``splitline.ui.work.screen.WorkScreen(path)``;
- ``open_record(path)`` what was done, ``splitline.ui.record_screen.RecordScreen(path)``.

A screen of another room derives from ``textual.screen.Screen``, leaves with ``self.dismiss()`` or ``app.pop_screen()``,
asks ``app.view_only`` before it changes anything, draws states with ``splitline.ui.marks`` and colours with
``splitline.ui.theme.ink(app.theme, name)``. Nothing heavy is imported before the first picture is on the terminal.
"""

from __future__ import annotations

import os
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App
from textual.binding import BindingType

from splitline.errors import SplitlineError
from splitline.ui import memory
from splitline.ui.glass import TOO_LATE, CameLate, Glass, Sized, Touched, refuse
from splitline.ui.reach import NOT_SERVED, Reach
from splitline.ui.screens.confirm import ConfirmScreen
from splitline.ui.screens.plan import PlanScreen
from splitline.ui.screens.plans import PlansScreen
from splitline.ui.theme import NIGHT, PAPER, themes

if TYPE_CHECKING:
    from textual.screen import Screen


LOOKS = 2.0  # s between looks whether the terminal is still there


class SplitlineApp(App[None]):
    """Splitline on a terminal."""

    TITLE = "Splitline"
    ENABLE_COMMAND_PALETTE = False
    CSS_PATH = "splitline.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (90, "-middle"), (132, "-wide")]  # noqa: RUF012 (the base class declares it so)
    VERTICAL_BREAKPOINTS = [(0, "-low"), (28, "-high")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [("f2", "theme", "Light or dark")]

    def __init__(
        self,
        target: Path,
        *,
        work_only: bool = False,
        view_only: bool = False,
        served: bool = False,
        resume: Path | None = None,
        terminal: bool = False,
    ) -> None:
        """``terminal``: ends with the terminal it is drawn on; ``served``: on a tablet, which
        sees only what was served to it; ``resume``: the plan it was at work on."""
        super().__init__()
        self.glass = Glass()
        self.target = Path(target)
        self.served = served
        self.reach = Reach(self.target, served, view_only)
        self.resume = resume
        self._terminal = terminal
        self.work_only = work_only
        self.view_only = view_only
        for theme in themes():
            self.register_theme(theme)
        chosen = memory.theme()
        self.theme = chosen if chosen in (NIGHT, PAPER) else NIGHT

    def get_default_screen(self) -> Screen[Any]:
        return PlansScreen(self.target if self.target.is_dir() else self.target.parent)

    def on_mount(self) -> None:
        if self._terminal:
            self.set_interval(LOOKS, self._look_for_terminal)
        if self.resume is not None:
            self.open_work(self.resume)
        elif self.target.is_dir():
            return
        elif self.work_only:
            self.open_work(self.target)
        else:
            self.open_plan(self.target)

    def _look_for_terminal(self) -> None:
        """End where the terminal is gone: unsaved work is kept beside the plan and offered again."""
        try:
            there = os.isatty(sys.__stdin__.fileno()) if sys.__stdin__ is not None else False
        except (OSError, ValueError):
            there = False
        if not there:
            threading.Timer(5.0, os._exit, (2,)).start()  # a screen that cannot write any more must not stay
            self.exit(return_code=2)

    # the glass of a tablet

    def on_touched(self, event: Touched) -> None:
        self.glass.seen = event.seen

    def on_sized(self, event: Sized) -> None:
        from splitline.ui.work.target import Target, TargetRow

        for screen in self.screen_stack:
            for target in screen.query(Target):
                target.fit_glove()
            for row in screen.query(TargetRow):
                row.fit_glove()

    def on_came_late(self, event: CameLate) -> None:
        refuse(self, TOO_LATE)

    # places

    def open_plan(self, path: Path) -> None:
        if self.work_only:
            self.open_work(path)
            return
        if not self.reach.opens(path):
            self.say(NOT_SERVED, bad=True)
            return
        self.push_screen(PlanScreen(path))

    def open_work(self, path: Path) -> None:
        self._open_elsewhere("splitline.ui.work.screen", "WorkScreen", path)

    def open_record(self, path: Path) -> None:
        self._open_elsewhere("splitline.ui.record_screen", "RecordScreen", path)

    def _open_elsewhere(self, module: str, name: str, path: Path) -> None:
        from importlib import import_module

        if not self.reach.opens(path):
            self.say(NOT_SERVED, bad=True)
            return
        if type(self.screen).__name__ == name:
            return  # the second tap of one frame
        try:
            self.push_screen(getattr(import_module(module), name)(path))
        except ModuleNotFoundError as error:
            if error.name is None or not error.name.startswith("splitline"):
                raise
            self.say("This screen is not in this build.", bad=True)
        except SplitlineError as error:
            self.say(str(error), bad=True)

    # what every screen offers

    def export_screenshot(self, *, title: str | None = None, simplify: bool = False) -> str:
        """The screen as SVG that leans on nothing outside itself."""
        from splitline.ui.draw.picture import without_links

        return without_links(super().export_screenshot(title=title, simplify=simplify))

    def say(self, text: str, *, bad: bool = False) -> None:
        """A message in a corner for a few seconds; the text is shown as it is."""
        self.notify(text, severity="error" if bad else "information", markup=False, timeout=8 if bad else 4)

    def action_theme(self) -> None:
        self.theme = PAPER if self.theme == NIGHT else NIGHT
        if self.reach.keeps:
            memory.chose_theme(self.theme)
        for screen in self.screen_stack:
            screen.refresh(layout=True)

    do_theme = action_theme

    def unsaved(self) -> tuple[Any, ...]:
        """Open screens that hold changes nobody saved."""
        return tuple(s for s in self.screen_stack if getattr(s, "has_unsaved", False))

    async def action_quit(self) -> None:
        """Ask, always: one key in a glove must not end the work."""
        if isinstance(self.screen, ConfirmScreen):
            return
        held = self.unsaved()
        choices: tuple[tuple[str, str], ...]
        if held:
            names = ", ".join(s.file_name for s in held)
            choices = (("stay", "Stay"), ("save", "Save and leave"), ("leave", "Leave without saving"))
            text = f"{names} has changes that are not saved."
        else:
            choices = (("stay", "Stay"), ("leave", "Leave"))
            text = "Leave Splitline?"
        self.push_screen(ConfirmScreen("Leave", text, choices), self._leave)

    do_quit = action_quit

    def _leave(self, choice: str | None) -> None:
        if choice == "save":
            for screen in self.unsaved():
                if not screen.files.save_now():
                    return
        if choice in ("save", "leave"):
            for screen in self.unsaved():
                screen.files.let_go()
            self.exit()

"""The planner's screen of a plan: saving, recovering and leaving, on top of panes, editing and getting about."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.errors import PlanError
from splitline.ui import marks
from splitline.ui.screens.confirm import ConfirmScreen
from splitline.ui.screens.plan_out import PlanFiles

if TYPE_CHECKING:
    from splitline.plan.merge import Merged
    from splitline.plan.recovery import Recovery
    from splitline.plan.save import PlanChangedError
    from splitline.ui.actions import Command


def _stamp(path: Path) -> object:
    """What tells that a file changed; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


class PlanScreen(PlanFiles):
    """One plan: order of work and items left, the selected item's card right."""

    @property
    def has_unsaved(self) -> bool:
        return self.session_or_none is not None and self.session.changed

    def footer(self) -> Sequence[Command]:
        """Enter as the pane with the keys takes it; without items what adds one stands for what draws them."""
        from splitline.plan.model import KINDS

        usual = [replace(c, label=self._entering()) if c.id == "edit" else c for c in super().footer()]
        tree = self.session_or_none.draft.tree if self.session_or_none is not None else None
        if tree is None or any(tree.get(kind) for kind in KINDS):
            return usual
        add = next(command for command in self.commands() if command.id == "add")
        return [*usual[:1], add, *usual[1:]]

    def offers(self, ident: str) -> bool:
        """Whether a command has something to work on here and now."""
        if self.session_or_none is None:
            return ident in ("theme", "palette", "help", "back", "quit")
        session = self.session
        return {
            "save": lambda: session.changed,
            "undo": lambda: session.can_undo,
            "redo": lambda: session.can_redo,
            "views": lambda: self.can_draw,
            "problems": lambda: bool(session.draft.problems),
            "examples": lambda: bool(session.draft.examples),
            "next_example": lambda: bool(session.draft.examples),
            "previous_example": lambda: bool(session.draft.examples),
            "confirm": lambda: (path := self.cursor_path()) is not None and session.draft.is_example(path),
            "compare": lambda: session.pinned is not None,
            "work": lambda: not session.changed,
            "record": lambda: not session.changed,
            "print": lambda: not session.changed,
            "save_as": lambda: self.splitline.reach.makes,
        }.get(ident, lambda: True)()

    def _entering(self) -> str:
        """What Enter does where the cursor stands."""
        target: Any = self.facts.target
        if self.focused is self.contents:
            return "to the fields"
        if self.focused is self.facts and isinstance(target, tuple):
            return {"problem": "go there", "at": "open"}.get(str(target[0]), "why")
        return "edit"

    # saving

    def do_save(self) -> None:
        if not self.refused():
            self.save_now()

    def save_now(self, over: bytes | None = None) -> bool:
        """Save; True when the file holds what is on the screen."""
        from splitline.plan.save import PlanChangedError, save

        if self.session_or_none is None or self.view_only:
            return False
        if not self.session.changed:
            self.foot("nothing to save")
            return True
        try:
            saved = save(self.session.draft, over)
        except PlanChangedError as error:
            self._conflict(error)
            return False
        except PlanError as error:
            self.splitline.say(str(error), bad=True)
            return False
        self.session.rebase(saved)
        self.session.forget_kept()
        self.show_all()
        self.foot(f"saved {dt.datetime.now():%H:%M}")
        return True

    def _conflict(self, error: PlanChangedError) -> None:
        from splitline.plan.read import open_plan
        from splitline.ui.screens.conflict import ConflictScreen

        try:
            theirs = open_plan(self.path)
        except PlanError:
            theirs = None  # gone, or no plan any more: shown line by line
        screen = ConflictScreen(error, self.session.draft, theirs)
        self.app.push_screen(screen, lambda choice: self._settle(choice, error, screen.both))

    def _settle(self, choice: str | None, error: PlanChangedError, both: Merged | None) -> None:
        """What the person chose; whichever way, both texts exist afterwards."""
        if choice == "both" and both is not None:
            self._take_both(both)
        elif choice == "screen":
            self.save_now(over=error.seen)
        elif choice == "copy":
            self._keep_copy()
        elif choice == "file" and self._keep_copy():
            self.session.forget_kept()  # the work stands in the copy: it is not asked about again
            self.session_or_none = None
            self.read_plan()

    def _take_both(self, both: Merged) -> None:
        """The file with this screen's edits in it, not saved yet; where both had a hand, one after the other to look at."""
        from splitline.ui.screens.conflict import value_said
        from splitline.ui.screens.picker import Option, PickerScreen

        self.session.take_up(both.draft)
        self.keep_selection()
        self.after_change(None)
        self.foot("put together, not saved yet; undo starts from here")
        if both.conflicts:
            options = [
                Option(
                    c.path,
                    c.where,
                    f"this screen {value_said(c.mine)} stands; the file {value_said(c.theirs)}",
                    marks.PROBLEM,
                )
                for c in both.conflicts
            ]
            title = f"{'one place' if len(options) == 1 else f'{len(options)} places'} both changed; Enter goes there"
            self.app.push_screen(PickerScreen(title, options), self._goto_or_not)

    def _keep_copy(self) -> bool:
        """Write what is on the screen beside the plan, under a free name."""
        from splitline.plan.save import save_as

        name = self._free_name("this-screen")
        try:
            save_as(self.session.draft, name)
        except PlanError as error:
            self.splitline.say(str(error), bad=True)
            return False
        self.splitline.say(f"What was on this screen is in {name.name}")
        return True

    def _free_name(self, word: str) -> Path:
        """A name beside the plan that no file has yet."""
        names = (self.path.with_name(f"{self.path.stem}-{word}{n or ''}.toml") for n in (0, *range(2, 10_000)))
        return next(name for name in names if not name.exists())

    # unsaved work of a session that ended badly

    def after_loading(self) -> None:
        self.foot()
        if self.view_only:
            return
        from splitline.plan.recovery import found, tidy

        text, own = self.session.draft.origin.text, self.session.kept_in
        tidy(self.path, text, own)
        recovery = found(self.path, own, text)
        if recovery is None:
            return
        moved = (
            ""
            if recovery.same_base(self.session.draft)
            else " The file has been changed since: compare (k) before you save."
        )
        text = (
            f"Unsaved work on this plan was kept {recovery.kept.replace('T', ' ')[:16]}: a session ended without saving, "
            f"or has the plan open elsewhere.{moved}"
        )
        choices = (
            ("later", f"Open the file as it is; that work goes into {self._free_name('kept').name}"),
            ("take", "Take that work up again"),
            ("drop", "Forget that work"),
        )
        self.app.push_screen(
            ConfirmScreen("Unsaved work", text, choices), lambda choice: self._recover(choice, recovery)
        )

    def _recover(self, choice: str | None, recovery: Recovery) -> None:
        from splitline.plan.recovery import drop

        if choice == "take":
            self.session.pin()  # k sets the file and the work taken up side by side
            try:
                self.session.take_up(recovery.onto(self.session.draft))
            except PlanError as error:
                self.splitline.say(str(error), bad=True)
                return
            drop(recovery.path)
            self.after_change(None)
            self.foot("taken up again, not saved yet")
        elif choice == "drop" or self._put_aside(recovery):
            drop(recovery.path)

    def _put_aside(self, recovery: Recovery) -> bool:
        """Write work that is not taken up now beside the plan, as a plan of its own: nothing is lost."""
        name = self._free_name("kept")
        try:
            with open(name, "x", encoding="utf-8", newline="") as file:
                file.write(recovery.text)
        except OSError as error:
            self.splitline.say(
                f"{name.name} could not be written: {error.strerror}. That work is kept as it was.", bad=True
            )
            return False
        self.splitline.say(f"That work is in {name.name}")
        return True

    # what others do meanwhile

    def on_mount(self) -> None:
        super().on_mount()
        self._seen: tuple[object, ...] = ()
        self.set_interval(2.0, self._watch)

    def _watch(self) -> None:
        """Read the plan again when somebody saved it; show how far the work is when the record grew."""
        if self.session_or_none is None or self.app.screen is not self:
            return
        seen = (_stamp(self.path), _stamp(self.path.with_name(f"{self.path.stem}.record.toml")))
        before, self._seen = self._seen, seen
        if not before or seen == before:
            return
        if seen[0] != before[0] and not self._is_mine():
            if self.session.changed:
                self.foot("the file was changed by somebody else: saving shows how", "near")
            else:
                self.read_plan()
                self.foot("read again: the file was changed")
        elif seen[1] != before[1]:
            self.recompute()

    def _is_mine(self) -> bool:
        """Whether the file holds what this screen read or saved last."""
        try:
            return self.path.read_bytes() == self.session.draft.origin.raw
        except OSError:
            return True  # gone or out of reach: saving will say so

    # leaving

    def let_go(self) -> None:
        """Leave without saving, on purpose: the kept work goes too."""
        if self.session_or_none is not None:
            self.session.forget_kept()

    def do_back(self) -> None:
        if not self.has_unsaved:
            self.close()
            return
        choices = (("stay", "Stay"), ("save", "Save and leave"), ("leave", "Leave without saving"))
        text = f"{self.file_name} has changes that are not saved."
        self.app.push_screen(ConfirmScreen("Leave the plan", text, choices), self._back)

    def _back(self, choice: Any) -> None:
        if choice == "save" and self.save_now():
            self.close()
        elif choice == "leave":
            self.let_go()
            self.close()

"""A plan and files: saved, put together with what others saved, recovered, under another name; items of other plans; print."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.errors import PlanError
from splitline.plan import NOT_PLANS
from splitline.plan.edits import paths_of
from splitline.ui import marks, memory
from splitline.ui.screens.confirm import ConfirmScreen
from splitline.ui.screens.controller import Controller

if TYPE_CHECKING:
    from splitline.plan.draft import Draft
    from splitline.plan.merge import Merged
    from splitline.plan.recovery import Recovery
    from splitline.plan.save import PlanChangedError


def _stamp(path: Path) -> object:
    """What tells that a file changed; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


class Files(Controller):
    """Commands that reach the file of this screen and beyond it."""

    _seen: tuple[object, ...] = ()  # the stamps of plan and record

    # under another name

    def do_save_as(self) -> None:
        """Write what is on the screen to a new file, which this screen goes on with."""
        if self.screen.changes.refused():
            return
        if not self.screen.splitline.reach.makes:
            self.screen.splitline.say("No new plan is made beside one that is served alone.", bad=True)
            return
        from splitline.ui.screens.name import NameScreen

        path = self.session.path
        said = f"Beside {path.name}, which stays as it was last saved. The record stays with {path.name}."
        name = next(
            n for n in (f"{path.stem}-{k}" for k in range(2, 10_000)) if not path.with_name(f"{n}.toml").exists()
        )
        screen = NameScreen("Save as", said, path.parent, name, self._write_as)
        self.screen.app.push_screen(screen, self._saved_as)

    def _write_as(self, path: Path) -> None:
        from splitline.plan.save import save_as

        self._as_saved = save_as(self.session.draft, path)

    def _saved_as(self, path: Path | None) -> None:
        if path is None:
            return
        self.session.move_to(self._as_saved)
        self.screen.path = path
        if self.screen.splitline.reach.keeps:
            memory.opened(path)
        self.screen.show_all()
        self.screen.recompute()
        self.screen.foot(f"saved as {path.name}; this screen goes on with it")

    # out of another plan

    def do_bring(self) -> None:
        """Ask which plan, then which of its items; each comes with an id of its own."""
        if self.screen.changes.refused():
            return
        from splitline.ui.screens.picker import Option, PickerScreen

        own = self.session.path.resolve()
        beside = sorted(own.parent.glob("*.toml"))
        options = [
            Option(path, path.stem, path.name)
            for path in beside
            if path.resolve() != own
            and path.name not in NOT_PLANS
            and not path.name.endswith(".record.toml")
            and self.screen.splitline.reach.opens(path)
        ]
        title = "Copy from which plan" if options else "No other plan in this folder"
        self.screen.app.push_screen(PickerScreen(title, options), self._bring_from)

    def _bring_from(self, path: Path | None) -> None:
        if path is None:
            return
        from splitline.plan.read import open_plan
        from splitline.ui.card.finding import items_of
        from splitline.ui.screens.picker import PickerScreen

        try:
            other = open_plan(path)
        except PlanError as error:
            self.screen.splitline.say(str(error), bad=True)
            return
        options = items_of(other)
        title = f"Copy out of {path.stem}; Enter takes one" if options else f"{path.stem} holds no item"
        self.screen.app.push_screen(PickerScreen(title, options), lambda at: self._bring(other, at))

    def _bring(self, other: Draft, at: Any) -> None:
        """One item of another plan at the end of its kind."""
        if at is None:
            return
        from splitline.ui.forms.fresh import copied

        kind, raw = str(at[0]), other.get(at)
        examples = sum(path[:2] == at and other.is_example(path) for path in paths_of(other.tree))
        if examples:
            said = "value of it is still an example" if examples == 1 else "values of it are still examples"
            self.screen.splitline.say(f"{examples} {said} in that plan: settle that there first.", bad=True)
            return
        entries = self.session.draft.tree.get(kind)
        place = len(entries) if isinstance(entries, list) else 0
        new = copied(at, raw, self.session.draft.tree)

        def change() -> None:
            edit = self.session.draft.insert_for((kind, place), new)
            self.session.change((edit,), (kind, place), f"copy of {raw.get('id', kind)}")
            self.screen.selected = (kind, place)

        if self.screen.changes.attempt(change, (kind, place)):
            self.screen.contents.put_cursor(("at", kind, place), say=False)
            self.screen.foot(f"copied in as {new.get('id', kind)}; u undoes it")

    # on paper

    def do_print(self) -> None:
        """Documents are made from the file, as work is done from it."""
        if self.screen.session_or_none is None:
            return
        if self.session.changed:
            self.screen.splitline.say(
                "Save the plan first: documents are made from the file, not from this screen.", bad=True
            )
            return
        from splitline.ui.prints import offer

        kind, index = self.screen.shown_item
        ident = self.session.ident(kind, index) if kind in ("joint", "lift", "fit", "insertion", "clearance") else ""
        item = (ident, str(self.session.raw(kind, index).get("title") or ident)) if ident else None
        offer(self.screen, self.session.path, item, self._printed)

    def _printed(self, said: str, style: str) -> None:
        if style == "fails":
            self.screen.splitline.say(said, bad=True)
        else:
            self.screen.foot(said, style)

    # saving

    def do_save(self) -> None:
        if not self.screen.changes.refused():
            self.save_now()

    def save_now(self, over: bytes | None = None) -> bool:
        """Save; True when the file holds what is on the screen."""
        from splitline.plan.save import PlanChangedError, save

        if self.screen.session_or_none is None or self.screen.view_only:
            return False
        if not self.session.changed:
            self.screen.foot("nothing to save")
            return True
        try:
            saved = save(self.session.draft, over)
        except PlanChangedError as error:
            self._conflict(error)
            return False
        except PlanError as error:
            self.screen.splitline.say(str(error), bad=True)
            return False
        self.session.rebase(saved)
        self.session.forget_kept()
        self.screen.show_all()
        self.screen.foot(f"saved {dt.datetime.now():%H:%M}")
        return True

    def _conflict(self, error: PlanChangedError) -> None:
        from splitline.plan.read import open_plan
        from splitline.ui.screens.conflict import ConflictScreen

        try:
            theirs = open_plan(self.screen.path)
        except PlanError:
            theirs = None  # gone, or no plan any more: shown line by line
        screen = ConflictScreen(error, self.session.draft, theirs)
        self.screen.app.push_screen(screen, lambda choice: self._settle(choice, error, screen.both))

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
            self.screen.session_or_none = None
            self.screen.read_plan()

    def _take_both(self, both: Merged) -> None:
        """The file with this screen's edits in it, not saved yet; where both had a hand, one after the other to look at."""
        from splitline.ui.screens.conflict import value_said
        from splitline.ui.screens.picker import Option, PickerScreen

        self.session.take_up(both.draft)
        self.screen.keep_selection()
        self.screen.changes.after_change(None)
        self.screen.foot("put together, not saved yet; undo starts from here")
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
            self.screen.app.push_screen(PickerScreen(title, options), self.screen.going.go_if)

    def _keep_copy(self) -> bool:
        """Write what is on the screen beside the plan, under a free name."""
        from splitline.plan.save import save_as

        name = self._free_name("this-screen")
        try:
            save_as(self.session.draft, name)
        except PlanError as error:
            self.screen.splitline.say(str(error), bad=True)
            return False
        self.screen.splitline.say(f"What was on this screen is in {name.name}")
        return True

    def _free_name(self, word: str) -> Path:
        """A name beside the plan that no file has yet."""
        names = (
            self.screen.path.with_name(f"{self.screen.path.stem}-{word}{n or ''}.toml") for n in (0, *range(2, 10_000))
        )
        return next(name for name in names if not name.exists())

    # unsaved work of a session that ended badly

    def after_loading(self) -> None:
        self.screen.foot()
        if self.screen.view_only:
            return
        from splitline.plan.recovery import found, tidy

        text, own = self.session.draft.origin.text, self.session.kept_in
        tidy(self.screen.path, text, own)
        recovery = found(self.screen.path, own, text)
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
        self.screen.app.push_screen(
            ConfirmScreen("Unsaved work", text, choices), lambda choice: self._recover(choice, recovery)
        )

    def _recover(self, choice: str | None, recovery: Recovery) -> None:
        from splitline.plan.recovery import drop

        if choice == "take":
            self.session.pin()  # k sets the file and the work taken up side by side
            try:
                self.session.take_up(recovery.onto(self.session.draft))
            except PlanError as error:
                self.screen.splitline.say(str(error), bad=True)
                return
            drop(recovery.path)
            self.screen.changes.after_change(None)
            self.screen.foot("taken up again, not saved yet")
        elif choice == "drop" or self._put_aside(recovery):
            drop(recovery.path)

    def _put_aside(self, recovery: Recovery) -> bool:
        """Write work that is not taken up now beside the plan, as a plan of its own: nothing is lost."""
        name = self._free_name("kept")
        try:
            with open(name, "x", encoding="utf-8", newline="") as file:
                file.write(recovery.text)
        except OSError as error:
            self.screen.splitline.say(
                f"{name.name} could not be written: {error.strerror}. That work is kept as it was.", bad=True
            )
            return False
        self.screen.splitline.say(f"That work is in {name.name}")
        return True

    def watch(self) -> None:
        """Read the plan again when somebody saved it; show how far the work is when the record grew."""
        if self.screen.session_or_none is None or self.screen.app.screen is not self.screen:
            return
        seen = (_stamp(self.screen.path), _stamp(self.screen.path.with_name(f"{self.screen.path.stem}.record.toml")))
        before, self._seen = self._seen, seen
        if not before or seen == before:
            return
        if seen[0] != before[0] and not self._is_mine():
            if self.session.changed:
                self.screen.foot("the file was changed by somebody else: saving shows how", "near")
            else:
                self.screen.read_plan()
                self.screen.foot("read again: the file was changed")
        elif seen[1] != before[1]:
            self.screen.recompute()

    def _is_mine(self) -> bool:
        """Whether the file holds what this screen read or saved last."""
        try:
            return self.screen.path.read_bytes() == self.session.draft.origin.raw
        except OSError:
            return True  # gone or out of reach: saving will say so

    # leaving

    def let_go(self) -> None:
        """Leave without saving, on purpose: the kept work goes too."""
        if self.screen.session_or_none is not None:
            self.session.forget_kept()

    def do_back(self) -> None:
        if not self.screen.has_unsaved:
            self.screen.close()
            return
        choices = (("stay", "Stay"), ("save", "Save and leave"), ("leave", "Leave without saving"))
        text = f"{self.screen.file_name} has changes that are not saved."
        self.screen.app.push_screen(ConfirmScreen("Leave the plan", text, choices), self._back)

    def _back(self, choice: Any) -> None:
        if choice == "save" and self.save_now():
            self.screen.close()
        elif choice == "leave":
            self.let_go()
            self.screen.close()

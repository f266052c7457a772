"""A plan and other files: under another name, items out of another plan, documents printed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from splitline.errors import PlanError
from splitline.plan import NOT_PLANS
from splitline.plan.edits import paths_of
from splitline.ui import memory
from splitline.ui.screens.plan_go import PlanGoing

if TYPE_CHECKING:
    from splitline.plan.draft import Draft


class PlanFiles(PlanGoing):
    """Commands that reach beyond the one file of this screen."""

    # under another name

    def do_save_as(self) -> None:
        """Write what is on the screen to a new file, which this screen goes on with."""
        if self.refused():
            return
        if not self.splitline.reach.makes:
            self.splitline.say("No new plan is made beside one that is served alone.", bad=True)
            return
        from splitline.ui.screens.name import NameScreen

        path = self.session.path
        said = f"Beside {path.name}, which stays as it was last saved. The record stays with {path.name}."
        name = next(
            n for n in (f"{path.stem}-{k}" for k in range(2, 10_000)) if not path.with_name(f"{n}.toml").exists()
        )
        screen = NameScreen("Save as", said, path.parent, name, self._write_as)
        self.app.push_screen(screen, self._saved_as)

    def _write_as(self, path: Path) -> None:
        from splitline.plan.save import save_as

        self._as_saved = save_as(self.session.draft, path)

    def _saved_as(self, path: Path | None) -> None:
        if path is None:
            return
        self.session.move_to(self._as_saved)
        self.path = path
        if self.splitline.reach.keeps:
            memory.opened(path)
        self.show_all()
        self.recompute()
        self.foot(f"saved as {path.name}; this screen goes on with it")

    # out of another plan

    def do_bring(self) -> None:
        """Ask which plan, then which of its items; each comes with an id of its own."""
        if self.refused():
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
            and self.splitline.reach.opens(path)
        ]
        title = "Copy from which plan" if options else "No other plan in this folder"
        self.app.push_screen(PickerScreen(title, options), self._bring_from)

    def _bring_from(self, path: Path | None) -> None:
        if path is None:
            return
        from splitline.plan.read import open_plan
        from splitline.ui.card.finding import items_of
        from splitline.ui.screens.picker import PickerScreen

        try:
            other = open_plan(path)
        except PlanError as error:
            self.splitline.say(str(error), bad=True)
            return
        options = items_of(other)
        title = f"Copy out of {path.stem}; Enter takes one" if options else f"{path.stem} holds no item"
        self.app.push_screen(PickerScreen(title, options), lambda at: self._bring(other, at))

    def _bring(self, other: Draft, at: Any) -> None:
        """One item of another plan at the end of its kind."""
        if at is None:
            return
        from splitline.ui.forms.fresh import copied

        kind, raw = str(at[0]), other.get(at)
        examples = sum(path[:2] == at and other.is_example(path) for path in paths_of(other.tree))
        if examples:
            said = "value of it is still an example" if examples == 1 else "values of it are still examples"
            self.splitline.say(f"{examples} {said} in that plan: settle that there first.", bad=True)
            return
        entries = self.session.draft.tree.get(kind)
        place = len(entries) if isinstance(entries, list) else 0
        new = copied(at, raw, self.session.draft.tree)

        def change() -> None:
            edit = self.session.draft.insert_for((kind, place), new)
            self.session.change((edit,), (kind, place), f"copy of {raw.get('id', kind)}")
            self.selected = (kind, place)

        if self._try(change, (kind, place)):
            self.contents.put_cursor(("at", kind, place), say=False)
            self.foot(f"copied in as {new.get('id', kind)}; u undoes it")

    # on paper

    def do_print(self) -> None:
        """Documents are made from the file, as work is done from it."""
        if self.session_or_none is None:
            return
        if self.session.changed:
            self.splitline.say("Save the plan first: documents are made from the file, not from this screen.", bad=True)
            return
        from splitline.ui.prints import offer

        kind, index = self.shown_item
        ident = self.session.ident(kind, index) if kind in ("joint", "lift", "fit", "insertion", "clearance") else ""
        item = (ident, str(self.session.raw(kind, index).get("title") or ident)) if ident else None
        offer(self, self.session.path, item, self._printed)

    def _printed(self, said: str, style: str) -> None:
        if style == "fails":
            self.splitline.say(said, bad=True)
        else:
            self.foot(said, style)

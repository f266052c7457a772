"""What every change of a plan on its screen goes through: one step of undo each, shown and assessed again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from splitline.errors import PlanError
from splitline.plan.edits import ABSENT, Edit, Move, same
from splitline.ui.screens.plan_panes import PlanPanes

if TYPE_CHECKING:
    from splitline.plan.edits import Path


class PlanChanging(PlanPanes):
    """Putting values, undo and redo, and taking a starting plan's example as right."""

    # one step of undo each

    def put(self, path: Path, new: Any) -> None:
        """Put a value; nothing happens where it already stands."""
        if same(self.session.draft.get(path), new):
            if self.session.draft.is_example(path):
                self.foot("still an example: m takes it as right")
            return
        self._try(lambda: self.session.put(path, new), path)

    def _try(self, change: Any, at: Path | None) -> bool:
        try:
            change()
        except PlanError as error:
            self.splitline.say(str(error), bad=True)
            return False
        self.after_change(at)
        return True

    def after_change(self, at: Path | None) -> None:
        """Show the plan as it is now and assess it again."""
        self.keep_selection()
        self.show_all()
        if at is not None and len(at) > 2:
            self.inputs.put_cursor(at)
        self.foot()
        self.recompute()

    def refused(self) -> bool:
        """True, with a word, where the plan must not be changed."""
        if self.session_or_none is None:
            return True
        if self.view_only:
            self.splitline.say("This link is for looking only.")
            return True
        return False

    def cursor_path(self) -> Path | None:
        """Path of what the cursor stands on: an item in the contents, a field or table in the inputs."""
        if self.session_or_none is None:
            return None
        if self.focused is self.inputs:
            target = self.inputs.target
            return target if isinstance(target, tuple) else None
        kind, index = self.selected if self.focused is self.contents else self.shown_item
        return ("plan",) if kind == "plan" else (kind, index)

    def do_confirm(self) -> None:
        """Take the example under the cursor as right."""
        path = self.cursor_path()
        if self.refused() or path is None:
            return
        if self.session.own(path):
            self.after_change(path)
            self.foot("yours now, no longer an example; u undoes that")
        else:
            self.foot("no example stands here")

    def do_undo(self) -> None:
        if self.refused():
            return
        done = self.session.undo()
        self._went(done, "undone" if done else "nothing to undo", back=True)

    def do_redo(self) -> None:
        if self.refused():
            return
        done = self.session.redo()
        self._went(done, "made again" if done else "nothing to make again")

    def _went(self, done: Any, said: str, *, back: bool = False) -> None:
        if done is None:
            self.foot(said)
            return
        path = _before(done) if back else done.at
        kind, index = str(path[0]), path[1] if len(path) > 1 else 0
        entries = self.session.draft.tree.get(kind)
        if kind == "plan":
            self.selected = (kind, 0)
        elif isinstance(index, int) and isinstance(entries, list) and index < len(entries):
            self.selected = (kind, index)
        self.after_change(path)
        self.contents.put_cursor(("at", *self.selected), say=False)
        self.foot(f"{said}: {done.said}" if done.said else said)


def _before(change: Any) -> Path:
    """Where the cursor belongs once a change is taken back: on the item it was about, wherever that stands then."""
    first = change.edits[0] if change.edits else None
    if isinstance(first, Move):
        return (*first.path, first.start)
    if isinstance(first, Edit) and first.old is ABSENT and first.path == change.at and isinstance(first.path[-1], int):
        return (*first.path[:-1], max(first.path[-1] - 1, 0))  # what was added is gone: back to where it was added from
    place: Path = change.at
    return place

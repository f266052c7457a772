"""What every change of a plan on its screen goes through: one step of undo each; items added, copied, moved, deleted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from splitline.errors import PlanError
from splitline.plan.edits import ABSENT, Edit, Move, same
from splitline.ui.screens.controller import Controller

if TYPE_CHECKING:
    from splitline.plan.edits import Path
    from splitline.plan.fields import Declared


class Changes(Controller):
    """Putting values, undo and redo, taking an example as right, and whole items."""

    # one step of undo each

    def put(self, path: Path, new: Any) -> None:
        """Put a value; nothing happens where it already stands."""
        if same(self.session.draft.get(path), new):
            if self.session.draft.is_example(path):
                self.screen.foot("still an example: m takes it as right")
            return
        self.attempt(lambda: self.session.put(path, new), path)

    def attempt(self, change: Any, at: Path | None) -> bool:
        try:
            change()
        except PlanError as error:
            self.screen.splitline.say(str(error), bad=True)
            return False
        self.after_change(at)
        return True

    def after_change(self, at: Path | None) -> None:
        """Show the plan as it is now and assess it again."""
        self.screen.keep_selection()
        self.screen.show_all()
        if at is not None and len(at) > 2:
            self.screen.inputs.put_cursor(at)
        self.screen.foot()
        self.screen.recompute()

    def refused(self) -> bool:
        """True, with a word, where the plan must not be changed."""
        if self.screen.session_or_none is None:
            return True
        if self.screen.view_only:
            self.screen.splitline.say("This link is for looking only.")
            return True
        return False

    def cursor_path(self) -> Path | None:
        """Path of what the cursor stands on: an item in the contents, a field or table in the inputs."""
        if self.screen.session_or_none is None:
            return None
        if self.screen.focused is self.screen.inputs:
            target = self.screen.inputs.target
            return target if isinstance(target, tuple) else None
        kind, index = self.screen.selected if self.screen.focused is self.screen.contents else self.screen.shown_item
        return ("plan",) if kind == "plan" else (kind, index)

    def do_confirm(self) -> None:
        """Take the example under the cursor as right."""
        path = self.cursor_path()
        if self.refused() or path is None:
            return
        if self.session.own(path):
            self.after_change(path)
            self.screen.foot("yours now, no longer an example; u undoes that")
        else:
            self.screen.foot("no example stands here")

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
            self.screen.foot(said)
            return
        path = _before(done) if back else done.at
        kind, index = str(path[0]), path[1] if len(path) > 1 else 0
        entries = self.session.draft.tree.get(kind)
        if kind == "plan":
            self.screen.selected = (kind, 0)
        elif isinstance(index, int) and isinstance(entries, list) and index < len(entries):
            self.screen.selected = (kind, index)
        self.after_change(path)
        self.screen.contents.put_cursor(("at", *self.screen.selected), say=False)
        self.screen.foot(f"{said}: {done.said}" if done.said else said)

    # adding, copying, moving, deleting

    def do_add(self) -> None:
        """Ask what to add: an item, or a field, table or entry of the table under the cursor."""
        if self.refused():
            return
        from splitline.ui.forms.adding import choices
        from splitline.ui.screens.picker import PickerScreen

        path = self.cursor_path() or ("plan",)
        options = choices(
            self.session, path, items_first=self.screen.focused is self.screen.contents or path[0] == "plan"
        )
        self.screen.app.push_screen(PickerScreen("Add", options), self._add)

    def _add(self, chosen: Any) -> None:
        from splitline.plan.fields import declared

        if chosen is None:
            return
        if chosen[0] == "item":
            self.add_item(chosen[1])
            return
        path = chosen[1]
        field = declared(path)
        if field is None:
            return
        if field.is_table:
            self.add_at(path, field)
        else:
            self._show_absent(path)
            self.screen.fields.edit_at(path)

    def _show_absent(self, path: Path) -> None:
        if not self.screen.inputs.put_cursor(path):
            self.screen.every = True
            self.screen.show_card()
            self.screen.inputs.put_cursor(path)
        self.screen.inputs.focus()

    def add_item(self, kind: str) -> None:
        from splitline.ui.forms.fresh import fresh_item

        entries = self.session.draft.tree.get(kind)
        count = len(entries) if isinstance(entries, list) else 0
        place = self.screen.selected[1] + 1 if self.screen.selected[0] == kind else count
        new = fresh_item(kind, self.session.draft.tree)

        def change() -> None:
            self.session.change((self.session.draft.insert_for((kind, place), new),), (kind, place), f"new {kind}")
            self.screen.selected = (kind, place)
            self.screen.every = True  # a new item is a form to fill in; e shows what matters only

        if self.attempt(change, (kind, place)):
            self.screen.contents.put_cursor(("at", kind, place), say=False)
            self.screen.inputs.focus()
            self.screen.inputs.put_cursor(
                (kind, place, next((name for name in ("title", "text") if name in new), "id"))
            )

    def add_at(self, path: Path, field: Declared) -> None:
        """Add a table, or an entry to a list of tables."""
        from splitline.ui.forms.fresh import first_to_fill, fresh_table

        assert field.model is not None
        new: Any = fresh_table(field.model)
        there = self.session.draft.get(path)
        if isinstance(path[-1], str) and field.is_list:
            path = (*path, len(there) if isinstance(there, list) else 0)
        elif isinstance(path[-1], str) and there is not None:
            return
        at = path

        def change() -> None:
            draft = self.session.draft
            edit = draft.insert_for(at, new) if isinstance(at[-1], int) else draft.edit_for(at, new)
            self.session.change((edit,), at, f"new {field.name}")
            self.screen.every = True

        self.attempt(change, at)
        self.screen.inputs.focus()
        self.screen.inputs.bring_up()
        self.screen.inputs.put_cursor((*at, first_to_fill(field.model)))

    def do_copy(self) -> None:
        from splitline.ui.forms.fresh import copied

        path = self.cursor_path()
        if self.refused() or path is None:
            return
        while path and not isinstance(path[-1], int):
            path = path[:-1]
        raw = self.session.draft.get(path) if path else None
        if raw is None:
            self.screen.foot("nothing to copy here")
            return
        place = (*path[:-1], int(path[-1]) + 1)
        new = copied(path, raw, self.session.draft.tree)

        def change() -> None:
            self.session.change((self.session.draft.insert_for(place, new),), place, "copy")
            if len(place) == 2:
                self.screen.selected = (str(place[0]), int(place[1]))

        if self.attempt(change, place):
            if len(place) == 2:
                self.screen.contents.put_cursor(("at", *self.screen.selected), say=False)
            else:
                self.screen.inputs.bring_up()

    def do_delete(self) -> None:
        from splitline.plan.fields import declared

        path = self.cursor_path()
        if self.refused() or path is None or self.session.draft.get(path) is None:
            return
        field = declared(path)
        if path in (("plan",), ("plan", "title")) or (field is not None and field.required and len(path) > 2):
            self.screen.foot("this must stand: edit it instead")
            return
        said = " ".join(str(p) for p in path[-2:] if isinstance(p, str))
        at = path
        if self.attempt(lambda: self.session.put(at, ABSENT, f"delete {said}"), None):
            self.screen.foot("deleted; u undoes that")

    def do_earlier(self) -> None:
        self._move(-1)

    def do_later(self) -> None:
        self._move(1)

    def _move(self, by: int) -> None:
        path = self.cursor_path()
        if self.refused() or path is None:
            return
        while path and not isinstance(path[-1], int):
            path = path[:-1]
        entries = self.session.draft.get(path[:-1]) if path else None
        if not path or not isinstance(entries, list):
            return
        start = int(path[-1])
        end = start + by
        if not 0 <= end < len(entries):
            return
        new = (*path[:-1], end)

        def change() -> None:
            self.session.change((Move(path[:-1], start, end),), new, "move")
            if len(new) == 2:
                self.screen.selected = (str(new[0]), end)

        if self.attempt(change, new):
            if len(new) == 2:
                self.screen.contents.put_cursor(("at", *self.screen.selected), say=False)
            else:
                self.screen.inputs.put_cursor(new)


def _before(change: Any) -> Path:
    """Where the cursor belongs once a change is taken back: on the item it was about, wherever that stands then."""
    first = change.edits[0] if change.edits else None
    if isinstance(first, Move):
        return (*first.path, first.start)
    if isinstance(first, Edit) and first.old is ABSENT and first.path == change.at and isinstance(first.path[-1], int):
        return (*first.path[:-1], max(first.path[-1] - 1, 0))  # what was added is gone: back to where it was added from
    place: Path = change.at
    return place

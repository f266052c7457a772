"""Changing a plan on its screen: in place, by plus and minus, from the library; adding, copying, moving, deleting, undo."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from splitline.plan.edits import ABSENT, Move
from splitline.ui.draw.rows import clean
from splitline.ui.screens.plan_change import PlanChanging
from splitline.ui.screens.sheet import Keys
from splitline.ui.widgets.editor import FieldEditor
from splitline.ui.widgets.lines import LineView

if TYPE_CHECKING:
    from splitline.plan.edits import Path
    from splitline.plan.fields import Declared

_LONG = 200  # characters from which a text gets a sheet of its own


class PlanEditing(PlanChanging):
    """Commands that change the plan. Each is one step of undo."""

    _editing = False  # a field is being typed in

    def foot_keys(self) -> Keys:
        """While a field is typed in its own two keys: the others are letters there."""
        if self._editing:
            return (("Enter", "take it", "editor('take')"), ("Esc", "leave as it was", "editor('give_up')"))
        return super().foot_keys()

    async def action_editor(self, what: str) -> None:
        """A tap on the foot line does what the key does."""
        for editor in self.query(FieldEditor):
            await editor.run_action(what)

    # in place

    def edit_at(self, path: Path) -> None:
        """Edit what stands at a path the way its declaration asks for."""
        from splitline.plan.fields import declared
        from splitline.ui.forms.adding import ids_for  # brings the model: only when somebody edits

        if self.refused():
            return
        field = declared(path)
        if field is None or isinstance(path[-1], int):
            self._edit_odd(path)
        elif field.is_table:
            self.add_at(path, field)
        elif field.kind == "yes/no":
            self.put(path, not bool(self.session.draft.get(path, False)))
        elif field.choices:
            self._choose(path, field)
        elif (known := ids_for(self.session.draft.tree, path)) is not None:
            self._choose_id(path, field, known)
        elif field.library:
            self._choose_from_library(path, field)
        else:
            self._edit_text(path, field)

    def _edit_odd(self, path: Path) -> None:
        """A key nobody declared: all one can do is take it away, which ``x`` does."""
        if isinstance(path[-1], int):
            self.do_add()
        else:
            self.splitline.say("Unknown key: x deletes it, u undoes that.")

    def _edit_text(self, path: Path, field: Declared) -> None:
        from splitline.ui.forms.typed import checked, shown

        value = self.session.draft.get(path)
        text = self.session.kept.pop(path, None)
        text = text if text is not None else "" if value is None else shown(value)
        if field.kind == "text" and (field.name in ("notes", "text", "caution") or "\n" in text or len(text) > _LONG):
            self._edit_long(path, field, text)
            return
        place = self.inputs.place_of(path)
        if place is None:
            return
        start = min(max(min(place.width * 2 // 5, 24), 12) + 1, place.width - 8)
        editor = FieldEditor(path, text, lambda typed: checked(field, typed, self.session.draft.names))
        editor.styles.offset = (self.inputs.region.x + 1 + start, self.inputs.region.y + place.y)
        editor.styles.width = max(place.width - start, 8)
        self.mount(editor)
        editor.focus()
        self._editing = True
        self.foot()

    def _edit_long(self, path: Path, field: Declared, text: str) -> None:
        from splitline.ui.screens.long_text import LongTextScreen

        def take(new: str | None) -> None:
            self.session.type_on(path, None)
            if new:
                self.put(path, new)
            elif new is not None and text:
                self._try(lambda: self.session.put(path, ABSENT, f"delete {field.name}"), path)

        keep = partial(self.session.type_on, path)
        self.app.push_screen(LongTextScreen(field.words, text, keep), take)

    def _choose(self, path: Path, field: Declared) -> None:
        from splitline.ui.forms.typed import checked
        from splitline.ui.screens.picker import Option, PickerScreen

        now = self.session.draft.get(path)

        def take(word: str | None) -> None:
            if word is not None:
                self.put(path, checked(field, word, self.session.draft.names) if not _whole(word) else int(word))

        options = [Option(word, word) for word in field.choices]
        self.app.push_screen(PickerScreen(field.words, options, chosen=None if now is None else str(now)), take)

    def _choose_id(self, path: Path, field: Declared, known: Sequence[tuple[str, str]]) -> None:
        """One of the plan's own items; in a list of ids each is put in or taken out."""
        from splitline.ui.screens.picker import Option, PickerScreen

        now = self.session.draft.get(path)
        held = now if isinstance(now, list) else [now] if now is not None else []
        options = [Option(ident, ident, title, "✓" if ident in held else "", "ok") for ident, title in known]
        if held and not field.required:
            options.append(Option("", "none", "leave the field out"))

        def take(ident: str | None) -> None:
            if ident is None:
                return
            if not ident:
                self._try(lambda: self.session.put(path, ABSENT, f"delete {field.name}"), path)
            elif field.kind == "list" or isinstance(now, list):
                left = [each for each in held if each != ident] if ident in held else [*held, ident]
                if left:
                    self.put(path, left)
                else:
                    self._try(lambda: self.session.put(path, ABSENT, f"delete {field.name}"), path)
            else:
                self.put(path, ident)

        self.app.push_screen(PickerScreen(field.words, options, chosen=now if isinstance(now, str) else None), take)

    def _choose_from_library(self, path: Path, field: Declared) -> None:
        from splitline.ui.forms.library import options_of
        from splitline.ui.screens.picker import PickerScreen

        now = self.session.draft.get(path)

        def take(name: str | None) -> None:
            if not name:
                return
            said = self.session.draft.names(field.library, name)
            if said:
                self.splitline.say(said, bad=True)
            else:
                self.put(path, name)

        options = options_of(self.session.library, field.library, self.session.system, self._thread_at(path))
        typed = str(now) if isinstance(now, str) and field.library == "threads" else ""
        self.app.push_screen(PickerScreen(field.words, options, chosen=now, typed=typed, free=True), take)

    # the editor's messages

    def on_field_editor_typed(self, event: FieldEditor.Typed) -> None:
        if event.said:
            absent = event.said.startswith("empty") and self.session.draft.get(event.path, None) is None
            again = "" if absent else "; what you typed is offered again"
            self.show_hint(
                [(event.said, "dim" if absent else "problem"), (f"Esc: the field stays as it was{again}", "dim")]
            )
        else:
            from splitline.ui.card.hints import hint_of

            self.show_hint(
                [
                    *hint_of(self.session, self.shown_item, event.path)[:1],
                    ("Enter takes it · Esc: the field stays as it was", "dim"),
                ]
            )

    def on_field_editor_taken(self, event: FieldEditor.Taken) -> None:
        self._close_editor()
        if event.value == "":
            there = self.session.draft.get(event.path) is not None
            self.foot("empty: the field stays as it was, x deletes it" if there else "empty: nothing stored")
            return
        self.put(event.path, event.value)

    def on_field_editor_left(self, event: FieldEditor.Left) -> None:
        from splitline.ui.forms.typed import shown

        value = self.session.draft.get(event.path)
        if event.text and event.text != ("" if value is None else shown(value)):
            self.session.kept[event.path] = event.text
        self._close_editor()
        self.show_hint()

    def _close_editor(self) -> None:
        had_focus = isinstance(self.focused, FieldEditor)
        for editor in self.query(FieldEditor):
            editor.remove()
        if had_focus or self.focused is None:
            self.inputs.focus()
        self._editing = False
        self.foot()

    # plus and minus on a value; arrows only move

    def do_more(self) -> None:
        self._nudge(1)

    def do_less(self) -> None:
        self._nudge(-1)

    def _nudge(self, by: int) -> None:
        from splitline.plan.fields import declared
        from splitline.ui.forms.typed import Refused, checked, nudged, shown

        path = self.cursor_path()
        if self.focused is not self.inputs or path is None:
            self.foot("+ and - change the value of a field: Tab goes to the fields")
            return
        field = declared(path)
        value = self.session.draft.get(path)
        if field is None or value is None or isinstance(path[-1], int) or self.refused():
            return
        new = nudged(field, value, by)
        if new is None:
            return
        try:
            checked(field, shown(new), self.session.draft.names)
        except Refused as error:
            self.foot(str(error), "problem")
            return
        at = path  # pressed one after the other they are one step of undo
        if self._try(lambda: self.session.put(at, new, f"+ and - on {field.name}", together=True), at):
            self.foot(f"{field.name}: {clean(shown(value))} → {clean(shown(new))}; u undoes it", "near")

    def _thread_at(self, path: Path) -> str:
        """The thread a grade is chosen for: of the same table, else of the joint's bolting."""
        for place in ((*path[:-1], "thread"), (*path[:2], "bolting", "thread")):
            found = self.session.draft.get(place)
            if isinstance(found, str):
                return found
        return ""

    def action_pane(self, by: int) -> None:
        self.focus_pane(by)

    def focus_pane(self, by: int) -> None:
        panes: list[LineView] = [self.contents, self.facts, self.inputs]
        place = panes.index(self.focused) if isinstance(self.focused, LineView) and self.focused in panes else 0
        panes[max(0, min(place + by, 2))].focus()

    # adding, copying, moving, deleting

    def do_add(self) -> None:
        """Ask what to add: an item, or a field, table or entry of the table under the cursor."""
        if self.refused():
            return
        from splitline.ui.forms.adding import choices
        from splitline.ui.screens.picker import PickerScreen

        path = self.cursor_path() or ("plan",)
        options = choices(self.session, path, items_first=self.focused is self.contents or path[0] == "plan")
        self.app.push_screen(PickerScreen("Add", options), self._add)

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
            self.edit_at(path)

    def _show_absent(self, path: Path) -> None:
        if not self.inputs.put_cursor(path):
            self.every = True
            self.show_card()
            self.inputs.put_cursor(path)
        self.inputs.focus()

    def add_item(self, kind: str) -> None:
        from splitline.ui.forms.fresh import fresh_item

        entries = self.session.draft.tree.get(kind)
        count = len(entries) if isinstance(entries, list) else 0
        place = self.selected[1] + 1 if self.selected[0] == kind else count
        new = fresh_item(kind, self.session.draft.tree)

        def change() -> None:
            self.session.change((self.session.draft.insert_for((kind, place), new),), (kind, place), f"new {kind}")
            self.selected = (kind, place)
            self.every = True  # a new item is a form to fill in; e shows what matters only

        if self._try(change, (kind, place)):
            self.contents.put_cursor(("at", kind, place), say=False)
            self.inputs.focus()
            self.inputs.put_cursor((kind, place, next((name for name in ("title", "text") if name in new), "id")))

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
            self.every = True

        self._try(change, at)
        self.inputs.focus()
        self.inputs.bring_up()
        self.inputs.put_cursor((*at, first_to_fill(field.model)))

    def do_copy(self) -> None:
        from splitline.ui.forms.fresh import copied

        path = self.cursor_path()
        if self.refused() or path is None:
            return
        while path and not isinstance(path[-1], int):
            path = path[:-1]
        raw = self.session.draft.get(path) if path else None
        if raw is None:
            self.foot("nothing to copy here")
            return
        place = (*path[:-1], int(path[-1]) + 1)
        new = copied(path, raw, self.session.draft.tree)

        def change() -> None:
            self.session.change((self.session.draft.insert_for(place, new),), place, "copy")
            if len(place) == 2:
                self.selected = (str(place[0]), int(place[1]))

        if self._try(change, place):
            if len(place) == 2:
                self.contents.put_cursor(("at", *self.selected), say=False)
            else:
                self.inputs.bring_up()

    def do_delete(self) -> None:
        from splitline.plan.fields import declared

        path = self.cursor_path()
        if self.refused() or path is None or self.session.draft.get(path) is None:
            return
        field = declared(path)
        if path in (("plan",), ("plan", "title")) or (field is not None and field.required and len(path) > 2):
            self.foot("this must stand: edit it instead")
            return
        said = " ".join(str(p) for p in path[-2:] if isinstance(p, str))
        at = path
        if self._try(lambda: self.session.put(at, ABSENT, f"delete {said}"), None):
            self.foot("deleted; u undoes that")

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
                self.selected = (str(new[0]), end)

        if self._try(change, new):
            if len(new) == 2:
                self.contents.put_cursor(("at", *self.selected), say=False)
            else:
                self.inputs.put_cursor(new)


def _whole(word: str) -> bool:
    return word.isdigit()

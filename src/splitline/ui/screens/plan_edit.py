"""Changing a field of a plan where it stands: typed in place, by plus and minus, picked from choices, ids and the library."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from splitline.plan.edits import ABSENT
from splitline.ui.draw.rows import clean
from splitline.ui.screens.controller import Controller
from splitline.ui.widgets.editor import FieldEditor

if TYPE_CHECKING:
    from splitline.plan.edits import Path
    from splitline.plan.fields import Declared

_LONG = 200  # characters from which a text gets a sheet of its own


class Fields(Controller):
    """Commands that change one field. Each is one step of undo."""

    typing = False  # a field is being typed in

    # in place

    def edit_at(self, path: Path) -> None:
        """Edit what stands at a path the way its declaration asks for."""
        from splitline.plan.fields import declared
        from splitline.ui.forms.adding import ids_for  # brings the model: only when somebody edits

        if self.screen.changes.refused():
            return
        field = declared(path)
        if field is None or isinstance(path[-1], int):
            self._edit_odd(path)
        elif field.is_table:
            self.screen.changes.add_at(path, field)
        elif field.kind == "yes/no":
            self.screen.changes.put(path, not bool(self.session.draft.get(path, False)))
        elif field.choices:
            self._choose(path, field)
        elif (known := ids_for(self.session.draft.tree, path)) is not None:
            self._choose_id(path, field, known)
        elif field.library or (field.offers and self.session.library.rows(field.offers)):
            self._choose_from_library(path, field)
        else:
            self._edit_text(path, field)

    def _edit_odd(self, path: Path) -> None:
        """A key nobody declared: all one can do is take it away, which ``x`` does."""
        if isinstance(path[-1], int):
            self.screen.changes.do_add()
        else:
            self.screen.splitline.say("Unknown key: x deletes it, u undoes that.")

    def _edit_text(self, path: Path, field: Declared) -> None:
        from splitline.ui.forms.typed import checked, shown

        value = self.session.draft.get(path)
        text = self.session.kept.pop(path, None)
        text = text if text is not None else "" if value is None else shown(value)
        if field.kind == "text" and (field.name in ("notes", "text", "caution") or "\n" in text or len(text) > _LONG):
            self._edit_long(path, field, text)
            return
        place = self.screen.inputs.place_of(path)
        if place is None:
            return
        start = min(max(min(place.width * 2 // 5, 24), 12) + 1, place.width - 8)
        editor = FieldEditor(path, text, lambda typed: checked(field, typed, self.session.draft.names))
        editor.styles.offset = (self.screen.inputs.region.x + 1 + start, self.screen.inputs.region.y + place.y)
        editor.styles.width = max(place.width - start, 8)
        self.screen.mount(editor)
        editor.focus()
        self.typing = True
        self.screen.foot()

    def _edit_long(self, path: Path, field: Declared, text: str) -> None:
        from splitline.ui.screens.long_text import LongTextScreen

        def take(new: str | None) -> None:
            self.session.type_on(path, None)
            if new:
                self.screen.changes.put(path, new)
            elif new is not None and text:
                self.screen.changes.attempt(lambda: self.session.put(path, ABSENT, f"delete {field.name}"), path)

        keep = partial(self.session.type_on, path)
        self.screen.app.push_screen(LongTextScreen(field.words, text, keep), take)

    def _choose(self, path: Path, field: Declared) -> None:
        from splitline.ui.forms.typed import checked
        from splitline.ui.screens.picker import Option, PickerScreen

        now = self.session.draft.get(path)

        def take(word: str | None) -> None:
            if word is not None:
                self.screen.changes.put(
                    path, checked(field, word, self.session.draft.names) if not _whole(word) else int(word)
                )

        options = [Option(word, word) for word in field.choices]
        self.screen.app.push_screen(PickerScreen(field.words, options, chosen=None if now is None else str(now)), take)

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
                self.screen.changes.attempt(lambda: self.session.put(path, ABSENT, f"delete {field.name}"), path)
            elif field.kind == "list" or isinstance(now, list):
                left = [each for each in held if each != ident] if ident in held else [*held, ident]
                if left:
                    self.screen.changes.put(path, left)
                else:
                    self.screen.changes.attempt(lambda: self.session.put(path, ABSENT, f"delete {field.name}"), path)
            else:
                self.screen.changes.put(path, ident)

        self.screen.app.push_screen(
            PickerScreen(field.words, options, chosen=now if isinstance(now, str) else None), take
        )

    def _choose_from_library(self, path: Path, field: Declared) -> None:
        from splitline.ui.forms.library import options_of
        from splitline.ui.screens.picker import PickerScreen

        now = self.session.draft.get(path)

        def take(name: str | None) -> None:
            if not name:
                return
            said = self.session.draft.names(field.library, name) if field.library else None
            if said:
                self.screen.splitline.say(said, bad=True)
            else:
                self.screen.changes.put(path, name)

        options = options_of(
            self.session.library, field.library or field.offers, self.session.system, self._thread_at(path)
        )
        typed = str(now) if isinstance(now, str) and field.library == "threads" else ""
        self.screen.app.push_screen(PickerScreen(field.words, options, chosen=now, typed=typed, free=True), take)

    def _thread_at(self, path: Path) -> str:
        """The thread a grade is chosen for: of the same table, else of the joint's bolting."""
        for place in ((*path[:-1], "thread"), (*path[:2], "bolting", "thread")):
            found = self.session.draft.get(place)
            if isinstance(found, str):
                return found
        return ""

    # the editor's messages

    def typed(self, event: FieldEditor.Typed) -> None:
        if event.said:
            absent = event.said.startswith("empty") and self.session.draft.get(event.path, None) is None
            again = "" if absent else "; what you typed is offered again"
            self.screen.show_hint(
                [(event.said, "dim" if absent else "problem"), (f"Esc: the field stays as it was{again}", "dim")]
            )
        else:
            from splitline.ui.card.hints import hint_of

            self.screen.show_hint(
                [
                    *hint_of(self.session, self.screen.shown_item, event.path)[:1],
                    ("Enter takes it · Esc: the field stays as it was", "dim"),
                ]
            )

    def taken(self, event: FieldEditor.Taken) -> None:
        self._close_editor()
        if event.value == "":
            there = self.session.draft.get(event.path) is not None
            self.screen.foot("empty: the field stays as it was, x deletes it" if there else "empty: nothing stored")
            return
        self.screen.changes.put(event.path, event.value)

    def left(self, event: FieldEditor.Left) -> None:
        from splitline.ui.forms.typed import shown

        value = self.session.draft.get(event.path)
        if event.text and event.text != ("" if value is None else shown(value)):
            self.session.kept[event.path] = event.text
        self._close_editor()
        self.screen.show_hint()

    def _close_editor(self) -> None:
        had_focus = isinstance(self.screen.focused, FieldEditor)
        for editor in self.screen.query(FieldEditor):
            editor.remove()
        if had_focus or self.screen.focused is None:
            self.screen.inputs.focus()
        self.typing = False
        self.screen.foot()

    # plus and minus on a value; arrows only move

    def do_more(self) -> None:
        self._nudge(1)

    def do_less(self) -> None:
        self._nudge(-1)

    def _nudge(self, by: int) -> None:
        from splitline.plan.fields import declared
        from splitline.ui.forms.typed import Refused, checked, nudged, shown

        path = self.screen.changes.cursor_path()
        if self.screen.focused is not self.screen.inputs or path is None:
            self.screen.foot("+ and - change the value of a field: Tab goes to the fields")
            return
        field = declared(path)
        value = self.session.draft.get(path)
        if field is None or value is None or isinstance(path[-1], int) or self.screen.changes.refused():
            return
        new = nudged(field, value, by)
        if new is None:
            return
        try:
            checked(field, shown(new), self.session.draft.names)
        except Refused as error:
            self.screen.foot(str(error), "problem")
            return
        at = path  # pressed one after the other they are one step of undo
        if self.screen.changes.attempt(
            lambda: self.session.put(at, new, f"+ and - on {field.name}", together=True), at
        ):
            self.screen.foot(f"{field.name}: {clean(shown(value))} → {clean(shown(new))}; u undoes it", "near")


def _whole(word: str) -> bool:
    return word.isdigit()

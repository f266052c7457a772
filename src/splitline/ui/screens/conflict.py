"""Somebody else saved the plan meanwhile: what each changed, and what to do. Whatever is chosen, nothing is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical

from splitline.plan.changes import Changed, changes
from splitline.plan.edits import ABSENT
from splitline.plan.merge import Merged, merged
from splitline.ui import marks
from splitline.ui.card.values import label_of, list_text
from splitline.ui.draw.rows import clean, rule, wrap
from splitline.ui.forms.typed import literal
from splitline.ui.screens.sheet import Sheet
from splitline.ui.widgets.lines import Line, LineView

if TYPE_CHECKING:
    from splitline.plan.draft import Draft
    from splitline.plan.save import PlanChangedError

_MOST = 400  # changes shown of each side


class ConflictScreen(Sheet[str]):
    """Gives "stay", "both", "copy", "file", "screen" or None. ``theirs``: the file as it stands, None: not readable."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back")]
    DEFAULT_CSS = """
    ConflictScreen .sheet { width: 110; height: 90%; }
    ConflictScreen #conflict-answers { height: auto; max-height: 12; }
    ConflictScreen #conflict-difference { height: 1fr; }
    """

    def __init__(self, error: PlanChangedError, mine: Draft, theirs: Draft | None) -> None:
        super().__init__()
        self._error = error
        self._own = changes(mine.origin.tree, mine.tree, tracked=True)
        self._other = changes(mine.origin.tree, theirs.tree) if theirs is not None else ()
        self.both: Merged | None = merged(mine, theirs) if theirs is not None and self._other else None

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield LineView(id="conflict-answers")
            yield LineView(id="conflict-difference", cursor=False)

    def on_mount(self) -> None:
        answers = self.query_one("#conflict-answers", LineView)
        answers.styles.height = 5 + len(self._choices())
        answers.show(self._answers)
        self.query_one("#conflict-difference", LineView).show(self._difference)
        answers.focus()

    def _choices(self) -> list[tuple[str, str]]:
        out = [("stay", "Go back to the plan, save nothing yet")]
        if self.both is not None:
            clash = len(self.both.conflicts)
            more = f"; this screen's stays where both changed ({clash})" if clash else ", save when looked at"
            out.append(("both", f"Put both together on this screen{more}"))
        out.append(("copy", "Save this screen beside it under another name"))
        out.append(("file", "Take the file; this screen is saved beside it under another name"))
        if self._error.seen is not None:
            over = "Write this screen over the file; the file stays as the .bak file"
            out.append(("screen", over if self._error.seen else "Write this screen as a new file"))
        return out

    def _answers(self, cells: int) -> list[Line]:
        out = [Line((("Not saved: the file is not as it was", "title"),))]
        out += [Line(((part, ""),)) for part in wrap(str(self._error), cells, 3)]
        return [*out, Line(()), *(Line(((label, "strong"),), key) for key, label in self._choices())]

    def _difference(self, cells: int) -> list[Line]:
        if not self._own and not self._other:
            return self._texts(cells)
        out: list[Line] = []
        clashes = self.both.conflicts if self.both is not None else ()
        if clashes:
            out.append(Line(rule(cells, "both changed the same place")))
            for clash in clashes:
                said = f"this screen {value_said(clash.mine)}, the file {value_said(clash.theirs)}, was {value_said(clash.base)}"
                out += _entry(clash.where, said, "fails", cells)
        known = {clash.where for clash in clashes}
        for title, found in (("changed in the file", self._other), ("changed on this screen", self._own)):
            rest = [each for each in found if each.where not in known]
            if rest:
                out.append(Line(rule(cells, f"{title} (Tab comes here)" if not out else title)))
            for each in rest[:_MOST]:
                out += _entry(each.where, change_said(each), "", cells)
        return out

    def _texts(self, cells: int) -> list[Line]:
        """Line by line, where one of the two does not read as a plan."""
        out = [Line(rule(cells, "difference: - the file, + this screen (Tab comes here)"))]
        styles = {"+": "ok", "-": "fails", "@": "head"}
        for text in self._error.difference.splitlines()[:2000]:
            out.append(Line(((clean(text), styles.get(text[:1], "dim")),)))
        return out

    def on_line_view_chosen(self, event: LineView.Chosen) -> None:
        self.close(str(event.target))


def _entry(place: str, said: str, style: str, cells: int) -> list[Line]:
    mark = f"{marks.PROBLEM} " if style == "fails" else "  "
    lines = [
        Line(((f"{mark if n == 0 else '  '}{part}", style or "label"),))
        for n, part in enumerate(wrap(label_of(place), cells - 2, 3))
    ]
    return lines + [Line(((f"    {part}", ""),)) for part in wrap(said, max(cells - 4, 8), 4)]


def change_said(each: Changed) -> str:
    """One change in words."""
    if each.old is ABSENT:
        return f"added {value_said(each.new)}"
    if each.new is ABSENT:
        return f"taken out {value_said(each.old)}"
    return f"{value_said(each.old)} → {value_said(each.new)}"


def value_said(value: Any) -> str:
    """A value of the file in short: a table by its name."""
    if value is ABSENT:
        return "nothing"
    if isinstance(value, dict):
        return str(value.get("title") or value.get("text") or value.get("name") or value.get("id") or "a table")
    if isinstance(value, list):
        return list_text(value) or "an empty list"
    return value if isinstance(value, str) else literal(value)

"""Undo and redo: changes done and taken back, each a few edits that belong together."""

from __future__ import annotations

from dataclasses import dataclass, replace

from splitline.plan.draft import Draft
from splitline.plan.edits import AnyEdit, Edit, Path

MOST = 2000  # changes that can be undone


@dataclass(frozen=True, slots=True)
class Change:
    """Edits made in one go, where the cursor belongs afterwards, and what was done in words."""

    edits: tuple[AnyEdit, ...]
    at: Path = ()
    said: str = ""
    owned: bool = False  # no edit: the example at ``at`` was found right as it is


@dataclass(frozen=True)
class History:
    """A draft with the changes that led to it and those taken back."""

    draft: Draft
    done: tuple[Change, ...] = ()
    undone: tuple[Change, ...] = ()

    def do(self, *edits: AnyEdit, at: Path = (), said: str = "", together: bool = False) -> History:
        """Apply edits as one change; ``together`` with the change before if that put a value at the same place.

        PlanError: an edit does not fit, and nothing was changed.
        """
        if not edits:
            return self
        draft = self.draft
        for edit in edits:
            draft = draft.apply(edit)
        change = Change(edits, at or edits[0].path, said)
        if together and self.done and (joined := _joined(self.done[-1], change)) is not None:
            return History(draft, (*self.done[:-1], joined))
        return History(draft, (*self.done, change)[-MOST:])

    def own(self, path: Path) -> History:
        """An example found right as it is, as a change of its own."""
        change = Change((), path, "example right as it is", owned=True)
        return History(self.draft.as_own(path), (*self.done, change)[-MOST:])

    def undo(self) -> History:
        """One change back; itself when there is none."""
        if not self.done:
            return self
        draft, change = self.draft, self.done[-1]
        if change.owned:
            draft = draft.not_own(change.at)
        for edit in reversed(change.edits):
            draft = draft.apply(edit.inverse())
        return History(draft, self.done[:-1], (*self.undone, change))

    def redo(self) -> History:
        """One change that was taken back done again; itself when there is none."""
        if not self.undone:
            return self
        draft, change = self.draft, self.undone[-1]
        if change.owned:
            draft = draft.as_own(change.at)
        for edit in change.edits:
            draft = draft.apply(edit)
        return History(draft, (*self.done, change), self.undone[:-1])

    def with_draft(self, draft: Draft) -> History:
        """The same changes on a draft of the same tree: after a save, or with another library."""
        return replace(self, draft=draft)

    @property
    def can_undo(self) -> bool:
        return bool(self.done)

    @property
    def can_redo(self) -> bool:
        return bool(self.undone)


def _joined(before: Change, after: Change) -> Change | None:
    """Two values put at one place, one after the other, as one change."""
    if len(before.edits) != 1 or len(after.edits) != 1:
        return None
    first, second = before.edits[0], after.edits[0]
    if not isinstance(first, Edit) or not isinstance(second, Edit) or first.path != second.path:
        return None
    return replace(after, edits=(Edit(second.path, first.old, second.new),))

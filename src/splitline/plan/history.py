"""Undo and redo: edits done and their inverses."""

from __future__ import annotations

from dataclasses import dataclass, replace

from splitline.plan.draft import Draft
from splitline.plan.edits import AnyEdit, Edit


@dataclass(frozen=True)
class History:
    """A draft with the edits that led to it and those taken back."""

    draft: Draft
    done: tuple[AnyEdit, ...] = ()
    undone: tuple[AnyEdit, ...] = ()

    def do(self, edit: AnyEdit, together: bool = False) -> History:
        """Apply an edit. ``together``: one step of undo with the edit before, if that was at the same place."""
        draft = self.draft.apply(edit)
        last = self.done[-1] if self.done else None
        if together and isinstance(edit, Edit) and isinstance(last, Edit) and last.path == edit.path:
            return History(draft, (*self.done[:-1], Edit(edit.path, last.old, edit.new)))
        return History(draft, (*self.done, edit))

    def undo(self) -> History:
        """One edit back; itself when there is none."""
        if not self.done:
            return self
        edit = self.done[-1]
        return History(self.draft.apply(edit.inverse()), self.done[:-1], (*self.undone, edit))

    def redo(self) -> History:
        """One edit that was taken back done again; itself when there is none."""
        if not self.undone:
            return self
        edit = self.undone[-1]
        return History(self.draft.apply(edit), (*self.done, edit), self.undone[:-1])

    def with_draft(self, draft: Draft) -> History:
        """The same edits on a draft of the same tree: after a save, or with another library."""
        return replace(self, draft=draft)

    @property
    def can_undo(self) -> bool:
        return bool(self.done)

    @property
    def can_redo(self) -> bool:
        return bool(self.undone)

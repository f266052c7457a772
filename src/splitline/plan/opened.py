"""A plan for scripts and notebooks: read whole or not at all, with the library beside it, and variants of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path as FilePath
from typing import Any

from splitline.errors import PlanError
from splitline.library.store import Library
from splitline.plan.draft import Draft
from splitline.plan.edits import ABSENT, Path
from splitline.plan.model import AnyItem, Plan
from splitline.plan.problem import PlanFileError
from splitline.plan.read import open_plan, read_text


@dataclass(frozen=True)
class PlanFile:
    """A plan without a mistake, frozen, and the library its names were read with."""

    plan: Plan
    library: Library
    draft: Draft = field(repr=False)  # as typed; what is saved

    @property
    def path(self) -> FilePath | None:
        """The file it was read from."""
        return self.draft.origin.path

    @property
    def examples(self) -> int:
        """How many values are still a starting plan's examples: replace each before anybody works by it."""
        return self.draft.examples

    def get(self, *path: str | int) -> Any:
        """What is typed at a place: ``plan.get("joint", "head", "bolting", "thread")``; PlanError where nothing is."""
        found = self.draft.get(self._place(path), ABSENT)
        if found is ABSENT:
            raise PlanError(f"nothing is given at {' › '.join(map(str, path))}")
        return found

    def item(self, kind: str, ident: str) -> AnyItem:
        """An item in SI by kind ("joint", "lift", ...) and id. PlanError names those there are."""
        found = self.plan.find(kind, ident)
        if found is None:
            there = ", ".join(each.id for each in self.plan.of_kind(kind)) or "none"
            raise PlanError(f'no {kind} "{ident}" in this plan; there are: {there}')
        return found

    def replaced(self, path: tuple[str | int, ...], value: Any) -> PlanFile:
        """A variant with another value at a place, as it would be typed in the file; the file itself is not touched.

        ``path``: table, id of the item (or its number from 0), and on down: ``("joint", "head", "friction", "thread")``.
        PlanFileError: the value is not one the plan can have.
        """
        return _whole(self.draft.edit(self._place(path), value), self.library)

    def _place(self, path: tuple[str | int, ...]) -> Path:
        """The path with numbers for ids and names."""
        found: list[str | int] = []
        for step in path:
            there = self.draft.get(tuple(found))
            if isinstance(there, list) and isinstance(step, str):
                names = [each.get("id") or each.get("name") if isinstance(each, dict) else None for each in there]
                if step not in names:
                    known = ", ".join(str(name) for name in names if name) or "none by name"
                    raise PlanError(f'no "{step}" at {" › ".join(map(str, path))}; there are: {known}')
                found.append(names.index(step))
            else:
                found.append(step)
        return tuple(found)


def load(path: FilePath | str) -> PlanFile:
    """Read a plan file and the site's library.toml beside it.

    PlanError: the file cannot be read, or it holds mistakes; ``PlanFileError.problems`` names every one with its line.
    LibraryError: the library beside it holds mistakes.
    """
    path = FilePath(path)
    draft = open_plan(path)
    return _whole(draft, Library.load(path.parent))


def loads(text: str, library: Library | None = None) -> PlanFile:
    """Read a plan from its text; the shipped library unless one is given. PlanFileError as in :func:`load`."""
    found = library if library is not None else Library.load()
    return _whole(read_text(text, library=found), found)


def _whole(draft: Draft, library: Library) -> PlanFile:
    problems = draft.problems
    if problems:
        many = "1 mistake" if len(problems) == 1 else f"{len(problems)} mistakes"
        raise PlanFileError(f"{draft.origin.path or 'the plan'}: {many}", problems)
    return PlanFile(draft.plan, library, draft)

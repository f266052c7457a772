"""The draft: what a person edits, the typed text with its problems, and the plan made of the items that read cleanly."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path as FilePath
from typing import Any, cast

from splitline.plan.check import Checked, check_item
from splitline.plan.edits import ABSENT, AnyEdit, Edit, Move, Path, Tree, get, inserting, paths_of, same, setting
from splitline.plan.model import FORMAT, KINDS, AnyItem, Plan, PlanInfo
from splitline.plan.names import Names
from splitline.plan.problem import Problem, where
from splitline.plan.references import between_items
from splitline.plan.scan import Places, scan, value_end


def lines_of(text: str) -> dict[Path, int]:
    """Path to line number (from 1) for every table, key, and entry of a list in a valid TOML text."""
    starts = [0]
    while (end := text.find("\n", starts[-1])) >= 0:
        starts.append(end + 1)
    lines: dict[Path, int] = {}
    places, table = Places(), ()  # type: tuple[Places, Path]

    def mark(path: Path, at: int) -> None:
        lines.setdefault(path, bisect_right(starts, at))

    for line in scan(text):
        if line.form == "heading":
            table = places.heading(line)
            for length in range(1, len(table) + 1):
                lines.setdefault(table[:length], line.number)
        elif line.form == "pair":
            path = table
            for key in line.keys:
                path = (*path, key)
                lines.setdefault(path, line.number)
            value_end(text, line.value[0], path, mark)
    return lines


@dataclass(frozen=True)
class Origin:
    """The file a draft was read from: what saving goes by."""

    path: FilePath | None = None
    raw: bytes | None = None  # exactly as read; None for a plan that has no file yet
    text: str = ""
    tree: Tree = field(default_factory=dict)


@dataclass(frozen=True)
class Draft:
    """A plan as typed, immutable; each edit gives a new draft that checks the edited item only."""

    tree: Tree
    origin: Origin = field(default_factory=Origin)
    names: Names = field(default_factory=Names)
    remarks: tuple[str, ...] = ()  # what is wrong outside the plan, such as in the site's own tables
    own: frozenset[Path] = frozenset()  # examples found right as they are, by their place in the file
    source: Origin | None = None  # the file as first read: saved since, its comments still come back with an undo
    source_own: frozenset[Path] = frozenset()  # as ``own``, by their place in the source

    # Reading

    @property
    def text(self) -> str:
        """The text of the file as it was read."""
        return self.origin.text

    @cached_property
    def new_text(self) -> str:
        """The text as it would be saved: the file's own, with the edits in it."""
        from splitline.plan.examples import owned
        from splitline.plan.splice import splice

        source, own = (self.origin, self.own) if self.source is None else (self.source, self.source_own)
        return splice(owned(source.text, source.tree, own), source.tree, self.tree)

    def saved_as(self, origin: Origin) -> Draft:
        """This draft with the file it now stands in; what it was first read from still gives comments back."""
        source, own = (self.origin, self.own) if self.source is None else (self.source, self.source_own)
        return replace(self, origin=origin, own=frozenset(), source=source, source_own=own)

    @property
    def changed(self) -> bool:
        """Whether there is something to save."""
        return bool(self.own) or not same(self.tree, self.origin.tree)

    def is_example(self, path: Path) -> bool:
        """Whether the value at a path is still a starting plan's example."""
        from splitline.plan.examples import read_at

        if not self._examples:
            return False
        place = read_at(self.origin.tree, self.tree, path)
        return place in self._examples and place not in self.own

    @cached_property
    def examples(self) -> int:
        """How many values are still examples of a starting plan."""
        return sum(self.is_example(path) for path in paths_of(self.tree)) if self._examples else 0

    @cached_property
    def _examples(self) -> frozenset[Path]:
        from splitline.plan.examples import examples_in

        return examples_in(self.origin.text, self.origin.tree)

    def as_own(self, path: Path) -> Draft:
        """The draft with an example found right as it is: the word goes from the file when it is saved."""
        from splitline.plan.examples import read_at

        place = read_at(self.origin.tree, self.tree, path)
        if place is None:
            return self
        first = read_at(self.source.tree, self.tree, path) if self.source is not None else None
        return replace(
            self, own=self.own | {place}, source_own=self.source_own | ({first} if first is not None else set())
        )

    def not_own(self, path: Path) -> Draft:
        """The inverse of :meth:`as_own`; once saved, the word is gone from the file and stays so."""
        from splitline.plan.examples import read_at

        place = read_at(self.origin.tree, self.tree, path)
        first = read_at(self.source.tree, self.tree, path) if self.source is not None else None
        return replace(self, own=self.own - {place}, source_own=self.source_own - {first})

    @cached_property
    def plan(self) -> Plan:
        """Frozen plan data of every item without a mistake."""
        checked, heading = self._checked
        faulty = {problem.path[:2] for problem in self.problems}
        items: dict[str, tuple[Any, ...]] = {
            kind + "s": tuple(
                found.item
                for number, found in enumerate(checked.get(kind, ()))
                if found.item is not None and (kind, number) not in faulty
            )
            for kind in KINDS
        }
        return Plan(info=_heading(heading, self.tree.get("plan"), self.names), **items)

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """Every mistake of the plan, in the order of the file; with lines as long as nothing has been edited."""
        checked, heading = self._checked
        said: list[tuple[Path, str]] = [((), remark) for remark in self.remarks]
        said += _top(self.tree)
        if "plan" in self.tree:
            said += [(("plan", *path), message) for path, message in heading.said]
        for kind, results in checked.items():
            said += [((kind, n, *path), message) for n, found in enumerate(results) for path, message in found.said]
        said += between_items(self.tree)
        lines = self._lines if said and self.tree is self.origin.tree else {}
        found = [
            Problem(path, message, _line(lines, path), where(self.tree, path) or "site library")
            for path, message in dict.fromkeys(said)
        ]
        return tuple(sorted(found, key=lambda problem: problem.line or 0))

    @cached_property
    def _checked(self) -> tuple[dict[str, tuple[Checked, ...]], Checked]:
        checked = {}
        for kind in KINDS:
            entries = self.tree.get(kind)
            if isinstance(entries, list):
                checked[kind] = tuple(check_item(kind, entry, self.names) for entry in entries)
        return checked, check_item("plan", self.tree.get("plan", {}), self.names)

    @cached_property
    def _lines(self) -> dict[Path, int]:

        return lines_of(self.origin.text)

    def get(self, path: Path, default: Any = None) -> Any:
        """What is typed at a path, or ``default``."""
        return get(self.tree, path, default)

    def item(self, kind: str, index: int) -> AnyItem | None:
        """The item in SI if it reads cleanly; ``index`` counts the items as typed."""
        results = self._checked[0].get(kind, ())
        return cast("AnyItem | None", results[index].item) if 0 <= index < len(results) else None

    def item_problems(self, kind: str, index: int) -> tuple[Problem, ...]:
        """The mistakes of one item."""
        return tuple(problem for problem in self.problems if problem.path[:2] == (kind, index))

    def problem_at(self, path: Path) -> Problem | None:
        """The first mistake at this very field."""
        return next((problem for problem in self.problems if problem.path == path), None)

    # Editing

    def edit_for(self, path: Path, new: Any) -> Edit:
        """The edit that puts ``new`` at ``path`` (ABSENT takes it away); missing tables on the way are made."""
        return setting(self.tree, path, new)

    def insert_for(self, path: Path, new: Any) -> Edit:
        """The edit that inserts an entry before ``path``, whose last step is its place in the list."""
        return inserting(self.tree, path, new)

    def apply(self, edit: AnyEdit) -> Draft:
        """The draft after an edit. PlanError: the edit does not fit what stands there."""
        return replace(self, tree=edit.apply(self.tree))

    def edit(self, path: Path, new: Any) -> Draft:
        return self.apply(self.edit_for(path, new))

    def insert(self, path: Path, new: Any) -> Draft:
        return self.apply(self.insert_for(path, new))

    def remove(self, path: Path) -> Draft:
        return self.apply(self.edit_for(path, ABSENT))

    def move(self, path: Path, to: int) -> Draft:
        """Move the list entry at ``path`` to place ``to`` of its list."""
        place = path[-1]
        if not isinstance(place, int):
            raise TypeError("only entries of a list are moved")
        return self.apply(Move(path[:-1], place, to))

    def with_names(self, names: Names, remarks: tuple[str, ...] = ()) -> Draft:
        """The same text held against another library."""
        return replace(self, names=names, remarks=remarks)


def _line(lines: dict[Path, int], path: Path) -> int | None:
    """Line of the path, or of the nearest table above that stands in the file."""
    for number in range(len(path)):  # one table where several may stand has no number in the file
        if path[number] == 0 and path[: number + 1] not in lines and path[:number] in lines:
            path = (*path[:number], *path[number + 1 :])
            break
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path)


def _top(tree: Tree) -> list[tuple[Path, str]]:
    """Mistakes at the top of the file: format, heading, unknown tables, tables that should be lists."""
    said: list[tuple[Path, str]] = []
    version = tree.get("format", ABSENT)
    if version is ABSENT:
        said.append((("format",), f"missing: add format = {FORMAT} at the top of the file"))
    elif isinstance(version, bool) or not isinstance(version, int) or version < 1:
        said.append((("format",), f"the format is a whole number: write format = {FORMAT}"))
    if "plan" not in tree:
        said.append((("plan",), 'missing: add [plan] with title = "..."'))
    known = ["format", "plan", *KINDS]
    for key, value in tree.items():
        if key in KINDS and not isinstance(value, list):
            said.append(((key,), f"there can be several: write [[{key}]], with double brackets"))
        elif key not in known:
            near = get_close_matches(key, known, 1, 0.5)
            hint = f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(known)}"
            said.append(((key,), f"unknown; {hint}"))
    return said


def _heading(checked: Checked, raw: Any, names: Names) -> PlanInfo:
    """The heading, or as much of it as reads cleanly."""
    if isinstance(checked.item, PlanInfo):
        return checked.item
    wrong = {path[0] for path, _ in checked.said if path}
    clean = {key: value for key, value in raw.items() if key not in wrong} if isinstance(raw, dict) else {}
    salvaged = check_item("plan", {"title": "", **clean}, names).item
    return salvaged if isinstance(salvaged, PlanInfo) else PlanInfo(title="")

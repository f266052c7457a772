"""An open plan on the planner's screen: draft, undo, assessment, pinned variant. No widget, no drawing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import TYPE_CHECKING, Any

from splitline.assess.assessment import assess
from splitline.assess.result import worst
from splitline.errors import LibraryError
from splitline.library.store import Library
from splitline.plan.draft import Draft
from splitline.plan.edits import AnyEdit, Path
from splitline.plan.history import Change, History
from splitline.plan.model import KINDS, Plan
from splitline.plan.read import open_plan
from splitline.plan.recovery import Keeper
from splitline.ui.standing import Standing, standing_of

if TYPE_CHECKING:
    from splitline.assess.assessment import Assessment
    from splitline.assess.result import ItemResult, Verdict
    from splitline.library.store import Library
    from splitline.units import System


@dataclass(frozen=True)
class Outcome:
    """What came out of a draft: results by (kind, id), and kinds that could not be assessed with the reason."""

    results: Mapping[tuple[str, str], ItemResult] = field(default_factory=dict)
    unassessed: Mapping[str, str] = field(default_factory=dict)
    system: System = "SI"  # units of its texts
    standing: Standing = field(default_factory=Standing)

    def find(self, kind: str, ident: str) -> ItemResult | None:
        return self.results.get((kind, ident))

    def counts(self) -> dict[str, int]:
        found = {"fails": 0, "missing": 0, "on-site": 0, "near": 0, "ok": 0}
        for result in self.results.values():
            for check in result.checks:
                found[check.verdict] += 1
        return found

    @property
    def verdict(self) -> Verdict | None:
        """The worst; None where something could not be assessed and nothing that could is worse than ok."""
        found = worst(result.verdict for result in self.results.values())
        return None if self.unassessed and found == "ok" else found


def outcome_of(plan: Plan, library: Library, today: dt.date, system: System) -> Outcome:
    """Assess a plan. What one kind of item does wrong never hides the others."""
    try:
        return Outcome(_by_name(assess(plan, library, today, system=system)), system=system)
    except Exception:
        pass  # found out below, kind by kind
    results: dict[tuple[str, str], ItemResult] = {}
    unassessed: dict[str, str] = {}
    for kind in KINDS:
        for item in plan.of_kind(kind):
            if kind in ("window", "item", "step"):  # these look at the joints and steps round them
                alone = replace(plan, lifts=(), fits=(), insertions=(), clearances=())
            else:
                only: dict[str, Any] = {f"{k}s": (item,) if k == kind else () for k in KINDS}
                alone = replace(plan, **only)
            try:
                found = _by_name(assess(alone, library, today, system=system))
                results |= {key: r for key, r in found.items() if key == (kind, item.id)}
            except ModuleNotFoundError:
                unassessed[kind] = "not assessed yet"
            except Exception as error:
                unassessed[kind] = f"could not be assessed: {type(error).__name__}: {error}"
    return Outcome(results, unassessed, system)


def _by_name(assessment: Assessment) -> dict[tuple[str, str], ItemResult]:
    return {(item.kind, item.id): item for item in assessment.items}


@dataclass(frozen=True)
class Pinned:
    """A variant kept to compare with."""

    draft: Draft
    outcome: Outcome


class Session:
    """The one open plan. Screens ask it, change it and draw what it says."""

    def __init__(self, path: FilePath, draft: Draft, library: Library, today: dt.date) -> None:
        self.path = path
        self._history = History(draft)
        self._keeper = Keeper()
        self._typing: tuple[Path, str] | None = None
        self.library = library
        self.today = today
        self.outcome = Outcome()
        self.computed_for: Draft | None = None
        self.pinned: Pinned | None = None
        self.shown_us: bool | None = None  # None: as the plan says
        self.kept: dict[Path, str] = {}  # text typed into a field and not taken

    @classmethod
    def open(cls, path: FilePath) -> Session:
        """Read a plan; PlanError says why it cannot be read."""
        try:
            library = Library.load(path.parent)
        except LibraryError:
            library = Library.load()  # the draft's remarks say what is wrong with the site's own tables
        return cls(path, open_plan(path), library, dt.date.today())

    # looking

    @property
    def us(self) -> bool:
        return self.draft.plan.us if self.shown_us is None else self.shown_us

    @property
    def system(self) -> Any:
        return "US" if self.us else "SI"

    @property
    def changed(self) -> bool:
        return self.draft.changed

    def raw(self, kind: str, index: int) -> dict[str, Any]:
        """An item as typed."""
        found = self.draft.tree.get("plan", {}) if kind == "plan" else self.draft.get((kind, index), {})
        return found if isinstance(found, dict) else {}

    def ident(self, kind: str, index: int) -> str:
        found = self.raw(kind, index).get("id", "")
        return found if isinstance(found, str) else ""

    def result(self, kind: str, index: int) -> ItemResult | None:
        """What came out of an item; None while it has mistakes or is not assessed."""
        if kind == "plan" or self.draft.item_problems(kind, index):
            return None
        return self.outcome.find(kind, self.ident(kind, index))

    def index_of(self, kind: str, ident: str) -> int | None:
        entries = self.draft.tree.get(kind)
        if not isinstance(entries, list):
            return None
        return next((i for i, e in enumerate(entries) if isinstance(e, dict) and e.get("id") == ident), None)

    def follow(self, before: Session) -> None:
        """Take over how the plan was looked at."""
        self.shown_us, self.pinned, self.outcome = before.shown_us, before.pinned, before.outcome

    # changing

    @property
    def draft(self) -> Draft:
        """The plan as it stands here."""
        return self._history.draft

    def change(self, edits: tuple[AnyEdit, ...], at: Path, said: str) -> None:
        """Apply edits one after the other as one step of undo. PlanError: nothing was changed."""
        self._history = self._history.do(*edits, at=at, said=said)

    def put(self, path: Path, new: Any, said: str = "", *, together: bool = False) -> None:
        """Put a value at a path; ``together`` makes one step of undo with the same kind of change just before it."""
        last = self._history.done[-1] if self._history.done else None
        joined = together and last is not None and (last.at, last.said) == (path, said)
        self._history = self._history.do(self.draft.edit_for(path, new), at=path, said=said, together=joined)

    def own(self, path: Path) -> bool:
        """Take a starting plan's example as right; False where the value is none."""
        if not self.draft.is_example(path):
            return False
        self._history = self._history.own(path)
        return True

    def undo(self) -> Change | None:
        """Take the last change back; None when there is none."""
        if not self._history.can_undo:
            return None
        self._history = self._history.undo()
        return self._history.undone[-1]

    def redo(self) -> Change | None:
        if not self._history.can_redo:
            return None
        self._history = self._history.redo()
        return self._history.done[-1]

    def rebase(self, saved: Draft) -> None:
        """The same plan, now standing in its file; what was done can still be undone."""
        if self.computed_for is self.draft:
            self.computed_for = saved
        self._history = self._history.with_draft(saved)

    @property
    def can_undo(self) -> bool:
        return self._history.can_undo

    @property
    def can_redo(self) -> bool:
        return self._history.can_redo

    def move_to(self, saved: Draft) -> None:
        """Go on with another file, which holds what stands here; what was done can still be undone."""
        assert saved.origin.path is not None
        self.forget_kept()
        self.path, self._keeper = saved.origin.path, Keeper()
        self.rebase(saved)

    def keep_safe(self) -> None:
        """Keep unsaved work beside the plan; may run on another thread."""
        typing = self._typing
        draft = self.draft if typing is None else self.draft.edit(*typing)
        if typing is not None or self._history.can_undo or self._history.can_redo or self.draft.own:
            self._keeper.keep(draft)

    def type_on(self, path: Path, text: str | None) -> None:
        """A long text as it is being typed, kept beside the plan until it is taken or left (None)."""
        before, self._typing = self._typing, None if text is None else (path, text)
        if text is not None:
            self.keep_safe()
        elif before is not None:
            self._keeper.keep(self.draft)

    @property
    def unkept(self) -> str:
        """Why unsaved work is not kept beside the plan; "" where it is."""
        return self._keeper.trouble

    def take_up(self, draft: Draft) -> None:
        """Go on with unsaved work that came from elsewhere: kept at once, undone from here on."""
        self._history = History(draft)
        self._keeper.keep(draft)

    def forget_kept(self) -> None:
        """The work was saved, or is not wanted: nothing is kept of it."""
        self._keeper.drop()

    @property
    def kept_in(self) -> FilePath | None:
        """Where this session keeps its unsaved work, once there is some."""
        return self._keeper.path

    def compute(self) -> tuple[Draft, Outcome]:
        """Assess the draft as it is now; may run on another thread."""
        draft = self.draft
        outcome = outcome_of(draft.plan, self.library, self.today, self.system)
        return draft, replace(outcome, standing=standing_of(self.path, draft.plan, outcome.results))

    def compute_safely(self) -> tuple[Draft, Outcome]:
        """As :meth:`compute`, whatever goes wrong said as an outcome; unsaved work is kept beside the plan."""
        draft = self.draft
        self.keep_safe()
        try:
            return self.compute()
        except Exception as error:
            said = f"could not be assessed: {type(error).__name__}: {error}"
            return draft, Outcome(unassessed=dict.fromkeys(KINDS, said), system=self.system)

    def take(self, draft: Draft, outcome: Outcome) -> bool:
        """Take an outcome, unless the draft or the units shown have moved on."""
        if draft is not self.draft or outcome.system != self.system:
            return False
        self.outcome, self.computed_for = outcome, draft
        return True

    def pin(self) -> None:
        self.pinned = Pinned(self.draft, self.outcome)

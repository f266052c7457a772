"""What an assessment is made of: frozen checks, results, working lines, defaults and cautions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from splitline.assess.details import ClearanceDetail, FitDetail, InsertionDetail, JointDetail, LiftDetail
from splitline.assess.lift_told import LegLoad
from splitline.assess.settings import JointSettings
from splitline.assess.speak import in_words
from splitline.units import System, show, si_unit

Verdict = Literal["ok", "near", "on-site", "missing", "fails"]
Sense = Literal["at most", "at least"]
_RANK: dict[Verdict, int] = {"ok": 0, "near": 1, "on-site": 2, "missing": 3, "fails": 4}
_ROUNDING = 1e-9  # a demand equal to its limit is near, whatever the last bit says


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The worst governs: fails, missing, on-site, near, ok. Nothing checked is ok."""
    return max(verdicts, key=_RANK.__getitem__, default="ok")


def verdict_of(usage: float | None) -> Verdict:
    """ok up to 0.90, near up to 1.00, else fails; no usage (nothing available) fails."""
    if usage is None or usage > 1 + _ROUNDING:
        return "fails"
    return "ok" if usage <= 0.9 + _ROUNDING else "near"


@dataclass(frozen=True, slots=True)
class Check:
    """One check. ``demand`` is what is (at most) or what is needed (at least); ``limit`` what may be or what is there.

    Usage is demand/limit in both senses. ``needs`` names the fields that are absent when the verdict is missing or on-site.
    ``case`` to ``pass_`` say what the check is of: whoever decides by a check reads these, never title, note or basis.
    """

    key: str
    title: str
    sense: Sense
    demand: float | None
    limit: float | None
    kind: str
    usage: float | None
    verdict: Verdict
    basis: str
    note: str = ""
    needs: tuple[str, ...] = ()
    case: str = ""  # load case of a joint, by its name
    size: tuple[int, ...] | None = None  # bolts of one size; None: not of one size alone
    leg: int | None = None  # of a lift, from 1
    part: str = ""  # what of it: a part of a leg by its name, an item by its id
    tool: str = ""  # by the name settings give it
    pass_: str = ""  # by the name the record gives it: snug, 1, 2, ..., round

    @property
    def about(self) -> tuple[str, str, tuple[int, ...] | None, int | None, str, str, str]:
        """What the check is of: its key with every field above. Tells the checks of one item apart without their titles."""
        return self.key, self.case, self.size, self.leg, self.part, self.tool, self.pass_

    @property
    def unit(self) -> str:
        return si_unit(self.kind)

    def said(self, system: System = "SI") -> str:
        """The check in words, with what is short where it fails."""
        if self.verdict in ("missing", "on-site") or self.demand is None or self.limit is None:
            return in_words(self.note or ("needs " + ", ".join(self.needs) if self.needs else self.basis))
        demand, limit = show(self.demand, self.kind, system), show(self.limit, self.kind, system)
        if self.sense == "at most":
            return f"{demand} of {limit}"
        short = self.demand - self.limit
        tail = f": short {show(short, self.kind, system)}" if self.verdict == "fails" else ""
        return f"has {limit}, needs {demand}{tail}"


@dataclass(frozen=True, slots=True)
class Put:
    """One number put into a formula."""

    symbol: str
    value: float | str
    kind: str


@dataclass(frozen=True, slots=True)
class Working:
    """One line of working: the key (formula and source stand in the registry), the numbers put in, the result."""

    key: str
    value: float
    puts: tuple[Put, ...]
    source: str
    formula: str


@dataclass(frozen=True, slots=True)
class Default:
    """A value nobody gave, with the basis it stands on."""

    field: str
    said: str
    basis: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A way to be hurt, and what keeps one from it.

    ``brief`` is the line a screen has room for. ``only`` names the acts it stands at; empty: every act but a stopped one
    and those in ``but``.
    """

    code: str
    text: str
    brief: str = ""
    only: frozenset[str] = frozenset()
    but: frozenset[str] = frozenset()

    @property
    def short(self) -> str:
        """For where there is room for a line only."""
        return self.brief or self.text

    def at(self, act: str) -> bool:
        """Whether it stands at this act."""
        if self.only:
            return act in self.only
        return act != "stopped" and act not in self.but


@dataclass(frozen=True, slots=True)
class Group:
    """Results of one load case, or of some bolts of another size."""

    name: str
    bolts: tuple[int, ...]
    results: Mapping[str, Any]
    working: tuple[Working, ...] = ()


@dataclass(frozen=True, slots=True)
class ItemResult:
    """One item assessed. Screens, sheets and JSON show this object and compute nothing.

    Beside the numbers each kind of item hands its details to drawings, screens and sheets (`details.py`); they do not go into
    JSON.
    """

    kind: str
    id: str
    title: str
    verdict: Verdict
    results: Mapping[str, Any] = field(default_factory=dict)
    sizes: tuple[Group, ...] = ()
    cases: tuple[Group, ...] = ()
    checks: tuple[Check, ...] = ()
    cautions: tuple[Caution, ...] = ()
    working: tuple[Working, ...] = ()
    defaults: tuple[Default, ...] = ()
    notes: tuple[str, ...] = ()
    joint: JointDetail = field(default_factory=JointDetail)
    lift: LiftDetail = field(default_factory=LiftDetail)
    fit: FitDetail = field(default_factory=FitDetail)
    insertion: InsertionDetail = field(default_factory=InsertionDetail)
    clearance: ClearanceDetail = field(default_factory=ClearanceDetail)
    settings: JointSettings | None = None  # of a joint: every set value
    legs: tuple[LegLoad, ...] = ()  # of a lift: what each leg pulls

    @property
    def worst_check(self) -> Check | None:
        """The check that marks the card: worst verdict, then highest usage."""
        return max(self.checks, key=lambda c: (_RANK[c.verdict], c.usage or 0.0), default=None)

    def checks_of(self, *verdicts: Verdict) -> tuple[Check, ...]:
        return tuple(c for c in self.checks if c.verdict in verdicts)

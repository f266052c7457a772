"""All entries of a record as they stand, what a run of like entries says alike said once.

A run is one joint's pulls, or one kind of reading, by one person under one set-up: what is common stands before, then each
entry by its number with what is its own. No entry is left out and no field of one: the dossier's appendix is made of this.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from splitline.record import fact_kinds as kinds
from splitline.record.fact_kinds import Fact
from splitline.record.facts import said, sentence, who_and_when
from splitline.units import System

MOST = 40  # entries told in one run: a row of it has to fit a page
# What entries of one run may differ in.
_OWN = ("entry", "bolt", "pulled_with", "place", "value", "typed", "moved", "where", "done_at", "entered_at")


@dataclass(slots=True)
class Run:
    """Entries said together; a single one has no members."""

    first: Fact
    members: list[tuple[int, str]] = field(default_factory=list)
    revision: str = ""
    common: str = ""
    who: str = ""

    @property
    def numbers(self) -> str:
        """``"20"``, or from the first to the last of a run."""
        last = self.members[-1][0] if self.members else self.first.entry
        return f"{self.first.entry} to {last}" if last != self.first.entry else str(self.first.entry)

    @property
    def text(self) -> str:
        """What is common, then each entry in brackets with its own."""
        return " ".join([self.common, *(f"[{number}] {own}" for number, own in self.members)])


def common_device(facts: Sequence[Fact]) -> str:
    """The device most entries were made at."""
    found = Counter(fact.device for fact in facts if fact.device)
    return found.most_common(1)[0][0] if found else ""


def runs_of(facts: Sequence[Fact], system: System, device: str = "") -> tuple[Run, ...]:
    """Every entry of a record, by number; what only follows from entries (deviations, steps, time limits) is left out.

    ``device``: that of the entries that name none here.
    """
    own = [_at(fact, device) for fact in facts if fact.entry and not isinstance(fact, kinds.Deviated)]
    runs: list[list[list[Fact]]] = []  # of entries, of bolts
    open_: dict[tuple[Any, ...], list[list[Fact]]] = {}
    for entry in _entries(own):
        key = _key(entry[0])
        if key is None:
            open_ = {each: run for each, run in open_.items() if run[0][0].item != entry[0].item}
            runs.append([entry])
            continue
        run = open_.get(key)
        if run is None or len(run) >= MOST:
            run = open_[key] = []
            runs.append(run)
        run.append(entry)
    return tuple(sorted((_run(each, system) for each in runs), key=lambda run: run.first.entry))


def _at(fact: Fact, device: str) -> Fact:
    return (
        replace(fact, device="" if fact.device == device else fact.device or "a device not named") if device else fact
    )


def _entries(facts: Sequence[Fact]) -> Iterator[list[Fact]]:
    """Facts of one entry together where they differ in their bolt, and the tool that pulled it, alone."""
    together: list[Fact] = []
    for fact in facts:
        same = (
            isinstance(fact, kinds.StudValue)
            and together
            and isinstance(together[0], kinds.StudValue)
            and replace(together[0], bolt=fact.bolt, pulled_with=fact.pulled_with) == fact
        )
        if together and not same:
            yield together
            together = []
        together.append(fact)
    if together:
        yield together


def _key(fact: Fact) -> tuple[Any, ...] | None:
    """What entries of one run have in common; None: it stands alone."""
    if fact.struck_by or not isinstance(fact, (kinds.StudValue, kinds.Reading)) or getattr(fact, "otherwise", False):
        return None
    names = [name for name in (*kinds.BASE, *kinds.own_fields(fact)) if name not in _OWN]
    return (fact.kind, bool(getattr(fact, "bolt", 0)), *(getattr(fact, name) for name in names))


def _run(entries: list[list[Fact]], system: System) -> Run:
    first = entries[0][0]
    if len(entries) == 1:
        plain = replace(first, bolt=0, pulled_with="") if isinstance(first, kinds.StudValue) else first
        text = sentence(plain, system)
        if isinstance(first, kinds.StudValue):
            text = text.replace("tightened", f"tightened {_bolts(entries[0])}", 1)
        common = f"{text}; item {first.item}" if first.item else text
        return Run(first, [], first.revision, common, who_and_when(first))
    days = {fact.done_at.date() for (fact, *_) in entries if fact.done_at is not None}
    day = f"; {days.pop()}" if len(days) == 1 else ""
    blank: dict[str, Any] = {name: _DEFAULTS[type(first)][name] for name in _OWN if name in _DEFAULTS[type(first)]}
    common = f"{sentence(replace(first, **blank), system)}; item {first.item}{day}"
    who = who_and_when(replace(first, done_at=None, entered_at=None, late=False))
    return Run(
        first, [(each[0].entry, _own(each, system, bool(day))) for each in entries], first.revision, f"{common}:", who
    )


_DEFAULTS: dict[type[Fact], dict[str, Any]] = {
    kind: {name: each.default for name, each in kind.__dataclass_fields__.items()}
    for kind in (kinds.StudValue, kinds.Reading)
}


def _bolts(facts: list[Fact]) -> str:
    return "+".join(_bolt(fact) for fact in facts)


def _bolt(fact: Fact) -> str:
    number = str(getattr(fact, "bolt", 0))
    return (
        f"{number} pulled with {fact.pulled_with}" if isinstance(fact, kinds.StudValue) and fact.pulled_with else number
    )


def _own(facts: list[Fact], system: System, day: bool) -> str:
    fact = facts[0]
    parts = [f"bolt {_bolts(facts)}"] if getattr(fact, "bolt", 0) else []
    for name in ("where", "place", "value", "typed", "moved"):
        if hasattr(fact, name) and (text := said(fact, name, system)):
            words = kinds.name_of(name)
            parts.append(words if text == "yes" else text if name in ("where", "value") else f"{words} {text}")
    if fact.done_at:
        parts.append(f"{fact.done_at:%H:%M}" if day else f"{fact.done_at:%Y-%m-%d %H:%M}")
    if fact.late and fact.entered_at:
        parts.append(f"entered {fact.entered_at:%Y-%m-%d %H:%M}")
    return ", ".join(part for part in parts if part)

"""What every kind of sheet needs: values as cells, checks, cautions, places to sign."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from splitline.assess.accepted import Accepted
from splitline.assess.assessment import Assessment
from splitline.assess.keys import registry
from splitline.assess.result import Check, ItemResult, Verdict
from splitline.plan.model import Plan
from splitline.report.blocks import (
    MISSING,
    Align,
    Blank,
    Block,
    Cautions,
    Cell,
    Facts,
    Heading,
    Large,
    Para,
    Points,
    Sheet,
    Signs,
    Strong,
    Table,
    text_of,
)
from splitline.report.kit_lines.line import rated
from splitline.report.pdf.paper import PAPERS, Paper
from splitline.units import System, show

MOST = 7  # checks above all else on a sheet; the drawing must keep its page
MARKS = {"ok": "✓", "near": "◐", "fails": "▲", "missing": "○", "on-site": "◌"}
RULES = "The machine's drawing, the maker's instructions, site rules, local codes and licensed practice come first."

NO_ACCEPTANCE = "no acceptance given"


@dataclass(frozen=True, slots=True)
class Options:
    """How sheets are made."""

    system: System = "SI"
    paper: Paper = PAPERS["A4"]
    examples: int = 0  # values that are still a starting plan's

    @property
    def room(self) -> float:
        """Width of the text, mm of A4."""
        return self.paper.room


def cell(results: Mapping[str, Any], key: str, of: str, system: System) -> Cell:
    """One result as text with its unit; missing where the assessment does not have it."""
    return shown(results.get(key), registry(of)[key].kind, system) if key in registry(of) else MISSING


def shown(value: Any, kind: str, system: System) -> Cell:
    """A value as text with its unit; missing where there is none."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return MISSING
    return f"{value:.0f}" if kind == "count" else show(value, kind, system)


def capacity(value: float | None, system: System) -> Cell:
    """A rated capacity, missing where there is none."""
    return MISSING if value is None else rated(value, system)


def band(low: Any, high: Any, kind: str, system: System) -> Cell:
    """A range; missing where neither end is known."""
    if low is None and high is None:
        return MISSING
    if low is None or high is None:
        word, value = ("at least", low) if high is None else ("at most", high)
        return f"{word} {text_of(shown(value, kind, system))}"
    first, last = show(low, kind, system), show(high, kind, system)
    return first if first == last else f"{first} to {last}"


def stretch_accepted(accepted: Accepted, system: System) -> Cell:
    """The stretch that is accepted; in words where nobody said which."""
    return NO_ACCEPTANCE if accepted.stretch == (None, None) else band(*accepted.stretch, "length", system)


def given(value: str | None) -> Cell:
    """Text of the plan, or missing."""
    return value or MISSING


def strong(value: Cell) -> Cell:
    """The same cell standing out."""
    return Strong(value) if isinstance(value, str) else value


def large(value: Cell) -> Cell:
    """The same cell as what is set on a tool or stops the work: read from the sheet at arm's length."""
    return Large(value) if isinstance(value, str) else value


def facts(rows: Iterable[tuple[str, Cell | None]]) -> Facts:
    """Facts; rows of None are left out."""
    return Facts(tuple((label, value) for label, value in rows if value is not None))


def cautions_of(item: ItemResult) -> tuple[Block, ...]:
    """The item's cautions in their frame."""
    texts = tuple(dict.fromkeys(caution.text for caution in item.cautions))
    return (Cautions(texts),) if texts else ()


def cautioned(sheet: Sheet, plan: Plan, assessment: Assessment, items: Iterable[tuple[str, str]]) -> Sheet:
    """The sheet with what its planner wrote at the steps of these items above it, and all in brief on every page."""
    wanted = set(items)
    steps = [(place, step) for place, step in enumerate(plan.steps, 1) if step.target in wanted]
    own = tuple(f"Step {place}: {step.caution}" for place, step in steps if step.caution)
    found = [
        caution for item in wanted if (result := assessment.find(*item)) is not None for caution in result.cautions
    ]
    brief = tuple(dict.fromkeys(caution.short for caution in found))
    return replace(sheet, blocks=(*((Cautions(own),) if own else ()), *sheet.blocks), cautions=brief)


def broken(item: ItemResult, system: System) -> tuple[Block, ...]:
    """Checks that fail or miss an input: above all else on a sheet."""
    return _checks(item, system, ("fails", "missing"), "NOT READY: see these first")


def to_watch(item: ItemResult, system: System) -> tuple[Block, ...]:
    """Checks that are near their limit or wait for a value known only on the job."""
    return _checks(item, system, ("on-site", "near"), "Near limit, or to enter")


def _checks(item: ItemResult, system: System, order: tuple[Verdict, ...], title: str) -> tuple[Block, ...]:
    worst = item.checks_of(*order)
    if not worst:
        return ()
    rows = [
        (f"{MARKS[check.verdict]} {check.verdict}", check.title, check_said(check, system))
        for check in sorted(worst, key=lambda check: order.index(check.verdict))
    ]
    if len(rows) > MOST:
        more = ", ".join(dict.fromkeys(name for _, name, _ in rows[MOST - 1 :]))
        rows = [
            *rows[: MOST - 1],
            (rows[MOST - 1][0], f"and {len(worst) - MOST + 1} more", f"{more}: `splitline check` says all"),
        ]
    return (Table(("Verdict", "Check", "Result"), tuple(rows), (1.1, 3, 4.2), title=title, small=True),)


def check_said(check: Check, system: System) -> str:
    """The check in words with its note."""
    said = check.said(system)
    if check.note and check.demand is not None:  # else it is what was said
        said = f"{said}; {check.note}" if said else check.note
    return said


def steps_of(plan: Plan, kind: str, ident: str) -> list[Any]:
    """Steps of the order of work that point at an item."""
    return [step for step in plan.steps if step.target == (kind, ident)]


def signs(plan: Plan, kind: str, ident: str, *more: tuple[str, str]) -> tuple[Block, ...]:
    """Hold and witness points of an item, and what else is signed."""
    rows: list[tuple[str, str]] = []
    for step in steps_of(plan, kind, ident):
        if step.hold:
            rows.append((f"H HOLD: {step.heading}", step.hold))
        if step.witness:
            rows.append((f"W WITNESS: {step.heading}", step.witness))
    rows += more
    return (Signs(tuple(rows)),) if rows else ()


def notes_of(item: ItemResult, own: str | None = None) -> tuple[Block, ...]:
    """Notes of plan and assessment."""
    texts = tuple(text for text in (own, *item.notes) if text)
    return (Heading("Notes"), Points(texts)) if texts else ()


def checks_table(item: ItemResult, system: System) -> Table:
    """Every check with its numbers and its basis."""
    rows = [
        (
            f"{MARKS[check.verdict]} {check.verdict}",
            check.title,
            check_said(check, system),
            "" if check.usage is None else f"{check.usage:.2f}",
            check.basis,
        )
        for check in item.checks
    ]
    widths = (1.1, 2.6, 2.6, 0.7, 2.6)
    align: tuple[Align, ...] = ("left", "left", "left", "right")
    return Table(("Verdict", "Check", "Result", "Usage", "Basis"), tuple(rows), widths, align, "Checks", small=True)


def write_in(labels: Sequence[str], title: str = "") -> Table:
    """Labels with a place to write beside each."""
    return Table(("", ""), tuple((label, Blank()) for label in labels), (1, 1.4), title=title, tall=True)


def small(text: str) -> Para:
    """A paragraph in small type."""
    return Para(text, "small")

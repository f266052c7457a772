"""The order of work: steps with what they need, hold and witness points, minutes and waits; and the time limits."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.assess.assessment import Assessment
from splitline.plan.hold_words import statement_of
from splitline.plan.model import Plan
from splitline.plan.numbers import number_of
from splitline.report.blocks import MISSING, Align, Blank, Block, Cautions, Cell, Para, Sheet, Strong, Table, text_of
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.report.sheets.names import names_of
from splitline.units import show

# A box for who did it, and one for who signs the hold or was there to witness: two people, two boxes.
BOXES = ("Done: name, date, time", "Hold, witness: name, date, time")


def work_sheet(plan: Plan, assessment: Assessment, options: Options) -> Sheet:
    """The whole order of work."""
    blocks: list[Block] = [common.small(common.RULES)]
    if plan.info.notes:
        blocks.append(Para(plan.info.notes, "strong"))
    blocks += _people(plan)
    blocks.append(_steps(plan, assessment, options))
    blocks += _statements(plan)
    texts = _cautions(plan, assessment)
    if texts:
        blocks.append(Cautions(texts))
    if plan.windows:
        blocks.append(_windows(plan, assessment, options))
    blocks += _traced(plan)
    return Sheet("work", "", "Order of work", tuple(blocks), "Order of work")


def _cautions(plan: Plan, assessment: Assessment) -> tuple[str, ...]:
    """Every caution once, with the numbers of the steps it stands at."""
    at: dict[str, list[str]] = {}
    for place, step in enumerate(plan.steps, 1):
        for caution in assessment.cautions(step.id):
            at.setdefault(caution.text, []).append(str(place))
    return tuple(f"{'Step' if len(at[text]) == 1 else 'Steps'} {', '.join(at[text])}: {text}" for text in at)


def _people(plan: Plan) -> list[Block]:
    info = plan.info
    rows = (
        ("Prepared", info.prepared_by or Blank(), Blank()),
        ("Checked", info.checked_by or Blank(), Blank()),
        ("Approved", info.approved_by or Blank(), Blank()),
    )
    return [Table(("", "Name", "Date, signature"), rows, (1, 3, 3), tall=True)]


def _steps(plan: Plan, assessment: Assessment, options: Options) -> Table:
    numbers = {step.id: place for place, step in enumerate(plan.steps, 1)}
    rows = []
    for place, step in enumerate(plan.steps, 1):
        result = assessment.find("step", step.id)
        results = result.results if result is not None else {}
        point = [f"H HOLD: {step.hold}"] if step.hold else []
        point += [f"W WITNESS: {step.witness}"] if step.witness else []
        needs = ", ".join(str(numbers.get(need, need)) for need in step.needs or ())
        start = results.get("starts_after")
        text = step.text or step.heading
        if step.passes:
            text += f" [{', '.join(str(name) for name in step.passes)}]"
        rows.append(
            (
                Strong(str(place)),
                f"{text} ({_pointed(plan, *step.target)})" if step.target else text,
                Strong("\n".join(point)) if step.hold else "\n".join(point),
                needs,
                common.shown(results.get("duration"), "time", options.system),
                "" if start is None else show(start, "time", options.system, "h", 1).removesuffix(" h"),
                f"{step.crew}" if step.crew is not None else "",
                Blank(),
                Blank() if step.hold or step.witness else "",
            )
        )
    head = ("No.", "Step", "Hold or witness", "Needs", "Duration", "Starts after, h", "Crew", *BOXES)
    align: tuple[Align, ...] = ("right", "left", "left", "left", "right", "right", "right", "left", "left")
    return Table(head, tuple(rows), (0.5, 3.4, 2.2, 0.8, 0.9, 0.8, 0.6, 1.7, 1.7), align, tall=True)


def _statements(plan: Plan) -> list[Block]:
    """What each hold is signed on: who signs reads it before the name goes under."""
    rows = tuple(
        (Strong(str(place)), step.hold or "", Strong(statement_of(step, plan)))
        for place, step in enumerate(plan.steps, 1)
        if step.hold
    )
    title = "What each hold is signed on: I have seen"
    return [Table(("No.", "Role", "Statement"), rows, (0.5, 1.8, 7), ("right",), title=title)] if rows else []


_SPARE_LINES = 3  # of each table, for what the plan does not know


def _traced(plan: Plan) -> list[Block]:
    """Where batches, serial numbers and what is left to do are written: the record asks for them."""
    used = [item for item in plan.items if item.kind not in ("instrument", "guide pins")]
    parts = [(item.title, Blank(), Blank(), Blank() if item.kind == "seal" else "", Blank()) for item in used]
    gauges = [
        (
            item.title,
            item.serial or Blank(),
            item.calibration_due.isoformat() if item.calibration_due else Blank(),
            Blank(),
        )
        for item in plan.items
        if item.kind == "instrument"
    ]
    return [
        _lines(
            "Parts used, seals fitted",
            ("Part", "Count", "Batch", "Cured on", "Step, name"),
            parts,
            (3, 0.8, 1.6, 1.4, 2.4),
        ),
        _lines(
            "Instruments", ("Instrument", "Serial", "Calibrated until", "Read in steps, name"), gauges, (3, 1.6, 1.6, 3)
        ),
        _lines("Open points", ("What is left to do", "Who", "By when", "Done: name, date"), [], (4.2, 1.6, 1.2, 2.2)),
    ]


def _lines(title: str, head: tuple[str, ...], rows: Sequence[tuple[Cell, ...]], widths: tuple[float, ...]) -> Table:
    blank: tuple[Cell, ...] = tuple(Blank() for _ in head)
    return Table(head, (*rows, *(blank for _ in range(_SPARE_LINES))), widths, title=title, tall=True)


def _pointed(plan: Plan, kind: str, ident: str) -> str:
    """What a step works on: number and id."""
    place = next((place for place, item in enumerate(plan.of_kind(kind)) if item.id == ident), None)
    return ident if place is None else f"{number_of(kind, place)} {ident}"


def _windows(plan: Plan, assessment: Assessment, options: Options) -> Table:
    rows = []
    names = names_of(plan)
    for window in plan.windows:
        result = assessment.find("window", window.id)
        results = result.results if result is not None else {}
        limits = common.band(window.at_least, window.at_most, "time", options.system)
        planned = common.cell(results, "elapsed", "window", options.system)
        verdict = result.verdict if result is not None else "missing"
        moments: Cell = MISSING
        if window.from_ and window.to:
            moments = f"{names.moment(window.from_)}\nto {names.moment(window.to)}"
        rows.append((window.title, moments, common.strong(limits), f"{text_of(planned)}, {verdict}", Blank(), Blank()))
    head = ("Time limit", "From, to", "Allowed", "Planned", "Began", "Ended")
    return Table(head, tuple(rows), (2.6, 2.2, 1.6, 1.6, 1.2, 1.2), title="Time limits", tall=True)

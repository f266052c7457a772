"""The sheet of an insertion: expected and STOP force, and the log of force against travel."""

from __future__ import annotations

from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model import Insertion, Plan
from splitline.report.blocks import Beside, Blank, Block, Facts, Sheet, Strong, Table, row
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.units import show, split

LINES = 30


def insertion_sheet(insertion: Insertion, result: ItemResult, plan: Plan, options: Options) -> Sheet:
    """The sheet of one insertion."""
    results, system = result.results, options.system
    stop: list[tuple[str, Any]] = [
        ("STOP at force", common.large(common.cell(results, "stop_force", "insertion", system))),
        ("STOP at jack pressure", common.large(common.cell(results, "stop_pressure", "insertion", system))),
        ("STOP also", "on any jump of the force"),
        ("Relief valve set to", Blank(split(0.0, "pressure", system)[1])),
    ]
    blocks: list[Block] = [
        *common.cautions_of(result),
        *common.broken(result, system),
        Beside((about(insertion, results, options),), (common.facts(stop),), 0.55),
        *common.to_watch(result, system),
        _checklist(),
        *common.signs(plan, "insertion", insertion.id, ("Full stroke, seated on its shoulder", "")),
        *common.notes_of(result, insertion.notes),
        _log(insertion, results, options),
    ]
    return Sheet("insertion", insertion.id, insertion.title, tuple(blocks), "Insertion sheet")


def about(insertion: Insertion, results: Any, options: Options) -> Facts:
    """What is planned, in figures."""
    system = options.system
    low, high = results.get("push_force_low"), results.get("push_force_high")
    jack = None
    if insertion.jacks is not None and insertion.jack_area is not None:
        jack = f"{insertion.jacks} × {show(insertion.jack_area, 'area', system)}"
    return common.facts(
        [
            ("Mass", common.shown(insertion.mass, "mass", system)),
            ("Distance", common.shown(insertion.distance, "length", system)),
            ("Push force expected", common.strong(common.band(low, high, "force", system))),
            ("Push force before the seals enter", common.cell(results, "push_force_free", "insertion", system)),
            ("Jack pressure at most expected", common.cell(results, "jack_pressure", "insertion", system)),
            ("Jacks", common.given(jack)),
            ("One jack ahead of the other, at most", common.cell(results, "jack_lead", "insertion", system)),
            ("Strokes", common.cell(results, "strokes", "insertion", system)),
            ("Front, rear support", _supports(results, system)),
        ]
    )


def _supports(results: Any, system: Any) -> Any:
    front, rear = results.get("track_front"), results.get("track_rear")
    return None if front is None or rear is None else f"{show(front, 'force', system)}, {show(rear, 'force', system)}"


def _checklist() -> Table:
    rows = tuple(
        (text, Blank())
        for text in (
            "Bore and lead-in chamfer clean and deburred, tracks aligned to the bore",
            "O-rings and back-up rings: compound, size, cure date, no twist, lubricated",
            "Nobody between bundle and jack beam; relief valve set; stop signal agreed",
        )
    )
    return Table(("Before the first stroke", "Name"), rows, (4, 1), tall=True)


def _log(insertion: Insertion, results: Any, options: Options) -> Table:
    """Force against travel: a line for every stroke and some between."""
    system = options.system
    units = [split(0.0, kind, system)[1] for kind in ("length", "pressure", "force")]
    strokes = results.get("strokes")
    lines = LINES if strokes is None else max(LINES, min(round(strokes) * 2, 60))
    dial = split(0.0, "length", system)[1]
    rows = tuple(
        row(Strong(str(line)), Blank(), *(Blank(unit) for unit in units), Blank(dial), Blank(dial), Blank())
        for line in range(1, lines + 1)
    )
    del insertion
    head = ("No.", "Time", "Travel", "Jack pressure", "Force", "Dial 3 o'clock", "Dial 9 o'clock", "Name")
    each = "100 mm" if system == "SI" else "4 in"
    title = f"Force log: at every stroke, at each {each}, and where a seal enters"
    return Table(head, rows, (0.6, 1, 1.2, 1.3, 1.2, 1.3, 1.3, 1.3), title=title, tall=True)

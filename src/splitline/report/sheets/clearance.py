"""The sheet of clearances: as found and as left, with limits and what follows from a reading."""

from __future__ import annotations

from typing import Any

from splitline.assess.clearance_reading import REPEAT, beside, reading_of
from splitline.assess.result import ItemResult
from splitline.plan.model import Clearance, Plan
from splitline.report.blocks import MISSING, Blank, Block, Cell, Facts, Heading, Para, Sheet, Strong, Table, Together
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.units import show, split

HOW = {
    "measure": "Measure twice; write the instrument.",
    "float-split": "Stop to stop, thrust shoes out, three repeats within {repeat}; a second indicator at the far end.",
    "shim": "Thrust shoes in. Tag every shim with its thickness and side.",
    "tilting-pad": "Readings are indicator lifts; the clearance is the lift over the factor.",
    "probe": "Set at mid-float; read the gap voltage and compare with the indicator at both stops.",
}


def clearance_sheet(pairs: list[tuple[Clearance, ItemResult]], plan: Plan, options: Options) -> Sheet:
    """All clearances of a plan, one block each."""
    blocks: list[Block] = [common.small("As found is written before anything is changed. Limits count as inside.")]
    for clearance, result in pairs:
        blocks += _one(clearance, result, plan, options)
    ident = pairs[0][0].id if len(pairs) == 1 else ""
    title = pairs[0][0].title if len(pairs) == 1 else "Clearances, as found and as left"
    return Sheet("clearance", ident, title, tuple(blocks), "Clearance sheet")


def _one(clearance: Clearance, result: ItemResult, plan: Plan, options: Options) -> list[Block]:
    rows = [row for row in _about(clearance, result, options) if row[1] is not None]
    unit = split(0.0, "voltage" if clearance.kind == "probe" else "length", options.system)[1]
    found, left = _entered(clearance.as_found, options), _entered(clearance.as_left, options)
    places = ("1", "2", "3") if clearance.kind in ("float-split", "shim", "tilting-pad") else ("1", "2")
    values = (("as found", found), *((name, "") for name in beside(clearance)), ("as left, or measured", left))
    lines: tuple[tuple[Cell, ...], ...] = tuple(
        (Strong(name), value, *(Blank(unit) for _ in places), Blank(), Blank()) for name, value in values
    )
    head = ("", "in the plan", *(f"reading {place}" for place in places), "instrument, °C", "name, date")
    block = (
        Heading(clearance.title),
        Facts(tuple((label, value) for label, value in rows if value is not None)),
        *common.cautions_of(result),
        Table(head, lines, (1.1, 1.2, *(1.2,) * len(places), 1.7, 1.9), tall=True),
        *([common.small(_how(clearance, options))] if clearance.kind in HOW else []),
        *([Para(clearance.notes, "small")] if clearance.notes else []),
        *common.signs(plan, "clearance", clearance.id),
    )
    return [Together(block)]


def _how(clearance: Clearance, options: Options) -> str:
    return HOW[clearance.kind].format(repeat=show(REPEAT, "length", options.system))


def _entered(value: float | None, options: Options) -> Cell:
    return show(value, "size", options.system) if value is not None else ""


def _about(clearance: Clearance, result: ItemResult, options: Options) -> list[tuple[str, Cell | None]]:
    results, system = result.results, options.system
    way = {True: " on diameter", False: " on radius", None: ""}[clearance.diametral]
    limits = common.band(clearance.low, clearance.high, "size", system)
    rows: list[tuple[str, Cell | None]] = [
        ("Id, kind", f"{clearance.id}, {clearance.kind}"),
        (f"Limits{way}", limits if clearance.kind == "tilting-pad" else common.strong(limits)),
        ("Wanted", show(clearance.wanted, "size", system) if clearance.wanted is not None else None),
        ("Shim in place, side", _shim(clearance, system)),
        ("Limits from", clearance.source),
    ]
    rows += [(label, common.cell(results, key, "clearance", system)) for label, key in _derived(clearance, results)]
    if clearance.kind == "tilting-pad":
        rows.append(("Indicator lift accepted", common.strong(_lift(clearance, system))))
    if clearance.kind == "probe":
        rows.append(("Gap voltage accepted", _voltage(clearance, system)))
    if clearance.kind == "float-split":
        split_said = f"{clearance.split:g} to the active side" if clearance.split is not None else None
        rows.append(("Split", split_said or (None if clearance.offset is None else "by offset")))
        low, high = results.get("position_low"), results.get("position_high")
        if clearance.split_tolerance is not None:
            spread = f"within {show(clearance.split_tolerance, 'size', system)} of its place, by the float"
            rows.append(("Rotor as set", spread if low is None else common.band(low, high, "size", system)))
    return rows


def _derived(clearance: Clearance, results: Any) -> list[tuple[str, str]]:
    wanted = {
        "float-split": (
            ("Rotor from the active stop", "active_side"),
            ("Set cold, from the active stop", "position_cold"),
            ("on its active face", "position_active"),
            ("on its inactive face", "position_inactive"),
        ),
        "shim": (
            ("Shim change (minus: take out)", "shim_change"),
            ("Shim to fit", "shim_new"),
            ("out of the set", "shim_pack"),
            ("Active side, shim change", "shim_active"),
            ("Inactive side, shim change", "shim_inactive"),
        ),
        "probe": (
            ("Set at mid-float", "probe_set"),
            ("at the near stop", "probe_near"),
            ("at the far stop", "probe_far"),
        ),
        "tilting-pad": (("Lift over clearance", "lift_factor"),),
    }
    return [(label, key) for label, key in wanted.get(clearance.kind, ()) if key in results]


def _lift(clearance: Clearance, system: Any) -> Cell:
    limits = reading_of(clearance)
    return common.band(limits.low, limits.high, "size", system)


def _voltage(clearance: Clearance, system: Any) -> Cell:
    limits = reading_of(clearance)
    return common.band(limits.low, limits.high, "voltage", system)


def _shim(clearance: Clearance, system: Any) -> Cell | None:
    if clearance.kind != "shim":
        return None
    if clearance.shim is None or clearance.side is None:
        return MISSING
    return f"{show(clearance.shim, 'size', system)}, {clearance.side}"

"""The sheet of a fit: section, figures, mounting steps with their limits, and the log to fill in."""

from __future__ import annotations

from typing import Any

from splitline.assess.fit_step import name_of
from splitline.assess.fit_steps import Limit, MountingStep
from splitline.assess.result import ItemResult
from splitline.plan.model import Fit, Plan
from splitline.report.blocks import (
    MISSING,
    Beside,
    Blank,
    Block,
    Cell,
    Facts,
    Heading,
    Picture,
    Sheet,
    Strong,
    Table,
    row,
)
from splitline.report.pictures.fit_section import fit_section
from splitline.report.sheets import common
from splitline.report.sheets.common import Options
from splitline.units import show, split

WAITS = "Times are waits at least: write start and end."


def fit_sheet(fit: Fit, result: ItemResult, plan: Plan, options: Options) -> Sheet:
    """The sheet of one fit."""
    figures = about(fit, result, options)
    wide = (options.room - 4) * 0.5
    drawing = fit_section(result.fit.section, wide, 84, options.paper.zoom, options.system)
    blocks: list[Block] = [*common.cautions_of(result), *common.broken(result, options.system)]
    if drawing is None:
        blocks += [Facts((("Section", MISSING),)), figures]
    else:
        blocks.append(Beside((Picture(drawing, _drawn(fit)),), (figures,), 0.5))
    blocks += common.to_watch(result, options.system)
    blocks += [_diameters(fit, options), *_mounting(result, options), *_removal(result, options)]
    blocks += common.signs(plan, "fit", fit.id)
    blocks += common.notes_of(result, fit.notes)
    return Sheet("fit", fit.id, fit.title, tuple(blocks), "Fit sheet")


def _drawn(fit: Fit) -> str:
    return "Taper drawn so that it shows." if fit.taper else ""


def about(fit: Fit, result: ItemResult, options: Options) -> Facts:
    """What is planned, in figures."""
    results, system = result.results, options.system

    def pair(key: str, kind: str) -> Cell:
        low, high = results.get(f"{key}_low"), results.get(f"{key}_high")
        if low is None and high is None:
            return common.cell(results, key, "fit", system)
        return common.band(low, high, kind, system)

    rows: list[tuple[str, Cell | None]] = [
        ("Mounted by", common.strong(common.given(fit.mounting))),
        ("Diametral interference", common.strong(pair("interference", "length"))),
        ("Advance on the taper", common.strong(pair("advance", "size")) if fit.taper else None),
        (
            f"Advance per {show(0.01e-3, 'length', system)} interference",
            _per_hundredth(results, system) if fit.taper else None,
        ),
        ("Contact pressure at rest", pair("contact_pressure", "pressure")),
        ("Contact pressure at speed", pair("contact_pressure_at_speed", "pressure") if fit.speed else None),
    ]
    rows += _by_mounting(fit, results, options, pair)
    rows += [
        ("Energy in the fit", common.cell(results, "stored_energy", "fit", system)),
        ("Capacity over duty", common.cell(results, "grip_reserve", "fit", system)),
        ("Stop dimension", show(fit.stop_dimension, "size", system) if fit.stop_dimension is not None else None),
    ]
    return common.facts(rows)


def _per_hundredth(results: Any, system: Any) -> Cell:
    return common.cell(results, "advance_per_hundredth", "fit", system)


def _by_mounting(fit: Fit, results: Any, options: Options, pair: Any) -> list[tuple[str, Cell | None]]:
    system = options.system
    if fit.mounting == "oil":
        low, high = results.get("expansion_pressure"), results.get("expansion_pressure_high")
        top = fit.max_expansion_pressure
        return [
            ("Oil to float, min to max", common.strong(common.band(low, high, "pressure", system))),
            ("Oil pressure at most, drawing", common.shown(top, "pressure", system)),
            ("Oil pressure never above", common.strong(common.cell(results, "oil_pressure_limit", "fit", system))),
            ("Ram force", common.strong(pair("push_force", "force"))),
            ("Ram pressure", common.cell(results, "ram_pressure", "fit", system) if fit.ram_area else None),
            ("Seating load for the zero", show(fit.seating_load, "force", system) if fit.seating_load else None),
            ("Ram holds after release", common.cell(results, "oil_hold", "fit", system)),
            ("Drain before torque", common.cell(results, "drain", "fit", system)),
        ]
    if fit.mounting == "heat":
        hot = common.cell(results, "hub_temperature_mounting", "fit", system)
        return [
            ("Heat by", common.strong(common.cell(results, "heating_rise", "fit", system))),
            (f"{name_of(fit).capitalize()} temperature", common.strong(hot)),
            ("Handling gap", common.cell(results, "handling_gap", "fit", system)),
            ("Gauge for the hot bore", common.strong(common.cell(results, "bore_gauge", "fit", system))),
            ("Time to the seat", common.cell(results, "carrying_time", "fit", system)),
            ("Shaft cooled to", show(fit.shaft_cooled_to, "temperature", system) if fit.shaft_cooled_to else None),
        ]
    return [("Push force", common.strong(pair("push_force", "force")))]


def _diameters(fit: Fit, options: Options) -> Table:
    unit = split(0.0, "length", options.system)[1]
    rows = tuple(row(Strong(what), *(Blank(unit) for _ in range(4)), Blank(), Blank()) for what in ("shaft", "bore"))
    head = ("Measured", "plane 1, 0°", "plane 1, 90°", "plane 2, 0°", "plane 2, 90°", "temperature", "by, instrument")
    del fit
    return Table(
        head, rows, (1.2, 1.2, 1.2, 1.2, 1.2, 1.3, 2), title="Diameters, both parts at one temperature", tall=True
    )


def _mounting(result: ItemResult, options: Options) -> list[Block]:
    steps: tuple[MountingStep, ...] = result.fit.mounting
    if not steps:
        return [Facts((("Mounting steps", MISSING),))]
    rows = [_step(step, options) for step in steps]
    head = ("No.", "Action", "Limits", "Reading", "Time", "Name")
    out: list[Block] = [
        Heading("Mounting, step by step"),
        Table(head, tuple(rows), (0.5, 4.2, 4.2, 1.6, 0.9, 1.2), tall=True, small=True),
    ]
    logged = [step for step in steps if len(step.log) > 1]
    if logged:
        out.append(_log(logged, options))
    return out


def _step(step: MountingStep, options: Options) -> tuple[Cell, ...]:
    sign = {"hold": "H HOLD. ", "witness": "W WITNESS. "}.get(step.sign, "")
    wait = f" Wait {show(step.wait, 'time', options.system)}." if step.wait else ""
    text = f"{sign}{step.text}{wait}"
    limits = "\n".join(limit.said(options.system) for limit in step.limits)
    single: Cell = "in the log" if len(step.log) > 1 else Blank(_unit(step.log[0], options)) if step.log else ""
    return Strong(str(step.number)), Strong(text) if sign else text, limits, single, Blank(), Blank()


def _unit(limit: Limit, options: Options) -> str:
    return "" if limit.kind == "share" else split(0.0, limit.kind, options.system)[1]


def _log(steps: list[MountingStep], options: Options) -> Table:
    """One line a figure, step by step, with what is expected beside the place to write."""
    rows: list[tuple[Cell, ...]] = []
    for step in steps:
        for place, limit in enumerate(step.log):
            number: Cell = Strong(str(step.number)) if place == 0 else ""
            rows.append(
                (number, limit.title, _expected(limit, options), Blank(_unit(limit, options)), Blank(), Blank())
            )
    head = ("Step", "Reading", "Expected", "Value", "Time", "Name")
    return Table(head, tuple(rows), (0.5, 3, 3.6, 1.8, 1, 1.4), title="Log", tall=True, small=True)


def _expected(limit: Limit, options: Options) -> str:
    said = limit.said(options.system)
    return said.removeprefix(limit.title).strip() or "write down"


def _removal(result: ItemResult, options: Options) -> list[Block]:
    steps: tuple[MountingStep, ...] = result.fit.removal
    if not steps:
        return []
    rows = tuple(_step(step, options) for step in steps)
    return [
        Table(("No.", "Action", "Limits", "Reading", "Time", "Name"), rows, (0.5, 4.6, 3.8, 1.6, 0.9, 1.2),
              title="Taking it off again, if it must come off", tall=True, small=True)
    ]  # fmt: skip

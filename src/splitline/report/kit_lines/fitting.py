"""What mounting fits and pushing bundles in takes: pumps, rams, jacks and their gauges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.plan.model import Fit, Insertion, Plan
from splitline.report.kit_lines.gauges import gauge_line
from splitline.report.kit_lines.line import Line, merged
from splitline.units import System, show

PUMPS, HEAT = "Pumps and gauges", "Heating"


def fitting_lines(plan: Plan, assessment: Assessment, system: System) -> list[Line]:
    """Lines of fits and insertions."""
    found: list[Line] = []
    for fit in plan.fits:
        item = assessment.find("fit", fit.id)
        found += _fit(fit, item.results if item is not None else {}, system)
    for insertion in plan.insertions:
        item = assessment.find("insertion", insertion.id)
        found += _insertion(insertion, item.results if item is not None else {}, system)
    return merged(found)


def _fit(fit: Fit, results: Any, system: System) -> Iterator[Line]:
    used = (fit.id,)
    push = results.get("push_force_high", results.get("push_force"))
    ram = f"at least {show(push, 'force', system)}" if push is not None else None
    if fit.mounting == "oil":
        yield Line(PUMPS, "oil injection pump, hand operated", "", 1, 1, (), used)
        yield gauge_line("gauge of the injection pump", results.get("expansion_pressure_high"), fit.id, system)
        yield Line(PUMPS, "mounting ram with its own pump", ram, 1, 0, (), used)
        yield gauge_line("gauge of the mounting ram", results.get("ram_pressure"), fit.id, system)
    elif fit.mounting == "heat":
        hot = results.get("hub_temperature_mounting")
        size = f"to {show(hot, 'temperature', system)}" if hot is not None else None
        means = f"heater for the {fit.part or 'hub'}" + (f": {fit.heat_by}" if fit.heat_by else "")
        yield Line(HEAT, means, size, 1, 0, (), used)
        if fit.shaft_cooled_to is not None:
            cold = f"to {show(fit.shaft_cooled_to, 'temperature', system)}"
            yield Line(HEAT, "bath to cool the shaft in", cold, 1, 0, (), used)
        yield Line(HEAT, "contact thermometer", "", 2, 1, (), used)
    elif fit.mounting == "press":
        yield Line(PUMPS, "press or ram with gauge", ram, 1, 0, (), used)


def _insertion(insertion: Insertion, results: Any, system: System) -> Iterator[Line]:
    used = (insertion.id,)
    parts = [
        ("area", insertion.jack_area, "area"),
        ("stroke", insertion.jack_stroke, "length"),
        ("up to", insertion.jack_max_pressure, "pressure"),
    ]
    known = [f"{word} {show(value, kind, system)}" for word, value, kind in parts if value is not None]
    yield Line(PUMPS, "push jack", ", ".join(known) or None, insertion.jacks, 0, (), used)
    stop = results.get("stop_pressure")
    note = (
        f"relief valve set to {show(stop, 'pressure', system)}"
        if stop is not None
        else "relief valve set to STOP pressure"
    )
    yield Line(PUMPS, "jack pump with relief valve", "", 1, 0, (), used, note)
    yield gauge_line("gauge of the jack pump", stop, insertion.id, system)

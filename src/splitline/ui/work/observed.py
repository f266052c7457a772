"""What the record tells an assessment: readings, counts and tools that only the job knows."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from splitline.assess.assessment import Assessment
from splitline.assess.clearance_reading import LEFT, MEASURED, POSITION_FOUND, POSITION_SET, PROBE_ENDS, SIDES
from splitline.assess.context import Observed
from splitline.assess.fit_measured import FACE, INTERFERENCE, LOCKED, PLACES
from splitline.assess.step import AT_END, AT_START, BARRED
from splitline.fitting.jacks import jack_force
from splitline.plan.model import Plan
from splitline.record.entry import JOINED, Entry, Measured, Signed

# What is read on the fitter's screen -> the name an assessment knows it by.
_NAMES = {
    "as found": "as_found",
    LEFT: "as_left",
    MEASURED: "as_left",
    "contact": "taper_contact",
    "blue contact": "taper_contact",
    LOCKED[FACE]: "face_locked",
    LOCKED["advance from the zero"]: "advance_locked",
    "zero, from a fixed face": "zero",
    INTERFERENCE: "measured_interference",
    "probe gap voltage": "reading",
    "hook radius": "crane.radius",
    POSITION_SET: "position_set",
    POSITION_FOUND: "position",
    SIDES[0]: "side.left",
    SIDES[1]: "side.right",
    PROBE_ENDS[0]: "probe.near",
    PROBE_ENDS[1]: "probe.far",
    AT_START: "test_start",
    AT_END: "test_end",
    BARRED: "bar_over",
    "temperature of both parts": "parts_temperature",
    **{f"shaft, {place}": f"shaft.{n}" for n, place in enumerate(PLACES, 1)},
    **{f"{said}, {place}": f"hub.{n}" for said in ("bore", "hub bore") for n, place in enumerate(PLACES, 1)},
}


def observed_of(plan: Plan, alive: Iterable[Entry], before: Assessment | None = None) -> Observed:
    """The latest of each reading that still counts. ``before`` turns a stretch into a preload (both of the target)."""
    entered: dict[tuple[str, str], Any] = {}
    preloads: dict[str, dict[str, dict[int, float]]] = {}
    kinds = {step.id: step.target for step in plan.steps}
    for entry in alive:
        if isinstance(entry, Measured):
            _reading(plan, entry, entered, preloads, before)
        elif isinstance(entry, Signed) and entry.act == "set-up":
            _tools(plan, entry, entered)
        elif isinstance(entry, Signed) and entry.act == "count-out":
            entered[entry.step, f"counted:{entry.role}"] = entry.count
        elif isinstance(entry, Signed) and entry.act == "count-in":
            for step in plan.steps:  # it holds wherever the item is counted out again
                entered[step.id, f"counted in:{entry.role}"] = entry.count
        elif isinstance(entry, Signed) and entry.act == "tag":
            target = kinds.get(entry.step)  # a lift without a step of its own is worked on under its own id
            entered[target[1] if target else entry.step, entry.role] = entry.statement
    return Observed(entered, preloads)


def _reading(
    plan: Plan,
    entry: Measured,
    entered: dict[tuple[str, str], Any],
    preloads: dict[str, dict[str, dict[int, float]]],
    before: Assessment | None,
) -> None:
    name = _NAMES.get(entry.what)
    if name is not None:
        entered[entry.item, name] = entry.value
    elif entry.what == "gap":
        entered[entry.item, "gaps"] = (*entered.get((entry.item, "gaps"), ()), entry.value)
    elif entry.what in ("push force", "jack pressure"):
        force = entry.value if entry.what == "push force" else _jacks(plan, entry.item, entry.value)
        if force is not None:
            entered[entry.item, "force_log"] = (*entered.get((entry.item, "force_log"), ()), force)
    elif entry.what == "stretch" and entry.bolt is not None and entry.pass_ and before is not None:
        load = _preload(entry.item, entry.bolt, entry.value, before)
        if load is not None:
            preloads.setdefault(entry.item, {}).setdefault(entry.pass_, {})[entry.bolt] = load


def _jacks(plan: Plan, insertion: str, pressure: float) -> float | None:
    """Force (N) of the jacks at a pressure (Pa)."""
    found = next((each for each in plan.insertions if each.id == insertion), None)
    if found is None or found.jack_area is None:
        return None
    return jack_force(pressure, found.jack_area, found.jacks or 1) if pressure >= 0 else None


def _preload(joint: str, bolt: int, stretch: float, before: Assessment) -> float | None:
    """Preload (N) at a stretch, both proportional: from target preload and stretch at target of this bolt's size."""
    result = before.find("joint", joint)
    if result is None:
        return None
    own = next((size.results for size in result.sizes if bolt in size.bolts), result.results)
    full, at_full = own.get("stretch"), own.get("preload")
    return stretch / full * at_full if full and at_full else None


def _tools(plan: Plan, entry: Signed, entered: dict[tuple[str, str], Any]) -> None:
    joint = next((each for each in plan.joints if each.id == entry.joint), None)
    tools = joint.tightening.tool if joint is not None and joint.tightening is not None else ()
    serials = entry.serial.split(JOINED)
    for name, serial in zip(entry.tool.split(JOINED), serials, strict=False):
        for number, tool in enumerate(tools, 1):
            if name == (tool.name or f"tool {number}"):
                entered[entry.joint, f"tool.{number}.serial"] = serial
                if entry.calibration_due is not None:
                    entered[entry.joint, f"tool.{number}.calibration_due"] = entry.calibration_due

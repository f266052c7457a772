"""Whatever reads as a fit, an insertion or a clearance is assessed: no traceback, nothing that is not finite."""

from __future__ import annotations

import datetime as dt
import math
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from splitline.assess.assessment import _assessor
from splitline.assess.context import Context
from splitline.library.store import Library
from splitline.plan.model import KINDS

CTX = Context(Library.load(), dt.date(2026, 11, 25))


def text(low: float, high: float, unit: str) -> st.SearchStrategy[str]:
    """Quantities a person could type: nothing closer to 0 than a millionth of the range, unless 0 itself."""
    least = 1e-6 * max(abs(low), abs(high))
    return st.floats(low, high).map(lambda value: f"{0 if abs(value) < least else value:.6g} {unit}")


MM, SMALL = text(0.001, 2000, "mm"), text(0.001, 2, "mm")
FIT: dict[str, st.SearchStrategy[Any]] = {
    "shaft_diameter": text(20, 400, "mm"), "shaft_bore": text(0, 300, "mm"), "hub_outer": text(30, 900, "mm"),
    "length": text(5, 500, "mm"), "interference": SMALL, "interference_min": SMALL, "interference_max": SMALL,
    "advance": text(0.1, 20, "mm"), "advance_tolerance": text(0, 3, "mm"), "taper": st.sampled_from(["1:5", "1:30", "1:100"]),
    "shaft_material": st.sampled_from(["steel", "42CrMo4", "GJL-250"]), "hub_material": st.sampled_from(["steel", "718"]),
    "hub_modulus": text(50, 220, "GPa"), "shaft_modulus": text(50, 220, "GPa"), "hub_density": text(2000, 9000, "kg/m^3"),
    "shaft_density": text(2000, 9000, "kg/m^3"), "hub_yield": text(100, 1200, "MPa"), "smoothing": text(0, 0.1, "mm"),
    "friction": st.floats(0.01, 1), "friction_mounting": st.floats(0, 0.2), "speed": text(0, 60000, "rpm"),
    "hub_temperature": text(-100, 400, "degC"), "shaft_temperature": text(-100, 400, "degC"),
    "assembly_temperature": text(-20, 50, "degC"), "torque": text(0, 500, "kN*m"), "axial": text(0, 5000, "kN"),
    "grip_factor": st.floats(1, 10), "mounting": st.sampled_from(["oil", "heat", "press"]), "oil_hold": text(0, 60, "min"),
    "drain": text(0, 600, "min"), "max_expansion_pressure": text(1, 4000, "bar"), "max_ram_force": text(1, 9000, "kN"),
    "ram_area": text(1, 1e5, "mm^2"), "max_ram_pressure": text(1, 3000, "bar"), "stop_dimension": MM,
    "handling_gap": text(0, 1, "mm"), "max_temperature": text(-50, 400, "degC"), "ambient": text(-196, 60, "degC"),
    "carry": text(0, 60, "min"), "hub_expansion": text(1e-6, 3e-5, "1/K"), "shaft_expansion": text(1e-6, 3e-5, "1/K"),
}  # fmt: skip
INSERTION: dict[str, st.SearchStrategy[Any]] = {
    "mass": text(1, 1e5, "kg"), "friction": st.floats(0, 1), "track_slope": text(-60, 60, "deg"),
    "seals": st.integers(0, 9), "seal_diameter": MM, "seal_drag": text(0, 10, "N/mm"), "jacks": st.integers(1, 8),
    "jack_area": text(1, 1e5, "mm^2"), "jack_stroke": MM, "jack_max_pressure": text(1, 1000, "bar"), "distance": MM,
    "length": MM, "centre": MM, "supports": st.tuples(MM, MM).map(list), "track_capacity": text(0.1, 50, "t"),
}  # fmt: skip
CLEARANCE: dict[str, st.SearchStrategy[Any]] = {
    "kind": st.sampled_from(["measure", "float-split", "shim", "tilting-pad", "probe"]),
    "low": text(-2, 2, "mm"), "high": text(-2, 2, "mm"), "diametral": st.booleans(), "split": st.floats(0, 1),
    "offset": text(-2, 2, "mm"), "pads": st.integers(3, 12), "between_pads": st.booleans(), "as_found": text(-3, 3, "mm"),
    "as_left": text(-3, 3, "mm"), "wanted": text(-2, 2, "mm"), "shim": text(0, 5, "mm"), "side": st.just("active"),
    "sensitivity": st.floats(0.1, 50), "reading": text(-24, 24, "V"),
}  # fmt: skip


def assessed(kind: str, entry: dict[str, Any]) -> None:
    try:
        item = KINDS[kind].model_validate({"id": "x", "title": "X", "kind": "measure"} | entry if kind == "clearance" else {
            "id": "x", "title": "X"} | entry)  # fmt: skip
    except ValidationError:
        return
    result = _assessor(kind)(item, CTX)
    for key, value in result.results.items():
        assert math.isfinite(value), key
    for check in result.checks:
        assert check.verdict in ("ok", "near", "fails", "missing", "on-site")
        assert check.said()
        assert check.usage is None or math.isfinite(check.usage)


def some(fields: dict[str, st.SearchStrategy[Any]]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({}, optional=fields)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    some({key: value for key, value in FIT.items() if key not in ("interference_min", "interference_max", "advance")})
)
def test_any_fit_by_interference(entry: dict[str, Any]) -> None:
    assessed("fit", entry)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(some({key: value for key, value in FIT.items() if key not in ("interference", "interference_min")}))
def test_any_fit_by_advance(entry: dict[str, Any]) -> None:
    entry.pop("interference_max", None)
    assessed("fit", entry)


@settings(max_examples=150, deadline=None)
@given(some(INSERTION))
def test_any_insertion(entry: dict[str, Any]) -> None:
    assessed("insertion", entry)


@settings(max_examples=300, deadline=None)
@given(some(CLEARANCE))
def test_any_clearance(entry: dict[str, Any]) -> None:
    assessed("clearance", entry)

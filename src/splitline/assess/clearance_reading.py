"""What the reading of a clearance is and what it is judged by: screen, paper entry, sheet, kit list and ``check`` ask here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from splitline.fitting.clearance import lift_factor
from splitline.fitting.probes import LINEAR_RANGE, SENSITIVITY, sensitivity_from
from splitline.plan.model import Clearance

POSITION_SET = "rotor as set, from the active stop"
POSITION_FOUND = "rotor on its active shoes, from its stop"
LEFT, MEASURED = "as left", "measured"  # one value: as left where something was found before, else as measured
SIDES = ("left side", "right side")
REPEAT = 0.02e-3  # m, within which the repeats of a float agree: common practice, no published source
SHIM_FITTED = "shim fitted"
PROBE_ENDS = ("voltage at the near stop", "voltage at the far stop")


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading by its name and quantity with its limits in SI; None: no limit on that side, or not known."""

    name: str  # "" for the value itself; else what the instrument shows instead of it
    quantity: str
    low: float | None
    high: float | None


def factor_of(clearance: Clearance) -> float | None:
    """Indicator lift over the clearance as its limits are given; None where the plan leaves the geometry open."""
    if clearance.pads is None or clearance.between_pads is None or clearance.diametral is None:
        return None
    return lift_factor(clearance.pads, clearance.between_pads) * (1.0 if clearance.diametral else 2.0)


def sensitivity_of(clearance: Clearance) -> float:
    """Sensitivity of the probe, V/m: as given, else by its curve; 7.87 mV/µm where neither is (API 670, from memory)."""
    if clearance.sensitivity is None and clearance.curve is not None:
        return sensitivity_from(tuple(gap for gap, _ in clearance.curve), tuple(volts for _, volts in clearance.curve))
    return SENSITIVITY if clearance.sensitivity is None else clearance.sensitivity * 1000.0  # mV/µm is V/mm


def reading_of(clearance: Clearance) -> Reading:
    """What is read and its limits: a lift for tilting pads, a gap voltage for a probe, else the value itself.

    Without their geometry the lifts of tilting pads have no limits: the clearance's own would be wrong.
    A probe's voltage must lie in its linear range as well as between the limits of the gap.
    """
    low, high = clearance.low, clearance.high
    if clearance.kind == "tilting-pad":
        factor = factor_of(clearance)
        if factor is None:
            return Reading("indicator lift", "length", None, None)
        return Reading(
            "indicator lift",
            "length",
            None if low is None else factor * low,
            None if high is None else factor * high,
        )
    if clearance.kind == "probe":
        volts = sensitivity_of(clearance)
        least, most = LINEAR_RANGE
        bottom = least if high is None else max(least, -high * volts)
        top = most if low is None else min(most, -low * volts)
        return Reading("probe gap voltage", "voltage", bottom, top)
    return Reading("", "length", low, high)


def side_limits(clearance: Clearance, other: float | None) -> Reading:
    """What one feeler may read beside the ``other`` (m); None: limits of both together, which is the diametral clearance."""
    scale = 2.0 if clearance.diametral is False else 1.0
    low, high = (None if end is None else scale * end for end in (clearance.low, clearance.high))
    if other is None:
        return Reading("", "length", low, high)
    least = None if low is None or low <= other else low - other
    return Reading("", "length", least, None if high is None else high - other)


def shim_limits(clearance: Clearance, results: Mapping[str, Any]) -> tuple[float | None, float | None]:
    """The shim that is fitted (m), by what brings the float found between its limits; none before a float was found."""
    low, high = results.get("shim_change_low"), results.get("shim_change_high")
    if clearance.shim is None or low is None or high is None:
        return None, None
    return max(clearance.shim + low, 0.0), max(clearance.shim + high, 0.0)


def beside(clearance: Clearance) -> tuple[str, ...]:
    """What is read besides the value itself, in its order."""
    if clearance.sides:
        return SIDES
    if clearance.kind == "float-split" and clearance.split_tolerance is not None:
        return (POSITION_SET,)
    if clearance.kind == "shim":
        return (*((POSITION_FOUND,) if clearance.wanted_position is not None else ()), SHIM_FITTED)
    return PROBE_ENDS if clearance.kind == "probe" and clearance.axial_float is not None else ()

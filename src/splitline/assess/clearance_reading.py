"""What the reading of a clearance is and what it is judged by: screen, paper entry, sheet, kit list and ``check`` ask here."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.fitting.clearance import lift_factor
from splitline.fitting.probes import LINEAR_RANGE, SENSITIVITY
from splitline.plan.model import Clearance

POSITION_SET = "rotor as set, from the active stop"


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
    """Sensitivity of the probe, V/m; 7.87 mV/µm where none is given (API 670, from memory)."""
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

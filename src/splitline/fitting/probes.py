"""Proximity probes and shaft-vibration acceptance on the test bench and at close-up."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import not_negative, positive

SENSITIVITY = 7874.0  # V/m (7.87 V/mm, 200 mV/mil), API 670 (from memory)
LINEAR_RANGE = (-18.0, -2.0)  # V, usual for an 8 mm probe on -24 V (from memory)


def gap_change(volts_before: float, volts_after: float, sensitivity: float = SENSITIVITY) -> float:
    """Change of gap (m, positive = wider) from two probe voltages: −ΔV/sensitivity (a wider gap is more negative)."""
    return -(volts_after - volts_before) / positive(sensitivity, "probe sensitivity")


@dataclass(frozen=True, slots=True)
class ProbeCheck:
    """Probe voltage at mid-float and at both stops; ``inside`` when all stay in the linear range."""

    middle: float
    near: float
    far: float
    inside: bool


def probe_over_float(
    middle: float,
    axial_float: float,
    sensitivity: float = SENSITIVITY,
    linear_range: tuple[float, float] = LINEAR_RANGE,
) -> ProbeCheck:
    """Voltages of an axial probe set to ``middle`` (V) at mid-float, at both stops of ``axial_float`` (m).

    V = V_mid ± sensitivity × float/2; the near stop (rotor towards the probe) is the less negative one. A probe set at
    a stop instead of mid-float is a known mistake: the far stop then leaves the linear range.
    """
    half = positive(sensitivity, "probe sensitivity") * not_negative(axial_float, "axial float") / 2
    near, far = middle + half, middle - half
    low, high = linear_range
    return ProbeCheck(middle, near, far, low <= far and near <= high)


def sensitivity_from(gaps: tuple[float, ...], volts: tuple[float, ...]) -> float:
    """Sensitivity (V/m, positive) of a calibration run: least-squares slope of volts over gaps (m)."""
    if len(gaps) != len(volts) or len(gaps) < 2:
        raise InputError("a probe calibration needs two or more gaps, each with its voltage")
    mean_gap, mean_volt = sum(gaps) / len(gaps), sum(volts) / len(volts)
    spread = sum((g - mean_gap) ** 2 for g in gaps)
    if spread == 0.0:
        raise InputError("all calibration gaps are the same: move the target between readings")
    return -sum((g - mean_gap) * (v - mean_volt) for g, v in zip(gaps, volts, strict=True)) / spread

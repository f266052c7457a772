"""What a tool can do: range, torque against pressure, set values that a gauge can show.

Torque N·m, pressure Pa, area m².
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from splitline.bolting.ranges import between, not_negative, positive
from splitline.errors import InputError

BESIDE = 0.5  # middle of what can be; the tool's own factor governs
HAND_SHARE = 0.20  # ISO 6789: a hand torque tool is tested, and used, from 20 % of its range on


@dataclass(frozen=True, slots=True)
class Chart:
    """Torque of a hydraulic wrench against pump pressure: points of rising pressure, joined by straight lines."""

    pressures: tuple[float, ...]  # Pa
    torques: tuple[float, ...]  # N·m


def chart(points: Sequence[tuple[float, float]]) -> Chart:
    """Chart from (pressure Pa, torque N·m) points. InputError unless both rise from point to point."""
    ordered = sorted(points)
    if len(ordered) < 2:
        raise InputError("a torque chart needs at least two points of pressure and torque")
    for (p0, t0), (p1, t1) in pairwise(ordered):
        if p0 < 0.0 or not p1 > p0 or not t1 > t0 >= 0.0:
            raise InputError("a torque chart must rise in pressure and torque from point to point, from 0 or more")
    return Chart(tuple(p for p, _ in ordered), tuple(t for _, t in ordered))


def chart_from_factor(torque_per_pressure: float, pressure_max: float) -> Chart:
    """Chart of a wrench whose torque is proportional to pressure: factor in N·m/Pa (m³), up to pressure_max Pa."""
    positive("torque per pressure", torque_per_pressure)
    return Chart((0.0, positive("greatest pressure", pressure_max)), (0.0, torque_per_pressure * pressure_max))


def pressure_for_torque(tool: Chart, torque: float) -> float:
    """Pump pressure Pa for a torque N·m. InputError outside the chart: a chart is not stretched past its ends."""
    return _interpolate(torque, tool.torques, tool.pressures, "torque", "N·m", 1.0)


def torque_at_pressure(tool: Chart, pressure: float) -> float:
    """Torque N·m at a pump pressure Pa. InputError outside the chart."""
    return _interpolate(pressure, tool.pressures, tool.torques, "pressure", "bar", 1e-5)


def _interpolate(x: float, xs: Sequence[float], ys: Sequence[float], what: str, unit: str, scale: float) -> float:
    slack = 1e-9 * xs[-1]
    if not (math.isfinite(x) and xs[0] - slack <= x <= xs[-1] + slack):
        raise InputError(
            f"a {what} of {x * scale:.6g} {unit} is outside the tool's chart "
            f"({xs[0] * scale:.6g} to {xs[-1] * scale:.6g} {unit})"
        )
    for k in range(1, len(xs)):
        if x <= xs[k] or k == len(xs) - 1:
            return ys[k - 1] + (ys[k] - ys[k - 1]) * (x - xs[k - 1]) / (xs[k] - xs[k - 1])
    raise InputError("a torque chart needs at least two points of pressure and torque")


def hand_tool_range(torque_max: float, torque_min: float | None = None) -> tuple[float, float]:
    """Usable range of a hand torque tool, N·m: from 20 % of its greatest (ISO 6789), or its own minimum if higher."""
    positive("greatest torque of the tool", torque_max)
    low = HAND_SHARE * torque_max
    return (max(low, torque_min) if torque_min is not None else low), torque_max


def round_down(value: float, step: float) -> float:
    """The greatest multiple of step not above value: what a gauge or wrench can be set to.

    A value within a millionth of a step of the next mark counts as that mark.
    """
    not_negative("value", value)
    return math.floor(value / positive("gauge step", step) + 1e-6) * step


def nut_give(d: float, modulus: float) -> float:
    """Compliance of a nut and its threads, m/N: 0.4 d/(E π/4 d²) (VDI 2230-1:2003, 5.1.1; from memory). d in m, E in Pa."""
    positive("stud diameter", d)
    return 0.4 * d / (positive("nut modulus", modulus) * 0.25 * math.pi * d * d)


def tensioner_loss(stud: float, member: float, nut: float, gasket: float = 0.0, beside: float = BESIDE) -> float:
    """Tool load over the load left: (δ_b + δ_m + δ_G + δ_n)/(δ_b + β δ_m + δ_G), from compliances in m/N.

    While the tool pulls, the stud is stretched and its bridge squeezes the members beside the nut, whose seat sinks by β
    of what the same load in the nut would make it sink (0 not at all, 1 as far; Maxwell: never farther). The nut is run
    down without load; the tool is let off and the load moves into the nut: its threads give, and its seat sinks the rest.
    A gasket carries over its whole width and gives alike in both. Source: equilibrium of springs in series.
    """
    for what, value in (("stud", stud), ("member", member), ("nut", nut)):
        positive(f"compliance of the {what}", value)
    between("share of the members squeezed beside the nut", beside, 0.0, 1.0)
    not_negative("compliance of the gasket", gasket)
    return (stud + member + gasket + nut) / (stud + beside * member + gasket)


def tensioner_pressure(preload: float, loss: float, piston_area: float) -> float:
    """Pump pressure Pa that leaves a preload N in the stud: F·loss/A."""
    between("tensioner load loss", loss, 1.0, 3.0)
    return not_negative("preload", preload) * loss / positive("piston area", piston_area)


def preload_from_pressure(pressure: float, loss: float, piston_area: float) -> float:
    """Preload N left by a pump pressure Pa: p·A/loss."""
    between("tensioner load loss", loss, 1.0, 3.0)
    return not_negative("pressure", pressure) * positive("piston area", piston_area) / loss


def stress_at_pull(preload: float, loss: float, area: float) -> float:
    """Stress while the tensioner pulls, Pa: F·loss/A."""
    return not_negative("preload", preload) * between("tensioner load loss", loss, 1.0, 3.0) / positive("area", area)


def protrusion_needed(d: float) -> float:
    """Thread above the nut for a tensioner to grip: 1.0 d, m (common practice, no published source)."""
    return positive("stud diameter", d)

"""The unit a pump's gauge is graduated in: the fitter reads the gauge, whatever the rest of the sheet is in."""

from __future__ import annotations

from splitline.plan.model import Joint
from splitline.units import System, from_si, show

_NEAT = 1e-6


def gauge_unit(joint: Joint | None) -> str | None:
    """bar or psi, whichever the step, the chart or the limit of the tool is a round number in; None: not to be told."""
    tightening = joint.tightening if joint is not None else None
    if tightening is None:
        return None
    step = [tightening.gauge_step[1]] if tightening.gauge_step and tightening.gauge_step[0] == "pressure" else []
    charts = [row[0] for tool in tightening.tool for row in tool.chart or ()]
    limits = [tool.pressure_max for tool in tightening.tool if tool.pressure_max is not None]
    for values in (step, charts, limits):
        for unit in ("bar", "psi") if values else ():
            if all(_round(from_si(value, "pressure", unit)) for value in values):
                return unit
    return None


def _round(value: float) -> bool:
    """Whether it is a number somebody would write: no more than two decimals under 10, whole above 100."""
    decimals = 2 if abs(value) < 10 else 1 if abs(value) < 100 else 0
    return abs(value - round(value, decimals)) < _NEAT * max(abs(value), 1.0)


def gauge_said(value: float, joint: Joint | None, system: System) -> str:
    """A pressure as its gauge shows it, with the plan's other unit in brackets."""
    unit = gauge_unit(joint)
    plain = show(value, "pressure", system)
    own = show(value, "pressure", system, unit) if unit is not None else plain
    return plain if own == plain else f"{own} ({plain})"

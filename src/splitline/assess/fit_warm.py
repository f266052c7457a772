"""Modulus and expansion of hub and shaft at their running temperature: softer steel grips less at one interference."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.joint_material import falls_as
from splitline.errors import LibraryError
from splitline.fitting.interference import REFERENCE_TEMPERATURE
from splitline.library.materials import material
from splitline.plan.model import Fit

FALLS = 0.08 / 100.0  # 1/K: share of E that a metal without a curve is taken to lose
FALLS_BASIS = "no curve known: 8 % lost per 100 K, more than bronze, titanium or aluminium (not checked against a book)"


def softened(fit: Fit, part: str, modulus: float, at: float, bench: Bench, ctx: Context) -> float:
    """E at ``at`` (K) over E at 20 °C: by the material's curve, of typed steel the one that softens most, else a default.

    Never above 1: what grips more in the cold has not been cold yet when it is mounted. LibraryError beyond a table.
    """
    if at <= REFERENCE_TEMPERATURE:
        return 1.0
    named = getattr(fit, f"{part}_material")
    curves = falls_as(ctx.library, modulus)
    if named is not None and getattr(fit, f"{part}_modulus") is None:
        row = ctx.library.find("materials", named)
        if row.get("group") is not None:
            curves = (material(ctx.library, named).modulus_curve,)
    if curves:
        return min(1.0, *(curve.at(at) / curve.at(REFERENCE_TEMPERATURE) for curve in curves))
    share = max(0.2, 1.0 - FALLS * (at - REFERENCE_TEMPERATURE))
    bench.default(f"{part}_modulus warm", f"{share * 100:.1f} % of its value at 20 °C", FALLS_BASIS)
    return share


def expansion_to(fit: Fit, part: str, expansion: float, start: float, at: float, ctx: Context) -> float:
    """Mean coefficient (1/K) from ``start`` to ``at`` (K): by the material's curve, as typed where the plan types it."""
    named = getattr(fit, f"{part}_material")
    if named is None or getattr(fit, f"{part}_expansion") is not None or abs(at - start) < 1e-9:
        return expansion
    curve = material(ctx.library, named).expansion_curve
    grown = [curve.at(t) * (t - REFERENCE_TEMPERATURE) for t in (start, at)]
    return (grown[1] - grown[0]) / (at - start)


def beyond(error: LibraryError, bench: Bench) -> None:
    """The running temperature is beyond what the library knows."""
    title = "Contact pressure at speed and temperature"
    bench.missing("contact_pressure_at_speed", title, ("hub_modulus", "shaft_modulus"), "material at temperature",
                  bench.said(error), kind="pressure")  # fmt: skip

"""Modulus, expansion and yield of bolt and clamped parts at temperature."""

from __future__ import annotations

from splitline.assess.joint_types import Hardware, Material
from splitline.errors import InputError
from splitline.library.curves import REFERENCE
from splitline.units import System, show


def modulus_share(material: Material, cold: float, hot: float) -> float:
    """E at hot over E at cold (K); 1 where the plan gave the modulus. LibraryError beyond the table."""
    if material.modulus_curve is None or hot == cold:
        return 1.0
    return material.modulus_curve.at(hot) / material.modulus_curve.at(cold)


def strain(material: Material, cold: float, hot: float) -> float | None:
    """Free thermal strain from cold to hot (K); None where no expansion is known. LibraryError beyond the table.

    Tables give the mean coefficient from 20 °C: strain = α(T)·(T − 20 °C) at each end.
    """
    if hot == cold:
        return 0.0
    if material.expansion is not None:
        return material.expansion * (hot - cold)
    curve = material.expansion_curve
    if curve is None:
        return None
    return curve.at(hot) * (hot - REFERENCE) - curve.at(cold) * (cold - REFERENCE)


def yield_at(hw: Hardware, temperature: float, system: System = "SI") -> tuple[float, str]:
    """Yield at temperature (K) and what stands behind it. LibraryError beyond the grade's own table.

    Where no source gives yield against temperature the value at 20 °C is taken, and the text says so.
    """
    if hw.yield_strength is None:
        raise InputError("needs bolting.grade or bolting.yield_strength")
    if temperature <= REFERENCE + 1e-6:
        return hw.yield_strength, f"yield: {hw.strength_source}"
    if hw.yield_share is None:
        hot, cold = (show(at, "temperature", system) for at in (temperature, REFERENCE))
        said = f"no source for yield at {hot}: the value at {cold} is taken"
        return hw.yield_strength, f"yield: {hw.strength_source}; {said}"
    share = hw.yield_share.at(temperature)
    return (
        share * hw.yield_strength,
        f"yield {share:.3g} of {show(hw.yield_strength, 'stress', system)}: {hw.yield_share.source}",
    )

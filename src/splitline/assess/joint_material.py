"""Modulus, expansion and yield of bolt and clamped parts at temperature."""

from __future__ import annotations

from splitline.assess.context import Context
from splitline.assess.joint_sheet import SHEET, looked_up
from splitline.assess.joint_types import Material, Strength
from splitline.assess.sheet import Absent, Assumed
from splitline.errors import InputError, LibraryError
from splitline.library import materials
from splitline.library.curves import REFERENCE, Curve, moduli
from splitline.library.store import Library
from splitline.plan.model.joint import Joint
from splitline.units import System, show

STEEL = (180e9, 220e9)  # Pa: a modulus typed in this range is steel's
NO_CURVE_TO = 323.15  # K: up to 50 °C yield at 20 °C stands


def falls_as(library: Library, modulus: float | None) -> tuple[Curve, ...]:
    """Curves along which a modulus typed as one number (Pa) may fall with temperature: of every steel where it is steel's."""
    if modulus is None or not STEEL[0] <= modulus <= STEEL[1]:
        return ()
    return tuple(curve for curve in moduli(library) if STEEL[0] <= curve.at(REFERENCE) <= STEEL[1])


def modulus_shares(material: Material, cold: float, hot: float) -> tuple[float, ...]:
    """E at hot over E at cold (K), as far as it is known: both ends where the plan gave one number.

    LibraryError beyond the table; InputError for one number, above 50 °C, of what is no steel.
    """
    if hot == cold:
        return (1.0,)
    if material.modulus_curve is not None:
        return (material.modulus_curve.at(hot) / material.modulus_curve.at(cold),)
    if max(hot, cold) <= NO_CURVE_TO:
        return (1.0,)
    if not material.typed_curves:
        raise InputError("how this modulus falls with temperature is not known: name the material, or its grade")
    return (1.0, min(curve.at(hot) / curve.at(cold) for curve in material.typed_curves))


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


def yield_at(strength: Strength, hot: Curve | None, temperature: float, system: System = "SI") -> tuple[float, str]:
    """Yield at temperature (K) and what stands behind it. LibraryError beyond the grade's own table.

    Up to 50 °C the value at 20 °C stands. InputError where the bolt is hotter and neither plan nor library knows.
    """
    if hot is not None:
        return hot.at(temperature), f"yield at {show(temperature, 'temperature', system)}: plan"
    if strength.yields is None:
        raise InputError("needs bolting.grade or bolting.yield_strength")
    if temperature <= REFERENCE + 1e-6:
        return strength.yields, f"yield: {strength.source}"
    if strength.yield_share is None:
        hotter, cold = (show(at, "temperature", system) for at in (temperature, REFERENCE))
        if temperature > NO_CURVE_TO:
            raise InputError(f"no yield at {hotter} is known for this bolt: give bolting.hot_yield")
        said = f"the value at {cold} stands up to {show(NO_CURVE_TO, 'temperature', system)}"
        return strength.yields, f"yield: {strength.source}; {said}"
    share = strength.yield_share.at(temperature)
    return (
        share * strength.yields,
        f"yield {share:.3g} of {show(strength.yields, 'stress', system)}: {strength.yield_share.source}",
    )


# the clamped parts


@SHEET.result()
def member_found(joint: Joint, context: Context) -> materials.Material | LibraryError | None:
    name = joint.member.material if joint.member is not None else None
    return looked_up(lambda: materials.material(context.library, name)) if name else None


@SHEET.result()
def member_material(
    joint: Joint, context: Context, member_found: materials.Material | LibraryError | None = None
) -> Material:
    """Modulus and expansion of the clamped parts: given, or of their material."""
    if joint.member is None:
        return Material()
    own, expansion = joint.member.modulus, joint.member.expansion
    if not isinstance(member_found, materials.Material):
        return Material(modulus=own, typed_curves=falls_as(context.library, own), expansion=expansion)
    free = member_found.expansion_curve if expansion is None else None
    if own is not None:
        return Material(own, None, (member_found.modulus_curve,), expansion, free)
    return Material(member_found.modulus, member_found.modulus_curve, (), expansion, free)


@SHEET.result()
def member_modulus(
    member_material: Material, member_found: materials.Material | LibraryError | None = None
) -> float | Assumed:
    curve, value = member_material.modulus_curve, member_material.modulus
    if value is None:
        raise Absent("member.modulus")
    if curve is None or not isinstance(member_found, materials.Material):
        return value
    return Assumed(value, "member.modulus", f"{member_found.name}: {curve.source}", "modulus")

"""Stiffness of a bolt by segments and of its members by cone and sleeve.

Compliance δ in m/N, stiffness k = 1/δ in N/m, E in Pa, lengths and diameters in m.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from splitline.bolting.ranges import between, not_negative, positive
from splitline.bolting.thread import Section, Thread, check_shank
from splitline.errors import InputError

HALF_ANGLE = math.radians(30.0)


@dataclass(frozen=True, slots=True)
class End:
    """Allowance for one end of a bolt: how far the stretch reaches beyond the grip, in nominal diameters.

    Half a diameter of engaged thread is the middle of a full nut (ASME PCC-1: effective length between the mid-thickness
    of the nuts; VDI 2230-1:2003, 5.1.1 takes the same 0.5 d, and 0.5 d or 0.4 d for heads). The give of the nut itself,
    which VDI adds (0.4 d), does not lengthen the bolt: a micrometer or depth rod does not see it, so it is left out.
    """

    engaged: float  # thread, at the stress area
    head: float  # at the nominal area


HEX_HEAD = End(0.0, 0.5)
SOCKET_HEAD = End(0.0, 0.4)
NUT = End(0.5, 0.0)
TAPPED = End(0.5, 0.0)
NO_END = End(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Bolt:
    """A bolt between its two bearing faces."""

    thread: Thread
    modulus: float  # Pa
    clamp_length: float  # m, between the bearing faces (tapped: to the first engaged thread)
    shank_diameter: float | None = None  # m
    shank_length: float = 0.0  # m, part of the clamp length
    bore: float = 0.0  # m, heater hole through the whole length
    ends: tuple[End, End] = (NUT, TAPPED)
    hole: float | None = None  # m; lets a fitted shank be larger than its thread


def rod(length: float, area: float, modulus: float) -> float:
    """δ = L/(E·A), m/N."""
    return not_negative("length", length) / (positive("area", area) * positive("modulus", modulus))


def series(compliances: Sequence[float]) -> float:
    """Stiffness of springs in series, N/m, from their compliances: k = 1/Σδ."""
    return 1.0 / positive("total compliance", math.fsum(compliances))


def bolt_compliances(bolt: Bolt) -> dict[str, float]:
    """Compliance of each part, m/N: shank, free thread at its stress area (Shigley eq. 8-17), and what the ends add."""
    thread, modulus = bolt.thread, positive("bolt modulus", bolt.modulus)
    length = positive("clamp length", bolt.clamp_length)
    not_negative("shank length", bolt.shank_length)
    not_negative("heater bore", bolt.bore)
    if bolt.shank_length > length * (1.0 + 1e-9):
        raise InputError(
            f"the shank ({bolt.shank_length * 1e3:g} mm) is longer than the clamp length ({length * 1e3:g} mm)"
        )
    threaded, nominal = _bored(thread.stress_diameter, bolt.bore), _bored(thread.d, bolt.bore)
    parts = {"thread": rod(max(length - bolt.shank_length, 0.0), threaded, modulus)}
    if bolt.shank_length > 0.0:
        diameter = thread.d if bolt.shank_diameter is None else check_shank(thread, bolt.shank_diameter, bolt.hole)
        parts["shank"] = rod(bolt.shank_length, _bored(diameter, bolt.bore), modulus)
    for name, end in zip(("end 1", "end 2"), bolt.ends, strict=True):
        parts[name] = rod(end.engaged * thread.d, threaded, modulus) + rod(end.head * thread.d, nominal, modulus)
    return parts


def bolt_stiffness(bolt: Bolt) -> float:
    """k_b = 1/Σδ, N/m, allowances included."""
    return series(tuple(bolt_compliances(bolt).values()))


def _bored(diameter: float, bore: float) -> float:
    if bore >= diameter:
        raise InputError(f"a heater bore of {bore * 1e3:g} mm leaves nothing of a section of {diameter * 1e3:g} mm")
    return Section(diameter, bore).area


@dataclass(frozen=True, slots=True)
class Layer:
    """One clamped layer, from the nut down."""

    thickness: float  # m
    modulus: float  # Pa
    diameter: float  # m, of the sleeve available round one bolt


def frustum(modulus: float, small: float, hole: float, thickness: float, half_angle: float = HALF_ANGLE) -> float:
    """Compliance of a hollow cone, m/N: ln[((S+D−d)(D+d))/((S+D+d)(D−d))]/(π E d tan α), S = 2 t tan α.

    D the small diameter, d the hole, t the height, α the half angle (Shigley eq. 8-20; 30° there, 45° in other texts).
    α = 0 gives the plain sleeve.
    """
    if small <= hole:
        raise InputError(f"a pressure cone of {small * 1e3:g} mm does not cover its hole of {hole * 1e3:g} mm")
    between("cone half angle", half_angle, 0.0, 0.5 * math.pi * 0.9)
    grow = 2.0 * not_negative("thickness", thickness) * math.tan(half_angle)
    if grow < 1e-9 * small:
        return rod(thickness, 0.25 * math.pi * (small**2 - hole**2), modulus)
    positive("modulus", modulus)
    positive("hole", hole)
    ratio = (grow + small - hole) * (small + hole) / ((grow + small + hole) * (small - hole))
    return math.log(ratio) / (math.pi * modulus * hole * math.tan(half_angle))


def member_compliance(
    layers: Sequence[Layer], bearing_diameter: float, hole: float, through: bool, half_angle: float = HALF_ANGLE
) -> float:
    """Compliance of clamped layers, m/N: pressure cones from the bearing faces, cut off at each layer's sleeve.

    through: cones from both faces meet in the middle of the grip; else one cone opens from the nut to the tapped face
    (VDI 2230-1:2003, 5.1.2, with a fixed half angle). Bearing diameter and hole in m.
    """
    if not layers:
        raise InputError("no clamped layer is given: a joint clamps at least one")
    positive("bearing diameter", bearing_diameter)
    grip = math.fsum(positive("layer thickness", layer.thickness) for layer in layers)
    middle = 0.5 * grip if through else grip
    compliance, start = 0.0, 0.0
    for layer in layers:
        end = start + layer.thickness
        for low, high in ((start, min(end, middle)), (max(start, middle), end)):
            if high - low <= 1e-12 * grip:
                continue
            # distance from the face whose cone loads this stretch
            near = low if high <= middle * (1.0 + 1e-12) else grip - high
            compliance += _stretch(layer, bearing_diameter, hole, near, high - low, half_angle)
        start = end
    return compliance


def _stretch(layer: Layer, bearing: float, hole: float, near: float, height: float, half_angle: float) -> float:
    """Compliance of one stretch of one layer: cone until it reaches the sleeve, plain sleeve after."""
    sleeve = layer.diameter
    if sleeve <= hole:
        raise InputError(
            f"a layer's sleeve of {sleeve * 1e3:g} mm is not larger than the bolt hole of {hole * 1e3:g} mm"
        )
    tangent = math.tan(half_angle)
    first = bearing + 2.0 * near * tangent
    reach = height if tangent <= 0.0 else min(max(0.5 * (sleeve - first) / tangent, 0.0), height)
    cone = frustum(layer.modulus, first, hole, reach, half_angle) if reach > 0.0 else 0.0
    return cone + rod(height - reach, 0.25 * math.pi * (sleeve**2 - hole**2), layer.modulus)


def member_stiffness(
    layers: Sequence[Layer], bearing_diameter: float, hole: float, through: bool, half_angle: float = HALF_ANGLE
) -> float:
    """k_m = 1/δ_m, N/m, see `member_compliance`."""
    return 1.0 / member_compliance(layers, bearing_diameter, hole, through, half_angle)


def load_factor(bolt: float, member: float) -> float:
    """Φ = k_b/(k_b + k_m): share of an outside load the bolt feels, entering under the bearing faces (Shigley C)."""
    return positive("bolt stiffness", bolt) / (bolt + positive("member stiffness", member))

"""Stiffness of one size of bolts and its members, and what follows: stretch, nut turn, heating, stored energy."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from splitline.assess.context import Context
from splitline.assess.joint_hardware import Blank
from splitline.assess.joint_sheet import SHEET, SHIGLEY, SIZE, VDI, Sized, gasketed
from splitline.assess.joint_types import Material
from splitline.assess.sheet import Absent, Assumed, Rule
from splitline.bolting import stiffness as st
from splitline.bolting import stretch as sx
from splitline.bolting.thread import Thread
from splitline.library.curves import REFERENCE
from splitline.plan.model.joint import Joint
from splitline.plan.passes import Passes, passes_of
from splitline.units import show

_ENDS = {
    "stud": (st.NUT, st.TAPPED),
    "through-stud": (st.NUT, st.NUT),
    "bolt": (st.HEX_HEAD, st.NUT),
    "cap-screw": (st.SOCKET_HEAD, st.TAPPED),
}
LAYER_TOLERANCE = 0.01  # share of the clamp length by which layers may miss it (washers, paint)

# the bolt


@dataclass(frozen=True, slots=True)
class BoltParts:
    """Compliances of a bolt from face to face, m/N."""

    shank: float  # length, m
    total: float
    text: str


@SHEET.result(SIZE)
def bolt_parts(
    size: Sized, thread: Thread, clamp_length: float, bolt_modulus: float, blank: Blank, hole_diameter: float = 0.0
) -> BoltParts:
    shank = min(blank.shank_length or 0.0, clamp_length)
    bore, ends = size.bolting.heater_bore or 0.0, _ENDS[size.bolting.kind]
    bolt = st.Bolt(thread, bolt_modulus, clamp_length, blank.shank_diameter, shank, bore, ends, hole_diameter or None)
    parts = st.bolt_compliances(bolt)
    return BoltParts(shank, math.fsum(parts.values()), ", ".join(f"{name} {part:.3g}" for name, part in parts.items()))


@SHEET.result(
    SIZE, kind="stiffness", title="Bolt stiffness", symbol="k_b", formula="1 / Σ L/(E·A)",
    source="Shigley eq. 8-17, ends after ASME PCC-1 and VDI 2230-1:2003, 5.1.1; parts in m/N: {bolt_parts.text}",
    puts={"E_b": ("bolt_modulus", "modulus"), "L": ("clamp_length", "length"), "L_shank": ("bolt_parts.shank", "length"),
          "A_s": ("stress_area", "area")},
)  # fmt: skip
def bolt_stiffness(bolt_parts: BoltParts) -> float:
    return 1.0 / bolt_parts.total


@SHEET.check("stretch", "stretch and stiffness of the bolt{size.of}", SIZE)
def elastic_bolt(bolt_stiffness: float) -> None:
    """Only says what is missing."""


# the clamped parts


def _sleeved(joint: Joint, clamp_length: float | None = None, member_modulus: float | None = None) -> bool:
    """Whether the material one bolt has to itself is not given for every layer."""
    if not joint.layer:
        return clamp_length is not None and member_modulus is not None
    open_ = (layer for layer in joint.layer if not layer.gasket and layer.diameter is None)
    return any(layer.thickness is not None and (layer.modulus or member_modulus) is not None for layer in open_)


@SHEET.result(SIZE, when=_sleeved)
def sleeve(
    size: Sized, joint: Joint, under_washer: float = 0.0, bearing_diameter: float = 0.0, thread: Thread | None = None
) -> float | Assumed:
    """Diameter of material one bolt has to itself: to its own neighbours or the width of the face, whichever is less.

    Never less than its own bearing face, which it does press.
    """
    found = [value for value in (_spacing(joint, size.bolts), _face_width(joint)) if value is not None]
    if found:
        return max(min(found), under_washer or bearing_diameter)
    basis = "3 d round each bolt: layout and member give no spacing or width"
    return Assumed(3.0 * (thread.d if thread is not None else 0.0), "layer.diameter", basis, "length")


def _spacing(joint: Joint, bolts: tuple[int, ...]) -> float | None:
    """Least distance from a bolt of this size to its neighbour on the circle or along its side, m."""
    layout = joint.layout
    if layout is None:
        return None
    if layout.shape == "circle" and layout.bolts and layout.diameter:
        return layout.diameter * math.sin(math.pi / layout.bolts)
    if layout.side_a is None:
        return None
    found: list[float] = []
    first = 1
    for side in (layout.side_a, layout.side_b if layout.side_b is not None else layout.side_a):
        for place, (a, b) in enumerate(pairwise(side)):
            if not bolts or {first + place, first + place + 1} & set(bolts):
                found.append(b - a)
        first += len(side)
    return min(found, default=None)


def _face_width(joint: Joint) -> float | None:
    member = joint.member
    if member is None:
        return None
    if member.outer_diameter and member.inner_diameter:
        return 0.5 * (member.outer_diameter - member.inner_diameter)
    if joint.layout is None and member.outer_diameter:
        return member.outer_diameter  # one bolt alone stands in the middle of its sleeve
    return member.flange_width


def _layered(joint: Joint) -> bool:
    return bool(joint.layer)


@SHEET.result(SIZE, name="layers", when=_layered)
def given_layers(
    joint: Joint, clamp_length: float | None = None, member_modulus: float | None = None, sleeve: float = 0.0
) -> tuple[st.Layer, ...]:
    layers, needs = [], [] if clamp_length is not None else ["bolting.clamp_length"]
    for number, layer in enumerate(joint.layer):
        if layer.gasket:
            continue  # it carries over its own area, not over a cone
        stiff = layer.modulus if layer.modulus is not None else member_modulus
        if layer.thickness is None:
            needs.append(f"layer.{number}.thickness")
        elif stiff is None:
            needs.append(f"layer.{number}.modulus")
        else:
            layers.append(st.Layer(layer.thickness, stiff, layer.diameter if layer.diameter is not None else sleeve))
    if needs:
        raise Absent(*needs)
    return tuple(layers)


@SHEET.result(SIZE)
def layers(clamp_length: float, member_modulus: float, sleeve: float = 0.0) -> tuple[st.Layer, ...]:
    """Of the members, from the nut down."""
    return (st.Layer(clamp_length, member_modulus, sleeve),)


@SHEET.check("layers", "layers against clamp length{size.of}", SIZE, basis="geometry", when=_layered, quiet=True)
def layers_add_up(size: Sized, joint: Joint, clamp_length: float, context: Context) -> Rule | None:
    known = [layer.thickness for layer in joint.layer if layer.thickness is not None]
    total = math.fsum(known)
    if size.number or len(known) < len(joint.layer) or abs(total - clamp_length) <= LAYER_TOLERANCE * clamp_length:
        return None
    added, clamped = (show(each, "length", context.system) for each in (total, clamp_length))
    return Rule("fails", f"the layers add up to {added}, the clamp length is {clamped}")


@dataclass(frozen=True, slots=True)
class Cone:
    """The members as a cone of pressure sees them, without a gasket."""

    stiffness: float  # N/m
    sleeve: float  # least diameter of material, m
    layers: float
    half_angle: float = st.HALF_ANGLE


@SHEET.result(SIZE)
def cone(size: Sized, layers: tuple[st.Layer, ...], bearing_diameter: float, hole_diameter: float) -> Cone:
    value = st.member_stiffness(layers, bearing_diameter, hole_diameter, size.through)
    return Cone(value, min(layer.diameter for layer in layers), float(len(layers)))


def _metal(joint: Joint) -> bool:
    return not gasketed(joint)


@SHEET.result(name="gasket_compliance", when=_metal)
def no_gasket() -> float:
    return 0.0


@SHEET.result()
def gasket_compliance(joint: Joint, bolt_count: int | None = None) -> float | None:
    """What the gasket gives under one bolt's share of its own area, m/N: t·n/(E·A_G)."""
    load = joint.load
    if load is None:
        return None
    place = next((at for at, layer in enumerate(joint.layer) if layer.gasket), None)
    own, of = (load.gasket_thickness, load.gasket_modulus), "load.gasket_"
    if place is not None:
        own, of = (joint.layer[place].thickness, joint.layer[place].modulus), f"layer.{place}."
    inner, width = load.gasket_inner, load.gasket_width
    if inner is None and load.pressure_diameter is not None and width is not None:
        inner = load.pressure_diameter - width
    named = {
        f"{of}thickness": own[0], f"{of}modulus": own[1], "load.gasket_width": width, "layout.bolts": bolt_count,
        "load.gasket_inner": inner,
    }  # fmt: skip
    needs = [name for name, value in named.items() if value is None]
    if needs:
        softer = ": a gasket is softer than the faces and takes load from the bolts"
        raise Absent(*needs, why="needs " + ", ".join(needs) + softer)
    inner, width = inner or 0.0, width or 0.0
    area = 0.25 * math.pi * ((inner + 2.0 * width) ** 2 - inner**2)
    return (own[0] or 0.0) * (bolt_count or 0) / ((own[1] or 1.0) * area)


@SHEET.result()
def gasket_shown(gasket_compliance: float) -> float | None:
    """In the unit its working shows it."""
    return 1e9 * gasket_compliance if gasket_compliance else None


@SHEET.result(
    SIZE, kind="stiffness", title="Stiffness of the clamped parts", symbol="k_m", formula="1 / Σ δ",
    source=f"{SHIGLEY}, eq. 8-20; {VDI}, 5.1.2",
    puts={"d_w": ("bearing_diameter", "length"), "d_h": ("hole_diameter", "length"), "sleeve": ("cone.sleeve", "length"),
          "L": ("clamp_length", "length"), "half angle": ("cone.half_angle", "angle"), "layers": ("cone.layers", "count"),
          "gasket δ·1e9": ("gasket_shown", "number")},
)  # fmt: skip
def member_stiffness(cone: Cone, gasket_compliance: float) -> float:
    return 1.0 / (1.0 / cone.stiffness + gasket_compliance)


@SHEET.check("member_stiffness", "stiffness of the clamped parts{size.of}", SIZE)
def elastic_members(cone: Cone) -> None:
    """Only says what is missing."""


@SHEET.check(
    "gasket_stiffness", "stiffness of the gasket{size.of}", SIZE, basis="E·A/t of its own area", after=("cone",)
)
def elastic_gasket(gasket_compliance: float) -> None:
    """Only says what is missing."""


@SHEET.result(SIZE, kind="share", title="Load factor: share of load the bolt feels", symbol="Φ", formula="k_b / (k_b + k_m)",
              source=f"{SHIGLEY}, eq. 8-24",
              puts={"k_b": ("bolt_stiffness", "stiffness"), "k_m": ("member_stiffness", "stiffness")})  # fmt: skip
def load_factor(bolt_stiffness: float, member_stiffness: float) -> float:
    return st.load_factor(bolt_stiffness, member_stiffness)


# what the target stretches, turns and stores

_F_K = {"F": ("preload", "force"), "k_b": ("bolt_stiffness", "stiffness")}
_SNUG = {"F": ("preload", "force"), "F_snug": ("snug_load", "force"), "k_b": ("bolt_stiffness", "stiffness"),
         "k_m": ("member_stiffness", "stiffness")}  # fmt: skip


@SHEET.result(
    SIZE, kind="length", title="Stretch at target", symbol="ΔL", formula="F / k_b", source="definition", puts=_F_K
)
def stretch(preload: float, bolt_stiffness: float) -> float:
    return sx.stretch(preload, bolt_stiffness)


@SHEET.result(SIZE, kind="energy", title="Energy stored in one bolt", symbol="U", formula="F² / (2 k_b)",
              source="definition", puts=_F_K)  # fmt: skip
def stored_energy(preload: float, bolt_stiffness: float) -> float:
    return sx.strain_energy(preload, bolt_stiffness)


@SHEET.result()
def planned(joint: Joint) -> Passes:
    """The passes of the plan, what it leaves out filled in."""
    return passes_of(joint.tightening)


@SHEET.result(SIZE)
def snug_load(preload: float, planned: Passes) -> float:
    return planned.snug * preload


@SHEET.result(SIZE, kind="angle", title="Nut turn from snug", symbol="θ", formula="2π/P·(F − F_snug)·(1/k_b + 1/k_m)",
              source=f"{SHIGLEY}, eq. 8-29", puts={**_SNUG, "P": ("thread.pitch", "length")})  # fmt: skip
def turn_angle(
    preload: float, snug_load: float, bolt_stiffness: float, member_stiffness: float, thread: Thread
) -> float:
    return sx.turn_angle(preload, snug_load, bolt_stiffness, member_stiffness, thread.pitch)


@SHEET.result(SIZE, kind="length", title="Nut run-down from snug", symbol="u", formula="(F − F_snug)·(1/k_b + 1/k_m)",
              source="definition", puts=_SNUG)  # fmt: skip
def nut_advance(preload: float, snug_load: float, bolt_stiffness: float, member_stiffness: float) -> float:
    return sx.nut_advance(preload, snug_load, bolt_stiffness, member_stiffness)


@SHEET.result(SIZE)
def gap_to_close(preload: float, bolt_stiffness: float, member_stiffness: float) -> float:
    """What a heated bolt must be longer by, m."""
    return sx.nut_advance(preload, 0.0, bolt_stiffness, member_stiffness)


@SHEET.result(SIZE)
def heated_expansion(gap_to_close: float, clamp_length: float, bolt_material: Material) -> float | None:
    """The mean coefficient from 20 °C to the heated bolt, 1/K, found by one repetition."""
    curve = bolt_material.expansion_curve
    if bolt_material.expansion is not None or curve is None:
        return bolt_material.expansion
    first = sx.heat_rise(gap_to_close, clamp_length, curve.at(REFERENCE))
    return curve.known_at(REFERENCE + first)


@SHEET.result(SIZE, kind="temperature_difference", title="Heating of the bolt above the clamped parts", symbol="ΔT",
              formula="F·(1/k_b + 1/k_m) / (α_b·L)", source="thermal expansion of a free bar",
              puts={**_F_K, "k_m": ("member_stiffness", "stiffness"), "α_b": ("heated_expansion", "expansion"),
                    "L": ("clamp_length", "length")})  # fmt: skip
def heat_rise(gap_to_close: float, clamp_length: float, heated_expansion: float) -> float:
    """Rise of the bolt above the clamped parts that lets the nut be run down for the whole preload."""
    return sx.heat_rise(gap_to_close, clamp_length, heated_expansion)

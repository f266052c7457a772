"""Stiffness of one size of bolts and its members, and what follows: stretch, nut turn, heating, stored energy."""

from __future__ import annotations

import math
from itertools import pairwise

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_types import Hardware
from splitline.bolting import joint_load as jl
from splitline.bolting import stiffness as st
from splitline.bolting import stretch as sx
from splitline.library.curves import REFERENCE
from splitline.plan.model.joint import Joint

_ENDS = {
    "stud": (st.NUT, st.TAPPED),
    "through-stud": (st.NUT, st.NUT),
    "bolt": (st.HEX_HEAD, st.NUT),
    "cap-screw": (st.SOCKET_HEAD, st.TAPPED),
}
LAYER_TOLERANCE = 0.01  # share of the clamp length by which layers may miss it (washers, paint)


def put_bolt_stiffness(bench: Bench, lines: Lines, hw: Hardware) -> float | None:
    """k_b; a missing clamp length or modulus is said once, by the check for stretch."""
    needs = [f"bolting.{n}" for n, v in (("thread", hw.thread), ("clamp_length", hw.clamp_length)) if v is None]
    if hw.material.modulus is None:
        needs.append("bolting.modulus")
    title = "stretch and stiffness of the bolt" + hw.of
    if needs or hw.thread is None or hw.clamp_length is None or hw.material.modulus is None:
        bench.missing("stretch", title, needs, note="needs " + ", ".join(needs))
        return None
    with bench.guard("stretch", title):
        shank = min(hw.shank_length or 0.0, hw.clamp_length)
        bolt = st.Bolt(
            hw.thread,
            hw.material.modulus,
            hw.clamp_length,
            hw.shank_diameter,
            shank,
            hw.bore,
            _ENDS[hw.kind],
            hw.hole,
        )
        parts = st.bolt_compliances(bolt)
        total = math.fsum(parts.values())
        source = "Shigley eq. 8-17, ends after ASME PCC-1 and VDI 2230-1:2003, 5.1.1; parts in m/N: " + ", ".join(
            f"{n} {v:.3g}" for n, v in parts.items()
        )
        puts = {"E_b": (hw.material.modulus, "modulus"), "L": (hw.clamp_length, "length"), "L_shank": (shank, "length")}
        lines.put("bolt_stiffness", 1.0 / total, {**puts, "A_s": (hw.thread.stress_area, "area")}, source=source)
        return 1.0 / total
    return None


def put_member_stiffness(bench: Bench, lines: Lines, hw: Hardware, joint: Joint, modulus: float | None) -> float | None:
    """k_m from the layers given, or from one layer of the member's modulus over the clamp length."""
    title = "stiffness of the clamped parts" + hw.of
    layers, needs = _layers(bench, hw, joint, modulus)
    if hw.bearing is None:
        needs.append("bolting.bearing_diameter")
    if hw.hole is None:
        needs.append("bolting.hole_diameter")
    if needs or hw.bearing is None or hw.hole is None or hw.clamp_length is None:
        bench.missing("member_stiffness", title, needs, note="needs " + ", ".join(needs))
        return None
    with bench.guard("member_stiffness", title):
        value = st.member_stiffness(layers, hw.bearing, hw.hole, hw.through)
        gasket = gasket_compliance(bench, hw, joint)
        if gasket is None:
            return None
        value = 1.0 / (1.0 / value + gasket)
        sleeve = min(layer.diameter for layer in layers)
        lines.put(
            "member_stiffness",
            value,
            {
                "d_w": (hw.bearing, "length"),
                "d_h": (hw.hole, "length"),
                "sleeve": (sleeve, "length"),
                "L": (hw.clamp_length, "length"),
                "half angle": (st.HALF_ANGLE, "angle"),
                "layers": (float(len(layers)), "count"),
                "gasket δ·1e9": (1e9 * gasket if gasket else None, "number"),
            },
        )
        return value
    return None


def gasket_compliance(bench: Bench, hw: Hardware, joint: Joint) -> float | None:
    """What the gasket gives under one bolt's share of its own area, m/N: t·n/(E·A_G); 0 without one.

    None (and a missing check) where thickness, modulus or area is not known: metal faces it is not.
    """
    load, count = joint.load, joint.layout.count if joint.layout is not None else None
    if load is None or load.seal != "gasket":
        return 0.0
    thickness, modulus, of = load.gasket_thickness, load.gasket_modulus, "load.gasket_"
    place = next((at for at, layer in enumerate(joint.layer) if layer.gasket), None)
    if place is not None:
        thickness, modulus, of = joint.layer[place].thickness, joint.layer[place].modulus, f"layer.{place}."
    named = (
        (f"{of}thickness", thickness),
        (f"{of}modulus", modulus),
        ("load.gasket_width", load.gasket_width),
        ("layout.bolts", count),
    )
    needs = [name for name, value in named if value is None]
    inner = load.gasket_inner
    if inner is None and load.pressure_diameter is not None and load.gasket_width is not None:
        inner = load.pressure_diameter - load.gasket_width
    if inner is None:
        needs.append("load.gasket_inner")
    if needs or inner is None or load.gasket_width is None or count is None:
        note = "needs " + ", ".join(needs) + ": a gasket is softer than the faces and takes load from the bolts"
        bench.missing("gasket_stiffness", "stiffness of the gasket" + hw.of, needs, "E·A/t of its own area", note)
        return None
    area = 0.25 * math.pi * ((inner + 2.0 * load.gasket_width) ** 2 - inner**2)
    return (thickness or 0.0) * count / ((modulus or 1.0) * area)


def _layers(bench: Bench, hw: Hardware, joint: Joint, modulus: float | None) -> tuple[list[st.Layer], list[str]]:
    needs = [] if hw.clamp_length is not None else ["bolting.clamp_length"]
    if not joint.layer:
        if modulus is None:
            needs.append("member.modulus")
        if needs or hw.clamp_length is None or modulus is None:
            return [], needs
        return [st.Layer(hw.clamp_length, modulus, sleeve_diameter(bench, hw, joint))], []
    layers = []
    for number, layer in enumerate(joint.layer):
        if layer.gasket:
            continue  # it carries over its own area, not over a cone
        stiff = layer.modulus if layer.modulus is not None else modulus
        if layer.thickness is None:
            needs.append(f"layer.{number}.thickness")
        elif stiff is None:
            needs.append(f"layer.{number}.modulus")
        else:
            wide = layer.diameter if layer.diameter is not None else sleeve_diameter(bench, hw, joint)
            layers.append(st.Layer(layer.thickness, stiff, wide))
    _check_layers(bench, hw, [layer.thickness for layer in joint.layer])
    return layers, needs


def _check_layers(bench: Bench, hw: Hardware, thicknesses: list[float | None]) -> None:
    known = [thickness for thickness in thicknesses if thickness is not None]
    if hw.clamp_length is None or len(known) != len(thicknesses) or hw.of:
        return
    total = math.fsum(known)
    if abs(total - hw.clamp_length) > LAYER_TOLERANCE * hw.clamp_length:
        bench.fails(
            "layers",
            "layers against clamp length",
            "geometry",
            f"the layers add up to {bench.show(total, 'length')}, the clamp length is {bench.show(hw.clamp_length, 'length')}",
        )


def sleeve_diameter(bench: Bench, hw: Hardware, joint: Joint) -> float:
    """Diameter of material one bolt has to itself: to its own neighbours or the width of the face, whichever is less.

    Never less than its own bearing face, which it does press.
    """
    found = [value for value in (_spacing(joint, hw), _face_width(joint)) if value is not None]
    if found:
        return max(min(found), hw.bearing_under or hw.bearing or 0.0)
    d = hw.thread.d if hw.thread is not None else 0.0
    bench.default(
        "layer.diameter",
        bench.show(3.0 * d, "length"),
        "3 d round each bolt: layout and member give no spacing or width",
    )
    return 3.0 * d


def _spacing(joint: Joint, hw: Hardware) -> float | None:
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
            if not hw.bolts or {first + place, first + place + 1} & set(hw.bolts):
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


def put_load_factor(lines: Lines, bolt: float | None, member: float | None) -> float | None:
    """Φ."""
    if bolt is None or member is None:
        return None
    value = st.load_factor(bolt, member)
    lines.put("load_factor", value, {"k_b": (bolt, "stiffness"), "k_m": (member, "stiffness")})
    return value


def put_stretch(lines: Lines, preload: float, bolt: float) -> float:
    """Stretch at target and the energy a bolt stores."""
    value = sx.stretch(preload, bolt)
    puts = {"F": (preload, "force"), "k_b": (bolt, "stiffness")}
    lines.put("stretch", value, {**puts})
    lines.put("stored_energy", sx.strain_energy(preload, bolt), {**puts})
    return value


def put_turn(lines: Lines, hw: Hardware, preload: float, snug: float, bolt: float, member: float) -> None:
    """Nut turn and run-down from a defined snug."""
    if hw.thread is None:
        return
    load = snug * preload
    puts = {
        "F": (preload, "force"), "F_snug": (load, "force"), "k_b": (bolt, "stiffness"), "k_m": (member, "stiffness"),
    }  # fmt: skip
    angle = sx.turn_angle(preload, load, bolt, member, hw.thread.pitch)
    lines.put("turn_angle", angle, {**puts, "P": (hw.thread.pitch, "length")})
    lines.put("nut_advance", sx.nut_advance(preload, load, bolt, member), {**puts})


def put_embedding(
    bench: Bench, lines: Lines, hw: Hardware, preload: float, relaxation: float, bolt: float, member: float
) -> None:
    """What VDI 2230 expects to be lost by embedding; said where it is more than the relaxation taken."""
    if hw.thread is None or hw.clamp_length is None:
        return
    loss = jl.embedding_loss(hw.clamp_length, hw.thread.d, 1.0 / bolt, 1.0 / member)
    puts = {
        "L": (hw.clamp_length, "length"), "d": (hw.thread.d, "length"), "k_b": (bolt, "stiffness"),
        "k_m": (member, "stiffness"),
    }  # fmt: skip
    lines.put("embedding_loss", loss, {**puts})
    if loss > relaxation * preload:
        title, basis = "relaxation taken against embedding" + hw.of, "VDI 2230:1986, f_Z = 3.29·(L/d)^0.34 µm"
        note = f"embedding may take {loss / preload:.0%} of this short bolt's preload, {relaxation:.0%} is taken"
        bench.near("relaxation", title, basis, note)


def put_heat(lines: Lines, hw: Hardware, preload: float, bolt: float, member: float) -> None:
    """Rise of the bolt above the clamped parts that lets the nut be run down for the whole preload.

    The coefficient is the mean from 20 °C to the heated bolt, found by one repetition.
    """
    material, length = hw.material, hw.clamp_length
    if length is None or (material.expansion is None and material.expansion_curve is None):
        return
    gap = sx.nut_advance(preload, 0.0, bolt, member)
    alpha = material.expansion
    curve = material.expansion_curve
    if alpha is None and curve is not None:
        first = sx.heat_rise(gap, length, curve.at(REFERENCE))
        alpha = curve.known_at(REFERENCE + first)
    if alpha is None:
        return
    lines.put(
        "heat_rise",
        sx.heat_rise(gap, length, alpha),
        {
            "F": (preload, "force"),
            "k_b": (bolt, "stiffness"),
            "k_m": (member, "stiffness"),
            "α_b": (alpha, "expansion"),
            "L": (length, "length"),
        },
    )

"""Target preload of one size of bolts, from whichever target the plan gives."""

from __future__ import annotations

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_types import Grip, Hardware
from splitline.bolting import torque as tq
from splitline.bolting.ranges import positive
from splitline.bolting.stretch import load_from_stretch
from splitline.errors import InputError
from splitline.plan.model.joint import Target


def torque_factor(hw: Hardware, grip: Grip) -> float | None:
    """T/F, m, at nominal friction; None where something is missing."""
    if hw.thread is None:
        return None
    if grip.nut_factor is not None:
        return grip.nut_factor * hw.thread.d
    if grip.nominal is None or hw.bearing is None or hw.hole is None:
        return None
    return tq.torque_factor(hw.thread, grip.nominal, hw.bearing, hw.hole)


def put_preload(
    bench: Bench, lines: Lines, hw: Hardware, grip: Grip, target: Target | None, stiffness: float | None
) -> float | None:
    """Target preload from whichever target is given; a missing check says what it lacks."""
    title = "target preload" + hw.of
    given = [] if target is None else [n for n in _WAYS if getattr(target, n) is not None]
    if target is None or not given:
        bench.missing(
            "preload",
            title,
            ("target",),
            note="give one target: bolt_stress, yield_fraction, preload, torque or stretch",
        )
        return None
    if hw.thread is None:
        bench.missing("preload", title, ("bolting.thread",), note="needs bolting.thread")
        return None
    try:
        load, puts, formula, needs = _WAYS[given[0]](hw, grip, target, stiffness)
    except InputError as error:
        bench.missing("preload", title, (), note=bench.said(error))
        return None
    if load is None:
        bench.missing("preload", title, needs, note=f"target.{given[0]} needs " + ", ".join(needs))
        return None
    source = f"target: {target.source}" if target.source else "target of the plan"
    lines.put("preload", positive("target preload", load), puts, formula=formula, source=source)
    return load


_Way = tuple[float | None, dict[str, tuple[float | str | None, str]], str, tuple[str, ...]]


def _from_stress(hw: Hardware, _grip: Grip, target: Target, _stiffness: float | None) -> _Way:
    stress, area = target.bolt_stress, hw.thread.stress_area if hw.thread else None
    if stress is None or area is None:
        return None, {}, "", ("bolting.thread",)
    return stress * area, {"σ": (stress, "stress"), "A_s": (area, "area")}, "σ·A_s", ()


def _from_yield(hw: Hardware, _grip: Grip, target: Target, _stiffness: float | None) -> _Way:
    share, section, strength = target.yield_fraction, hw.section, hw.yield_strength
    if share is None or section is None or strength is None:
        return None, {}, "", ("bolting.grade",)
    puts = {"share": (share, "share"), "R_e": (strength, "stress"), "A_min": (section.area, "area")}
    return share * strength * section.area, {**puts}, "share·R_e·A_min", ()


def _from_preload(_hw: Hardware, _grip: Grip, target: Target, _stiffness: float | None) -> _Way:
    return target.preload, {"F": (target.preload, "force")}, "as given", ()


def _from_torque(hw: Hardware, grip: Grip, target: Target, _stiffness: float | None) -> _Way:
    factor, torque = torque_factor(hw, grip), target.torque
    if factor is None or torque is None:
        return None, {}, "", grip.needs or face_needs(hw)
    return torque / factor, {"T": (torque, "torque"), "T/F": (factor, "length")}, "T / (T/F)", ()


def _from_stretch(_hw: Hardware, _grip: Grip, target: Target, stiffness: float | None) -> _Way:
    stretch = target.stretch
    if stretch is None or stiffness is None:
        return None, {}, "", ("bolting.clamp_length", "bolting.modulus")
    return (
        load_from_stretch(stretch, stiffness),
        {"ΔL": (stretch, "length"), "k_b": (stiffness, "stiffness")},
        "ΔL·k_b",
        (),
    )


_WAYS = {
    "bolt_stress": _from_stress,
    "yield_fraction": _from_yield,
    "preload": _from_preload,
    "torque": _from_torque,
    "stretch": _from_stretch,
}


def face_needs(hw: Hardware) -> tuple[str, ...]:
    return tuple(
        f"bolting.{name}"
        for name, value in (("bearing_diameter", hw.bearing), ("hole_diameter", hw.hole))
        if value is None
    )

"""Turn, heat and stretch: what each size is snugged to, turned by and heated by, and what is missing for it."""

from __future__ import annotations

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_scatter import face_needs
from splitline.assess.joint_types import Grip, Hardware
from splitline.assess.settings import SizeSettings
from splitline.plan.passes import BY_LENGTH, BY_NUT

PRACTICE = "common practice, no published source"


def check_heater(bench: Bench, hw: Hardware, passes: tuple[float, ...]) -> None:
    """A heater needs a bore to go into, and pulls a stud once."""
    if hw.bore <= 0.0:
        field = hw.field("heater_bore")
        note = f"needs {field}: the bore the heater goes into; it takes area and stiffness of the stud"
        bench.missing("heater_bore", "bore for the heater" + hw.of, (field,), note=note, kind="length")
    if not hw.of and len(passes) > 1:
        said = ", ".join(f"{share:.0%}" for share in passes)
        note = f"{said} are planned: a stud is heated once, to its target, and is cold before it is heated again"
        bench.near("heat_passes", "passes of a heater", PRACTICE, note)


def nut_settings(
    bench: Bench, lines: Lines, hw: Hardware, grip: Grip, method: str, snug: float, size: SizeSettings
) -> SizeSettings:
    """What the bolts of a size are snugged to, turned by and heated by; what cannot be told is missing.

    ``size``: preload and stretch at target. Methods by a tool's own setting get it back as it is.
    """
    if method not in BY_LENGTH:
        return size
    torque, angle, rise = lines.get("torque_snug"), lines.get("turn_angle"), lines.get("heat_rise")
    if method in BY_NUT:
        if snug > 0.0 and torque is None:
            needs = grip.needs or face_needs(hw)
            note = "the nut is turned from snug: " + (grip.note or "needs " + ", ".join(needs))
            bench.missing("torque_snug", "snug torque" + hw.of, needs, note=note, kind="torque")
        if angle is None:
            _missing(bench, hw, "turn_angle", "nut turn from snug", "angle")
    if method == "heat" and rise is None:
        _missing(bench, hw, "heat_rise", "heating of the bolt", "temperature_difference", "expansion")
    return SizeSettings(
        size.bolts,
        size.preload,
        None,
        size.stretch,
        snug_torque=torque,
        turn=angle if method in BY_NUT else None,
        heat=rise if method == "heat" else None,
        by_nut=method in BY_NUT,
    )


def _missing(bench: Bench, hw: Hardware, key: str, title: str, kind: str, *more: str) -> None:
    needs = (hw.field("clamp_length"), "member.modulus", *(hw.field(name) for name in more))
    note = "needs stiffness of bolt and clamped parts" + (", and the bolt's expansion" if more else "")
    bench.missing(key, title + hw.of, needs, note=note, kind=kind)

"""Threads and faces of one size of bolts: stripping both ways, engagement, pressure under nut or head."""

from __future__ import annotations

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_types import Hardware
from splitline.bolting import bearing as br
from splitline.bolting import stripping as sr
from splitline.bolting.limits import Limits, limits
from splitline.bolting.thread import Thread

H28 = "FED-STD-H28/2 at the loosest limits of 6H/6g or 2B/2A"
SHEAR = "shear strength half the tensile strength"


def put_threads(bench: Bench, lines: Lines, hw: Hardware, high: float | None) -> None:
    """Shear areas, engagement that breaks the bolt first, and the high preload against stripping."""
    if hw.thread is None:
        return
    tapped = not hw.through
    length = hw.engagement if tapped or hw.engagement is not None else hw.nut_height
    field = "bolting.engagement" if tapped else "bolting.nut_height"
    title = ("thread engagement in the tapped hole" if tapped else "thread engagement in the nut") + hw.of
    if length is None:
        bench.missing("engagement", title, (field,), H28, f"needs {field}", sense="at least", kind="length")
        return
    with bench.guard("engagement", title, H28):
        size = limits(hw.thread)
        areas = sr.strip_areas(hw.thread, size, length)
        _put_areas(lines, hw.thread, size, length, areas)
        inner = hw.tapped_tensile if tapped else hw.nut_tensile
        if tapped or inner is not None:
            _check_engagement(bench, lines, hw, size, length, inner, title)
        else:
            bench.note(
                "The nut's grade is not given: a standard nut of full height and the grade that goes with the bolt "
                "breaks the bolt before it strips (ISO 898-2, ASTM A194)."
            )
        if high is not None:
            _check_load(bench, hw, areas, inner, high)


def _put_areas(lines: Lines, thread: Thread, size: Limits, length: float, areas: sr.Strip) -> None:
    common = {"P": (thread.pitch, "length"), "L_e": (length, "length")}
    mm = "length"
    lines.put("engagement", length)
    lines.put(
        "strip_external",
        areas.external,
        {**common, "D1max": (size.internal_minor_max, mm), "d2min": (size.pitch_min, mm)},
    )
    lines.put(
        "strip_internal",
        areas.internal,
        {**common, "d_min": (size.major_min, mm), "D2max": (size.internal_pitch_max, mm)},
    )


def _check_engagement(
    bench: Bench, lines: Lines, hw: Hardware, size: Limits, length: float, inner: float | None, title: str
) -> None:
    basis = f"{H28}: the bolt breaks before either thread strips"
    needs = [] if hw.tensile_strength is not None else ["bolting.tensile_strength"]
    if inner is None:
        needs.append("bolting.tapped_strength")
    if needs or inner is None or hw.tensile_strength is None or hw.thread is None:
        note = "needs " + ", ".join(needs)
        bench.missing("engagement", title, needs, basis, note, sense="at least", kind="length")
        return
    need = sr.minimum_engagement(hw.thread, size, hw.tensile_strength, inner)
    lines.put(
        "engagement_needed",
        need,
        {
            "A_s": (hw.thread.stress_area, "area"),
            "R_b": (hw.tensile_strength, "stress"),
            "R_i": (inner, "stress"),
        },
    )
    bench.at_least("engagement", title, need, length, "length", basis)


def _check_load(bench: Bench, hw: Hardware, areas: sr.Strip, inner: float | None, high: float) -> None:
    for key, what, area, tensile in (
        ("strip_external", "bolt thread", areas.external, hw.tensile_strength),
        ("strip_internal", "internal thread", areas.internal, inner),
    ):
        if tensile is None:
            continue
        limit = sr.strip_load(area, tensile, 0.5)
        bench.at_most(
            key, f"stripping of the {what} at the greatest bolt load{hw.of}", high, limit, "force", f"{H28}; {SHEAR}"
        )


def put_bearing(bench: Bench, lines: Lines, hw: Hardware, preload: float, greatest: float | None) -> None:
    """Pressure under the turning face at target, and under the washer where there is one; the check takes the greatest load.

    A washer is taken as hard: then the clamped part is checked under the washer, where it spreads the load.
    """
    title = ("pressure under the washer" if hw.bearing_under else "pressure under nut or head") + hw.of
    title += " at the greatest bolt load"
    if hw.bearing is None or hw.hole is None:
        named = (("bolting.bearing_diameter", hw.bearing), ("bolting.hole_diameter", hw.hole))
        needs = [name for name, value in named if value is None]
        bench.missing("bearing_pressure", title, needs, note="needs " + ", ".join(needs))
        return
    with bench.guard("bearing_pressure", title):
        for key, face in (("bearing_pressure", hw.bearing), ("washer_pressure", hw.bearing_under)):
            if face is not None:
                puts = {"F": (preload, "force"), "d_w": (face, "length"), "d_h": (hw.hole, "length")}
                lines.put(key, br.bearing_pressure(preload, face, hw.hole), {**puts})
        if hw.bearing_limit is None:
            needs = ["bolting.bearing_limit"]
            note = "needs bolting.bearing_limit or bolting.bearing_material"
            bench.missing("bearing_pressure", title, needs, note=note, kind="stress")
        elif greatest is not None:
            pressure = br.bearing_pressure(greatest, hw.bearing_under or hw.bearing, hw.hole)
            older, note = hw.bearing_limit_older, ""
            if older is not None and older < pressure <= hw.bearing_limit:
                note = f"over the {bench.show(older, 'stress')} of the older table: look at it, or give bearing_limit"
            bench.at_most(
                "bearing_pressure", title, pressure, hw.bearing_limit, "stress", hw.bearing_limit_source, note
            )

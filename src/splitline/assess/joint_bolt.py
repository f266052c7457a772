"""One size of bolts: geometry, torque, stresses and what the scatter does to them."""

from __future__ import annotations

from splitline.assess.bench import Bench, Lines
from splitline.assess.joint_target import face_needs, torque_factor
from splitline.assess.joint_types import Grip, Hardware
from splitline.bolting import torque as tq

ASME_AREA = "π/4·(d − 0.9743/n)²"
NO_TWIST = ("hydraulic tensioner", "heat")  # methods that pull or heat the bolt and then run the nut down by hand
BY_TORQUE = (None, "torque wrench", "hydraulic wrench")
AT_TARGET = "stress at target on the least area"
LIMIT_YIELD = "yield of the bolt; usage over 0.90 is shown as near (VDI 2230-1:2003 tightens to 90 % of yield)"


def put_geometry(lines: Lines, hw: Hardware) -> None:
    """Areas and diameters of the thread and the least section."""
    thread = hw.thread
    if thread is None:
        return
    d_p = {"d": (thread.d, "length"), "P": (thread.pitch, "length")}
    lines.put("stress_area", thread.stress_area, d_p, formula=ASME_AREA if thread.form == "unified" else "")
    lines.put("pitch_diameter", thread.pitch_diameter, d_p)
    lines.put("minor_diameter", thread.minor_diameter, d_p)
    lines.put("root_area", thread.root_area, {"d3": (thread.minor_diameter, "length")})
    if hw.section is not None:
        puts = {"d_s": (thread.stress_diameter, "length"), "bore": (hw.bore, "length")}
        lines.put("least_area", hw.section.area, {**puts, "d_shank": (hw.shank_diameter, "length")})
    for key, strength in (("proof_load", hw.proof_strength), ("tensile_load", hw.tensile_strength)):
        if strength is not None:
            puts = {"R": (strength, "stress"), "A_s": (thread.stress_area, "area")}
            lines.put(key, strength * thread.stress_area, {**puts}, source=hw.strength_source)
    lines.put("hole_diameter", hw.hole)
    lines.put("bearing_diameter", hw.bearing)
    lines.put("across_flats", hw.across_flats)


def put_stress(bench: Bench, lines: Lines, hw: Hardware, preload: float) -> None:
    """Axial stress on stress area and least area, and its share of yield."""
    thread, section = hw.thread, hw.section
    if thread is None:
        return
    force = (preload, "force")
    lines.put("bolt_stress", preload / thread.stress_area, {"F": force, "A_s": (thread.stress_area, "area")})
    if section is None:
        return
    stress = preload / section.area
    lines.put("least_area_stress", stress, {"F": force, "A_min": (section.area, "area")})
    title = AT_TARGET + hw.of
    if hw.yield_strength is None:
        bench.missing("yield_usage", title, ("bolting.grade",), note="needs bolting.grade or bolting.yield_strength")
        return
    puts = {"F": force, "A_min": (section.area, "area"), "R_e": (hw.yield_strength, "stress")}
    lines.put("yield_usage", stress / hw.yield_strength, {**puts})
    bench.at_most("yield_usage", title, stress, hw.yield_strength, "stress", f"yield: {hw.strength_source}")


def put_torque(bench: Bench, lines: Lines, hw: Hardware, grip: Grip, preload: float, needed: bool) -> float | None:
    """Torque and nut factor at target; ``needed`` where the method is by torque: then a missing friction is said."""
    thread = hw.thread
    factor = torque_factor(hw, grip)
    if thread is None or factor is None:
        needs = grip.needs or face_needs(hw)
        if needed and thread is not None:
            bench.missing("torque", "torque" + hw.of, needs, note=grip.note or "needs " + ", ".join(needs))
        return None
    torque = preload * factor
    if grip.nut_factor is not None:
        puts = {"K": (grip.nut_factor, "number"), "F": (preload, "force"), "d": (thread.d, "length")}
        lines.put("torque", torque, {**puts}, formula="K·F·d", source=f"short form; {grip.source}")
    elif grip.nominal is not None and hw.bearing is not None and hw.hole is not None:
        mean = tq.mean_bearing_diameter(hw.bearing, hw.hole)
        lines.put(
            "torque",
            torque,
            {
                "F": (preload, "force"), "d2": (thread.pitch_diameter, "length"), "tan λ": (thread.lead_tangent, "number"),
                "μ_t": (grip.nominal.thread, "number"), "μ_b": (grip.nominal.bearing, "number"), "D_m": (mean, "length"),
            },
            formula="F·[(d2/2)·(tan λ + μ_t sec 30°)/(1 − μ_t tan λ sec 30°) + μ_b·D_m/2]",
            source=f"Shigley, Mechanical Engineering Design, 9th ed., eq. 8-26; friction: {grip.source}",
        )  # fmt: skip
    k = factor / thread.d
    lines.put("nut_factor", k, {"T": (torque, "torque"), "F": (preload, "force"), "d": (thread.d, "length")})
    if grip.nominal is not None and hw.bearing is not None and hw.hole is not None:
        loose = tq.loosening_torque_factor(thread, grip.nominal, hw.bearing, hw.hole)
        lines.put("loosening_torque", preload * loose, {"F": (preload, "force"), "T_off/F": (loose, "length")})
    if needed:
        _plausible(bench, hw, k)
    return torque


def _plausible(bench: Bench, hw: Hardware, k: float) -> None:
    title, basis = "nut factor" + hw.of, "0.10 to 0.22 is usual; common practice, no published source"
    if 0.10 <= k <= 0.22:
        return
    bench.near("nut_factor", title, basis, f"K = {k:.3f} is outside 0.10 to 0.22: check the friction for these threads")


def put_combined(bench: Bench, lines: Lines, hw: Hardware, grip: Grip, preload: float) -> None:
    """Torsion and combined stress while tightening at target (nominal friction)."""
    thread, section = hw.thread, hw.section
    if thread is None or section is None:
        return
    if grip.nominal is None:
        if grip.nut_factor is not None:
            bench.note(
                "Torsion cannot be told from a nut factor alone here: " + (grip.note or "no friction class is given")
            )
        return
    factor = tq.thread_torque_factor(thread, grip.nominal.thread)
    moment = preload * factor
    lines.put(
        "thread_torque",
        moment,
        {
            "F": (preload, "force"),
            "d2": (thread.pitch_diameter, "length"),
            "tan λ": (thread.lead_tangent, "number"),
            "μ_t": (grip.nominal.thread, "number"),
        },
    )
    twist = tq.torsion_stress(moment, section)
    lines.put(
        "torsion_stress",
        twist,
        {"M_G": (moment, "torque"), "d": (section.outer, "length"), "b": (section.bore, "length")},
    )
    axial = preload / section.area
    lines.put("combined_stress", tq.combined_stress(axial, twist), {"σ_min": (axial, "stress"), "τ": (twist, "stress")})


def put_high(
    bench: Bench, lines: Lines, hw: Hardware, grip: Grip, torque: float | None, high: float, method: str | None
) -> float | None:
    """Worst pair for overload: the high preload with the low friction that gives it at this torque.

    Returns the torsion, 0 where the method does not twist the bolt, None where friction is not known.
    """
    section, strength = hw.section, hw.yield_strength
    if hw.thread is None or section is None:
        return None
    twist = 0.0 if method in NO_TWIST else _twist_at(hw, grip, torque, high)
    title = "overload while tightening: high preload, low friction" + hw.of
    if twist is None:  # any method that turns the nut under load twists the bolt
        needs = grip.needs or face_needs(hw)
        note = "torsion is not known without friction" + (f": {grip.note}" if grip.note else "")
        bench.missing("combined_stress", title, needs, LIMIT_YIELD, note, kind="stress")
        return None
    combined = tq.combined_stress(high / section.area, twist)
    puts = {"F_high": (high, "force"), "A_min": (section.area, "area"), "τ": (twist, "stress")}
    lines.put("combined_stress_high", combined, {**puts})
    if strength is not None:
        bench.at_most("combined_stress", title, combined, strength, "stress", LIMIT_YIELD)
    return twist


def _twist_at(hw: Hardware, grip: Grip, torque: float | None, high: float) -> float | None:
    """Torsion when a torque gives a high preload: both coefficients are lower by one factor."""
    thread, section = hw.thread, hw.section
    if torque is None or thread is None or section is None:
        return None
    if grip.nominal is None or hw.bearing is None or hw.hole is None:
        return None
    scale = tq.friction_scale(torque, high, thread, grip.nominal, hw.bearing, hw.hole)
    return tq.torsion_stress(high * tq.flank_torque_factor(thread, scale * grip.nominal.thread), section)


def put_friction_ends(bench: Bench, lines: Lines, hw: Hardware, grip: Grip, torque: float, preload: float) -> None:
    """What the same torque gives at both ends of the lubricant's range: information beside the scatter, never on top."""
    for key, mu, k in (
        ("preload_friction_high", grip.high, grip.nut_factor_high),
        ("preload_friction_low", grip.low, grip.nut_factor_low),
    ):
        factor = _end_factor(hw, grip, mu, k)
        if factor is not None:
            lines.put(key, torque / factor, {"T": (torque, "torque"), "T/F": (factor, "length")}, source=grip.source)
    low, high = lines.get("preload_friction_high"), lines.get("preload_friction_low")
    if low is not None and high is not None and preload > 0.0 and lines is bench:
        bench.note(
            f"At {bench.show(torque, 'torque')} the lubricant's own range of friction gives {bench.show(low, 'force')} to "
            f"{bench.show(high, 'force')}. The scatter of the method already contains friction; it is not added on top."
        )


def _end_factor(hw: Hardware, grip: Grip, mu: tq.Friction | None, k: float | None) -> float | None:
    if hw.thread is None:
        return None
    if grip.nut_factor is not None:
        return None if k is None else k * hw.thread.d
    if mu is None or hw.bearing is None or hw.hole is None:
        return None
    return tq.torque_factor(hw.thread, mu, hw.bearing, hw.hole)

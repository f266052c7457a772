"""Torque and preload of a 60 degree thread: long form, short form and their inverses.

F preload N, T torque N·m, μ friction coefficients, d₂ pitch diameter m, D_m mean bearing diameter m, λ lead angle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.bolting.ranges import between, finite, friction, larger, not_negative, positive
from splitline.bolting.thread import SQRT3, Section, Thread
from splitline.errors import InputError

SEC30 = 2.0 / SQRT3


@dataclass(frozen=True, slots=True)
class Friction:
    """Friction while tightening, long form."""

    thread: float
    bearing: float


def thread_torque_factor(thread: Thread, friction_thread: float) -> float:
    """M_G/F = (d₂/2)·(tan λ + μ sec 30°)/(1 − μ tan λ sec 30°), m.

    Power screw with a 30° flank (Shigley, Mechanical Engineering Design, eq. 8-26). Valid for friction 0.01 to 1.
    """
    return flank_torque_factor(thread, friction("thread friction", friction_thread))


def flank_torque_factor(thread: Thread, friction_thread: float) -> float:
    """As `thread_torque_factor`, for any friction from 0 to where the thread jams: for worst-case pairs."""
    return screw_torque(thread.pitch_diameter, thread.pitch, friction_thread, math.radians(30.0))


def screw_torque(mean_diameter: float, lead: float, mu: float, flank_angle: float) -> float:
    """T/F = (d_m/2)·(tan λ + μ sec α)/(1 − μ tan λ sec α), m, of any screw (Shigley eq. 8-1, 8-5).

    α the flank angle (rad, 30° for metric and unified threads, 0 square). A negative lead is turning back.
    """
    positive("mean thread diameter", mean_diameter)
    tan_lead = finite("lead", lead) / (math.pi * mean_diameter)
    side = mu / math.cos(flank_angle)
    if side < 0.0 or not side * tan_lead < 1.0:
        raise InputError(f"a thread friction of {mu:g} jams this thread")
    return 0.5 * mean_diameter * (tan_lead + side) / (1.0 - side * tan_lead)


def bearing_torque_factor(friction_bearing: float, bearing_diameter: float, hole_diameter: float) -> float:
    """M_K/F = μ_b·D_m/2 with D_m = (bearing + hole)/2, m (Shigley eq. 8-26; VDI 2230). Diameters in m."""
    friction("bearing friction", friction_bearing)
    return 0.5 * friction_bearing * mean_bearing_diameter(bearing_diameter, hole_diameter)


def mean_bearing_diameter(bearing_diameter: float, hole_diameter: float) -> float:
    """Mean of the bearing face's outer diameter and the hole, m."""
    positive("hole diameter", hole_diameter)
    larger("the bearing diameter", bearing_diameter, "its hole", hole_diameter)
    return 0.5 * (bearing_diameter + hole_diameter)


def torque_factor(thread: Thread, mu: Friction, bearing_diameter: float, hole_diameter: float) -> float:
    """T/F, m: thread part plus bearing part, long form."""
    return thread_torque_factor(thread, mu.thread) + bearing_torque_factor(mu.bearing, bearing_diameter, hole_diameter)


def torque(preload: float, thread: Thread, mu: Friction, bearing_diameter: float, hole_diameter: float) -> float:
    """Tightening torque T = F·(M_G/F + M_K/F), N·m, for preload in N."""
    return not_negative("preload", preload) * torque_factor(thread, mu, bearing_diameter, hole_diameter)


def preload_from_torque(
    applied: float, thread: Thread, mu: Friction, bearing_diameter: float, hole_diameter: float
) -> float:
    """Preload N from a torque N·m: the inverse of `torque`."""
    return not_negative("torque", applied) / torque_factor(thread, mu, bearing_diameter, hole_diameter)


def loosening_torque_factor(thread: Thread, mu: Friction, bearing_diameter: float, hole_diameter: float) -> float:
    """T/F to loosen, m: (d₂/2)·(μ sec 30° − tan λ)/(1 + μ tan λ sec 30°) + μ_b D_m/2; at or below 0 it runs back."""
    friction("thread friction", mu.thread)
    part = screw_torque(thread.pitch_diameter, -thread.pitch, mu.thread, math.radians(30.0))
    return part + bearing_torque_factor(mu.bearing, bearing_diameter, hole_diameter)


def nut_factor(applied: float, preload: float, d: float) -> float:
    """K = T/(F·d) from torque N·m, preload N and nominal diameter m."""
    return not_negative("torque", applied) / (positive("preload", preload) * positive("diameter", d))


def torque_short(preload: float, factor: float, d: float) -> float:
    """Short form T = K·F·d, N·m. K from 0.01 to 1."""
    return not_negative("preload", preload) * between("nut factor", factor, 0.01, 1.0) * positive("diameter", d)


def preload_short(applied: float, factor: float, d: float) -> float:
    """Short form F = T/(K·d), N. K from 0.01 to 1."""
    return not_negative("torque", applied) / (between("nut factor", factor, 0.01, 1.0) * positive("diameter", d))


def friction_from_nut_factor(factor: float, thread: Thread, bearing_diameter: float, hole_diameter: float) -> float:
    """The one coefficient, equal in thread and under the nut, whose long form gives the nut factor K.

    InputError when K is so low that the lead of the thread alone needs more torque.
    """
    between("nut factor", factor, 0.01, 1.0)
    mean = mean_bearing_diameter(bearing_diameter, hole_diameter)
    need = factor * thread.d
    tan_lead, half = thread.lead_tangent, 0.5 * thread.pitch_diameter
    # (half·(t + s·μ))/(1 − s·t·μ) + μ·mean/2 = need, a quadratic in μ
    a = -0.5 * mean * SEC30 * tan_lead
    b = half * SEC30 + 0.5 * mean + need * SEC30 * tan_lead
    c = half * tan_lead - need
    mu = 2.0 * -c / (b + math.sqrt(max(b * b - 4.0 * a * c, 0.0)))
    if mu <= 0.0:
        raise InputError(
            f"a nut factor of {factor:g} is under what the lead of the thread alone needs "
            f"({half * tan_lead / thread.d:.3f}): no friction can give it"
        )
    return mu


def torsion_stress(thread_torque: float, section: Section) -> float:
    """τ = M_G/(π/12·(d³ − b³)), Pa: fully plastic torsion, 12 M_G/(π d_s³) for a solid section (VDI 2230-1:2003)."""
    return not_negative("thread torque", thread_torque) / section.plastic_torsion_modulus


def combined_stress(axial_stress: float, torsion: float) -> float:
    """√(σ² + 3τ²), Pa (von Mises)."""
    return math.sqrt(finite("axial stress", axial_stress) ** 2 + 3.0 * finite("torsion stress", torsion) ** 2)


def preload_at_combined(limit: float, section: Section, thread_factor: float) -> float:
    """Preload N at which the combined stress while tightening reaches limit (Pa).

    F = limit/√(1/A² + 3 (k/W)²), k = M_G/F in m, W the plastic torsion modulus (VDI 2230-1:2003, R8 assembly preload).
    """
    positive("stress limit", limit)
    torsion = not_negative("thread torque per preload", thread_factor) / section.plastic_torsion_modulus
    return limit / math.sqrt(1.0 / section.area**2 + 3.0 * torsion**2)


def friction_scale(applied: float, preload: float, thread: Thread, mu: Friction, bearing: float, hole: float) -> float:
    """Common factor on both coefficients that makes a torque (N·m) give a preload (N): bearing, hole in m.

    Worst-case pair: with a fixed torque a high preload means low friction. The factor is not under 0 (then the lead
    alone takes the torque).
    """
    need = positive("torque", applied) / positive("preload", preload)
    tan_lead, half = thread.lead_tangent, 0.5 * thread.pitch_diameter
    flank = friction("thread friction", mu.thread) * SEC30
    face = bearing_torque_factor(mu.bearing, bearing, hole)
    a = -face * flank * tan_lead
    b = half * flank + face + need * flank * tan_lead
    c = half * tan_lead - need
    return max(0.0, -2.0 * c / (b + math.sqrt(max(b * b - 4.0 * a * c, 0.0))))

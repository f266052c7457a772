"""Outside loads on a bolted closure: pressure, temperature, and what they leave of the clamp.

Forces N, pressures Pa gauge, compliances δ m/N, temperatures K (differences), expansion 1/K.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.bolting.ranges import between, finite, not_negative, positive


def pressure_force(pressure: float, seal_diameter: float) -> float:
    """End force p·π/4·D², N: D the effective diameter of the seal, m (O-ring: its groove's sealing diameter)."""
    return finite("pressure", pressure) * 0.25 * math.pi * positive("pressure diameter", seal_diameter) ** 2


def o_ring_effective_diameter(groove_inner: float, groove_outer: float) -> float:
    """Pressure reaches the far wall of a face-seal groove: its outer diameter for inside pressure, m (conservative)."""
    positive("groove inner diameter", groove_inner)
    return max(groove_inner, positive("groove outer diameter", groove_outer))


def equivalent_pressure(moment: float, axial: float, diameter: float) -> float:
    """p_e = 16 M/(π G³) + 4 F/(π G²), Pa: moment N·m and axial pull N as a pressure on G, m (Moss, p. 53)."""
    positive("gasket reaction diameter", diameter)
    bending = 16.0 * finite("moment", moment) / (math.pi * diameter**3)
    return bending + 4.0 * finite("axial load", axial) / (math.pi * diameter**2)


@dataclass(frozen=True, slots=True)
class BoltState:
    """One bolt of a closure under one case, N."""

    low: float  # preload at the low end, temperature included
    residual_clamp: float  # clamp left between the faces at the low end
    separation_factor: float | None  # low preload over the force that unloads the faces; None without outside force
    high: float  # bolt load at the high end
    swing: float  # part of the outside force the bolt feels


def bolt_state(preload_low: float, preload_high: float, load_factor: float, force: float, thermal: float) -> BoltState:
    """Joint diagram: clamp = F_low + ΔF_T − (1 − Φ)·F, bolt = F_high + ΔF_T + Φ·F (Shigley eq. 8-24; VDI 2230).

    force: outside force per bolt N (below 0 it closes the joint); thermal: change of preload N. A negative residual clamp
    means that the faces part, and the bolt then carries the whole outside force.
    """
    not_negative("low preload", preload_low)
    between("load factor", load_factor, 0.0, 1.0)
    finite("outside force", force)
    low = preload_low + finite("thermal change", thermal)
    unload = (1.0 - load_factor) * force
    high = preload_high + thermal
    parted = high - unload < 0.0
    return BoltState(
        low=low,
        residual_clamp=low - unload,
        separation_factor=low / unload if unload > 0.0 else None,
        high=force if parted else high + load_factor * force,
        swing=load_factor * force,
    )


@dataclass(frozen=True, slots=True)
class Heat:
    """What temperature does to one bolt and its members, against assembly."""

    clamp_length: float  # m
    bolt_expansion: float  # 1/K, mean from assembly
    bolt_rise: float  # K
    member_expansion: float  # 1/K
    member_rise: float  # K
    bolt_modulus_share: float = 1.0  # E hot over E at assembly
    member_modulus_share: float = 1.0


def thermal_change(heat: Heat, bolt_compliance: float, member_compliance: float, preload: float = 0.0) -> float:
    """ΔF = [L (α_m ΔT_m − α_b ΔT_b) + F (δ_b + δ_m)]/(δ_b E/E_T + δ_m E/E_T) − F, N (VDI 2230-1:2003, 5.4.2.3).

    With moduli unchanged this is the textbook L (α_m ΔT_m − α_b ΔT_b)/(δ_b + δ_m), whatever the preload (N).
    """
    positive("clamp length", heat.clamp_length)
    positive("bolt modulus share", heat.bolt_modulus_share)
    positive("member modulus share", heat.member_modulus_share)
    cold = positive("bolt compliance", bolt_compliance) + not_negative("member compliance", member_compliance)
    hot = bolt_compliance / heat.bolt_modulus_share + member_compliance / heat.member_modulus_share
    gap = heat.member_expansion * finite("member temperature rise", heat.member_rise)
    gap -= heat.bolt_expansion * finite("bolt temperature rise", heat.bolt_rise)
    return (heat.clamp_length * gap + preload * cold) / hot - preload


def joint_preload_limits(nominal: float, scatter: float, relaxation: float) -> tuple[float, float]:
    """(F_low, F_high) = F·(1 − s)·(1 − r), F·(1 + s), N, scatter s and relaxation r as shares of 1."""
    not_negative("preload", nominal)
    between("scatter", scatter, 0.0, 0.99)
    between("relaxation", relaxation, 0.0, 0.99)
    return nominal * (1.0 - scatter) * (1.0 - relaxation), nominal * (1.0 + scatter)


def tightening_factor(scatter: float) -> float:
    """α_A = F_max/F_min = (1 + s)/(1 − s) (VDI 2230)."""
    between("scatter", scatter, 0.0, 0.99)
    return (1.0 + scatter) / (1.0 - scatter)


def embedding(length: float, d: float) -> float:
    """Embedding of steel faces f_Z = 3.29·(L/d)^0.34 µm, m (VDI 2230:1986, eq. 5.4/2; from memory). L, d in m."""
    return 3.29e-6 * math.pow(positive("clamp length", length) / positive("bolt diameter", d), 0.34)


def embedding_loss(length: float, d: float, bolt_compliance: float, member_compliance: float) -> float:
    """Preload lost by embedding F_Z = f_Z/(δ_b + δ_m), N (VDI 2230). Short stiff bolts lose most."""
    return embedding(length, d) / (
        positive("bolt compliance", bolt_compliance) + not_negative("member compliance", member_compliance)
    )

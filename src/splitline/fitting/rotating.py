"""Stress, growth and speed limits of a ring or shaft that turns: the exact annular disc, plane stress."""

from __future__ import annotations

from splitline.errors import InputError
from splitline.fitting.cylinder import Elastic, RingStress, growth, ring_sizes
from splitline.fitting.guard import not_negative


def spinning(at: float, bore: float, outer: float, material: Elastic, speed: float) -> RingStress:
    """Stress at diameter ``at`` of a free disc of constant thickness turning at ``speed`` (rad/s).

    With r = d/2: σ_r = (3+ν)/8 ρω² (a² + b² − a²b²/r² − r²), σ_t = (3+ν)/8 ρω² (a² + b² + a²b²/r² − (1+3ν)/(3+ν) r²);
    solid disc: the terms with a vanish. Thin-disc theory: good while the length is not well above the outer diameter.
    Source: Timoshenko & Goodier, Theory of Elasticity, §32 (rotating disks); Shigley §3-15 (rotating rings).
    """
    ring_sizes(bore, outer)
    not_negative(speed, "speed")
    if not bore * (1 - 1e-12) <= at <= outer * (1 + 1e-12):
        raise InputError(f"diameter {at:g} m is outside the disc of {bore:g} to {outer:g} m")
    nu = material.poisson
    inner2, outer2, radius2 = (bore / 2) ** 2, (outer / 2) ** 2, (at / 2) ** 2
    pull = (3 + nu) / 8 * material.density * speed**2
    cross = (bore / at) ** 2 * outer2 if bore > 0.0 else 0.0
    radial = pull * (inner2 + outer2 - cross - radius2)
    hoop = pull * (inner2 + outer2 + cross - (1 + 3 * nu) / (3 + nu) * radius2)
    return RingStress(radial, hoop)


def spin_growth(at: float, bore: float, outer: float, material: Elastic, speed: float) -> float:
    """Growth of the diameter ``at`` (m) of a free turning disc: d (σ_t − ν σ_r)/E. Source: as ``spinning``."""
    return growth(at, spinning(at, bore, outer, material, speed), material)

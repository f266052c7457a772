"""Preload by stretch, by nut turn and by bolt heating. N, N/m, rad, m, K."""

from __future__ import annotations

import math

from splitline.bolting.ranges import between, finite, not_negative, positive


def stretch(load: float, bolt_stiffness: float) -> float:
    """ΔL = F/k_b, m, measured over the whole bolt."""
    return not_negative("load", load) / positive("bolt stiffness", bolt_stiffness)


def load_from_stretch(elongation: float, bolt_stiffness: float) -> float:
    """F = k_b·ΔL, N."""
    return not_negative("stretch", elongation) * positive("bolt stiffness", bolt_stiffness)


def stretch_corrected(reading: float, length: float, expansion: float, rise: float) -> float:
    """Elastic stretch in a length reading, m: reading − α·L·ΔT when the bolt is ΔT warmer than at the zero reading."""
    return finite("reading", reading) - expansion * positive("bolt length", length) * finite("temperature rise", rise)


def turn_angle(load: float, snug: float, bolt_stiffness: float, member_stiffness: float, pitch: float) -> float:
    """θ = 2π/P·(F − F_snug)·(1/k_b + 1/k_m), rad: nut turn from a snug load, faces in contact.

    Shigley 8-29 (θ = N F (1/k_b + 1/k_m)); members taken as linear from snug on.
    """
    between("snug load", snug, 0.0, not_negative("load", load))
    give = 1.0 / positive("bolt stiffness", bolt_stiffness) + 1.0 / positive("member stiffness", member_stiffness)
    return 2.0 * math.pi / positive("pitch", pitch) * (load - snug) * give


def load_from_turn(angle: float, snug: float, bolt_stiffness: float, member_stiffness: float, pitch: float) -> float:
    """F = F_snug + θ·P/(2π)/(1/k_b + 1/k_m), N. member_stiffness may be math.inf (rigid members)."""
    give = 1.0 / positive("bolt stiffness", bolt_stiffness)
    if member_stiffness != math.inf:
        give += 1.0 / positive("member stiffness", member_stiffness)
    advance = not_negative("turn", angle) * positive("pitch", pitch) / (2.0 * math.pi)
    return not_negative("snug load", snug) + advance / give


def heat_rise(gap: float, heated_length: float, expansion: float) -> float:
    """ΔT = gap/(α·L), K: bolt heated over L so that the nut can be run down by gap before it cools and pulls."""
    not_negative("nut advance", gap)
    return gap / (positive("heated length", heated_length) * positive("expansion", expansion))


def nut_advance(load: float, snug: float, bolt_stiffness: float, member_stiffness: float) -> float:
    """(F − F_snug)·(1/k_b + 1/k_m), m: distance a nut must be run down from snug for a preload F after cooling."""
    between("snug load", snug, 0.0, not_negative("load", load))
    give = 1.0 / positive("bolt stiffness", bolt_stiffness) + 1.0 / positive("member stiffness", member_stiffness)
    return (load - snug) * give


def strain_energy(load: float, stiffness: float) -> float:
    """U = F²/(2 k), J: what flies when a stud breaks or a tensioner lets go."""
    return 0.5 * finite("load", load) ** 2 / positive("stiffness", stiffness)

"""A split line under pressure: what each bolt must carry, and whether the inner lip stays shut.

Positions along the line and widths in m, pressures Pa, forces N.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from splitline.bolting.ranges import finite, not_negative, positive
from splitline.errors import InputError


@dataclass(frozen=True, slots=True)
class Zone:
    """Pressure over a stretch of the line."""

    start: float  # m
    end: float  # m
    pressure: float  # Pa gauge
    width: float  # m, projected width carried by one side's bolts


def line_ends(positions: Sequence[float]) -> tuple[float, float]:
    """Ends of the flange when not given: half a pitch outside the end bolts, m."""
    if len(positions) < 2:
        raise InputError("a split line needs at least two bolts a side")
    return (
        positions[0] - 0.5 * (positions[1] - positions[0]),
        positions[-1] + 0.5 * (positions[-1] - positions[-2]),
    )


def tributary(positions: Sequence[float], start: float, end: float) -> list[tuple[float, float]]:
    """Stretch of line (from, to) each bolt answers for, m: halfway to its neighbours, or to the end of the flange."""
    for a, b in pairwise(positions):
        if not b > a:
            raise InputError(f"bolt positions along a split line must rise: {b * 1e3:g} mm follows {a * 1e3:g} mm")
    if not (start <= positions[0] and positions[-1] <= end):
        raise InputError("the ends of the flange must lie outside its end bolts")
    middles = [0.5 * (a + b) for a, b in pairwise(positions)]
    edges = [start, *middles, end]
    return list(pairwise(edges))


def tributary_forces(stretches: Sequence[tuple[float, float]], zones: Sequence[Zone]) -> list[float]:
    """Force on each bolt, N: Σ p·w·(overlap of zone and stretch). Overlapping zones add.

    What of a zone lies past the ends of the line hangs on the end bolts: no pressure is left without a bolt.
    """
    for zone in zones:
        positive("zone width", zone.width)
        if not zone.end > zone.start:
            raise InputError(f"a zone must run forward: from {zone.start * 1e3:g} mm to {zone.end * 1e3:g} mm does not")
        finite("zone pressure", zone.pressure)
    edges = list(stretches)
    if edges and zones:
        edges[0] = (min(edges[0][0], *(zone.start for zone in zones)), edges[0][1])
        edges[-1] = (edges[-1][0], max(edges[-1][1], *(zone.end for zone in zones)))
    return [
        sum(zone.pressure * zone.width * max(0.0, min(zone.end, to) - max(zone.start, start)) for zone in zones)
        for start, to in edges
    ]


@dataclass(frozen=True, slots=True)
class Lip:
    """Face between one bolt's stretch of flange, at one bolt load."""

    inside_pressure: float  # Pa at the inner edge; 0 when the lip has opened
    contact_width: float  # m of the face still in contact
    clamp: float  # N between the faces along this stretch


def lip(bolt_load: float, force: float, to_inside: float, to_outside: float, length: float) -> Lip:
    """Contact pressure at the inner lip, faces rigid and straight: N = F_b − F, N·x = F·a.

    The outside force F pulls at the inner edge, a (to_inside) from the bolt, so the contact force N = F_b − F moves
    outward by F·a/N from the bolt line. Linear pressure over the width a + b; where it would turn to tension that edge
    opens and contact shrinks to three times the distance left to the other edge (no-tension face, statics).
    length: stretch of flange one bolt clamps, m. bolt_load, force in N.
    """
    positive("distance from bolt to inside edge", to_inside)
    positive("distance from bolt to outside edge", to_outside)
    positive("length of flange per bolt", length)
    not_negative("force per bolt", force)
    clamp = finite("bolt load", bolt_load) - force
    width = to_inside + to_outside
    if clamp <= 0.0:
        return Lip(0.0, 0.0, clamp)
    left = to_outside - force * to_inside / clamp  # distance of the contact force from the outer edge
    if left <= 0.0:
        return Lip(0.0, 0.0, clamp)
    if left < width / 3.0:
        return Lip(0.0, 3.0 * left, clamp)
    if left > 2.0 * width / 3.0:
        touching = 3.0 * (width - left)
        return Lip(2.0 * clamp / (touching * length), touching, clamp)
    eccentric = 0.5 * width - left
    return Lip(clamp / (width * length) * (1.0 - 6.0 * eccentric / width), width, clamp)


def lip_pressure_signed(bolt_load: float, force: float, to_inside: float, to_outside: float, length: float) -> float:
    """Pressure at the inner edge if the faces could pull, Pa: negative tells how far from shut the lip is."""
    lip(bolt_load, force, to_inside, to_outside, length)  # ranges
    width = to_inside + to_outside
    clamp = bolt_load - force
    moment = clamp * 0.5 * width - (clamp * to_outside - force * to_inside)
    return (clamp - 6.0 * moment / width) / (width * length)


def bolt_load_to_open(force: float, to_inside: float, to_outside: float) -> float:
    """F·(1 + a/b), N: bolt load under which the face turns about its outer edge (prying)."""
    positive("distance from bolt to inside edge", to_inside)
    return not_negative("force per bolt", force) * (1.0 + to_inside / positive("distance to outside edge", to_outside))

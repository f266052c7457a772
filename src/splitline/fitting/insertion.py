"""Pushing a bundle along its tracks: forces, when to stop, what the tracks carry."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.errors import InputError
from splitline.fitting.guard import finite, not_negative, positive

GRAVITY = 9.80665  # m/s², CGPM 1901
STOP_FACTOR = 1.3  # over the predicted high force, common practice
STOP_JUMP = 0.25  # rise of the force between two readings, common practice


@dataclass(frozen=True, slots=True)
class Push:
    """Parts of a push force, N: sliding or rolling friction, weight along the slope, drag of the seal rings."""

    friction: float
    slope: float
    seals: float

    @property
    def total(self) -> float:
        """Force of the jacks, N; negative means the bundle runs down by itself and must be held back."""
        return self.friction + self.slope + self.seals


def push_force(
    mass: float, friction: float, slope: float, seals: int = 0, seal_diameter: float = 0.0, seal_drag: float = 0.0
) -> Push:
    """Force to push ``mass`` (kg) up a track of ``slope`` (rad, positive up): m g (μ cos α + sin α) + n π D f.

    ``seal_drag`` f in N/m of ring length, ``seal_diameter`` D in m. μ 0.02 to 0.05 on rollers, 0.10 to 0.15 on greased
    rails; an O-ring drags 0.5 to 2 N/mm (common practice). Starting from rest takes more than keeping moving.
    """
    weight = positive(mass, "mass") * GRAVITY
    if not abs(slope) < math.pi / 4:
        raise InputError(f"a track slope of {math.degrees(slope):g} deg is out of range (under 45 deg either way)")
    drag = not_negative(seals, "number of seals") * math.pi * not_negative(seal_diameter, "seal diameter")
    drag *= not_negative(seal_drag, "seal drag")
    return Push(not_negative(friction, "friction") * weight * math.cos(slope), weight * math.sin(slope), drag)


def stop_force(push_high: float) -> float:
    """Force (N) at which pushing stops and the cause is looked for: 1.3 times the predicted high (common practice)."""
    return STOP_FACTOR * not_negative(push_high, "predicted high push force")


@dataclass(frozen=True, slots=True)
class LogVerdict:
    """What one line of the force log means: ``stop`` with its ``reason``, else go on."""

    stop: bool
    reason: str


def judge_log(forces: tuple[float, ...], push_high: float) -> tuple[LogVerdict, ...]:
    """Each reading (N) of the force log against the STOP force and a jump of 25 % on the reading before.

    A jump counts only above the predicted high force less 25 %, so that the first centimetres of a light push do not
    stop the job (common practice).
    """
    limit = stop_force(push_high)
    found: list[LogVerdict] = []
    for i, force in enumerate(forces):
        finite(force, "logged force")
        before = forces[i - 1] if i else None
        if force > limit:
            found.append(LogVerdict(True, "above the STOP force"))
        elif before is not None and force > before * (1 + STOP_JUMP) and force > push_high * (1 - STOP_JUMP):
            found.append(
                LogVerdict(True, "jumped by more than 25 % since the reading before: rolled seal or cocked bundle")
            )
        else:
            found.append(LogVerdict(False, ""))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class TrackReactions:
    """Forces (N) on the rear and the front support; ``lifts`` when the bundle tips about one of them."""

    rear: float
    front: float

    @property
    def lifts(self) -> bool:
        """True when a support would have to pull: the centre of gravity overhangs the other one."""
        return self.rear < 0.0 or self.front < 0.0


def track_reactions(weight: float, centre: float, rear: float, front: float) -> TrackReactions:
    """Reactions of two supports at ``rear`` < ``front`` (m along the track) under a weight (N) at ``centre`` (m).

    Statics of a rigid beam: R_front = W (x_c − x_rear)/(x_front − x_rear). Outside the supports one goes negative:
    it tips.
    """
    if not rear < front:
        raise InputError("the rear support must lie behind the front one")
    share = (finite(centre, "centre of gravity") - rear) / (front - rear)
    return TrackReactions(positive(weight, "weight") * (1 - share), weight * share)


def overhang_limit(centre: float, last_support: float) -> float:
    """How far (m) the bundle may still travel before its centre of gravity passes its last support."""
    return finite(last_support, "last support") - finite(centre, "centre of gravity")

"""What a lift tells screens, paper, card, list and JSON: what each leg pulls, how it hangs, and tilts in the riggers' words."""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.units import System, show

Point = tuple[float, float, float]
GOVERNING_MISSING = "governing missing"
FREE_TILT = math.radians(2.0)  # 0027/ND Rev 11.2, 5.3.2: single-crane lift, without special review


@dataclass(frozen=True, slots=True)
class LegLoad:
    """One leg. Its parts are rated for ``governing``, never for ``nominal``; no teller says one without its name."""

    number: int  # from 1
    nominal: float  # N, as the load hangs at its mass as given
    governing: float | None  # N, greater of the share by rule and the worst over the doubts; None: margin not given
    angle: float  # from the horizontal as hung, rad
    flattest: float | None  # from the horizontal within the doubts, rad

    def nominal_said(self, system: System) -> str:
        """As in "19.4 kN nominal"."""
        return f"{show(self.nominal, 'force', system)} nominal"

    def governing_said(self, system: System) -> str:
        """As in "47.7 kN governing"; where it cannot be told, that it is missing."""
        return GOVERNING_MISSING if self.governing is None else f"{show(self.governing, 'force', system)} governing"

    def said(self, system: System) -> str:
        """Both, named."""
        return f"{self.nominal_said(system)}, {self.governing_said(system)}"


def greatest_leg(legs: tuple[LegLoad, ...]) -> LegLoad | None:
    """The leg that has to be rated for most; of nominal tensions where nothing governs yet."""
    return max(legs, key=lambda leg: (leg.governing or 0.0, leg.nominal), default=None)


@dataclass(frozen=True, slots=True)
class Picture:
    """The hung load for a drawing: places in the load's frame, m; the vertical is ``up``."""

    hook: Point
    up: Point
    centre: Point
    picks: tuple[Point, ...]
    tops: tuple[Point, ...]  # upper end of each leg: the hook, or a point of the beam
    names: tuple[str, ...]
    beam_upper: tuple[Point, ...]
    beam_lower: tuple[Point, ...]
    parts: tuple[Point, ...]
    tail: Point | None
    shift: float  # m, doubt of the centre
    usage: tuple[float | None, ...] = ()  # weakest part of each leg


def tilt_words(tilt: float, system: System = "SI") -> str:
    """A tilt as riggers measure it: mm per m (in per ft); in degrees where that says nothing any more."""
    if tilt > math.radians(30.0):
        return show(tilt, "angle", system)
    return f"{math.tan(tilt) * 12:.2f} in per ft" if system == "US" else f"{math.tan(tilt) * 1e3:.1f} mm per m"


def rolled_words(slope: float, system: System) -> str:
    """How much of a worst tilt is the slope of the line through the picks, rad."""
    return f", of which the line through the picks {tilt_words(slope, system)}, the rest roll about it"

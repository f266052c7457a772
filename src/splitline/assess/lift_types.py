"""What the parts of a lift's assessment hand to one another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from splitline.lifting.below import Above
    from splitline.lifting.tolerance import Worst
    from splitline.plan.model.lift import Leg

Point = tuple[float, float, float]
GRAVITY = 9.80665


@dataclass(frozen=True, slots=True)
class LegData:
    """One leg as the physics wants it."""

    number: int  # from 1
    leg: Leg
    pick: Point
    length: float | None
    capacity: float | None  # of the sling as hitched, N
    rigidity: float | None  # EA, N; None = taken as unstretching
    basis: str  # of the sling's capacity
    sling: str  # name of the sling in the chain of parts
    axis: Point | None = None  # straight pull of the fitting; None where it turns to the pull

    @property
    def name(self) -> str:
        """Number and name, as in "leg 2 (rear left)"."""
        return f"leg {self.number}{self.called}"

    @property
    def called(self) -> str:
        """The name in brackets, where it says more than the number."""
        name = (self.leg.name or "").strip()
        return f" ({name})" if name and name != str(self.number) else ""


@dataclass(frozen=True, slots=True)
class Load:
    """What hangs."""

    mass: float  # kg
    centre: Point | None  # m; None = known only on site
    factor: float | None  # mass factor; None = not given
    dynamic: float
    shift: float  # m
    rise: float  # m, how far the centre may be higher
    tolerance: float

    @property
    def weight(self) -> float:
        return self.mass * GRAVITY

    @property
    def design(self) -> float | None:
        """Weight with mass margin and dynamic factor, N."""
        return None if self.factor is None else self.weight * self.factor * self.dynamic


@dataclass(frozen=True, slots=True)
class State:
    """One hung state, single hook or below a beam; load's frame."""

    hook: Point
    up: Point
    tensions: tuple[float, ...]
    angles: tuple[float, ...]
    along: tuple[Point, ...]  # pull of each leg on the load
    tops: tuple[Point, ...]  # upper end of each leg
    tilt: float
    state: str
    upper_tensions: tuple[float, ...] = ()
    compression: float = 0.0
    upper_angles: tuple[float, ...] = ()  # from the horizontal, rad
    bending: float = 0.0  # in the beam, N·m
    beam_tilt: float = 0.0
    beam_upper: tuple[Point, ...] = ()
    beam_lower: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Hung:
    """The lift hung: at nominal mass, at the design load, and over its doubts."""

    lengths: tuple[float, ...]
    nominal: State
    design: State | None
    worst: Worst | None
    above: Above | None = None  # extremes of upper slings and beam


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

"""What a mounting step is made of: an instruction, the figures it is bounded by, what is read in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from splitline.assess.fit_measured import PLACES
from splitline.plan.model import Fit
from splitline.units import System, as_read, show

TOOL = 0.04  # what a torque tool may be off, ISO 6789, from memory
LACKING = "NO LIMIT IN THE PLAN, ask the planner"


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure the fitter reads or logs, with its limits in SI; None: no limit on that side. ``kind`` of units.KINDS."""

    name: str
    title: str
    kind: str
    low: float | None = None
    high: float | None = None
    target: float | None = None  # what is aimed at between the limits
    basis: str = ""  # where the limits come from, where the fitter should know

    @property
    def told(self) -> bool:
        """Whether there is a figure at all; else only its title stands, which says what is lacking."""
        return (self.low, self.high, self.target) != (None, None, None)

    def said(self, system: System = "SI") -> str:
        """The limits in words."""
        return f"{self._said(system)} ({self.basis})" if self.basis else self._said(system)

    def _said(self, system: System) -> str:
        low, high = self._value(self.low, system), self._value(self.high, system)
        if self.target is not None:
            aim = f"{self.title} {self._value(self.target, system)}"
            return f"{aim}, accepted {low} to {high}" if low and high else aim
        if self.low is not None and self.high is not None and self.low > self.high:
            return f"{self.title} wants {low}, may be {high} at most: CANNOT BE KEPT, ask the planner"
        if low and high:
            return f"{self.title} {low}" if low == high else f"{self.title} {low} to {high}"
        return f"{self.title} at least {low}" if low else f"{self.title} at most {high}" if high else self.title

    def _value(self, value: float | None, system: System) -> str:
        if value is None:
            return ""
        return f"{value * 100:.4g} %" if self.kind == "share" else show(value, as_read(self.kind), system)


@dataclass(frozen=True, slots=True)
class MountingStep:
    """One instruction. ``wait`` in s is a hold timer; ``sign`` says whether it is a hold or a witness point."""

    number: int
    name: str
    text: str
    limits: tuple[Limit, ...] = ()
    log: tuple[Limit, ...] = ()
    wait: float | None = None
    sign: Literal["", "hold", "witness"] = ""

    @property
    def readable(self) -> tuple[Limit, ...]:
        """What can be read in it: what is logged, else its limits; a figure that is only told is no reading."""
        return self.log or tuple(limit for limit in self.limits if (limit.low, limit.high) != (None, None))


@dataclass(frozen=True, slots=True)
class Draft:
    """A step before it is numbered."""

    name: str
    text: str
    limits: tuple[Limit, ...] = ()
    log: tuple[Limit, ...] = ()
    wait: float | None = None
    sign: Literal["", "hold", "witness"] = ""


def name_of(fit: Fit) -> str:
    """What the outer part is called."""
    return fit.part or "hub"


def diameters() -> tuple[Limit, ...]:
    """What is read of both parts before they are joined: two planes by two directions, and their temperature."""
    read = [
        Limit(f"{part}_{number}", f"{said}, {place}", "length")
        for part, said in (("shaft", "shaft"), ("hub", "bore"))
        for number, place in enumerate(PLACES, 1)
    ]
    return (*read, Limit("temperature", "temperature of both parts", "temperature"))


def drawn(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    """The interference the diameters have to make."""
    middle = results.get("interference")
    if middle is None:
        return ()
    low, high = results.get("interference_low"), results.get("interference_high")
    same = low is None or high is None or low == high
    return (Limit("interference", "interference", "length", None if same else low, None if same else high, middle),)


def told(name: str, title: str, kind: str, value: float | None) -> tuple[Limit, ...]:
    """A figure that is only told."""
    return () if value is None else (Limit(name, title, kind, target=value),)


def checked(fit: Fit, face: bool = False) -> tuple[Limit, ...]:
    """What is read once it is on: torque of the nut, face runout and gap to the shoulder, where the plan says.

    ``face``: the step is there to measure the face and the seat, so they are read even where the plan gives no limit.
    """
    found = []
    if fit.nut_torque is not None:
        low, high = ((1 + side * TOOL) * fit.nut_torque for side in (-1, 1))
        found.append(Limit("nut_torque", "torque of the nut", "torque", low, high, fit.nut_torque))
    if face or fit.face_runout is not None:
        found.append(Limit("face_runout", "face runout", "length", None, fit.face_runout))
    if fit.shoulder_gap is not None or (face and fit.shoulder_diameter is not None):
        found.append(Limit("shoulder_gap", "gap to the shoulder", "length", None, fit.shoulder_gap))
    return tuple(found)


def check_told(fit: Fit) -> tuple[Limit, ...]:
    """The same before the act; says where the plan gives no limit."""
    return tuple(
        each if each.told else Limit(f"{each.name}_lacking", f"{each.title}: {LACKING}", "length")
        for each in checked(fit, face=True)
    )

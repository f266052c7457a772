"""What a mounting step is made of: an instruction, the figures it is bounded by, what is read in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from splitline.assess.fit_measured import PLACES
from splitline.plan.model import Fit
from splitline.units import System, show


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure the fitter reads or logs, with its limits in SI; None: no limit on that side. ``kind`` of units.KINDS."""

    name: str
    title: str
    kind: str
    low: float | None = None
    high: float | None = None
    target: float | None = None  # what is aimed at between the limits

    def said(self, system: System = "SI") -> str:
        """The limits in words."""
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
        return f"{value * 100:.4g} %" if self.kind == "share" else show(value, self.kind, system)


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


@dataclass(frozen=True, slots=True)
class Draft:
    """A step before it is numbered."""

    name: str
    text: str
    limits: tuple[Limit, ...] = ()
    log: tuple[Limit, ...] = ()
    wait: float | None = None
    sign: Literal["", "hold", "witness"] = ""


def diameters() -> tuple[Limit, ...]:
    """What is read of both parts before a cylinder is joined: two planes by two directions, and their temperature."""
    read = [
        Limit(f"{part}_{number}", f"{said}, {place}", "length")
        for part, said in (("shaft", "shaft"), ("hub", "hub bore"))
        for number, place in enumerate(PLACES, 1)
    ]
    return (*read, Limit("temperature", "temperature of both parts", "temperature"))


def nut_and_face(fit: Fit) -> tuple[Limit, ...]:
    """What the nut is pulled to and how true the face has to run, where the plan says."""
    nut = () if fit.nut_torque is None else (Limit("nut_torque", "torque of the nut", "torque", target=fit.nut_torque),)
    face = () if fit.face_runout is None else (Limit("face_runout", "face runout", "length", None, fit.face_runout),)
    return (*nut, *face)

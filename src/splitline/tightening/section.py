"""The bending flange as a beam: stiffness of its rectangular section and of the face it rests on."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import InputError


@dataclass(frozen=True, slots=True)
class Flange:
    """A flange section on its face. E in Pa, width across the face and height in m, contact stiffness in Pa/m."""

    modulus: float
    width: float
    height: float
    contact_stiffness: float

    def __post_init__(self) -> None:
        for name in ("modulus", "width", "height", "contact_stiffness"):
            value = getattr(self, name)
            if not 0 < value < float("inf"):
                raise InputError(f"{name.replace('_', ' ')} of the flange must be above 0, is {value:g}")

    @property
    def bending(self) -> float:
        """E·w·h³/12 about the horizontal axis, N·m²."""
        return self.modulus * self.width * self.height**3 / 12

    @property
    def torsion(self) -> float:
        """G·J with G = E/2.6 (ν = 0.3), N·m²."""
        return self.modulus / 2.6 * rectangle_torsion(self.width, self.height)

    @property
    def line_stiffness(self) -> float:
        """Face stiffness per length of flange: contact stiffness × width, N/m²."""
        return self.contact_stiffness * self.width

    @property
    def rocking_stiffness(self) -> float:
        """Face stiffness against rocking about the line of bolts, per length: contact stiffness × w³/12, N."""
        return self.contact_stiffness * self.width**3 / 12


def rectangle_torsion(width: float, height: float) -> float:
    """Torsion constant of a solid rectangle, m⁴: a·b³·(16/3 − 3.36·(b/a)·(1 − b⁴/(12·a⁴))), 2a × 2b, a ≥ b.

    Roark's Formulas for Stress and Strain, table of torsional properties, solid rectangular section; within 0.5 %.
    """
    a, b = max(width, height) / 2, min(width, height) / 2
    return a * b**3 * (16 / 3 - 3.36 * (b / a) * (1 - b**4 / (12 * a**4)))

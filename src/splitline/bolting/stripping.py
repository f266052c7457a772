"""Shear areas of mating threads and the engagement that breaks the bolt before it strips.

FED-STD-H28/2 (also Machinery's Handbook, VDI 2230, ISO/TR 16224): areas at the loosest limits of size. Le m, areas m².
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from splitline.bolting.limits import Limits
from splitline.bolting.ranges import not_negative, positive
from splitline.bolting.thread import SQRT3, Thread
from splitline.errors import InputError

# Shear over tensile strength of steel threads (VDI 2230: 0.60 to 0.65 for classes 8.8 to 12.9; from memory)
SHEAR_OF_TENSILE = 0.6


@dataclass(frozen=True, slots=True)
class Strip:
    """Shear areas over a length of engagement."""

    external: float  # m², the bolt's own thread, sheared at the nut's largest minor diameter
    internal: float  # m², the nut's or tapped thread, sheared at the bolt's smallest major diameter


def strip_external_per_length(pitch: float, minor_max: float, pitch_min: float) -> float:
    """A_e/Le = π D₁max/P·[P/2 + (d₂min − D₁max)/√3], m (FED-STD-H28/2; same in Bickford and VDI 2230)."""
    positive("thread pitch", pitch)
    width = 0.5 * pitch + (pitch_min - minor_max) / SQRT3
    return _per_length(math.pi * positive("minor diameter", minor_max) / pitch, width, pitch)


def strip_internal_per_length(pitch: float, major_min: float, internal_pitch_max: float) -> float:
    """A_i/Le = π d_min/P·[P/2 + (d_min − D₂max)/√3], m (FED-STD-H28/2; same in Bickford and VDI 2230)."""
    positive("thread pitch", pitch)
    width = 0.5 * pitch + (major_min - internal_pitch_max) / SQRT3
    return _per_length(math.pi * positive("major diameter", major_min) / pitch, width, pitch)


def _per_length(turns: float, width: float, pitch: float) -> float:
    if not 0.0 < width < pitch:
        raise InputError("these limits of size leave no thread to carry load: check pitch and diameters")
    return turns * width


def strip_areas(thread: Thread, size: Limits, engagement: float) -> Strip:
    """Shear areas at the loosest limits over an engagement in m (full threads only)."""
    positive("engagement", engagement)
    return Strip(
        engagement * strip_external_per_length(thread.pitch, size.internal_minor_max, size.pitch_min),
        engagement * strip_internal_per_length(thread.pitch, size.major_min, size.internal_pitch_max),
    )


def minimum_engagement(thread: Thread, size: Limits, bolt_tensile: float, internal_tensile: float) -> float:
    """Engagement m at which the bolt breaks before either thread strips (FED-STD-H28/2; Machinery's Handbook).

    Le = 2 A_s/(A_e/Le), lengthened by J = (A_e·R_bolt)/(A_i·R_internal) where the internal thread is the weaker one.
    bolt_tensile, internal_tensile: tensile strengths in Pa. The 2 takes shear strength as half the tensile strength.
    """
    positive("bolt tensile strength", bolt_tensile)
    positive("tensile strength of the internal thread", internal_tensile)
    external = strip_external_per_length(thread.pitch, size.internal_minor_max, size.pitch_min)
    internal = strip_internal_per_length(thread.pitch, size.major_min, size.internal_pitch_max)
    relative = external * bolt_tensile / (internal * internal_tensile)
    return 2.0 * thread.stress_area / external * max(1.0, relative)


def strip_load(area: float, tensile: float, shear_share: float = SHEAR_OF_TENSILE) -> float:
    """Load N that shears threads of an area m² in a material of tensile strength Pa: shear_share·R_m·A."""
    return positive("shear share", shear_share) * positive("tensile strength", tensile) * not_negative("area", area)

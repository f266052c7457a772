"""Geometry of 60 degree screw threads: metric (ISO 68-1, ISO 724) and unified (ASME B1.1).

All diameters in metres. P is the pitch, d the nominal (major) diameter, H = P·√3/2 the height of the sharp triangle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from splitline.bolting.ranges import finite, larger, not_negative, positive
from splitline.errors import InputError

INCH = 0.0254
SQRT3 = math.sqrt(3.0)

Form = Literal["metric", "unified"]


@dataclass(frozen=True, slots=True)
class Thread:
    """One size of thread, single start."""

    form: Form  # metric: ISO 68-1 profile; unified: ASME B1.1
    d: float  # nominal major diameter, m
    pitch: float  # axial distance of neighbouring threads, m

    @property
    def pitch_diameter(self) -> float:
        """d₂ = d − 2·(3/8)·H = d − 0.649519 P, m (ISO 724; ASME B1.1)."""
        return self.d - 0.75 * (0.5 * SQRT3 * self.pitch)

    @property
    def minor_diameter(self) -> float:
        """Root of the external thread d₃ = d − 2·(17/24)·H = d − 1.226869 P, m (ISO 898-1; rounded root)."""
        return self.d - 17.0 / 12.0 * (0.5 * SQRT3 * self.pitch)

    @property
    def internal_minor_diameter(self) -> float:
        """Basic minor diameter of the internal thread D₁ = d − 2·(5/8)·H = d − 1.082532 P, m (ISO 724; ASME B1.1)."""
        return self.d - 1.25 * (0.5 * SQRT3 * self.pitch)

    @property
    def stress_area(self) -> float:
        """Tensile stress area, m²: π/4·(d − 0.9382 P)² metric (ISO 898-1), π/4·(d − 0.9743 P)² unified (ASME B1.1)."""
        return 0.25 * math.pi * self.stress_diameter**2

    @property
    def stress_diameter(self) -> float:
        """Diameter of a round bar of the stress area, d_s = √(4 A_s/π), m."""
        return self.d - (0.9382 if self.form == "metric" else 0.9743) * self.pitch

    @property
    def root_area(self) -> float:
        """Area at the root diameter d₃, π/4·d₃², m² (ISO 898-1 A₃)."""
        return 0.25 * math.pi * self.minor_diameter**2

    @property
    def root_area_flat(self) -> float:
        """Root area with the flat root d − 1.3 P, m², as tabulated by ASME PCC-1 and US texts (smaller than A₃)."""
        return 0.25 * math.pi * (self.d - 1.3 * self.pitch) ** 2

    @property
    def lead_tangent(self) -> float:
        """tan λ = P/(π d₂), at the pitch diameter."""
        return self.pitch / (math.pi * self.pitch_diameter)

    @property
    def threads_per_inch(self) -> float:
        """1 inch over the pitch."""
        return INCH / self.pitch


def metric(d: float, pitch: float) -> Thread:
    """Metric thread of nominal diameter d and pitch P, both in m. InputError when P is not within 0 to d/2."""
    return _thread("metric", d, pitch)


def unified(d: float, tpi: float) -> Thread:
    """Unified (inch) thread: d in m, threads per inch. InputError when the pitch is not within 0 to d/2."""
    return _thread("unified", d, INCH / positive("threads per inch", tpi))


def _thread(form: Form, d: float, pitch: float) -> Thread:
    positive("thread diameter", d)
    positive("thread pitch", pitch)
    if pitch > 0.5 * d:
        raise InputError(f"a pitch of {pitch * 1e3:g} mm leaves nothing of a thread of {d * 1e3:g} mm")
    return Thread(form, d, pitch)


def stress_area_iso_form(thread: Thread) -> float:
    """π/4·(d − 0.938194 P)², m²: the ISO form also used by British inch tables (BS 1507, BS 3643)."""
    return 0.25 * math.pi * (thread.d - 0.938194 * thread.pitch) ** 2


@dataclass(frozen=True, slots=True)
class Section:
    """A round section with or without a central hole."""

    outer: float  # m
    bore: float = 0.0  # m

    @property
    def area(self) -> float:
        """π/4·(D² − b²), m²."""
        return 0.25 * math.pi * (self.outer**2 - self.bore**2)

    @property
    def plastic_torsion_modulus(self) -> float:
        """π/12·(D³ − b³), m³: torque over shear stress when the whole section shears at one stress."""
        return math.pi / 12.0 * (self.outer**3 - self.bore**3)


def least_section(
    thread: Thread, shank_diameter: float | None = None, bore: float = 0.0, hole: float | None = None
) -> Section:
    """Section of least area along a bolt: the thread's stress diameter or a reduced shank, less a heater bore.

    Diameters in m. A shank `check_shank` refuses or a bore that leaves nothing raises InputError.
    """
    not_negative("heater bore", bore)
    outer = thread.stress_diameter
    if shank_diameter is not None:
        outer = min(outer, check_shank(thread, shank_diameter, hole))
    larger("the least diameter of the bolt", outer, "its heater bore", bore)
    return Section(outer, bore)


def check_shank(thread: Thread, shank_diameter: float, hole: float | None = None) -> float:
    """Return the shank diameter (m), or raise InputError when it is not above 0 or exceeds the thread.

    A fitted (body-bound) bolt may have a shank larger than its thread, up to its hole.
    """
    positive("shank diameter", finite("shank diameter", shank_diameter))
    limit = thread.d if hole is None else max(thread.d, hole)
    if shank_diameter > limit * (1.0 + 1e-9):
        raise InputError(
            f"the shank ({shank_diameter * 1e3:g} mm) is larger than its {'thread' if hole is None else 'hole'} "
            f"({limit * 1e3:g} mm): give the shank's own diameter, or leave it out for a full thread"
        )
    return shank_diameter

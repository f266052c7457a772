"""What the assessors of a joint hand to one another: hardware and friction of one size of bolts, SI values."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.bolting.thread import Section, Thread
from splitline.bolting.torque import Friction
from splitline.library.curves import Curve


@dataclass(frozen=True, slots=True)
class Material:
    """Elastic and thermal behaviour of bolt or clamped parts; None where nobody gave it.

    A curve is that of the library. A modulus typed as one number has ``typed_curves``: hot cases take the worse of the typed
    value and its greatest fall along one of them.
    """

    modulus: float | None = None  # Pa, at 20 °C
    modulus_curve: Curve | None = None
    typed_curves: tuple[Curve, ...] = ()  # how the modulus may fall with temperature where one number was typed
    expansion: float | None = None  # 1/K
    expansion_curve: Curve | None = None


@dataclass(frozen=True, slots=True)
class Hardware:
    """The bolts of one size and what they bear on."""

    bolts: tuple[int, ...]
    first: bool
    of: str  # what is added to titles of checks: "" for the main size, " (bolts 1, 2)" for another
    kind: str  # stud, through-stud, bolt, cap-screw
    path: str = "bolting"  # where its fields stand in the joint: "size.0.bolting" for another size
    thread: Thread | None = None
    thread_name: str = ""
    shank_diameter: float | None = None
    shank_length: float | None = None
    bore: float = 0.0
    section: Section | None = None  # of least area
    clamp_length: float | None = None
    material: Material = Material()
    grade: str = ""
    yield_strength: float | None = None
    tensile_strength: float | None = None
    proof_strength: float | None = None
    strength_source: str = ""
    yield_share: Curve | None = None  # yield at temperature over yield at 20 °C
    hot_yield: Curve | None = None  # yield at temperature as the plan gives it, Pa
    hole: float | None = None
    bearing: float | None = None  # outer diameter of the face that turns
    bearing_under: float | None = None  # outer diameter pressed into the clamped part: the washer's where there is one
    across_flats: float | None = None
    nut_height: float | None = None
    nut_tensile: float | None = None  # of the nut's steel
    nut_source: str = ""
    engagement: float | None = None
    tapped_tensile: float | None = None
    bearing_limit: float | None = None
    bearing_limit_source: str = ""
    bearing_limit_older: float | None = None  # of the edition before, where both are tabulated
    protrusion: float | None = None

    def field(self, name: str) -> str:
        """Path of one of its fields within the joint."""
        return f"{self.path}.{name}"

    @property
    def through(self) -> bool:
        """Whether both ends bear on a face (nut or head); False where one end is tapped."""
        return self.kind in ("through-stud", "bolt")


@dataclass(frozen=True, slots=True)
class Grip:
    """Friction of one size of bolts: nominal, and the ends of the lubricant's range where a range is known."""

    nominal: Friction | None = None
    low: Friction | None = None
    high: Friction | None = None
    nut_factor: float | None = None  # given: the short form counts
    nut_factor_low: float | None = None
    nut_factor_high: float | None = None
    source: str = ""
    dry: bool = False
    needs: tuple[str, ...] = ()  # fields that are missing for a torque
    note: str = ""

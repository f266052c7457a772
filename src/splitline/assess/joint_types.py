"""What the results of a joint hand to one another: materials, strength and friction of one size of bolts, SI values."""

from __future__ import annotations

from dataclasses import dataclass

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
class Strength:
    """What a bolt withstands at 20 °C, Pa: given values before the grade's. The nut is the one that goes with the grade."""

    yields: float | None
    breaks: float | None
    proof: float | None = None
    source: str = "plan"
    yield_share: Curve | None = None  # yield at temperature over yield at 20 °C
    nut_tensile: float | None = None


@dataclass(frozen=True, slots=True)
class Grip:
    """Friction of one size of bolts: nominal, and the ends of the lubricant's range where a range is known."""

    nominal: Friction | None = None
    low: Friction | None = None
    high: Friction | None = None
    nut_factor: float | None = None  # given: the short form counts
    source: str = ""
    dry: bool = False
    needs: tuple[str, ...] = ()  # fields that are missing for a torque
    note: str = ""

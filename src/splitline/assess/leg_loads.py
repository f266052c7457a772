"""What each leg of a lift pulls, nominal and governing: the one place that screen, paper, card, list and JSON ask."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from splitline.units import System, show

GOVERNING_MISSING = "governing missing"


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


def leg_loads_of(results: Mapping[str, Any]) -> tuple[LegLoad, ...]:
    """Every leg from the results of a lift; empty while the load cannot be hung."""
    nominal, angles = results.get("leg_tension") or (), results.get("leg_angle") or ()
    governing, flattest = results.get("leg_tension_governing") or (), results.get("leg_angle_worst") or ()
    return tuple(
        LegLoad(
            number=place + 1,
            nominal=tension,
            governing=governing[place] if place < len(governing) else None,
            angle=angle,
            flattest=flattest[place] if place < len(flattest) else None,
        )
        for place, (tension, angle) in enumerate(zip(nominal, angles, strict=True))
    )


def greatest_leg(legs: tuple[LegLoad, ...]) -> LegLoad | None:
    """The leg that has to be rated for most; of nominal tensions where nothing governs yet."""
    return max(legs, key=lambda leg: (leg.governing or 0.0, leg.nominal), default=None)

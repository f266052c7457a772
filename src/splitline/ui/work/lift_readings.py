"""What is read while a load hangs: the load cell at rest, and the tilt before and after it is trimmed."""

from __future__ import annotations

from typing import Any

from splitline.assess.lift_told import FREE_TILT
from splitline.assess.result import ItemResult
from splitline.record.entry import Measured
from splitline.ui.work.now import Now
from splitline.ui.work.task import Limits
from splitline.ui.work.turning import hook_band, turns
from splitline.units import System, show

TRIAL = "trial"  # act of a signature: it hung clear of the ground and was looked at
CELL, TILT, UNTRIMMED, RADIUS = "load cell", "tilt", "tilt before trimming", "hook radius"
LEG = "leg load"
MRAD = "1 mrad is 1 mm per m on the spirit level"


def lift_readings(result: ItemResult | None, system: System, tried: bool) -> tuple[Limits, ...]:
    """Readings of a lift with what they are judged by; the tilt before trimming only until the trial lift is ticked."""
    results: Any = result.results if result else {}
    turned = turns(result)
    unit = "mrad" if system == "SI" else ""  # what the level shows is typed as it stands
    low, high = hook_band(results) if turned else at_rest(results)
    if turned:  # out of level is what it is meant to be
        return (
            Limits(CELL, "force", low, high),
            Limits(TILT, "angle", typical=MRAD, unit=unit),
            Limits(RADIUS, "length"),
            *_legs(result),
        )
    allowed = results.get("spigot_tilt", tilt_allowed(result))
    worst = results.get("axis_tilt_worst", results.get("tilt_worst"))
    found = [Limits(CELL, "force", low, high, typical=_alone(results, system))]
    if must_trim(result) and not tried and worst is not None:
        found.append(
            Limits(UNTRIMMED, "angle", None, max(worst, allowed), typical=f"{MRAD}; trim with the adjuster", unit=unit)
        )
    return (
        *found,
        Limits(TILT, "angle", None, allowed, typical=MRAD, unit=unit),
        Limits(RADIUS, "length"),
        *_legs(result),
    )


def tilt_allowed(result: ItemResult | None) -> float:
    """What the tilt is judged by, rad: the plan's own limit where it gives one."""
    check = next((each for each in result.checks if each.key == "tilt"), None) if result is not None else None
    return check.limit if check is not None and check.limit is not None else FREE_TILT


def _legs(result: ItemResult | None) -> tuple[Limits, ...]:
    """What one leg pulls, where something is read in it."""
    return (Limits(LEG, "force", legs=len(result.legs)),) if result is not None and result.legs else ()


def limits_of_leg(result: ItemResult | None, leg: int, system: System) -> Limits:
    """The reading of one leg: it pulls no more than what its parts must be rated for."""
    own = next((each for each in (result.legs if result is not None else ()) if each.number == leg), None)
    if own is None:
        return Limits(LEG, "force")
    return Limits(LEG, "force", None, own.governing, typical=f"as planned {own.nominal_said(system)}; hanging still")


def at_rest(results: Any) -> tuple[float | None, float | None]:
    """Band of a load cell at the hook while the load hangs still, N: the mass within its margin, rigging added, no dynamics.

    Less than the band says that it still stands on something, or is not the load that was planned.
    """
    return results.get("still_load_low"), results.get("still_load_high")


def must_trim(result: ItemResult | None) -> bool:
    """Whether the plan says that the tilt is to be trimmed at the trial lift."""
    return result is not None and any(check.key in ("spigot_trim", "tilt_trim") for check in result.checks_of("near"))


def tilt_read(now: Now, item: str, step: str) -> bool:
    """Whether a trimmed tilt was read in this step."""
    return any(isinstance(e, Measured) and (e.item, e.step, e.what) == (item, step, TILT) for e in now.alive)


def _alone(results: Any, system: System) -> str:
    weight = results.get("weight")
    return f"the load alone is planned at {show(weight, 'force', system)}; hanging still" if weight else ""

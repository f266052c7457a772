"""The mounting sequence as data: what the fitter does in which order, within which limits, and what is logged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from splitline.plan.model import Fit
from splitline.units import System, show

SHARES = (0.25, 0.5, 0.75, 1.0)


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure the fitter reads or logs, with its limits in SI; None: no limit on that side. ``kind`` of units.KINDS."""

    name: str
    title: str
    kind: str
    low: float | None = None
    high: float | None = None

    def said(self, system: System = "SI") -> str:
        """The limits in words."""
        low, high = self._value(self.low, system), self._value(self.high, system)
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


def mounting_steps(fit: Fit, results: Mapping[str, Any]) -> tuple[MountingStep, ...]:
    """The sequence for this fit's way of mounting; limits that could not be computed are left out.

    Order of a tapered hub on oil: common practice (bore pressure leads, the ram follows; the bore is released first).
    """
    if fit.mounting == "oil":
        found = _taper_on_oil(results) if fit.taper is not None else _cylinder_on_oil(results)
    elif fit.mounting == "heat":
        found = _by_heat(fit, results)
    elif fit.mounting == "press":
        found = _by_press(results)
    else:
        found = []
    if fit.stop_dimension is not None and found:
        stop = Limit("stop_dimension", "drawn stop dimension", "length", fit.stop_dimension, fit.stop_dimension)
        found.append(_Draft("stop", "Measure the stop dimension at four places and compare it with the drawing.",
                            log=(stop,), sign="witness"))  # fmt: skip
    return _numbered(found)


def removal_steps(fit: Fit, results: Mapping[str, Any]) -> tuple[MountingStep, ...]:
    """Taking a hub off on oil: the stop comes first, because a taper throws its hub (common practice)."""
    if fit.mounting != "oil":
        return ()
    travel, pressure = results.get("advance_high", results.get("advance")), results.get("removal_pressure")
    room = (Limit("stop_gap", "gap between hub and stop", "length", travel),) if travel is not None else ()
    most = fit.max_expansion_pressure if fit.max_expansion_pressure is not None else pressure
    bore = (Limit("bore_pressure", "bore pressure", "pressure", None, most),) if most is not None else ()
    return _numbered(
        [
            _Draft("stop-in-place", "Back the nut or stop off by a little more than the advance, never take it off. Put a "
                   "soft pad between, clear the line of the hub.", room, sign="hold"),
            _Draft("up", "Raise the bore pressure slowly until oil shows at both ends. Wait: the hub may take minutes.", bore,
                   bore),
            _Draft("off", "A tapered hub jumps against its stop; a cylindrical one is drawn off with the ram."),
            _Draft("release", "Release all pressure and open both lines before anyone touches the hub.", sign="witness"),
        ]
    )  # fmt: skip


def _numbered(found: Sequence[_Draft]) -> tuple[MountingStep, ...]:
    return tuple(
        MountingStep(number, d.name, d.text, d.limits, d.log, d.wait, d.sign) for number, d in enumerate(found, 1)
    )


@dataclass(frozen=True, slots=True)
class _Draft:
    name: str
    text: str
    limits: tuple[Limit, ...] = ()
    log: tuple[Limit, ...] = ()
    wait: float | None = None
    sign: Literal["", "hold", "witness"] = ""


def _taper_on_oil(results: Mapping[str, Any]) -> list[_Draft]:
    zero = Limit("zero", "zero, from a fixed face", "length")
    repeat = Limit("zero_repeat", "difference of two zeros", "length", None, 0.02e-3)
    steps = [
        _Draft("contact", "Blue the taper, fit it dry by hand, take it off and judge the contact.",
               (Limit("contact", "contact", "share", 0.8),), (Limit("contact", "contact", "share", 0.8),), sign="hold"),
        _Draft("zero", "Seat the hub by hand force with the ram. Measure the zero twice; both must agree. Photograph it.",
               (repeat,), (zero, repeat), sign="hold"),
        _Draft("stop-in-place", "Fit the stop or the nut so that the hub cannot leave the shaft. Clear the line of the hub."),
    ]  # fmt: skip
    steps += _advances(results)
    hold, drain = results.get("oil_hold"), results.get("drain")
    steps += [
        _Draft("full", "Full advance: check it against the zero, then hold the ram pressure.",
               _advance_limits(results, 1.0), _advance_limits(results, 1.0), sign="hold"),
        _Draft("release", "Release the bore pressure to zero and open its line. The ram still holds.",
               (Limit("bore_pressure", "bore pressure", "pressure", None, 0.0),), sign="witness"),
        _Draft("hold", "Wait with the ram holding: the oil must leave the fit.", wait=hold),
        _Draft("ram-off", "Release the ram slowly and watch the hub: it must not move.",
               log=_advance_limits(results, 1.0), sign="witness"),
        _Draft("lock", "Fit and lock the nut, then measure the advance again.", _advance_limits(results, 1.0),
               _advance_limits(results, 1.0), sign="witness"),
        _Draft("drain", "Let the oil drain before any torque goes through the fit.", wait=drain),
    ]  # fmt: skip
    return steps


def _advances(results: Mapping[str, Any]) -> list[_Draft]:
    """Stops on the way up: pressure and force grow in step with the advance."""
    if "advance" not in results:
        return [_Draft("up", "Raise the bore pressure in steps; the ram follows and never goes ahead of the oil film.")]
    found = []
    for share in SHARES[:-1]:
        text = (
            "Raise the bore pressure until oil shows at the ends, then let the ram follow. The ram never goes ahead of "
            "the oil film. Log bore pressure, ram force and advance."
        )
        found.append(_Draft(f"up-{share * 100:.0f}", text, log=_log_at(results, share)))
    found.append(_Draft("up-100", "Go on in the same way to the full advance.", log=_log_at(results, 1.0)))
    return found


def _log_at(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    """What is logged at a share of the advance, with what is expected there."""
    low, high = results.get("expansion_pressure"), results.get("expansion_pressure_high")
    push = results.get("push_force_high", results.get("push_force"))
    limits = list(_advance_limits(results, share))
    if low is not None and high is not None:
        limits.append(Limit("bore_pressure", "bore pressure", "pressure", low * share, high * share))
    if push is not None:
        limits.append(Limit("ram_force", "ram force", "force", None, push * share))
    return tuple(limits)


def _advance_limits(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    middle = results.get("advance")
    if middle is None:
        return ()
    low, high = results.get("advance_low", middle), results.get("advance_high", middle)
    return (Limit("advance", "advance from the zero", "length", low * share, high * share),)


def _cylinder_on_oil(results: Mapping[str, Any]) -> list[_Draft]:
    low, high = results.get("expansion_pressure"), results.get("expansion_pressure_high")
    push = results.get("push_force_high", results.get("push_force"))
    pressure = (Limit("bore_pressure", "bore pressure", "pressure", low, high),) if low is not None else ()
    force = (Limit("ram_force", "ram force", "force", None, push),) if push is not None else ()
    return [
        _Draft("measure", "Measure shaft and bore, two planes by two directions, both at one temperature.", sign="hold"),
        _Draft("stop-in-place", "Fit the stop so that the hub cannot leave the shaft. Clear the line of the hub."),
        _Draft("up", "Raise the bore pressure until oil shows at both ends, then push with the ram to the shoulder.",
               pressure + force, pressure + force, sign="hold"),
        _Draft("release", "Release the bore pressure to zero and open its line. The ram still holds.",
               (Limit("bore_pressure", "bore pressure", "pressure", None, 0.0),), sign="witness"),
        _Draft("hold", "Wait with the ram holding: the oil must leave the fit.", wait=results.get("oil_hold")),
        _Draft("ram-off", "Release the ram slowly and watch the hub: it must not move.", sign="witness"),
        _Draft("drain", "Let the oil drain before any torque goes through the fit.", wait=results.get("drain")),
    ]  # fmt: skip


def _by_heat(fit: Fit, results: Mapping[str, Any]) -> list[_Draft]:
    hot = results.get("hub_temperature_mounting")
    top = fit.max_temperature if fit.max_temperature is not None else 503.15
    wanted = hot if hot is not None and hot <= top else None  # above the stop the check fails; the stop stands
    heat = (Limit("hub_temperature", "hub temperature", "temperature", wanted, top),) if hot is not None else ()
    gap, drawn = results.get("handling_gap"), results.get("interference_high")
    bore: tuple[Limit, ...] = ()
    if gap is not None and drawn is not None and fit.shaft_diameter is not None:
        bore = (Limit("bore", "bore over the cold shaft", "length", gap),)
    carry = results.get("carrying_time")
    quick = (Limit("carry", "time to the seat", "time", None, carry),) if carry is not None else ()
    return [
        _Draft("measure", "Measure shaft and bore cold, two planes by two directions. Mark key, depth and stop.",
               sign="hold"),
        _Draft("rehearse", "Rehearse the way from oven to seat with the hub cold; a stop and a pusher stand ready."),
        _Draft("heat", "Heat the hub evenly; measure its temperature at two places.", heat, heat, sign="witness"),
        _Draft("gauge", "Measure the hot bore with a set gauge before it leaves the oven.", bore, bore, sign="hold"),
        _Draft("seat", "Carry it and push it home in one movement. If it stops short, pull it off at once.", quick, quick),
        _Draft("cool", "Hold it against its shoulder until it grips; cool from the shoulder side, no water."),
        _Draft("check", "When cold, measure face runout and seat.", sign="witness"),
    ]  # fmt: skip


def _by_press(results: Mapping[str, Any]) -> list[_Draft]:
    push = results.get("push_force_high", results.get("push_force"))
    low = results.get("push_force_low", push)
    force = (Limit("press_force", "greatest press force", "force", low, push),) if push is not None else ()
    return [
        _Draft("measure", "Measure shaft and bore, two planes by two directions, both at one temperature.", sign="hold"),
        _Draft("align", "Lubricate as the drawing says, line the hub up square; nobody in line with the press."),
        _Draft("press", "Press in one steady movement and log force against travel. Stop on a jump or a tilt.",
               force, force, sign="hold"),
        _Draft("check", "Check seat and face runout.", sign="witness"),
    ]  # fmt: skip

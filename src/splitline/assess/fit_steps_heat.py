"""Mounting by heat and taking such a hub off again, as steps with their figures."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from splitline.assess.fit_step import Draft, Limit, check_told, checked, diameters, drawn, name_of, told
from splitline.plan.model import Fit

TOP = 503.15  # K, where the plan gives no limit: top of the stop for low-alloy hubs, common practice

# What goes with each way of heating (common practice, no published source).
_UNSAID = " After induction: demagnetise it."
_AFTER: dict[str | None, str] = {
    "induction": " Then demagnetise it.",
    "oven": "",
    "hot oil": " Oil well below its flash point; wipe the bore dry before it goes on.",
    "hot plate": " Turn it over halfway, so that both faces are alike.",
    "flame": " Flame always moving, never on one spot; the temperature is read, not guessed from the colour.",
}


_WAYS: dict[str | None, str] = {
    "induction": " by induction",
    "oven": " in the oven",
    "hot oil": " in hot oil",
    "hot plate": " on a hot plate",
    "flame": " with a flame",
}


def _magnetised(fit: Fit) -> str:
    return _AFTER.get(fit.heat_by, _UNSAID) if fit.heat_by in (None, "induction") else ""


def by_heat(fit: Fit, results: Mapping[str, Any]) -> list[Draft]:
    """Measure, rehearse, heat, gauge, seat, cool, check. Above the stop no temperature is inside: ask the planner."""
    hot = results.get("hub_temperature_mounting")
    top = fit.max_temperature if fit.max_temperature is not None else TOP
    part = name_of(fit)
    heat = (Limit("hub_temperature", f"{part} temperature", "temperature", hot, top),) if hot is not None else ()
    barred = hot is not None and hot > top
    how = f" {fit.heater}." if fit.heater else ""
    way = _WAYS.get(fit.heat_by, "")
    heating = f"Heat the {part} evenly{way}; measure its temperature at two places near the bore.{how}"
    heating += _AFTER.get(fit.heat_by, _UNSAID)
    cold = told("shaft_cold", "shaft cooled to", "temperature", fit.shaft_cooled_to)
    ready = (*_time(results), *told("mass", f"mass of the {part}", "mass", results.get("hub_mass")))
    return [
        Draft("measure", "Measure shaft and bore cold, two planes by two directions. Mark key, depth and stop.",
              drawn(results), diameters(), sign="hold"),
        Draft("rehearse", f"Rehearse the way from heater to seat with the {part} cold. Stop, pusher, and a puller to take it "
              "off again if it hangs halfway stand ready.", ready),
        Draft("heat", f"Do NOT heat: the gap needs more than the {part} may see. Ask the planner." if barred else heating,
              heat, heat, sign="witness"),
        Draft("gauge", "Measure the hot bore with a set gauge before it leaves the heater.",
              *_twice("bore_gauge", "hot bore, gauge", results), sign="hold"),
        Draft("seat", "Carry it and push it home in one movement. If it stops short, pull it off at once.",
              (*_way(fit, results), *cold), _time(results)),
        Draft("cool", "Hold it against its shoulder until it grips; cool from the shoulder side, no water. It draws back from "
              "the shoulder as it cools.", (*told("grips", "grips when cooled to", "temperature",
              results.get("grip_temperature")), *_told("axial_shrink", "draws back up to", results))),
        Draft("check", "When cold, measure face runout, seat and gap to the shoulder; a nut gets its torque.",
              check_told(fit), checked(fit, face=True), sign="witness"),
    ]  # fmt: skip


def heat_off(fit: Fit, results: Mapping[str, Any]) -> list[Draft]:
    """A difference of temperature opens it, a puller takes it, oil helps where the hub is ported (common practice)."""
    apart = results.get("removal_difference")
    top = fit.max_temperature if fit.max_temperature is not None else TOP
    part = name_of(fit)
    warm = () if apart is None else (Limit("difference", f"{part} over shaft", "temperature_difference", apart),)
    most = Limit("hub_temperature", f"{part} temperature", "temperature", None, top)
    oil = "Oil in the ports parts the fit first, with the stop in place. " if fit.oil_ported else ""
    return [
        Draft("stop-in-place", f"Set the puller with a stop and a support under the {part}; clear its line.",
              told("mass", f"mass of the {part}", "mass", results.get("hub_mass")), sign="hold"),
        Draft("heat", f"{oil}Heat the {part} fast from outside, keep the shaft cold: the difference at the bore opens it.",
              (*warm, most), warm),
        Draft("off", "Draw it off in one movement under steady pull. If it does not come: let both cool, do not go hotter.",
              (*warm, most)),
        Draft("check", f"When cold, look at bore and shaft for scores.{_magnetised(fit)}", sign="witness"),
    ]  # fmt: skip


def _told(name: str, title: str, results: Mapping[str, Any]) -> tuple[Limit, ...]:
    value = results.get(name)
    return () if value is None else (Limit(name, title, "length", target=value),)


def _twice(name: str, title: str, results: Mapping[str, Any]) -> tuple[tuple[Limit, ...], tuple[Limit, ...]]:
    value = results.get(name)
    found = () if value is None else (Limit("bore", title, "length", value),)
    return found, found


def _time(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    carry = results.get("carrying_time")
    return () if carry is None else (Limit("carry", "time to the seat", "time", None, carry),)


def _way(fit: Fit, results: Mapping[str, Any]) -> tuple[Limit, ...]:
    basis = "half the handling gap: our own bound, no published source" if fit.least_gap is None else ""
    least = results.get("least_gap")
    bound = () if least is None else (Limit("least_gap", "least gap at the seat", "length", target=least, basis=basis),)
    return (*_time(results), *_told("gap_at_seat", "gap left at the seat after the planned carry", results), *bound)

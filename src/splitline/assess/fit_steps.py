"""The mounting sequence as data: what the fitter does in which order, within which limits, and what is logged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from splitline.assess.fit_measured import FACE, LOCKED
from splitline.assess.fit_step import (
    Draft,
    Limit,
    MountingStep,
    check_told,
    checked,
    diameters,
    drawn,
    name_of,
    told,
)
from splitline.assess.fit_steps_heat import by_heat, heat_off
from splitline.plan.model import Fit

__all__ = ["FACE", "Limit", "MountingStep", "mounting_steps", "removal_steps"]

SHARES = (0.25, 0.5, 0.75)  # of the full advance, before it
STAGE = 0.25  # of the advance from one stage to the next
STAGE_BASIS = "from one stage to before the next: our own band, no published source"
STOP_IN_PLACE = "Fit the stop or the nut so that it cannot leave the shaft."


def mounting_steps(fit: Fit, results: Mapping[str, Any]) -> tuple[MountingStep, ...]:
    """The sequence for this fit's way of mounting; limits that could not be computed are left out.

    Order of a tapered hub on oil: common practice (bore pressure leads, the ram follows; the bore is released first).
    """
    if fit.mounting == "oil":
        found = _taper_on_oil(fit, results) if fit.taper is not None else _cylinder_on_oil(fit, results)
    elif fit.mounting == "heat":
        found = by_heat(fit, results)
    elif fit.mounting == "press":
        found = _by_press(fit, results)
    else:
        found = []
    if fit.stop_dimension is not None and found:
        found.append(Draft("stop", "Measure the stop dimension at four places and compare it with the drawing.",
                            log=_stops(fit), sign="witness"))  # fmt: skip
    return _numbered(found)


def removal_steps(fit: Fit, results: Mapping[str, Any]) -> tuple[MountingStep, ...]:
    """Taking it off again: on oil the stop comes first, because a taper throws its hub (common practice)."""
    if fit.mounting == "heat":
        return _numbered(heat_off(fit, results))
    if fit.mounting == "press":
        return _numbered(_press_off(fit, results))
    if fit.mounting != "oil":
        return ()
    travel, pressure = results.get("advance_high", results.get("advance")), results.get("removal_pressure")
    part = name_of(fit)
    room = (Limit("stop_gap", f"gap between {part} and stop", "length", travel),) if travel is not None else ()
    most = results.get("oil_pressure_limit", pressure)
    bore = (Limit("bore_pressure", "bore pressure", "pressure", None, most),) if most is not None else ()
    return _numbered(
        [
            Draft("stop-in-place", "Back the nut or stop off by a little more than the advance, never take it off. Put a "
                   f"soft pad between, clear the line of the {part}.", (*room, *_thrown(results)), sign="hold"),
            Draft("up", f"Raise the bore pressure slowly until oil shows at both ends. Wait: the {part} may take minutes.",
                   (*bore, *told("parts", "parts it at about", "pressure", pressure)), bore),
            Draft("off", f"A tapered {part} jumps against its stop; a cylindrical one is drawn off with the ram.",
                   _thrown(results) or _push(results)),
            Draft("release", f"Release all pressure and open both lines before anyone touches the {part}.",
                   (Limit("bore_pressure", "bore pressure", "pressure", None, 0.0),), sign="witness"),
        ]
    )  # fmt: skip


def _numbered(found: Sequence[Draft]) -> tuple[MountingStep, ...]:
    return tuple(
        MountingStep(number, d.name, d.text, d.limits, d.log, d.wait, d.sign) for number, d in enumerate(found, 1)
    )


def _taper_on_oil(fit: Fit, results: Mapping[str, Any]) -> list[Draft]:
    zero = _zero(fit, results)
    sized = () if fit.gauge_distance is None else diameters()
    measured = " Measure both tapers, plane 1 at the large end." if sized else ""
    repeat = Limit("zero_repeat", "difference of two zeros", "length", None, 0.02e-3)
    steps = [
        Draft("contact", f"Blue contact: fit the taper dry by hand, take it off and judge the contact.{measured}",
               (Limit("contact", "blue contact", "share", 0.8),), (Limit("contact", "blue contact", "share", 0.8), *sized),
               sign="hold"),
        Draft("zero", "Seat it dry with the seating load of the drawing. Measure the zero twice from the fixed face; both "
               "must agree. Photograph it.", (*_seating(fit), *((zero,) if zero.told else ()), repeat), (zero, repeat),
               sign="hold"),
        Draft("stop-in-place", f"{STOP_IN_PLACE} Clear its line.", _thrown(results), sign="hold"),
    ]  # fmt: skip
    steps += _advances(results)
    hold, drain = results.get("oil_hold"), results.get("drain")
    steps += [
        Draft("full", "Full advance: check it against the zero, then hold the ram pressure.",
               (*_advance_limits(results, 1.0), *_held(results)), _read_advance(results, 1.0), sign="hold"),
        Draft("release", "Release the bore pressure to zero and open its line. The ram still holds.",
               (Limit("bore_pressure", "bore pressure", "pressure", None, 0.0), *_held(results)), sign="witness"),
        Draft("hold", "Wait with the ram holding: the oil must leave the fit.", _held(results), wait=hold),
        Draft("ram-off", "Release the ram slowly and watch: nothing may move.", _advance_limits(results, 1.0),
               _read_advance(results, 1.0), sign="witness"),
        Draft("lock", "Fit and lock the nut, then measure the advance again.",
               (*_advance_limits(results, 1.0), *checked(fit)),
               (*_locked(results), *checked(fit)), sign="witness"),
        Draft("drain", "Let the oil drain before any torque goes through the fit.", wait=drain),
    ]  # fmt: skip
    return steps


def _advances(results: Mapping[str, Any]) -> list[Draft]:
    """Stops on the way up: pressure and force grow in step with the advance."""
    if "advance" not in results:
        return [Draft("up", "Raise the bore pressure in steps; the ram follows and never goes ahead of the oil film.")]
    found = []
    for number, share in enumerate(SHARES, 1):
        text = (
            f"Stage {number} of {len(SHARES) + 1}, {share * 100:.0f} % of the advance: raise the bore pressure until oil "
            "shows at the ends; the ram follows and never goes ahead of the oil film."
        )
        found.append(Draft(f"up-{share * 100:.0f}", text, _told_at(results, share), _log_at(results, share)))
    text = f"Stage {len(SHARES) + 1} of {len(SHARES) + 1}: go on in the same way to the full advance."
    found.append(Draft("up-100", text, _told_at(results, 1.0), _log_at(results, 1.0)))
    return found


def _told_at(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    """What the fitter is told before a stage: where to stop, what to expect, and what is never passed."""
    push = results.get("push_force_high", results.get("push_force"))
    force = (Limit("ram_force", "ram force", "force", None, push * share),) if push is not None else ()
    return (*_advance_limits(results, share), *_bore(results, share), *force, *_ram(results, share), *_never(results))


def _log_at(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    """What is logged at a share of the advance, with what is expected there."""
    push = results.get("push_force_high", results.get("push_force"))
    limits = [*_read_advance(results, share), *_bore(results, share)]
    ram = _ram(results, share)
    if push is not None and not ram:  # a gauge on a ram of known area reads pressure
        limits.append(Limit("ram_force", "ram force", "force", None, push * share))
    return (*limits, *ram)


def _bore(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    """Bore pressure at a share of the advance: enough for the film, never above drawing, pump or yield."""
    low, high = results.get("expansion_pressure"), results.get("expansion_pressure_high")
    most = results.get("oil_pressure_limit")
    if low is None or high is None:
        return ()
    top = high * share if most is None else min(high * share, most)
    return (Limit("bore_pressure", "bore pressure", "pressure", low * share, top),)


def _never(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    most = results.get("oil_pressure_limit")
    return () if most is None else (Limit("oil_limit", "bore pressure, never above", "pressure", target=most),)


def _ram(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    full = results.get("ram_pressure")
    return () if full is None else (Limit("ram_pressure", "ram pressure", "pressure", None, full * share),)


def _held(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    """What the ram holds while the oil leaves."""
    push, pressure = results.get("push_force_high", results.get("push_force")), results.get("ram_pressure")
    force = () if push is None else (Limit("held_force", "ram force to hold", "force", target=push),)
    return force if pressure is None else (*force, Limit("held", "ram pressure to hold", "pressure", target=pressure))


def _advance_limits(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    """The advance at a share: a stage is reached and the next one not yet; the full advance has its tolerance."""
    middle = results.get("advance")
    if middle is None:
        return ()
    low, high = results.get("advance_low", middle), results.get("advance_high", middle)
    whole = share >= 1.0
    top, basis = (high, "") if whole else (low * (share + STAGE), STAGE_BASIS)
    return (Limit("advance", "advance from the zero", "length", low * share, top, middle * share, basis),)


def _read_advance(results: Mapping[str, Any], share: float) -> tuple[Limit, ...]:
    """What is read for the advance: the dimension from the fixed face, once the zero on it is known."""
    found, zero = _advance_limits(results, share), results.get("zero_dimension")
    if zero is None or not found:
        return found
    low, high, target = found[0].low or 0.0, found[0].high or 0.0, found[0].target or 0.0
    return (Limit("face", FACE, "length", zero - high, zero - low, zero - target),)


def _locked(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    """The same once the nut is locked: what the interference that was made is worked out from."""
    return tuple(replace(each, title=LOCKED[each.title]) for each in _read_advance(results, 1.0))


def _seating(fit: Fit) -> tuple[Limit, ...]:
    """With what the taper is seated for its zero."""
    if fit.seating_load is None:
        return (Limit("seating", "seating load: NOT IN THE PLAN, take it from the drawing", "force"),)
    return told("seating", "seating load", "force", fit.seating_load)


def _zero(fit: Fit, results: Mapping[str, Any]) -> Limit:
    """The zero as it is read; where the stop dimension is drawn, by what keeps zero, advance and stop together."""
    low, high = results.get("zero_low"), results.get("zero_high")
    aim = None if low is None or high is None else (low + high) / 2
    return Limit("zero", "zero, from a fixed face", "length", low, high, aim)


def _thrown(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    """What the stop has to hold: the force that drives a floated taper off, or the energy of a cylinder."""
    force = results.get("push_off_force")
    if force is not None:
        return told("stop_force", "the stop has to hold at least", "force", force)
    return told("stored_energy", "energy stored in the fit", "energy", results.get("stored_energy"))


def _push(results: Mapping[str, Any]) -> tuple[Limit, ...]:
    push = results.get("push_force_high", results.get("push_force"))
    return () if push is None else (Limit("ram_force", "ram force", "force", None, push),)


def _stops(fit: Fit) -> tuple[Limit, ...]:
    """The stop dimension at four places round; without a tolerance nothing is judged."""
    drawn, tolerance = fit.stop_dimension, fit.stop_tolerance
    if drawn is None:
        return ()
    low, high = (None, None) if tolerance is None else (drawn - tolerance, drawn + tolerance)
    return tuple(
        Limit(f"stop_{place}", f"stop dimension at {place}°", "length", low, high, drawn) for place in (0, 90, 180, 270)
    )


def _cylinder_on_oil(fit: Fit, results: Mapping[str, Any]) -> list[Draft]:
    ram = _ram(results, 1.0)
    pressure, force = _bore(results, 1.0), _push(results)
    return [
        Draft("measure", "Measure shaft and bore, two planes by two directions, both at one temperature.",
               drawn(results), diameters(), sign="hold"),
        Draft("stop-in-place", f"{STOP_IN_PLACE} Clear its line.", _thrown(results), sign="hold"),
        Draft("up", "Raise the bore pressure until oil shows at both ends, then push with the ram to the shoulder.",
               (*pressure, *force, *ram, *_never(results)), (*pressure, *(ram or force)), sign="hold"),
        Draft("release", "Release the bore pressure to zero and open its line. The ram still holds.",
               (Limit("bore_pressure", "bore pressure", "pressure", None, 0.0), *_held(results)), sign="witness"),
        Draft("hold", "Wait with the ram holding: the oil must leave the fit.", _held(results),
               wait=results.get("oil_hold")),
        Draft("ram-off", "Release the ram slowly and watch: nothing may move. Then measure the face runout.",
               check_told(fit), checked(fit, face=True), sign="witness"),
        Draft("drain", "Let the oil drain before any torque goes through the fit.", wait=results.get("drain")),
    ]  # fmt: skip


def _press_off(fit: Fit, results: Mapping[str, Any]) -> list[Draft]:
    """A pressed part is drawn or pressed off dry: it needs about what it took to go on, and lets go at once."""
    part = name_of(fit)
    return [
        Draft("stop-in-place", f"Take the nut off. Set puller or press square with a guard round it and a support under the "
               f"{part}; clear its line.", told("mass", f"mass of the {part}", "mass", results.get("hub_mass")), sign="hold"),
        Draft("off", "Raise the force slowly and watch; it lets go at once. If it does not come: stop, ask the planner, no "
               "hammer.", tuple(replace(each, name="off_force", title="force that draws it off") for each in _push(results)),
               tuple(replace(each, name="off_force", title="force that draws it off") for each in _push(results))),
        Draft("check", "Look at bore and shaft for scores before it goes on again.", sign="witness"),
    ]  # fmt: skip


def _by_press(fit: Fit, results: Mapping[str, Any]) -> list[Draft]:
    push = results.get("push_force_high", results.get("push_force"))
    low = results.get("push_force_low", push)
    force = (Limit("press_force", "greatest press force", "force", low, push),) if push is not None else ()
    return [
        Draft("measure", "Measure shaft and bore, two planes by two directions, both at one temperature.",
               drawn(results), diameters(), sign="hold"),
        Draft("align", f"Lubricate as the drawing says, line the {name_of(fit)} up square; nobody in line with the press.",
               force),
        Draft("press", "Press in one steady movement and log force against travel. Stop on a jump or a tilt.",
               force, force, sign="hold"),
        Draft("check", "Check seat and face runout; a nut gets its torque.", check_told(fit), checked(fit, face=True),
               sign="witness"),
    ]  # fmt: skip

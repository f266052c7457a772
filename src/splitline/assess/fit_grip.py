"""What the fit can carry at least interference in service, against what it must carry."""

from __future__ import annotations

from splitline.assess.bench import Bench, Puts
from splitline.assess.fit_held import clamped, held, keyed
from splitline.assess.fit_inputs import Given
from splitline.errors import InputError
from splitline.fitting.grip import (
    Duty,
    capacity_over_duty,
    friction_capacity,
    needed_normal,
    pull_off_capacity,
    torque_capacity,
)
from splitline.fitting.interference import (
    Running,
    at_temperature,
    contact_pressure,
    interference_for,
    pressure_running,
    speed_loss,
    temperature_loss,
)

FACTOR = 1.5
TITLE = "Capacity over duty, torque and axial force together"
BASIS = "least interference at speed, the worse of cold and warm; friction circle, a taper's wedge against it"


def grip(given: Given, bench: Bench) -> None:
    """Torque and axial capacity, and the grip left over both duties at once."""
    fit, pair = given.fit, given.pair
    if fit.locates:
        bench.note("This fit only locates: its friction is not what carries torque and axial force.")
        if not (keyed(fit) or clamped(fit) or fit.torque or fit.axial):
            note = "key, shoulder or nut carry: check them, the nut's torque and the face runout by the drawing"
            bench.on_site("held_by", "What carries torque and axial force", (), "drawing", note)
        held(given, bench)
        return
    held(given, bench)
    if keyed(fit):
        bench.note("The key takes the whole torque: friction is asked for the axial force alone.")
        fit = fit.model_copy(update={"torque": 0.0})
    if fit.shoulder_diameter is not None and fit.nut_torque is not None:
        bench.note("Shoulder and nut take the whole axial force: friction is not asked for it.")
        fit = fit.model_copy(update={"axial": 0.0})
    needs = [] if fit.friction is not None else ["friction"]
    if not given.has_length:
        needs.append("length")
    if fit.torque is None and fit.axial is None:
        needs.append("torque or axial")
    elif fit.speed is None:
        needs.append('speed (write "0 rpm" for a part that stands still)')
    pressure = _pressure(given)
    if pressure is not None and fit.friction is not None and given.has_length:
        _capacities(given, bench, pressure, fit.friction)
    if needs:
        bench.missing("grip", TITLE, needs, BASIS, sense="at least")
        return
    if pressure is None or fit.friction is None:
        return  # said missing with the pressure at speed
    factor = fit.grip_factor
    if factor is None:
        factor = FACTOR
        bench.default("grip_factor", "1.5", "common practice, no published source")
    duty = Duty(2 * (fit.torque or 0.0) / pair.diameter, fit.axial or 0.0)
    cold, warm = _cold_pressure(given), pressure
    if cold < pressure * (1 - 1e-9):
        pressure = cold
        bench.note("This fit grips less cold than warm: the grip is judged at speed before the parts are warm.")
    normal = pressure * pair.area
    if duty.tangential == 0.0 and duty.axial == 0.0:
        bench.passes("grip", TITLE, BASIS, "torque and axial force are 0", sense="at least")
        return
    if (fit.torque is None or fit.axial is None) and not given.taper.on_diameter:
        bench.note(f"{'Torque' if fit.torque is None else 'Axial force'} is not given and counts 0 in the grip.")
    with bench.guard("grip", TITLE, BASIS):
        reserve = capacity_over_duty(duty, normal, fit.friction, given.taper)
        puts = {
            "μ": (fit.friction, "number"),
            "N": (normal, "force"),
            "T": (fit.torque or 0.0, "torque"),
            "d": (pair.diameter, "length"),
            "F": (fit.axial or 0.0, "force"),
            "θ": (given.taper.half_angle, "angle"),
        }
        bench.put("grip_reserve", reserve, puts)
        bench.at_least("grip", TITLE, factor, reserve, "number", BASIS)
        _needed(given, duty, factor, cold < warm * (1 - 1e-9), bench)


def _needed(given: Given, duty: Duty, factor: float, cold: bool, bench: Bench) -> None:
    """Put the least drawn interference that would carry the duty with its factor; ``cold``: before the parts are warm."""
    fit, pair, running = given.fit, given.pair, given.running
    if running is None or fit.friction is None:
        return
    if cold:
        running = Running(running.speed)
    wanted = Duty(factor * duty.tangential, factor * duty.axial)
    try:
        pressure = needed_normal(wanted, fit.friction, given.taper) / pair.area
    except InputError:
        return  # a taper that does not hold itself: the grip says so
    own = at_temperature(pair, running)
    lost = speed_loss(own, running.speed) + temperature_loss(own, running.hub_rise, running.shaft_rise)
    puts: Puts = {"p": (pressure, "pressure"), "Δδ": (lost, "length"), "Δδ_s": (given.smoothing, "length")}
    bench.put("interference_needed", interference_for(own, pressure) + max(lost, 0.0) + given.smoothing, puts)


def _pressure(given: Given) -> float | None:
    """Least contact pressure in service; at rest where no service is given; None where it cannot be told."""
    least = given.effective[0]
    if given.running is None:
        return None
    if not given.has_service:
        return contact_pressure(given.pair, least)
    return pressure_running(given.pair, least, given.running)


def _cold_pressure(given: Given) -> float:
    """Least contact pressure at speed before hub and shaft have warmed up."""
    speed = given.running.speed if given.running is not None else 0.0
    return pressure_running(given.pair, given.effective[0], Running(speed))


def _capacities(given: Given, bench: Bench, pressure: float, friction: float) -> None:
    pair = given.pair
    puts = {
        "μ": (friction, "number"),
        "p": (pressure, "pressure"),
        "d": (pair.diameter, "length"),
        "L": (pair.length, "length"),
    }
    bench.put("torque_capacity", torque_capacity(pair, pressure, friction), puts)
    bench.put("axial_capacity", friction_capacity(pair, pressure, friction), puts)
    if given.taper.on_diameter:
        wedge = puts | {"θ": (given.taper.half_angle, "angle")}
        bench.put("axial_pull_off", pull_off_capacity(pair, pressure, friction, given.taper), wedge)

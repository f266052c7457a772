"""An interference fit: pressure, stresses, grip, then how it is mounted. All sizes diametral."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.bench import Bench, Puts
from splitline.assess.context import Context
from splitline.assess.details import FitDetail
from splitline.assess.fit_grip import grip
from splitline.assess.fit_inputs import Given, gather, put_band
from splitline.assess.fit_measured import measured, with_entered
from splitline.assess.fit_mounting import mounting, taper_said
from splitline.assess.fit_steps import mounting_steps, removal_steps
from splitline.assess.fit_stop import stop
from splitline.assess.fit_stress import stresses
from splitline.assess.result import ItemResult
from splitline.fitting.interference import (
    Running,
    at_temperature,
    contact_pressure,
    letting_go_speed,
    pressure_running,
    speed_loss,
    temperature_loss,
)
from splitline.fitting.mounting import stored_energy
from splitline.plan.model import Fit

SMOOTHING = "DIN 7190-1, not checked against the standard's text"
USUAL_SHARE = (0.5e-3, 2.5e-3)  # of the diameter, common practice


def assess_fit(fit: Fit, ctx: Context) -> ItemResult:
    """One fit, whole: what cannot be computed is said missing, what only the job knows is on-site."""
    bench = Bench("fit", fit.id, fit.title, ctx.system)
    fit = with_entered(fit, ctx)
    taper_said(fit, bench)
    given = gather(fit, bench, ctx)
    if given is not None:
        pressures(given, bench)
        stresses(given, bench)
        grip(given, bench)
    mounting(fit, given, bench)
    stop(fit, bench, ctx)
    measured(fit, given, bench, ctx)
    on, off = mounting_steps(fit, bench.results), removal_steps(fit, bench.results)
    bench.fit = FitDetail(tuple(on), tuple(off))
    if given is not None:
        section = {
            "shaft_diameter": given.pair.diameter,
            "shaft_bore": given.pair.shaft_bore,
            "hub_outer": given.pair.hub_outer,
            "length": given.pair.length,
            "taper": given.taper.on_diameter,
        }
        bench.fit = replace(bench.fit, section=section)
    return bench.done()


def pressures(given: Given, bench: Bench) -> None:
    """Interference, contact pressure at rest and in service, letting-go speed, stored energy."""
    low, middle, high = given.drawn
    bench.put("interference", middle, {"δ": (middle, "length")})
    bench.put("interference_low", low, {})
    bench.put("interference_high", high, {})
    share = middle / given.pair.diameter
    bench.put("interference_share", share, {"δ": (middle, "length"), "d": (given.pair.diameter, "length")})
    if not USUAL_SHARE[0] <= share <= USUAL_SHARE[1]:
        bench.note(
            f"The interference is {share * 1e3:.2f} thousandths of the diameter; {USUAL_SHARE[0] * 1e3:g} to "
            f"{USUAL_SHARE[1] * 1e3:g} are usual (common practice). It is read as diametral: is the drawing's radial?"
        )
    rough = (given.fit.hub_roughness, given.fit.shaft_roughness)
    if given.fit.smoothing is None and rough != (None, None):
        if None in rough:
            lacking = "hub_roughness" if rough[0] is None else "shaft_roughness"
            bench.missing("smoothing", "Smoothing of the surfaces", (lacking,), SMOOTHING, kind="length")
        else:
            puts: Puts = {"Rz_h": (rough[0], "length"), "Rz_s": (rough[1], "length")}
            bench.put("smoothing", given.smoothing, puts)
    elif given.fit.smoothing is None:
        basis = (
            "no loss is taken off: interference of measured, finely ground faces; rougher ones lose some (DIN 7190-1)"
        )
        bench.default("smoothing", bench.show(0.0, "length"), basis)
    if given.smoothing:
        bench.note(
            "Smoothing is taken off the drawn interference before every pressure "
            "(DIN 7190-1, not checked against the standard's text)."
        )
    pair, fit = given.pair, given.fit
    sizes = {
        "δ": (given.effective[1], "length"),
        "d": (pair.diameter, "length"),
        "b": (pair.shaft_bore, "length"),
        "D": (pair.hub_outer, "length"),
        "E_h": (pair.hub.modulus, "modulus"),
        "E_s": (pair.shaft.modulus, "modulus"),
        "ν_h": (pair.hub.poisson, "number"),
        "ν_s": (pair.shaft.poisson, "number"),
    }
    at_rest = [contact_pressure(pair, value) for value in given.effective]
    put_band(bench, "contact_pressure", at_rest, sizes)
    if given.has_length:
        _energy(given, at_rest[2], bench)
    if given.running is not None and given.has_service:
        _in_service(given, given.running, bench)
    elif fit.speed is None:
        bench.note(
            "No speed is given: capacities are at rest. Give the trip speed, or 0 rpm for a part that stands still."
        )


def _energy(given: Given, pressure: float, bench: Bench) -> None:
    """Energy and mass that a floated hub would throw."""
    pair, interference = given.pair, given.effective[2]
    puts = {"p": (pressure, "pressure"), "d": (pair.diameter, "length"), "L": (pair.length, "length")}
    bench.put("stored_energy", stored_energy(pair, interference), puts | {"δ": (interference, "length")})
    if given.hub.density is not None:
        bench.put("hub_mass", pair.hub_mass)


def _in_service(given: Given, running: Running, bench: Bench) -> None:
    """Pressure at speed and temperature, what was lost on the way, and the speed that takes all of it."""
    pair, fit = at_temperature(given.pair, running), given.fit
    turned = speed_loss(pair, running.speed)
    warmed = temperature_loss(pair, running.hub_rise, running.shaft_rise)
    turning = {
        "ω": (running.speed, "speed"),
        "ρ_h": (pair.hub.density, "density"),
        "ρ_s": (pair.shaft.density, "density"),
    }
    warming = {
        "d": (pair.diameter, "length"),
        "α_h": (pair.hub.expansion, "expansion"),
        "α_s": (pair.shaft.expansion, "expansion"),
        "ΔT_h": (running.hub_rise, "temperature_difference"),
        "ΔT_s": (running.shaft_rise, "temperature_difference"),
    }
    if fit.speed is not None:
        bench.put("speed_loss", turned, turning)
    if fit.hub_temperature is not None or fit.shaft_temperature is not None:
        bench.put("temperature_loss", warmed, warming)
    bench.put("interference_lost", turned + warmed, {"Δδ_n": (turned, "length"), "Δδ_T": (warmed, "length")})
    found = [pressure_running(given.pair, value, running) for value in given.effective]
    puts = {"δ": (given.effective[1], "length"), "Δδ_n": (turned, "length"), "Δδ_T": (warmed, "length")}
    put_band(bench, "contact_pressure_at_speed", found, puts)
    if given.hub.density is None or given.shaft.density is None:
        return
    # A fit that gains by warmth has not gained it yet when the machine first comes to speed.
    states = ((given.pair, given.effective[0]), (pair, given.effective[0] - warmed))
    speeds = [(speed, value) for each, value in states if (speed := letting_go_speed(each, value)) is not None]
    if not speeds:
        bench.note("Speed does not take this fit's grip: the shaft grows at least as much as the hub.")
        return
    let_go, left = min(speeds)
    bench.put("letting_go_speed", let_go, {"δ_low": (left, "length")})
    if fit.speed:
        basis = "rotating disc; least interference, the worse of cold and warm"
        bench.at_most(
            "letting_go", "Speed against the speed at which the fit lets go", fit.speed, let_go, "speed", basis
        )

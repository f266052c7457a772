"""Combined stresses of hub and shaft at greatest interference, at rest and in service, against yield."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.bench import Bench
from splitline.assess.fit_inputs import Given
from splitline.fitting.interference import Running, contact_pressure, pressure_running, worst_hub, worst_shaft

BASIS = "von Mises at greatest interference, not above yield"
_SAID = {"hub": "Hub stress", "shaft": "Shaft stress"}


def stresses(given: Given, bench: Bench) -> None:
    """Put the stresses and check each against its part's yield strength."""
    pair = given.pair
    pressure = contact_pressure(pair, given.effective[2])
    puts = {"p": (pressure, "pressure"), "d": (pair.diameter, "length")}
    hub = worst_hub(pair, pressure)
    shaft = worst_shaft(pair, pressure)
    bench.put("hub_stress", hub, puts | {"D": (pair.hub_outer, "length")})
    bench.put("shaft_stress", shaft, puts | {"b": (pair.shaft_bore, "length")})
    against_yield(given, bench, "hub", "hub_stress", hub, "at rest")
    against_yield(given, bench, "shaft", "shaft_stress", shaft, "at rest")
    running = given.running
    if running is None or not given.has_service:
        return
    # Before the parts are warm the interference is still whole: the worse of cold and warm counts.
    states = {
        pressure_running(pair, given.effective[2], running),
        pressure_running(pair, given.effective[2], Running(running.speed)),
        # with the moduli of 20 °C: stiffer, more pressure
        pressure_running(pair, given.effective[2], replace(running, hub_softened=1.0, shaft_softened=1.0)),
    }
    worst = max(states)
    turning = {"p_n": (worst, "pressure"), "ω": (running.speed, "speed")}
    hub = max(worst_hub(pair, p, running.speed) for p in states)
    shaft = max(worst_shaft(pair, p, running.speed) for p in states)
    bench.put("hub_stress_at_speed", hub, turning)
    bench.put("shaft_stress_at_speed", shaft, turning)
    against_yield(given, bench, "hub", "hub_stress_at_speed", hub, "at speed")
    against_yield(given, bench, "shaft", "shaft_stress_at_speed", shaft, "at speed")


def against_yield(
    given: Given, bench: Bench, part: str, key: str, stress: float, when: str, basis: str = BASIS
) -> None:
    """One stress against the yield strength of its part; missing where no yield is known."""
    strength = (given.hub if part == "hub" else given.shaft).yield_strength
    title = f"{_SAID[part]} {when}"
    if strength is None:
        note = f"no yield strength of the {part}: give {part}_yield from the certificate"
        bench.missing(key, title, (f"{part}_yield",), basis, note, kind="stress")
    else:
        bench.at_most(key, title, stress, strength, "stress", basis)

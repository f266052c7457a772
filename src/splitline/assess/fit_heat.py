"""Mounting by heat: rise for interference and handling gap, temperature limit, time to carry."""

from __future__ import annotations

import math

from splitline.assess.bench import Bench
from splitline.assess.fit_inputs import Given
from splitline.assess.fit_measured import greatest
from splitline.errors import InputError
from splitline.fitting.heating import (
    BIOT_LIMIT,
    EXPANSION_SPREAD,
    HUB_LIMIT_LOW_ALLOY,
    Cooling,
    axial_growth,
    carrying_time,
    cooling_drop,
    default_gap,
    drop_over,
    heating_band,
    heating_rise,
    opening,
)
from splitline.fitting.interference import REFERENCE_TEMPERATURE

COMMON = "common practice, no published source"
OWN_BOUND = "a bound of our own, no published source: who carries it says what he needs"
COLD = (
    "steel shrinks less the colder it is, below -70 °C by up to a fifth (common practice): measure the cold shaft before "
    "it goes in."
)
BASIS = "linear expansion with the coefficient 5 % lower than tabulated; stop for low-alloy hubs {} to {}"
STOP = 473.15, 503.15  # K
NEAR_SEALS = 393.15  # K
GAUGE_STEP = 1e-5  # m


def by_heat(given: Given, bench: Bench) -> None:
    """Put heating, limit and carrying time."""
    fit, pair = given.fit, given.pair
    gap = fit.handling_gap
    if gap is None:
        gap = default_gap(pair.diameter)
        bench.default("handling_gap", f"0.001 d = {bench.show(gap, 'length')}", COMMON)
    bench.put("handling_gap", gap)
    needs = ["hub_expansion"] if given.hub.expansion is None else []
    start, shrink = _start(given, bench, needs)
    if needs:
        title = "Heating of the hub"
        bench.missing("heating_rise", title, needs, _basis(bench), kind="temperature_difference")
        return
    rise = heating_rise(greatest(given.fit, given.drawn[2]), gap, pair.diameter, pair.hub.expansion, max(0.0, shrink))
    low, high = heating_band(rise)
    puts = {
        "δ_high": (greatest(given.fit, given.drawn[2]), "length"),
        "g": (gap, "length"),
        "α_h": (pair.hub.expansion, "expansion"),
        "d": (pair.diameter, "length"),
    }
    if shrink > 0:
        puts["shaft shrinkage"] = (shrink, "length")
    bench.put("heating_rise", rise, puts)
    bench.put("heating_rise_low", low, {})
    bench.put("heating_rise_high", high, {})
    bench.put("hub_temperature_mounting", start + rise)
    bench.note(
        "Expansion of steel grows with temperature, so a hub heated by this rise opens a few per cent more than needed. "
        "Measure the bore hot before lifting it out."
    )
    bench.put("grip_temperature", start + max(0.0, rise - heating_rise(0.0, gap, pair.diameter, pair.hub.expansion)))
    _limit(given, bench, start, rise, high)
    _on_the_way(given, bench, rise, gap, max(0.0, shrink))
    if rise > 0 and given.has_length:
        _carry(given, bench, start, rise, gap, max(0.0, shrink))


def _start(given: Given, bench: Bench, needs: list[str]) -> tuple[float, float]:
    """Temperature the rise counts from, and by how much a cooled shaft is smaller (m)."""
    fit = given.fit
    measured_at = fit.assembly_temperature if fit.assembly_temperature is not None else REFERENCE_TEMPERATURE
    if fit.shaft_cooled_to is not None:
        if given.shaft.expansion is None:
            needs.append("shaft_expansion")
            return measured_at, 0.0
        bench.note(COLD)
        return measured_at, -opening(given.pair.diameter, given.shaft.expansion, fit.shaft_cooled_to - measured_at)
    if fit.ambient is None:
        bench.default(
            "ambient", bench.show(293.15, "temperature") if fit.assembly_temperature is None else "as measured", COMMON
        )
        return measured_at, 0.0
    if fit.ambient >= measured_at:
        return fit.ambient, 0.0
    if given.shaft.expansion is None:
        needs.append("shaft_expansion")
        return measured_at, 0.0
    bench.note(
        "The shaft is colder than when it was measured: its shrinkage is counted, the hub is heated from there on."
    )
    return measured_at, -opening(given.pair.diameter, given.shaft.expansion, fit.ambient - measured_at)


def _basis(bench: Bench) -> str:
    return BASIS.format(*(bench.show(limit, "temperature") for limit in STOP))


def _on_the_way(given: Given, bench: Bench, rise: float, gap: float, shrink: float) -> None:
    """What the hot bore is gauged by, how far the hub draws back from its shoulder, and what takes it off again."""
    pair, taken = given.pair, given.fit.measured
    shaft = max(taken.shaft) if taken is not None and taken.shaft else pair.diameter
    puts = {"d": (shaft, "size"), "g": (gap, "length"), "shaft shrinkage": (shrink, "length")}
    # A gauge is set to hundredths: up to the next one, so that what is shown is what is judged.
    bench.put("bore_gauge", math.ceil(round((shaft + gap - shrink) / GAUGE_STEP, 6)) * GAUGE_STEP, puts)
    puts = {
        "δ_high": (greatest(given.fit, given.drawn[2]), "length"),
        "α_h": (pair.hub.expansion, "expansion"),
        "d": (pair.diameter, "length"),
    }
    bench.put(
        "removal_difference",
        heating_rise(greatest(given.fit, given.drawn[2]), 0.0, pair.diameter, pair.hub.expansion),
        puts,
    )
    if given.has_length and rise > 0:
        puts = {"L": (pair.length, "length"), "ΔT": (rise, "temperature_difference")}
        bench.put("axial_shrink", axial_growth(pair.length, pair.hub.expansion, rise), puts)


def _limit(given: Given, bench: Bench, start: float, rise: float, high: float) -> None:
    limit = given.fit.max_temperature
    if limit is None:
        limit, near = HUB_LIMIT_LOW_ALLOY, bench.show(NEAR_SEALS, "temperature")
        bench.default(
            "max_temperature", bench.show(limit, "temperature"), f"{COMMON}; {near} near seals or rolling bearings"
        )
    _cooling(given, bench, rise, high, max(0.0, limit - start))
    title = f"Heating of the hub against its limit of {bench.show(limit, 'temperature')}"
    bench.at_most("heating_rise", title, high, max(0.0, limit - start), "temperature_difference", _basis(bench))


def _cooling(given: Given, bench: Bench, rise: float, high: float, room: float) -> None:
    """How far the shaft has to be cooled where the hub may not be heated enough, its coefficient 5 % low as well."""
    if high <= room or given.shaft.expansion is None or given.fit.shaft_cooled_to is not None:
        return
    lacking = (rise - room * (1 - EXPANSION_SPREAD)) * given.pair.hub.expansion * given.pair.diameter
    puts = {"lacking": (lacking, "length"), "α_s": (given.shaft.expansion, "expansion"),
            "d": (given.pair.diameter, "length")}  # fmt: skip
    try:
        drop = cooling_drop(lacking / (1 - EXPANSION_SPREAD), given.pair.diameter, given.shaft.expansion)
    except InputError:
        bench.note("Cooling the shaft as well does not make up for it: less interference, a smaller gap, or oil.")
        return
    bench.put("shaft_cooling", drop, puts)
    bench.note(
        f"Or cool the shaft by {bench.show(drop, 'temperature_difference')} as well and give shaft_cooled_to: {COLD}"
    )


def _carry(given: Given, bench: Bench, start: float, rise: float, gap: float, shrink: float) -> None:
    """How long the gap stays wide enough in still air, against the planned way from heater to seat."""
    pair, fit = given.pair, given.fit
    air = start if fit.ambient is None else fit.ambient
    density = given.hub.density
    least = fit.least_gap
    if least is None:
        least = gap / 2
        bench.default("least_gap", f"half the handling gap = {bench.show(least, 'length')}", OWN_BOUND)
    least = min(least, gap)
    bench.put("least_gap", least)
    closed = start + heating_rise(greatest(given.fit, given.drawn[2]), least, pair.diameter, pair.hub.expansion, shrink)
    if density is None or closed <= air + 1.0 or gap <= 0.0:
        return
    cooling = Cooling(pair.diameter, pair.hub_outer, pair.length, density=density, ambient=air)
    seconds = carrying_time(cooling, start + rise, closed)
    puts = {"T hot": (start + rise, "temperature"), "T least": (closed, "temperature"), "T_a": (air, "temperature")}
    bench.put("carrying_time", seconds, puts)
    bench.note(
        "Carrying time, to the least gap: hub at one temperature (lumped), still air at 8 W/(m² K), emissivity 0.8, "
        "480 J/(kg K). Draughts and tongs shorten it, a cold shaft warms the first edge; "
        "once bore and shaft touch, the fit closes within seconds."
    )
    if cooling.biot(start + rise) > BIOT_LIMIT:
        bench.note("The hub is too thick to cool as one lump: its bore stays open longer than computed.")
    if fit.carry is not None:
        basis = "lumped cooling in still air until only the least gap is left"
        bench.at_least("carry", "Time to carry the hub from heater to seat", fit.carry, seconds, "time", basis)
        dropped = min(drop_over(cooling, start + rise, fit.carry), rise)
        bench.put("carry_drop", dropped, {"t": (fit.carry, "time")})
        left = gap - pair.hub.expansion * pair.diameter * dropped
        bench.put("gap_at_seat", left, {"g": (gap, "length"), "ΔT": (dropped, "temperature_difference")})

"""How a fit is mounted: which limits hold on oil, by heat or by force, and what can hurt."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.fit_heat import by_heat
from splitline.assess.fit_inputs import Given, put_band
from splitline.assess.fit_oil import oil_limit, oil_ratio
from splitline.assess.fit_step import name_of
from splitline.assess.fit_stress import against_yield
from splitline.fitting.grip import friction_capacity
from splitline.fitting.interference import contact_pressure
from splitline.fitting.mounting import (
    EXPANSION_LOW,
    ejection_speed,
    push_force,
    push_off_force,
    ram_pressure,
)
from splitline.fitting.oil_study import hub_under_oil, shaft_under_oil
from splitline.fitting.taper import Taper, advance_for
from splitline.plan.model import Fit

FILM = 0.02
FILM_LOW = 0.005
OIL_HOLD = 600.0
DRAIN = 7200.0
DRAIN_LEAST = 3600.0
COMMON = "common practice, no published source"
OIL_BASIS = "1.0 times least to 1.6 or more times greatest contact pressure; finite elements of hubs with end seals"


def taper_said(fit: Fit, bench: Bench) -> None:
    """The taper in every customary way, so that half and full angle or radius and diameter cannot be mixed."""
    if fit.taper is None:
        return
    taper = Taper(fit.taper)
    ratio = {"n": (taper.one_in, "number")}
    bench.put("taper_one_in", taper.one_in)
    bench.put("taper_half_angle", taper.half_angle, ratio)
    bench.put("taper_included_angle", taper.included_angle, {"θ": (taper.half_angle, "angle")})
    bench.put("taper_per_foot", taper.inches_per_foot, ratio)
    bench.put("advance_per_hundredth", advance_for(1e-5, taper), ratio)


def mounting(fit: Fit, given: Given | None, bench: Bench) -> None:
    """Everything that belongs to the way of mounting; its cautions even where nothing can be computed."""
    if given is not None and given.taper.on_diameter:
        _advance(given, bench)
    if fit.mounting is None:
        bench.missing("mounting", "Way of mounting", ("mounting",), note="say oil, heat or press")
        return
    _cautions(fit, given, bench)
    if fit.mounting == "oil":
        _times(fit, bench)
    if given is None:
        return
    if fit.mounting == "oil":
        _by_oil(given, bench)
    elif fit.mounting == "heat":
        by_heat(given, bench)
    else:
        _by_force(given, bench)


def _advance(given: Given, bench: Bench) -> None:
    low, middle, high = (advance_for(value, given.taper) for value in given.drawn)
    puts = {"n": (given.taper.one_in, "number"), "δ": (given.drawn[1], "length")}
    put_band(bench, "advance", (low, middle, high), puts)


def _by_oil(given: Given, bench: Bench) -> None:
    """Expansion band, stresses at its upper end, push force and ram."""
    fit, pair = given.fit, given.pair
    least, _, greatest = (contact_pressure(pair, value) for value in given.effective)
    ratio = oil_ratio(given, greatest, bench)
    low, high = EXPANSION_LOW * least, ratio * greatest
    bench.put("expansion_pressure", low, {"p_low": (least, "pressure")})
    bench.put("expansion_pressure_high", high, {"k_oil": (ratio, "number"), "p_high": (greatest, "pressure")})
    bench.put("removal_pressure", high, {"k_oil": (ratio, "number"), "p_high": (greatest, "pressure")})
    title = "Oil pressure against its limit"
    if fit.max_expansion_pressure is None:
        bench.missing("expansion_pressure", title, ("max_expansion_pressure",), OIL_BASIS, kind="pressure")
    else:
        limit = fit.max_expansion_pressure
        bench.at_most("expansion_pressure", title, high, limit, "pressure", OIL_BASIS)
    oil_limit(given, high, bench)
    opened = {"p_oil": (high, "pressure"), "d": (pair.diameter, "length")}
    hub, shaft = hub_under_oil(pair, high), shaft_under_oil(pair, high)
    bench.put("hub_stress_mounting", hub, opened | {"D": (pair.hub_outer, "length")})
    bench.put("shaft_stress_mounting", shaft, opened | {"b": (pair.shaft_bore, "length")})
    basis = "von Mises at the upper end of the oil pressure with what finite elements find beside Lamé, not above yield"
    against_yield(given, bench, "hub", "hub_stress_mounting", hub, "at the highest oil pressure", basis)
    against_yield(given, bench, "shaft", "shaft_stress_mounting", shaft, "at the highest oil pressure", basis)
    friction = fit.friction_mounting
    if friction is None:
        friction = FILM
        bench.default("friction_mounting", "0.02", "oil film 0.005 to 0.02, published texts; the upper end for force")
    _push(given, bench, friction)
    if not given.has_length:
        return
    off = push_off_force(pair, greatest, FILM_LOW, given.taper)
    if off > 0:
        bench.put("push_off_force", off, {"p": (greatest, "pressure"), "θ": (given.taper.half_angle, "angle")})


def _by_force(given: Given, bench: Bench) -> None:
    """A press: grip friction both ways."""
    if given.fit.friction is None:
        needs = ("friction",)
        bench.missing("push_force", "Press force", needs, "wedge and friction", kind="force")
        return
    _push(given, bench, given.fit.friction)


def _push(given: Given, bench: Bench, friction: float) -> None:
    pair, fit = given.pair, given.fit
    if not given.has_length:
        return
    low, middle, high = (contact_pressure(pair, value) for value in given.effective)
    forces = [push_force(pair, p, friction, given.taper) for p in (low, middle, high)]
    puts = {
        "p": (middle, "pressure"),
        "d": (pair.diameter, "length"),
        "L": (pair.length, "length"),
        "θ": (given.taper.half_angle, "angle"),
        "μ": (friction, "number"),
    }
    put_band(bench, "push_force", forces, puts)
    basis = "greatest push force; limit of the plan"
    if fit.max_ram_force is not None:
        bench.at_most("ram_force", "Push force against the ram's limit", forces[2], fit.max_ram_force, "force", basis)
    if fit.ram_area is not None:
        pressure = bench.put(
            "ram_pressure",
            ram_pressure(forces[2], fit.ram_area),
            {"F_high": (forces[2], "force"), "A": (fit.ram_area, "area")},
        )
        if fit.max_ram_pressure is not None:
            bench.at_most("ram_pressure", "Ram pressure", pressure, fit.max_ram_pressure, "pressure", basis)
    elif fit.max_ram_pressure is not None:
        bench.missing("ram_pressure", "Ram pressure", ("ram_area",), basis, kind="pressure")
    elif fit.mounting == "oil":
        note = f"give ram_area, or read {bench.show(forces[2], 'force')} off the chart of the ram in hand"
        bench.on_site("ram_pressure", "Ram pressure", ("ram_area",), basis, note, kind="pressure")


def _times(fit: Fit, bench: Bench) -> None:
    """Hold of the ram and drain of the oil, against what is customary."""
    hold, drain = fit.oil_hold, fit.drain
    if hold is None:
        hold = OIL_HOLD
        bench.default("oil_hold", "10 min", COMMON)
    elif hold < OIL_HOLD:
        said = f"{bench.show(hold, 'time')} is shorter than the customary 10 min: the maker's instruction must say so"
        bench.near("oil_hold", "Hold of the ram", COMMON, said, sense="at least")
    if drain is None:
        drain = DRAIN
        bench.default("drain", "2 h", COMMON)
    elif drain < DRAIN_LEAST:
        said = (
            f"{bench.show(drain, 'time')} is shorter than the customary 1 to 2 h: the maker's instruction must say so"
        )
        bench.near("drain", "Wait before any torque", COMMON, said, sense="at least")
    bench.put("oil_hold", hold)
    bench.put("drain", drain)


def _cautions(fit: Fit, given: Given | None, bench: Bench) -> None:
    """What is stored or hot, with this fit's figure where it is known."""
    energy = bench.get("stored_energy")
    stored = ""
    if energy is not None and given is not None:
        stored = f"This fit stores {bench.show(energy, 'energy')}"
        if given.hub.density is not None:
            speed = ejection_speed(energy, given.pair.hub_mass)
            stored += f", enough to throw the {name_of(fit)} at up to {speed:.1f} m/s"
        stored += "."
    if fit.mounting == "oil":
        bench.caution("floated-hub", stored)
        bench.caution("oil-injection")
        bench.caution("hydraulic-energy")
        bench.caution("ram-release")
        bench.caution("hold-hub")
    elif fit.mounting == "heat":
        bench.caution("hot-parts")
        bench.caution("hot-hub")
        if any(cold is not None and cold < 273.15 for cold in (fit.ambient, fit.shaft_cooled_to)):
            bench.caution("cold-parts")
    else:
        force = None
        if given is not None and given.has_length and fit.friction is not None:
            force = friction_capacity(given.pair, contact_pressure(given.pair, given.effective[2]), fit.friction)
        said = (
            f"The press holds up to about {bench.show(force, 'force')} in parts that can slip or split."
            if force
            else ""
        )
        bench.caution("press-line")
        bench.caution("hydraulic-energy", f"{said} {stored}".strip())
        bench.caution("press-off")
    bench.caution("pinch")

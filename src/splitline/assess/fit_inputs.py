"""What an interference fit gives to compute with: both materials, sizes, interference band, service."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from splitline.assess.bench import Bench, Puts
from splitline.assess.context import Context
from splitline.assess.fit_warm import beyond, expansion_to, softened
from splitline.errors import LibraryError
from splitline.fitting.cylinder import Elastic
from splitline.fitting.interference import REFERENCE_TEMPERATURE, Pair, Running, smoothing_loss
from splitline.fitting.taper import Taper, interference_of
from splitline.plan.model import Fit

POISSON = 0.3
PRESSURE = ("contact_pressure", "Contact pressure")


@dataclass(frozen=True, slots=True)
class Side:
    """What is known of one part's material; None where neither the plan nor the library says."""

    modulus: float | None
    poisson: float | None
    density: float | None
    expansion: float | None
    yield_strength: float | None
    source: str


@dataclass(frozen=True, slots=True)
class Given:
    """A fit that can be computed. ``drawn`` is the least, nominal and greatest diametral interference as drawn (m)."""

    fit: Fit
    pair: Pair
    taper: Taper
    drawn: tuple[float, float, float]
    hub: Side
    shaft: Side
    running: Running | None
    """Speed and temperatures; None where a density or an expansion is lacking."""

    @property
    def smoothing(self) -> float:
        """Diametral loss by smoothing (m): as given, else from both roughnesses of parts that are joined dry."""
        fit = self.fit
        if fit.smoothing is None and fit.hub_roughness is not None and fit.shaft_roughness is not None:
            return 0.0 if fit.mounting == "oil" else smoothing_loss(fit.hub_roughness, fit.shaft_roughness)
        return fit.smoothing or 0.0

    @property
    def effective(self) -> tuple[float, float, float]:
        """Least, nominal and greatest interference after smoothing, not below 0."""
        low, middle, high = self.drawn
        return max(0.0, low - self.smoothing), max(0.0, middle - self.smoothing), max(0.0, high - self.smoothing)

    @property
    def has_length(self) -> bool:
        """Whether forces, torque and energy can be told."""
        return self.fit.length is not None

    @property
    def has_service(self) -> bool:
        """Whether a speed or a running temperature is given."""
        fit = self.fit
        return any(value is not None for value in (fit.speed, fit.hub_temperature, fit.shaft_temperature))


def put_band(bench: Bench, key: str, values: Sequence[float], puts: Puts) -> None:
    """A nominal result, and its least and greatest where they differ; ``values`` least, nominal, greatest."""
    low, middle, high = values
    bench.put(key, middle, puts)
    if low != high:
        bench.put(f"{key}_low", low, {})
        bench.put(f"{key}_high", high, {})


def gather(fit: Fit, bench: Bench, ctx: Context) -> Given | None:
    """The inputs of a fit; says what is missing and gives None when no pressure can be computed."""
    sides = {name: side(fit, name, bench, ctx) for name in ("hub", "shaft")}
    needs = [name for name in ("shaft_diameter", "hub_outer") if getattr(fit, name) is None]
    needs += [f"{name}_material or {name}_modulus" for name, found in sides.items() if found.modulus is None]
    drawn = drawn_interference(fit)
    if drawn is None:
        needs.append(_interference_needed(fit))
    if needs or drawn is None:
        bench.missing(*PRESSURE, needs, "thick cylinders, Lamé", kind="pressure")
        return None
    if fit.length is None:
        note = "torque, push force and stored energy need the length of contact"
        bench.missing("length", "Length of the fit", ("length",), note=note, kind="length")
    if fit.shaft_bore is None:
        bench.default("shaft_bore", bench.show(0.0, "length"), "solid shaft unless a bore is given")
    hub, shaft = sides["hub"], sides["shaft"]
    with bench.guard(*PRESSURE):
        d, outer = fit.shaft_diameter or 0.0, fit.hub_outer or 0.0  # said missing above
        # Pressure and stress do not depend on the length; ``has_length`` keeps a stand-in out of everything else.
        pair = Pair(d, fit.shaft_bore or 0.0, outer, fit.length or d, elastic(shaft), elastic(hub))
        return Given(fit, pair, Taper(fit.taper or 0.0), drawn, hub, shaft, _running(fit, hub, shaft, bench, ctx))
    return None


def side(fit: Fit, name: str, bench: Bench, ctx: Context) -> Side:
    """One part's material: the plan's own values first, then the library's."""
    own = {key: getattr(fit, f"{name}_{key}") for key in ("modulus", "poisson", "density", "expansion", "yield")}
    material = getattr(fit, f"{name}_material")
    row: Any = {}
    source = "plan"
    if material is not None:
        try:
            row = ctx.library.find("materials", material)
            source = f"{row.name}: {row.source}"
        except LibraryError as error:
            bench.missing(f"{name}_material", f"Material of the {name}", (f"{name}_material",), note=bench.said(error))
    columns = {"modulus": "modulus", "poisson": "poisson", "density": "density", "expansion": "expansion"}
    columns["yield"] = "yield_strength"
    found = {key: own[key] if own[key] is not None else row.get(column) for key, column in columns.items()}
    if found["poisson"] is None and found["modulus"] is not None:
        found["poisson"] = POISSON
        bench.default(f"{name}_poisson", "0.3", "steel; common practice, no published source")
    return Side(found["modulus"], found["poisson"], found["density"], found["expansion"], found["yield"], source)


def elastic(part: Side) -> Elastic:
    """The part's constants for the physics; a lacking density or expansion counts 0 and is never used."""
    return Elastic(part.modulus or 0.0, part.poisson or POISSON, part.density or 0.0, part.expansion or 0.0)


def drawn_interference(fit: Fit) -> tuple[float, float, float] | None:
    """Least, nominal and greatest diametral interference (m) as the drawing says; None where it does not."""
    if fit.interference_min is not None and fit.interference_max is not None:
        low, high = fit.interference_min, fit.interference_max
        return low, (low + high) / 2, high
    spread = 0.0
    if fit.taper is not None and fit.advance_tolerance is not None:
        spread = fit.advance_tolerance * fit.taper
    if fit.interference is not None:
        middle = fit.interference
    elif fit.advance is not None and fit.taper is not None:
        middle = interference_of(fit.advance, Taper(fit.taper))
    else:
        return None
    return max(0.0, middle - spread), middle, middle + spread


def _interference_needed(fit: Fit) -> str:
    if fit.interference_min is not None:
        return "interference_max"
    if fit.interference_max is not None:
        return "interference_min"
    return "interference, or interference_min and interference_max, or advance with taper"


def _running(fit: Fit, hub: Side, shaft: Side, bench: Bench, ctx: Context) -> Running | None:
    """Speed and temperature rises; None after saying which material value they lack."""
    needs = []
    if fit.speed:
        needs += [f"{name}_density" for name, part in (("hub", hub), ("shaft", shaft)) if part.density is None]
    warm = fit.hub_temperature is not None or fit.shaft_temperature is not None
    if warm:
        needs += [f"{name}_expansion" for name, part in (("hub", hub), ("shaft", shaft)) if part.expansion is None]
    if needs:
        title = "Contact pressure at speed and temperature"
        bench.missing("contact_pressure_at_speed", title, needs, "rotating disc", kind="pressure")
        return None
    if not warm:
        return Running(fit.speed or 0.0)
    start = fit.assembly_temperature
    if start is None:
        start = REFERENCE_TEMPERATURE
        bench.default(
            "assembly_temperature", bench.show(293.15, "temperature"), "reference temperature of sizes, ISO 1"
        )
    hub_at = fit.hub_temperature if fit.hub_temperature is not None else fit.shaft_temperature
    shaft_at = fit.shaft_temperature if fit.shaft_temperature is not None else fit.hub_temperature
    assert hub_at is not None
    assert shaft_at is not None
    if fit.hub_temperature is None:
        bench.default("hub_temperature", "as the shaft", "no other temperature given")
    if fit.shaft_temperature is None:
        bench.default("shaft_temperature", "as the hub", "no other temperature given")
    try:
        return Running(
            fit.speed or 0.0,
            hub_at - start,
            shaft_at - start,
            softened(fit, "hub", hub.modulus or 0.0, hub_at, bench, ctx),
            softened(fit, "shaft", shaft.modulus or 0.0, shaft_at, bench, ctx),
            expansion_to(fit, "hub", hub.expansion or 0.0, start, hub_at, ctx),
            expansion_to(fit, "shaft", shaft.expansion or 0.0, start, shaft_at, ctx),
        )
    except LibraryError as error:
        beyond(error, bench)
        return None

"""What is measured on the job: diameters of a cylinder; contact, tapers, zero and locked advance of a taper."""

from __future__ import annotations

from splitline.assess.bench import Bench, Puts
from splitline.assess.context import Context
from splitline.assess.fit_inputs import Given
from splitline.fitting.interference import REFERENCE_TEMPERATURE, contact_pressure
from splitline.fitting.taper import CONTACT_LEAST, interference_of
from splitline.plan.model import Fit
from splitline.plan.model.fit import MeasuredFit

FACE = "dimension from the fixed face"
LOCKED = {FACE: f"{FACE}, locked", "advance from the zero": "advance from the zero, locked"}
INTERFERENCE = "interference"  # read as such, and then judged as such
MEASURED, MADE_BASIS = "Measured diametral interference", "advance from the witnessed zero times the taper"
TAPERS, TAPERS_BASIS = "Tapers of shaft and bore, over the length of contact", "geometry; two planes by two directions"
TAPER_SHARE = 0.1  # of the least interference
OWN_BOUND = "a tenth of the least interference, a bound of our own, no published source: the drawing governs"
PLACES = ("plane 1, 0°", "plane 1, 90°", "plane 2, 0°", "plane 2, 90°")


def worked_out(fit: Fit, direct: bool) -> frozenset[str]:
    """Keys of the checks of what several readings come to, none of which is judged alone.

    ``direct``: the interference itself was read. On a taper the dimension that was locked is judged by the same limits.
    """
    own = () if direct or fit.taper is not None else ("measured_interference_low", "measured_interference_high")
    return frozenset((*own, "tapers", "heating_rise", "carry"))


def with_entered(fit: Fit, ctx: Context) -> Fit:
    """The fit with the diameters entered on the job in place of the plan's, once all of both parts are there.

    Entered as ``shaft.1`` to ``shaft.4``, ``hub.1`` to ``hub.4`` (m) and ``parts_temperature`` (K).
    """
    found = {part: [ctx.observed.get(fit.id, f"{part}.{n}") for n in range(1, 5)] for part in ("shaft", "hub")}
    shaft, hub = (tuple(float(v) for v in found[part] if isinstance(v, int | float)) for part in ("shaft", "hub"))
    if len(shaft) < len(PLACES) or len(hub) < len(PLACES):
        return fit
    warm = ctx.observed.get(fit.id, "parts_temperature")
    temperature = float(warm) if isinstance(warm, int | float) else None
    taken = MeasuredFit.model_construct(shaft=shaft, hub=hub, temperature=temperature, by=None)
    return fit.model_copy(update={"measured": taken})


def greatest(fit: Fit, drawn: float) -> float:
    """Greatest interference to heat for (m): largest shaft less smallest bore as measured, else as drawn."""
    taken = fit.measured
    if fit.taper is not None or taken is None or not taken.shaft or not taken.hub:
        return drawn
    return max(0.0, max(taken.shaft) - min(taken.hub))


def measured(fit: Fit, given: Given | None, bench: Bench, ctx: Context) -> None:
    """Check what was measured against what was drawn; on-site until it is entered.

    Entered on the job: ``taper_contact`` (share of the taper that blues), ``zero`` and ``face_locked`` or
    ``advance_locked`` (m) of a taper, ``measured_interference`` (m, diametral) of a cylinder.
    """
    if fit.taper is not None:
        _contact(fit, bench, ctx)
        _tapers(fit, given, bench)
        _made(fit, given, bench, ctx)
    else:
        _cylinder(fit, given, bench, ctx)


def _contact(fit: Fit, bench: Bench, ctx: Context) -> None:
    contact = ctx.observed.get(fit.id, "taper_contact")
    title, basis = "Blue contact of the taper", "ANSI/AGMA 9003-B08 clause 9.1: at least 80 %"
    if isinstance(contact, int | float):
        bench.at_least("taper_contact", title, CONTACT_LEAST, float(contact), "share", basis)
    else:
        note = "blue the taper and enter the share in contact; then witness the zero"
        bench.on_site("taper_contact", title, ("taper_contact",), basis, note, sense="at least", kind="share")


def _tapers(fit: Fit, given: Given | None, bench: Bench) -> None:
    """Both tapers from two planes a known distance apart: what they differ by takes interference at one end.

    The planes of both parts need not be the same ones, so the diameters tell tapers and never the interference of a taper:
    that is told by its zero and its advance.
    """
    taken, distance = fit.measured, fit.gauge_distance
    given_sizes = taken is not None and (taken.shaft or taken.hub)
    if distance is None and not given_sizes:
        return
    if distance is None or taken is None or not taken.shaft or not taken.hub:
        needs = [name for name, there in (("gauge_distance", distance), ("measured.shaft", taken and taken.shaft),
                                          ("measured.hub", taken and taken.hub)) if not there]  # fmt: skip
        if given_sizes:
            note = "a taper is measured in two planes of both parts, a known distance apart: four diameters each"
            bench.missing("tapers", TAPERS, needs, TAPERS_BASIS, note, kind="length")
        else:
            note = "measure both parts in two planes by two directions"
            bench.on_site("tapers", TAPERS, tuple(needs), TAPERS_BASIS, note, kind="length")
        return
    if len(taken.shaft) != len(PLACES) or len(taken.hub) != len(PLACES):
        note = f"four diameters each, {', '.join(PLACES)}: {len(taken.shaft)} of the shaft, {len(taken.hub)} of the bore given"
        bench.missing("tapers", TAPERS, ("measured.shaft", "measured.hub"), TAPERS_BASIS, note, kind="length")
        return
    found = {}
    for part, own in (("shaft", taken.shaft), ("hub", taken.hub)):
        thick, thin = (own[0] + own[1]) / 2, (own[2] + own[3]) / 2
        puts: Puts = {"d_1": (thick, "size"), "d_2": (thin, "size"), "l": (distance, "length")}
        found[part] = (thick - thin) / distance
        if found[part] > 0:
            bench.put(f"taper_{part}_one_in", 1 / found[part], puts)
    if min(found.values()) <= 0:
        note = "plane 1 is the large end: there the diameters are the larger ones"
        bench.fails("tapers", TAPERS, TAPERS_BASIS, note)
        return
    if given is None or not given.has_length:
        return  # pressure and length are said missing
    off = abs(found["shaft"] - found["hub"]) * given.pair.length
    bench.put("taper_difference", off, {"L": (given.pair.length, "length")})
    most = fit.taper_tolerance
    if most is None:
        most = TAPER_SHARE * given.drawn[0]
        bench.default("taper_tolerance", bench.show(most, "length"), OWN_BOUND)
    if most > 0:
        bench.at_most("tapers", TAPERS, off, most, "length", TAPERS_BASIS)


def _made(fit: Fit, given: Given | None, bench: Bench, ctx: Context) -> None:
    """The advance that was locked and the interference it makes, from the zero and the dimension read."""
    zero, face, read = (ctx.observed.get(fit.id, name) for name in ("zero", "face_locked", "advance_locked"))
    if bench.get("zero_dimension") is not None and isinstance(zero, int | float) and isinstance(face, int | float):
        advance = float(zero) - float(face)
        puts: Puts = {"z": (float(zero), "size"), "r": (float(face), "size")}
    elif isinstance(read, int | float):
        advance, puts = float(read), {"a": (float(read), "size")}
    else:
        return
    if given is None or advance <= 0:
        return
    bench.put("advance_made", advance, puts)
    made = interference_of(advance, given.taper)
    _against_drawn(given, made, bench, {"a": (advance, "size"), "n": (given.taper.one_in, "number")}, MADE_BASIS)


def _against_drawn(given: Given, value: float, bench: Bench, puts: Puts, basis: str) -> None:
    """Put an interference that was measured with its pressure, and hold it between the drawn limits."""
    bench.put("measured_interference", value, puts)
    bench.put("contact_pressure_measured", contact_pressure(given.pair, value - given.smoothing))
    low, _, high = given.drawn
    if low == high:
        bench.note(
            f"Drawn interference {bench.show(low, 'length')} has no tolerance: compare it with the measured one by eye."
        )
        return
    bench.at_least("measured_interference_low", f"{MEASURED}, least", low, value, "length", basis)
    bench.at_most("measured_interference_high", f"{MEASURED}, greatest", value, high, "length", basis)


def _cylinder(fit: Fit, given: Given | None, bench: Bench, ctx: Context) -> None:
    value = _from_plan(fit, given, bench)
    entered = ctx.observed.get(fit.id, "measured_interference")
    if isinstance(entered, int | float):
        value = float(entered)
    basis = "two planes by two directions, both parts at one temperature"
    if value is None:
        needs = ("measured.shaft", "measured.hub")
        bench.on_site(
            "measured_interference", MEASURED, needs, basis, "measure both diameters and enter them", kind="length"
        )
        return
    if given is None:
        bench.put("measured_interference", value)
        return
    _against_drawn(given, value, bench, {}, basis)


def _from_plan(fit: Fit, given: Given | None, bench: Bench) -> float | None:
    """Mean shaft less mean bore (m) at the reference temperature."""
    taken = fit.measured
    if taken is None or not taken.shaft or not taken.hub:
        return None
    shaft, hub = taken.shaft, taken.hub
    value = sum(shaft) / len(shaft) - sum(hub) / len(hub)
    spread = max(max(shaft) - min(shaft), max(hub) - min(hub))
    if value > 0 and spread > 0.25 * value:
        bench.note(
            f"Measured diameters differ by up to {bench.show(spread, 'length')} on one part: taper or out-of-round of more than a "
            "quarter of the interference."
        )
    if taken.temperature is None or given is None or given.hub.expansion is None or given.shaft.expansion is None:
        return value
    base = fit.assembly_temperature if fit.assembly_temperature is not None else REFERENCE_TEMPERATURE
    unlike = given.shaft.expansion - given.hub.expansion
    return value - given.pair.diameter * unlike * (taken.temperature - base)

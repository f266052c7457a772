"""What is measured on the job before a fit is mounted: diameters of a cylinder, contact of a taper."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.fit_inputs import Given
from splitline.fitting.interference import REFERENCE_TEMPERATURE, contact_pressure
from splitline.fitting.taper import CONTACT_LEAST
from splitline.plan.model import Fit
from splitline.plan.model.fit import MeasuredFit

PLACES = ("plane 1, 0°", "plane 1, 90°", "plane 2, 0°", "plane 2, 90°")


def with_entered(fit: Fit, ctx: Context) -> Fit:
    """The fit with the diameters entered on the job in place of the plan's, once all of both parts are there.

    Entered as ``shaft.1`` to ``shaft.4``, ``hub.1`` to ``hub.4`` (m) and ``parts_temperature`` (K).
    """
    if fit.taper is not None:
        return fit
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

    Entered on the job: ``taper_contact`` (share of the taper that blues) or ``measured_interference`` (m, diametral).
    """
    if fit.taper is not None:
        if fit.measured is not None and (fit.measured.shaft or fit.measured.hub):
            note = (
                "diameters do not tell the interference of a taper, its advance from the zero does: take [fit.measured] "
                "out, enter the contact and the zero on the job"
            )
            bench.fails("measured", "Diameters measured of a taper", "geometry of a taper", note)
        _taper(fit, bench, ctx)
    else:
        _cylinder(fit, given, bench, ctx)


def _taper(fit: Fit, bench: Bench, ctx: Context) -> None:
    contact = ctx.observed.get(fit.id, "taper_contact")
    title, basis = "Contact of the taper, blued", "ANSI/AGMA 9003-B08 clause 9.1: at least 80 %"
    if isinstance(contact, int | float):
        bench.at_least("taper_contact", title, CONTACT_LEAST, float(contact), "share", basis)
    else:
        note = "blue the taper and enter the share in contact; then witness the zero"
        bench.on_site("taper_contact", title, ("taper_contact",), basis, note, sense="at least", kind="share")


def _cylinder(fit: Fit, given: Given | None, bench: Bench, ctx: Context) -> None:
    value = _from_plan(fit, given, bench)
    entered = ctx.observed.get(fit.id, "measured_interference")
    if isinstance(entered, int | float):
        value = float(entered)
    title, basis = "Measured diametral interference", "two planes by two directions, both parts at one temperature"
    if value is None:
        needs = ("measured.shaft", "measured.hub")
        bench.on_site(
            "measured_interference", title, needs, basis, "measure both diameters and enter them", kind="length"
        )
        return
    bench.put("measured_interference", value)
    if given is None:
        return
    low, _, high = given.drawn
    bench.put("contact_pressure_measured", contact_pressure(given.pair, value - given.smoothing))
    if low == high:
        bench.note(
            f"Drawn interference {bench.show(low, 'length')} has no tolerance: compare it with the measured one by eye."
        )
        return
    bench.at_least("measured_interference_low", f"{title}, least", low, value, "length", basis)
    bench.at_most("measured_interference_high", f"{title}, greatest", value, high, "length", basis)


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

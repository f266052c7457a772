"""A dimension measured during close-up: within limits, float split, shim, tilting-pad lift, probe."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.clearance_reading import Reading, factor_of, reading_of, sensitivity_of
from splitline.assess.clearance_rotor import from_the_set, probe_ends, set_position, shims_of_both_sides
from splitline.assess.context import Context
from splitline.assess.details import ClearanceDetail
from splitline.assess.result import ItemResult
from splitline.fitting.clearance import (
    clearance_from_lift,
    from_sides,
    lift_factor,
    radial,
    shim_for_float,
    split_by_offset,
    split_by_ratio,
)
from splitline.fitting.clearance import diametral as to_diametral
from splitline.fitting.gaps import gap_map
from splitline.fitting.probes import LINEAR_RANGE
from splitline.plan.model import Clearance
from splitline.record.judged import counted, judged
from splitline.units import as_read

GEOMETRY = "geometry"
# Measuring these moves the rotor: it is lifted in its bearing, or pushed from stop to stop.
_MOVED = {"tilting-pad": "rotor-lifted", "float-split": "rotor-pushed", "shim": "rotor-pushed"}


def assess_clearance(clearance: Clearance, ctx: Context) -> ItemResult:
    """One clearance. ``as_found`` and ``as_left`` may also be observed on the job, in m (``reading`` in V)."""
    bench = Bench("clearance", clearance.id, clearance.title, ctx.system)
    moved = _MOVED.get(clearance.kind)
    if moved is not None:
        bench.caution(moved)
        bench.caution("pinch")
        bench.caution("rotor-down")
    with bench.guard("limits", "Within limits"):
        kinds = {
            "measure": _measure,
            "float-split": _float_split,
            "shim": _shim,
            "tilting-pad": _tilting_pad,
            "probe": _probe,
        }
        kinds[clearance.kind](clearance, bench, ctx)
    return bench.done()


def _value(clearance: Clearance, name: str, ctx: Context) -> float | None:
    """A measured value: what was entered on the job, else what stands in the plan."""
    entered = ctx.observed.get(clearance.id, name)
    if isinstance(entered, int | float):
        return float(entered)
    if name == "as_left" and clearance.sides:
        left, right = (ctx.observed.get(clearance.id, f"side.{side}") for side in ("left", "right"))
        if isinstance(left, int | float) and isinstance(right, int | float):
            whole = from_sides(float(left), float(right))
            return whole if clearance.diametral else radial(whole)
    planned: float | None = getattr(clearance, name)
    return planned


def _found(clearance: Clearance, ctx: Context) -> float | None:
    return _value(clearance, "as_found", ctx)


def _left(clearance: Clearance, ctx: Context) -> float | None:
    return _value(clearance, "as_left", ctx)


def _basis(clearance: Clearance) -> str:
    return clearance.source or "limits of the plan"


def within(clearance: Clearance, value: float | None, bench: Bench, title: str, limits: Reading | None = None) -> None:
    """Checks of one value against both limits; on-site until measured, missing without limits.

    ``limits``: those of a reading that is not the clearance itself, as an indicator lift.
    """
    reading = limits or Reading("", "length", clearance.low, clearance.high)
    low, high, kind = reading.low, reading.high, as_read(reading.quantity)
    if low is None and high is None:
        bench.missing("limits", title, ("low", "high"), _basis(clearance), kind=kind)
        return
    if value is None:
        note = f"measure and enter it ({_limits_said(bench, low, high, kind)})"
        bench.on_site("limits", title, ("as_left",), _basis(clearance), note, kind=kind)
        return
    verdict = judged(value, low, high, kind)
    value = counted(value, low, high, kind)
    if (high is not None and (high <= 0 or high == low)) or (low is not None and low < 0 and high is None):
        # A limit of 0 or below has no usage: said without a number.
        said = bench.fails if verdict == "outside" else bench.passes
        said("limits", title, _basis(clearance), f"{bench.show(value, kind)}, {_limits_said(bench, low, high, kind)}")
        return
    if low is not None and high is not None and (low < 0 or value < 0):
        # Signed values, such as a position off the middle: distance from the middle of the band.
        middle, half = (low + high) / 2, (high - low) / 2
        bench.at_most(
            "limits", f"{title}, off the middle of its limits", abs(value - middle), half, kind, _basis(clearance)
        )
        return
    if low is not None and low > 0:
        bench.at_least("limit_low", f"{title}, least", low, value, kind, _basis(clearance))
    if high is not None:
        bench.at_most("limit_high", f"{title}, greatest", value, high, kind, _basis(clearance))
    elif low is not None and low <= 0:
        bench.at_least("limit_low", f"{title}, least", low, value, kind, _basis(clearance))


def _as_found(
    clearance: Clearance, found: float | None, left: float | None, bench: Bench, limits: Reading | None = None
) -> None:
    """Before the as-left value is there, say how the as-found one stands; only what is left counts as a check."""
    if found is None or left is not None:
        return
    reading = limits or Reading("", "length", clearance.low, clearance.high)
    low, high = reading.low, reading.high
    word = "outside" if judged(found, low, high, "length") == "outside" else "within"
    bench.note(f"As found {bench.show(found, 'size')}, {word} its limits ({_limits_said(bench, low, high, 'size')}).")


def _limits_said(bench: Bench, low: float | None, high: float | None, kind: str) -> str:
    if low is None and high is None:
        return "none given"
    if low is not None and high is not None:
        return f"{bench.show(low, kind)} to {bench.show(high, kind)}"
    return f"at least {bench.show(low, kind)}" if low is not None else f"at most {bench.show(high or 0.0, kind)}"


def _both_ways(clearance: Clearance, value: float | None, bench: Bench) -> str:
    """The value as diametral and radial; which one the limits are, said aloud."""
    if clearance.diametral is None:
        return ""
    if value is not None:
        whole = value if clearance.diametral else to_diametral(value)
        bench.put("diametral_value", whole)
        bench.put("radial_value", radial(whole))
    return " (diametral)" if clearance.diametral else " (radial)"


def _measure(clearance: Clearance, bench: Bench, ctx: Context) -> None:
    found, left = _found(clearance, ctx), _left(clearance, ctx)
    value = left if left is not None else found
    bench.put("value", value)
    said = _both_ways(clearance, value, bench)
    if _gap_map(clearance, bench, ctx):
        return
    _as_found(clearance, found, left, bench)
    within(clearance, left, bench, f"{clearance.title}{said}")


def _gap_map(clearance: Clearance, bench: Bench, ctx: Context) -> bool:
    """Feeler readings round a joint, observed as ``gaps`` (m, in order), against the feeler that must not enter."""
    entered = ctx.observed.get(clearance.id, "gaps")
    if not entered or clearance.high is None:
        return False
    most = gap_map(tuple(counted(float(gap), None, clearance.high, "length") for gap in entered), clearance.high)
    bench.clearance = ClearanceDetail(most)
    bench.put("gap_greatest", most.greatest)
    bench.put("gap_spread", most.spread)
    open_at = ", ".join(str(place + 1) for place in most.open_places[:12])
    note = f"open at reading {open_at}" if open_at else f"widest at reading {most.widest_at + 1} of {len(entered)}"
    title = f"{clearance.title}, greatest gap"
    bench.at_most("limit_high", title, most.greatest, clearance.high, "length", _basis(clearance), note)
    return True


def _float_split(clearance: Clearance, bench: Bench, ctx: Context) -> None:
    """Total float against its limits, and where the rotor stands from the active-side stop."""
    found, left = _found(clearance, ctx), _left(clearance, ctx)
    total = left if left is not None else found
    _as_found(clearance, found, left, bench)
    within(clearance, left, bench, "Total float")
    bench.note("Total float is stop to stop with the thrust shoes out; the float in the shoes is another figure.")
    if clearance.split is None and clearance.offset is None:
        bench.default(
            "split", "0.5", "common practice; a published form splits 60/40 (Bloch & Geitner): see the drawing"
        )
    if total is None or total <= 0:
        return
    bench.put("total_float", total)
    if clearance.offset is not None:
        position = split_by_offset(total, clearance.offset)
        puts = {"f": (total, "length"), "offset": (clearance.offset, "length")}
        formula = "x = f/2 + offset"
    else:
        share = 0.5 if clearance.split is None else clearance.split
        position = split_by_ratio(total, share)
        puts = {"f": (total, "length"), "split": (share, "share")}
        formula = "x = f × split"
    bench.put("active_side", position, puts, formula=formula)
    bench.put("inactive_side", total - position, {"f": (total, "length"), "x": (position, "length")})
    set_position(clearance, total, position, bench, ctx)


def _shim(clearance: Clearance, bench: Bench, ctx: Context) -> None:
    """Shim to add or take, with its side, from the value found; the value left against the limits."""
    found, left = _found(clearance, ctx), _left(clearance, ctx)
    side = clearance.side
    if side is None:
        bench.missing(
            "side", "Side the shim sits on", ("side",), GEOMETRY, "a shim moved to the wrong side doubles the error"
        )
    bench.put("value", left)
    within(clearance, left, bench, clearance.title)
    if found is None or clearance.low is None or clearance.high is None:
        return
    shim = shim_for_float(found, clearance.low, clearance.high)
    wanted = clearance.wanted if clearance.wanted is not None else (clearance.low + clearance.high) / 2
    change = found - wanted
    puts = {"found": (found, "length"), "wanted": (wanted, "length")}
    bench.put("shim_change", change, puts)
    bench.put("shim_change_low", shim.least, {"found": (found, "length"), "high": (clearance.high, "length")})
    bench.put("shim_change_high", shim.most, {"found": (found, "length"), "low": (clearance.low, "length")})
    shims_of_both_sides(clearance, found, wanted, bench, ctx)
    where = f"on the {side} side" if side else "on the side the drawing says"
    if not shim.needed:
        bench.note(f"As found {bench.show(found, 'size')} is within its limits: no shim has to change.")
    else:
        least, most = sorted((abs(shim.least), abs(shim.most)))
        verb = "Add" if shim.action == "add" else "Take out"
        aim = bench.show(abs(change), "length")
        bench.note(
            f"{verb} {bench.show(least, 'length')} to {bench.show(most, 'length')} of shim {where}, best {aim}. Tag the shim."
        )
    if clearance.shim is not None:
        new = clearance.shim + change
        bench.put("shim_new", new, {"in place": (clearance.shim, "length"), "change": (change, "length")})
        if new >= 0:
            from_the_set(clearance, clearance.shim + shim.least, clearance.shim + shim.most, new, bench)
        if new < 0 and shim.needed:
            note = f"{bench.show(-change, 'length')} should come out, only {bench.show(clearance.shim, 'length')} is in place"
            bench.fails("shim", "Shim to take out", GEOMETRY, note)


def _tilting_pad(clearance: Clearance, bench: Bench, ctx: Context) -> None:
    """The values entered are **lifts**, the limits of the plan clearances: the lift is judged by limits of its own."""
    needs = [name for name in ("pads", "between_pads", "diametral") if getattr(clearance, name) is None]
    if clearance.pads is None or needs:
        note = "say whether the lift acts between two pads, and whether the limits are diametral"
        bench.missing("lift_factor", "Tilting-pad lift", needs, GEOMETRY, note)
        return
    between = bool(clearance.between_pads)
    factor = lift_factor(clearance.pads, between)
    limits = reading_of(clearance)
    bench.put(
        "lift_factor", factor, {"pads": (clearance.pads, "count"), "between": ("yes" if between else "no", "count")}
    )
    scale = (factor_of(clearance) or factor) / factor
    for name, limit, lift in (("lift_low", clearance.low, limits.low), ("lift_high", clearance.high, limits.high)):
        if limit is not None and lift is not None:
            bench.put(name, lift, {"k": (factor, "number"), "c": (scale * limit, "length")})
    found, left = _found(clearance, ctx), _left(clearance, ctx)
    lift = left if left is not None else found
    if lift is not None:
        whole = clearance_from_lift(max(lift, 0.0), clearance.pads, between)
        bench.put("lift_clearance", whole, {"lift": (lift, "length"), "k": (factor, "number")})
        bench.put("diametral_value", whole)
        bench.put("radial_value", radial(whole))
    bench.note(
        f"The values entered are indicator lifts and judged by limits of the lift; the clearance is the lift over {factor:.3f}."
    )
    _as_found(clearance, found, left, bench, limits)
    within(clearance, left, bench, "Indicator lift", limits)


def _probe(clearance: Clearance, bench: Bench, ctx: Context) -> None:
    """Probe gap voltage against gap limits and against the probe's linear range."""
    sensitivity = sensitivity_of(clearance)
    if clearance.sensitivity is None and clearance.curve is not None:
        bench.note(f"Sensitivity by the probe's own curve: {sensitivity / 1000:.3g} mV/µm.")
    elif clearance.sensitivity is None:
        bench.default("sensitivity", "7.87 mV/µm", "API 670, not checked against the standard's text")
    for name, gap in (("probe_voltage_low", clearance.low), ("probe_voltage_high", clearance.high)):
        if gap is not None:
            bench.put(name, -gap * sensitivity, {"g": (gap, "length")})
    probe_ends(clearance, bench, ctx)
    volts = _value(clearance, "reading", ctx)
    title, basis = (
        "Probe gap voltage",
        "API 670 (not checked against the standard's text): linear from about -2 to -18 V; the probe's own curve governs",
    )
    if volts is None:
        bench.on_site(
            "probe", title, ("reading",), basis, "set the probe at mid-float and enter the voltage", kind="voltage"
        )
        return
    accepted = reading_of(clearance)
    volts = counted(volts, accepted.low, accepted.high, accepted.quantity)
    gap = -volts / sensitivity
    bench.put("probe_voltage", volts)
    bench.put("probe_gap", gap, {"V": (volts, "voltage")})
    low, high = -LINEAR_RANGE[1], -LINEAR_RANGE[0]
    bench.at_least("probe_low", f"{title}, magnitude, least", low, -volts, "voltage", basis)
    bench.at_most("probe_high", f"{title}, magnitude, greatest", -volts, high, "voltage", basis)
    if clearance.low is not None or clearance.high is not None:
        within(clearance, gap, bench, "Probe gap")

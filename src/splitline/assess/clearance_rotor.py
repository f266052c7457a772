"""Where the rotor stands in its float, what that asks of shims on both sides, and of a probe over the float."""

from __future__ import annotations

from splitline.assess.bench import Bench, Puts
from splitline.assess.clearance_reading import sensitivity_of
from splitline.assess.context import Context
from splitline.errors import InputError
from splitline.fitting.clearance import shim_sides, thrust_faces
from splitline.fitting.probes import LINEAR_RANGE, gap_change, probe_over_float
from splitline.fitting.shims import pack
from splitline.plan.model import Clearance

GEOMETRY = "geometry"


def set_position(clearance: Clearance, total: float, position: float, bench: Bench, ctx: Context) -> None:
    """The place the rotor is set to cold, with its tolerance; the reading of it; the rotor on either thrust face."""
    cold = position - (clearance.growth or 0.0)
    if clearance.growth is not None:
        bench.put("position_cold", cold, {"x": (position, "length"), "growth": (clearance.growth, "length")})
    title, basis = "Rotor as set, from the active stop", clearance.source or "limits of the plan"
    spread = clearance.split_tolerance
    if spread is not None:
        bench.put("position_low", cold - spread)
        bench.put("position_high", cold + spread)
        entered = ctx.observed.get(clearance.id, "position_set")
        if isinstance(entered, int | float):
            bench.put("position_set", float(entered))
            off = abs(float(entered) - cold)
            bench.at_most("position_set", f"{title}, off its place", off, spread, "length", basis)
        else:
            note = f"set it to {bench.show(cold, 'size')} within {bench.show(spread, 'length')} and read it"
            bench.on_site("position_set", title, ("position_set",), basis, note, kind="length")
    if clearance.thrust_float is None:
        return
    try:
        faces = thrust_faces(cold, clearance.thrust_float, total)
    except InputError as error:
        bench.fails("thrust_faces", "Rotor on its thrust faces", GEOMETRY, bench.said(error))
        return
    bench.put(
        "position_active", faces.active, {"x": (cold, "length"), "thrust float": (clearance.thrust_float, "length")}
    )
    bench.put("position_inactive", faces.inactive, {"x": (cold, "length")})
    bench.passes("thrust_faces", "Rotor on its thrust faces", GEOMETRY, "clear of both stops on either face")


def shims_of_both_sides(clearance: Clearance, found: float, wanted: float, bench: Bench, ctx: Context) -> None:
    """Float and place at once: what changes behind the active and the inactive shoes; ``position`` may be read on the job."""
    entered = ctx.observed.get(clearance.id, "position")
    place = float(entered) if isinstance(entered, int | float) else clearance.position
    if place is None and clearance.wanted_position is None:
        return
    if place is None or clearance.wanted_position is None:
        lacking = "position" if place is None else "wanted_position"
        bench.missing("shim_sides", "Shims of both sides", (lacking,), GEOMETRY, kind="length")
        return
    sides = shim_sides(found, wanted, place, clearance.wanted_position)
    bench.put(
        "shim_active",
        sides.active,
        {"wanted": (clearance.wanted_position, "length"), "x": (place, "length")},
    )
    bench.put("shim_inactive", sides.inactive, {"found": (found, "length"), "wanted float": (wanted, "length")})


def from_the_set(clearance: Clearance, low: float, high: float, wanted: float, bench: Bench) -> None:
    """The pack out of the kit's set that makes the shim to fit; fails where none lands inside."""
    if clearance.shim_set is None:
        return
    found = pack(clearance.shim_set, max(low, 0.0), high, wanted)
    title = "Shim to fit, out of the set"
    if found is None:
        note = f"no pack of up to four shims of the set makes {bench.show(low, 'size')} to {bench.show(high, 'size')}"
        bench.fails("shim_set", title, GEOMETRY, note)
        return
    bench.put("shim_pack", sum(found))
    bench.passes("shim_set", title, GEOMETRY, pack_said(found, bench))


def pack_said(found: tuple[float, ...], bench: Bench) -> str:
    """The shims of a pack, in words."""
    return " + ".join(bench.show(each, "size") for each in found)


def probe_ends(clearance: Clearance, bench: Bench, ctx: Context) -> None:
    """Voltage to set at mid-float and at both stops: the linear range must hold them all."""
    if clearance.axial_float is None or clearance.low is None or clearance.high is None:
        return
    sensitivity = sensitivity_of(clearance)
    read = [ctx.observed.get(clearance.id, f"probe.{end}") for end in ("near", "far")]
    if isinstance(read[0], int | float) and isinstance(read[1], int | float):
        near, far = -abs(float(read[0])), -abs(float(read[1]))
        puts: Puts = {"V_n": (near, "voltage"), "V_f": (far, "voltage")}
        bench.put("probe_float_read", abs(gap_change(near, far, sensitivity)), puts)
    middle = -sensitivity * (clearance.low + clearance.high) / 2
    ends = probe_over_float(middle, clearance.axial_float, sensitivity)
    bench.put("probe_set", ends.middle, {"g": ((clearance.low + clearance.high) / 2, "length")})
    bench.put("probe_near", ends.near, {"float": (clearance.axial_float, "length")})
    bench.put("probe_far", ends.far, {"float": (clearance.axial_float, "length")})
    title, basis = (
        "Probe at both stops of the float",
        "API 670 (not checked against the standard's text): linear from about -2 to -18 V",
    )
    said = f"{bench.show(ends.near, 'voltage')} near, {bench.show(ends.far, 'voltage')} far"
    if ends.inside:
        bench.passes("probe_float", title, basis, said)
    else:
        low, high = (bench.show(each, "voltage") for each in LINEAR_RANGE)
        bench.fails("probe_float", title, basis, f"{said}: outside {low} to {high}")

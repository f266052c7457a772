"""What hangs: mass and centre from the parts or from a documented trial lift, margins with their basis."""

from __future__ import annotations

from typing import Any

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.lift_trial import Trial
from splitline.assess.lift_types import GRAVITY, Load, Point
from splitline.errors import InputError
from splitline.lifting.mass import composite, mass_factor
from splitline.plan.model.lift import Lift

DYNAMIC = 1.10
DYNAMIC_BASIS = (
    "0027/ND Rev 11.2, Table 5-1: single crane on land, to 100 t; taken on beam and rigging too, which is not checked "
    "against the standard's text"
)
TOLERANCE = 0.005


def load_of(bench: Bench, lift: Lift, ctx: Context, trial: Trial | None) -> Load | None:
    """The load; None after saying that its mass is missing. Its centre is None where only the job can tell."""
    mass = _mass(bench, lift, trial)
    if mass is None:
        if any(part.at is None for part in lift.part):  # said with it, not after it
            _centre(bench, lift, ctx, trial)
        if lift.part:
            _factor(bench, lift)
        return None
    centre = _centre(bench, lift, ctx, trial)
    load = Load(
        mass, centre, _factor(bench, lift), _dynamic(bench, lift), *_shift(bench, lift), _tolerance(bench, lift)
    )
    parts = lift.part[:8] if all(part.mass is not None for part in lift.part) else ()
    bench.put("mass", mass, {f"m_{n}": ((p.mass or 0.0) * (p.count or 1), "mass") for n, p in enumerate(parts, 1)})
    bench.put("weight", load.weight, {"m": (mass, "mass")})
    if centre is not None:
        bench.put("centre", list(centre))
    if load.factor is not None and load.design is not None:
        basis = f"mass {lift.mass_basis}" if lift.mass_basis else "margin given in the plan"
        bench.put("mass_factor", load.factor, {"margin": (load.factor - 1.0, "share")}, source=basis)
        bench.put("dynamic_factor", load.dynamic)
        puts = {"W": (load.weight, "force"), "k_m": (load.factor, "number"), "k_d": (load.dynamic, "number")}
        bench.put("weight_design", load.design, puts)
    return load


def _mass(bench: Bench, lift: Lift, trial: Trial | None) -> float | None:
    absent = [f"part.{n}.mass" for n, part in enumerate(lift.part, 1) if part.mass is None]
    if lift.part and not absent:
        return sum((part.mass or 0.0) * (part.count or 1) for part in lift.part)
    if trial is not None and trial.mass is not None:
        bench.note(f"Mass by the trial lift ({trial.source}).")
        return trial.mass
    note = "give every part's mass, or a documented trial lift with its load-cell reading"
    bench.missing("mass", "Mass of the load", absent or ("part",), "statics", note, kind="mass")
    return None


def _centre(bench: Bench, lift: Lift, ctx: Context, trial: Trial | None) -> Point | None:
    entered: Any = ctx.observed.get(lift.id, "centre")
    if entered is not None:
        return (float(entered[0]), float(entered[1]), float(entered[2]))
    title = "Centre of gravity"
    absent = [f"part.{n}.at" for n, part in enumerate(lift.part, 1) if part.at is None]
    places = [part.at for part in lift.part if isinstance(part.at, tuple)]
    masses = [(part.mass or 0.0) * (part.count or 1) for part in lift.part]
    if lift.part and len(places) == len(lift.part) and all(part.mass is not None for part in lift.part):
        try:
            return composite(masses, places).centre
        except InputError as error:
            bench.missing("centre", title, ("part",), note=bench.said(error), kind="length")
            return None
    if trial is not None and trial.centre is not None:
        bench.note(
            f"Centre of gravity by the trial lift ({trial.source}): on the line its readings give. A reading does not tell the "
            "height; it is taken level with the highest pick, the unfavourable side for tilt."
        )
        return trial.centre
    if absent or not lift.part:
        bench.missing("centre", title, absent or ("part",), "statics", kind="length")
    elif len(places) < len(lift.part):
        note = "unknown until a documented trial lift: load cells in the legs, or the hook's load and the tilt"
        needs = [f"part.{n}.at" for n, part in enumerate(lift.part, 1) if isinstance(part.at, str)]
        bench.on_site("centre", title, (*needs, "reading"), "trial lift", note, kind="length")
    else:
        bench.missing("centre", title, ("part.mass",), "statics", kind="length")
    return None


def _factor(bench: Bench, lift: Lift) -> float | None:
    if lift.mass_margin is not None:
        return 1.0 + lift.mass_margin
    if lift.mass_basis is not None:
        return mass_factor(lift.mass_basis)
    note = "say how the mass is known (weighed, calculated, drawing) or give the margin"
    bench.missing(
        "leg_tension_design", "Mass margin", ("mass_basis", "mass_margin"), "marine-lift guideline style", note
    )
    return None


def _dynamic(bench: Bench, lift: Lift) -> float:
    if lift.dynamic is not None:
        return lift.dynamic
    bench.default("dynamic", f"{DYNAMIC:.2f}", DYNAMIC_BASIS)
    return DYNAMIC


def _shift(bench: Bench, lift: Lift) -> tuple[float, float]:
    """Radius the centre may be off by, and how far it may be higher, m."""
    shift = lift.centre_shift
    if shift is None:
        bench.default(
            "centre_shift", bench.show(0.0, "length"), "no doubt of the centre given: give the radius it may be off by"
        )
        shift = 0.0
    if lift.centre_rise is not None:
        return shift, lift.centre_rise
    if shift > 0.0:
        bench.default(
            "centre_rise", bench.show(shift, "length"), "as far as it may be off sideways: the safe side for tilt"
        )
    return shift, shift


def _tolerance(bench: Bench, lift: Lift) -> float:
    if lift.length_tolerance is not None:
        return lift.length_tolerance
    bench.default("length_tolerance", "± 0.5 %", "made-up slings of one set, common practice, no published source")
    return TOLERANCE


__all__ = ["GRAVITY", "Load", "load_of"]

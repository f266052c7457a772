"""Friction of one size of bolts: two coefficients, a nut factor, or a lubricant by class of product."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.context import Context
from splitline.assess.joint_types import Grip, Hardware
from splitline.bolting.torque import Friction, friction_from_nut_factor
from splitline.errors import InputError, LibraryError
from splitline.library.lubricants import Lubricant, lubricant
from splitline.plan.model.bolting import FrictionTable


def grip_of(ctx: Context, table: FrictionTable | None, hw: Hardware) -> Grip:
    """Friction as the plan gives it. A lubricant beside given numbers names the class; the numbers count."""
    if table is None:
        return Grip(needs=("friction.lubricant",), note="no lubricant and no friction is given")
    found, problem = None, ""
    if table.lubricant:
        try:
            found = lubricant(ctx.library, table.lubricant)
        except LibraryError as error:
            problem = str(error)
    if table.nut_factor is not None:
        return _short(table.nut_factor, found, hw)
    if table.thread is not None and table.bearing is not None:
        source = "plan" if found is None else f"plan, {found.name}"
        dry = found.dry if found is not None else False
        return Grip(Friction(table.thread, table.bearing), source=source, dry=dry)
    if found is not None:
        return _with_given(_long(found), table)
    given = {"friction.thread": table.thread, "friction.bearing": table.bearing}
    if any(given.values()):
        needs = tuple(name for name, value in given.items() if value is None)
        return Grip(needs=needs, note=problem or "needs " + ", ".join(needs))
    return Grip(needs=("friction.lubricant",), note=problem or "no lubricant and no friction is given")


def _long(found: Lubricant) -> Grip:
    return Grip(
        nominal=Friction(found.thread.nominal, found.bearing.nominal),
        low=Friction(found.thread.low, found.bearing.low),
        high=Friction(found.thread.high, found.bearing.high),
        source=f"{found.name}: {found.source}",
        dry=found.dry,
        note=found.note,
    )


def _with_given(grip: Grip, table: FrictionTable) -> Grip:
    if grip.nominal is None or (table.thread is None and table.bearing is None):
        return grip
    thread = table.thread if table.thread is not None else grip.nominal.thread
    bearing = table.bearing if table.bearing is not None else grip.nominal.bearing
    return replace(grip, nominal=Friction(thread, bearing), low=None, high=None, source=f"plan and {grip.source}")


def _short(factor: float, found: Lubricant | None, hw: Hardware) -> Grip:
    """Nut factor; the torsion comes from the lubricant's class, or from the one friction that gives this factor."""
    if found is not None:
        nominal = Friction(found.thread.nominal, found.bearing.nominal)
        source = f"nut factor of the plan; torsion from {found.name}: {found.source}"
        return Grip(nominal, nut_factor=factor, source=source, dry=found.dry)
    bare = Grip(nut_factor=factor, source="nut factor of the plan")
    if hw.thread is None or hw.bearing is None or hw.hole is None:
        return replace(bare, note="no lubricant class, and no bearing face to tell friction from the nut factor")
    try:
        mu = friction_from_nut_factor(factor, hw.thread, hw.bearing, hw.hole)
    except InputError as error:
        return replace(bare, note=str(error))
    said = f"nut factor of the plan; torsion from the friction {mu:.3f} in thread and bearing that gives it"
    return replace(bare, nominal=Friction(mu, mu), source=said)

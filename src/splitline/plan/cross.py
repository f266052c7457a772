"""Fields of one item that cannot be right together: a bore wider than its stud, a hole smaller than its bolt."""

from __future__ import annotations

import math
from collections.abc import Iterator

from splitline.errors import LibraryError
from splitline.plan.declare import Table
from splitline.plan.edits import Path
from splitline.plan.model.bolting import BoltingPart
from splitline.plan.model.joint import Joint
from splitline.plan.model.lift import Lift
from splitline.plan.model.others import Insertion
from splitline.plan.model.tightening import SizeAcceptance
from splitline.units import show

MINOR = 1.226869  # d - d3 = 1.226869 P, the root of an external thread (ISO 68-1, ISO 724)


def strange(item: Table) -> Iterator[tuple[Path, str]]:
    """Each impossible pair of values with its place; nothing for items that make sense."""
    if isinstance(item, Joint):
        yield from _joint(item)
    elif isinstance(item, Lift):
        yield from _lift(item)
    elif isinstance(item, Insertion):
        yield from _insertion(item)


def _joint(joint: Joint) -> Iterator[tuple[Path, str]]:
    main = joint.bolting
    if main is not None:
        yield from _bolting(main, main, ("bolting",))
    for number, size in enumerate(joint.size):
        yield from _bolting(size.bolting, main, ("size", number, "bolting"))
        yield from _judged(size.acceptance, ("size", number, "acceptance"))
    yield from _places(joint)
    yield from _served(joint)
    yield from _zones(joint)
    yield from _judged(joint.acceptance, ("acceptance",))


def _served(joint: Joint) -> Iterator[tuple[Path, str]]:
    """Threads a tool is for are those of the joint's bolts."""
    main = joint.bolting.thread if joint.bolting is not None else None
    threads = [main, *(size.bolting.thread for size in joint.size)]
    known = {_name(thread) for thread in threads if thread is not None}
    for number, tool in enumerate(joint.tightening.tool if joint.tightening is not None else ()):
        foreign = [name for name in tool.threads or () if known and _name(name) not in known]
        if foreign:
            there = ", ".join(dict.fromkeys(thread for thread in threads if thread is not None))
            yield ("tightening", "tool", number, "threads"), f"no bolt of this joint is {foreign[0]}; there are {there}"


def _name(thread: str) -> str:
    """The thread as the library writes it."""
    from splitline.library.threads import parse_designation

    try:
        return parse_designation(thread).name
    except LibraryError:
        return thread


def _judged(judged: SizeAcceptance | None, path: Path) -> Iterator[tuple[Path, str]]:
    """Limits of readings: the low end first."""
    if judged is not None:
        yield from _rising(judged.stretch_low, judged.stretch_high, "length", (*path, "stretch_low"))
        yield from _rising(judged.torque_low, judged.torque_high, "torque", (*path, "torque_low"))


def _zones(joint: Joint) -> Iterator[tuple[Path, str]]:
    """Pressure zones lie along a split line, each from a lesser place to a greater one."""
    for number, zone in enumerate(joint.zone):
        if joint.layout is not None and joint.layout.shape != "split-line":
            yield ("zone", number), f"zones belong to a split line; this joint's shape is {joint.layout.shape}"
        elif zone.from_ is not None and zone.to is not None and zone.to <= zone.from_:
            yield ("zone", number, "to"), f"{_mm(zone.to)} must be more than from, {_mm(zone.from_)}"


def _rising(low: float | None, high: float | None, kind: str, path: Path) -> Iterator[tuple[Path, str]]:
    if low is not None and high is not None and low > high:
        yield path, f"{show(low, kind)} is more than the greatest accepted, {show(high, kind)}"


def _lift(lift: Lift) -> Iterator[tuple[Path, str]]:
    for number, leg in enumerate(lift.leg):
        if leg.pull_axis is not None and not any(leg.pull_axis):
            yield ("leg", number, "pull_axis"), "[0, 0, 0] is no direction"
    if lift.spigot is not None and lift.spigot.axis is not None and not any(lift.spigot.axis):
        yield ("spigot", "axis"), "[0, 0, 0] is no direction"


def _insertion(push: Insertion) -> Iterator[tuple[Path, str]]:
    for name in ("friction", "seal_drag"):
        band = getattr(push, name)
        if isinstance(band, tuple) and band[0] > band[1]:
            yield (name,), "the low value comes first: [low, high]"


def _bolting(own: BoltingPart, main: BoltingPart | None, path: Path) -> Iterator[tuple[Path, str]]:
    """Mistakes of one size; what it does not say itself it takes from the main size."""

    def value(name: str) -> float | None:
        found: float | None = getattr(own, name)
        if found is None and main is not None and own is not main and own.thread is None:
            found = getattr(main, name)
        return found

    def own_problem(name: str, said: str) -> tuple[Path, str]:
        return (*path, name), said

    yielding, tensile = value("yield_strength"), value("tensile_strength")
    if yielding is not None and tensile is not None and yielding > tensile:
        yield own_problem("yield_strength", f"{_mpa(yielding)} is more than the tensile strength {_mpa(tensile)}")
    shank, bore, hole = value("shank_diameter"), value("heater_bore"), value("hole_diameter")
    bearing, clamp, length = value("bearing_diameter"), value("clamp_length"), value("shank_length")
    if bore is not None and shank is not None and bore >= shank:
        yield own_problem("heater_bore", f"{_mm(bore)} leaves nothing of the shank of {_mm(shank)}")
    if hole is not None and bearing is not None and bearing <= hole:
        yield own_problem("bearing_diameter", f"{_mm(bearing)} does not cover the hole of {_mm(hole)}")
    if clamp is not None and length is not None and length > clamp * (1 + 1e-9):
        yield own_problem("shank_length", f"{_mm(length)} is more than the clamp length {_mm(clamp)} it lies within")
    thread = own.thread or (main.thread if main is not None else None)
    size = _thread(thread) if thread else None
    if size is None:
        return
    d, minor = size
    if bore is not None and bore >= minor:
        yield own_problem("heater_bore", f"{_mm(bore)} leaves nothing of {thread}: its root is {_mm(minor)}")
    if hole is not None and hole <= d:
        yield own_problem("hole_diameter", f"{_mm(hole)} does not let {thread} through")
    if shank is not None and shank > d * (1 + 1e-9) and (hole is None or shank > hole):
        limit = f"the hole of {_mm(hole)}" if hole is not None else f"the thread {thread} ({_mm(d)})"
        advice = (
            "" if hole is not None else "; leave it out for a full-thread stud, or give hole_diameter for a fitted one"
        )
        yield own_problem("shank_diameter", f"{_mm(shank)} is more than {limit}{advice}")


def _places(joint: Joint) -> Iterator[tuple[Path, str]]:
    """Bolts that overlap, and a bolt circle that does not lie on its flange."""
    layout, member = joint.layout, joint.member
    if layout is None or layout.shape != "circle" or layout.diameter is None:
        return
    size = _thread(joint.bolting.thread) if joint.bolting is not None and joint.bolting.thread else None
    if size is not None and layout.bolts is not None:
        pitch = layout.diameter * math.sin(math.pi / layout.bolts)
        if pitch <= size[0]:
            yield (
                ("layout", "diameter"),
                f"{layout.bolts} bolts on {_mm(layout.diameter)} stand {_mm(pitch)} apart: they overlap",
            )
    if member is not None:
        if member.outer_diameter is not None and member.outer_diameter <= layout.diameter:
            yield (
                ("member", "outer_diameter"),
                f"{_mm(member.outer_diameter)} does not reach the bolt circle of {_mm(layout.diameter)}",
            )
        if member.inner_diameter is not None and member.inner_diameter >= layout.diameter:
            yield (
                ("member", "inner_diameter"),
                f"{_mm(member.inner_diameter)} reaches beyond the bolt circle of {_mm(layout.diameter)}",
            )


def _thread(designation: str) -> tuple[float, float] | None:
    """Outer and root diameter in m; None for a thread the library does not know (said elsewhere)."""
    from splitline.library.threads import parse_designation

    try:
        size = parse_designation(designation)
    except LibraryError:
        return None
    return size.d, size.d - MINOR * size.pitch


def _mm(length: float) -> str:
    return show(length, "length")


def _mpa(stress: float) -> str:
    return show(stress, "stress")

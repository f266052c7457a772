"""What a joint holds: each load case on a bolt circle or a split line, and the gasket."""

from __future__ import annotations

from dataclasses import dataclass, replace

from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.assess.joint_cases import Group, Heated, outside, put_bolt, temperatures, thermal_change
from splitline.assess.joint_gasket import Gasket, check_operation, gasket_of, put_gasket
from splitline.assess.joint_split import Held, split_line
from splitline.assess.joint_types import Material
from splitline.bolting import joint_load as jl
from splitline.plan.model.joint import Case, Joint

NO_LOAD = "say holds_pressure = false, or what the joint holds"


@dataclass(frozen=True, slots=True)
class Loads:
    """What the cases leave behind for the checks of threads and faces: greatest bolt load by size."""

    greatest: tuple[float | None, ...]


def put_loads(
    bench: Bench, joint: Joint, ctx: Context, groups: list[Group | None], member: Material, count: int | None
) -> Loads:
    """Assess every load case. A joint that holds no pressure and has no case needs none."""
    greatest: list[float | None] = [None if g is None else g.high for g in groups]
    load = joint.load
    if load is not None and load.holds_pressure is False and not joint.case:
        return Loads(tuple(greatest))
    if not _can_start(bench, joint, groups, count):
        return Loads(tuple(greatest))
    gasket = gasket_of(bench, ctx, load) if load is not None and load.seal == "gasket" else None
    if gasket is not None and count is not None:
        _gasket(bench, gasket, groups, count)
    for case in joint.case:
        lines = bench.case(case.name)
        with bench.about(case=case.name):
            highs = _case(bench, joint, case, lines, groups, member, count or 0, gasket)
        for number, high in enumerate(highs):
            known = greatest[number]
            if high is not None and (known is None or high > known):
                greatest[number] = high
    return Loads(tuple(greatest))


def _can_start(bench: Bench, joint: Joint, groups: list[Group | None], count: int | None) -> bool:
    load, title = joint.load, "clamp under load"
    if load is None:
        bench.missing("pressure_force", title, ("load.pressure_diameter",), note=f"needs load: {NO_LOAD}")
        return False
    holds = load.holds_pressure is not False
    split = joint.layout is not None and joint.layout.shape == "split-line"
    if holds and not split and load.seal is None:
        bench.missing("seal", "seal of the joint", ("load.seal",), note="needs load.seal: o-ring or gasket")
    if holds and not joint.case:
        bench.missing("pressure_force", title, ("case",), note="needs at least one case: a name and a pressure")
        return False
    if count is None:
        bench.missing("force_per_bolt", title, ("layout.bolts",), note="needs the number of bolts: layout")
        return False
    if all(group is None for group in groups):
        bench.missing(
            "residual_clamp",
            title,
            ("target",),
            note="needs the preload of the bolts (see the checks above)",
            sense="at least",
            kind="force",
        )
    return True


def _gasket(bench: Bench, gasket: Gasket, groups: list[Group | None], count: int) -> None:
    sums = _sums(groups, count)
    if sums is not None:
        put_gasket(bench, gasket, count, *sums)


def _sums(groups: list[Group | None], count: int) -> tuple[float, float] | None:
    """Low and high preload of all bolts together, N: low by the mean, since not every bolt is the lowest."""
    low = high = 0.0
    for group in groups:
        if group is None:
            return None
        number = len(group.hw.bolts) or count
        low, high = low + number * group.ends.low_mean, high + number * group.ends.high_mean
    return low, high


def _case(
    bench: Bench,
    joint: Joint,
    case: Case,
    lines: Lines,
    groups: list[Group | None],
    member: Material,
    count: int,
    gasket: Gasket | None,
) -> list[float | None]:
    """One case; returns the greatest bolt load of every size."""
    place = joint.case.index(case)
    at = temperatures(bench, joint, case, place)
    split = joint.layout is not None and joint.layout.shape == "split-line"
    held: Held | None = None
    force: float | None
    if split:
        held = split_line(bench, joint, case, lines, count)
        force = max(held.forces) if held is not None else None
    else:
        force = _pressure(bench, joint, case, lines, count, gasket)
    out: list[float | None] = []
    for number, group in enumerate(groups):
        if group is None:
            out.append(None)
            continue
        here = replace(group, lines=lines if number == 0 else Lines("joint"))
        with bench.about(size=group.hw.bolts):
            out.append(_of_size(bench, joint, case, here, held, force, member, at))
    if gasket is not None:
        _operation(bench, joint, case, lines, gasket, groups, member, at, count)
    return out


def _of_size(
    bench: Bench,
    joint: Joint,
    case: Case,
    here: Group,
    held: Held | None,
    force: float | None,
    member: Material,
    at: Heated,
) -> float | None:
    """One size in one case; returns its greatest bolt load."""
    thermal = thermal_change(bench, case, here, member, at)
    own = force if held is None or not here.hw.bolts else max(held.forces[bolt - 1] for bolt in here.hw.bolts)
    if thermal is None or own is None:
        return None
    state = put_bolt(bench, case, joint.case.index(case), here, own, thermal, at)
    if held is not None:
        held.check_lips(bench, case, here, thermal.low)
    return state.high


def _operation(
    bench: Bench,
    joint: Joint,
    case: Case,
    lines: Lines,
    gasket: Gasket,
    groups: list[Group | None],
    member: Material,
    at: Heated,
    count: int,
) -> None:
    """The gasket in operation: the low preload of all bolts, each size with its own change by temperature."""
    sums = _sums(groups, count)
    quiet = Bench("joint", "", "", bench.system)  # what is missing was said with the size's own checks
    total = 0.0
    for group in groups:
        if sums is None or group is None:
            return
        thermal = thermal_change(quiet, case, replace(group, lines=Lines("joint")), member, at)
        if thermal is None:
            return
        total += (len(group.hw.bolts) or count) * thermal.low
    if sums is not None:
        check_operation(bench, lines, case, gasket, sums[0] + total, outside(joint, case))


def _pressure(bench: Bench, joint: Joint, case: Case, lines: Lines, count: int, gasket: Gasket | None) -> float | None:
    """Outside force per bolt of a circle: p·π/4·D² and what else opens the joint, shared evenly."""
    load, extra = joint.load, outside(joint, case)
    title = f"pressure force, {case.name}"
    holds = load is None or load.holds_pressure is not False
    if case.pressure is None and holds and not extra:
        bench.missing(
            "pressure_force",
            title,
            (f"case.{joint.case.index(case)}.pressure",),
            note=f'case "{case.name}" needs a pressure',
            kind="force",
        )
        return None
    pressure, diameter = case.pressure or 0.0, load.pressure_diameter if load is not None else None
    if diameter is None and gasket is not None:
        diameter = gasket.seat.diameter
    force = 0.0
    if pressure:
        if diameter is None:
            note = "needs load.pressure_diameter: effective diameter of the seal"
            bench.missing("pressure_force", title, ("load.pressure_diameter",), note=note, kind="force")
            return None
        force = jl.pressure_force(pressure, diameter)
        lines.put("pressure_force", force, {"p": (pressure, "pressure"), "D": (diameter, "length")})
    else:
        lines.put("pressure_force", 0.0)
    puts = {"P": (force, "force"), "extra": (extra, "force"), "n": (float(count), "count")}
    value = (force + extra) / count
    lines.put("force_per_bolt", value, {**puts})
    return value

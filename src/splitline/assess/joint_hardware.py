"""Hardware of a joint, size by size: what the plan says, completed from the library, each default said."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.joint_faces import size_of, with_faces, with_washer
from splitline.assess.joint_material import falls_as
from splitline.assess.joint_types import Hardware, Material
from splitline.bolting import thread as th
from splitline.errors import InputError, LibraryError
from splitline.library import grades, materials
from splitline.library.curves import Curve
from splitline.library.threads import parse_designation
from splitline.plan.model.bolting import Bolting, SizeBolting
from splitline.plan.model.joint import Joint, Size

# Fields that go with one thread size: a size with a thread of its own does not take them over.
_WITH_THREAD = frozenset(
    {
        "hole_diameter",
        "across_flats",
        "bearing_diameter",
        "nut_height",
        "washer_diameter",
        "shank_diameter",
        "shank_length",
    }
)


class Pick:
    """A bolting field of one size: its own value, else the joint's."""

    def __init__(self, main: Bolting, own: SizeBolting | None) -> None:
        self.main, self.own = main, own
        self.other_thread = own is not None and own.thread is not None and own.thread != main.thread

    def __call__(self, name: str) -> Any:
        value = getattr(self.own, name) if self.own is not None else None
        if value is not None or (self.other_thread and name in _WITH_THREAD):
            return value
        return getattr(self.main, name)


def all_hardware(bench: Bench, joint: Joint, ctx: Context) -> list[Hardware]:
    """The main size first, then the others in the order of the plan."""
    if joint.bolting is None:
        return []
    taken = {bolt for size in joint.size for bolt in size.bolts}
    count = joint.layout.count if joint.layout is not None else None
    rest = tuple(bolt for bolt in range(1, (count or 0) + 1) if bolt not in taken)
    found = [_one(bench, joint, ctx, Pick(joint.bolting, None), rest, None)]
    found += [_one(bench, joint, ctx, Pick(joint.bolting, size.bolting), size.bolts, size) for size in joint.size]
    return found


def _one(bench: Bench, joint: Joint, ctx: Context, pick: Pick, bolts: tuple[int, ...], size: Size | None) -> Hardware:
    of = "" if size is None else f" (bolts {_listed(bolts)})"
    path = "bolting" if size is None else f"size.{joint.size.index(size)}.bolting"
    hw = Hardware(bolts, bool(size and size.first), of, pick("kind"), path)
    with bench.about(size=bolts):
        for step in (_thread, _strength, _elastic, with_faces, with_washer, _ends, _limit):
            hw = step(bench, joint, ctx, pick, hw)
    return hw


def _listed(bolts: tuple[int, ...]) -> str:
    shown = ", ".join(map(str, bolts[:6]))
    return shown if len(bolts) <= 6 else f"{shown} and {len(bolts) - 6} more"


def _thread(bench: Bench, _joint: Joint, _ctx: Context, pick: Pick, hw: Hardware) -> Hardware:
    name, title = pick("thread"), "thread" + hw.of
    hw = replace(
        hw,
        clamp_length=pick("clamp_length"),
        bore=pick("heater_bore") or 0.0,
        shank_diameter=pick("shank_diameter"),
        shank_length=pick("shank_length"),
        engagement=pick("engagement"),
        protrusion=pick("stud_protrusion"),
    )
    if not name:
        bench.missing("thread", title, ("bolting.thread",), note="needs bolting.thread")
        return hw
    try:
        size = parse_designation(name)
        thread = th.unified(size.d, size.tpi) if size.tpi is not None else th.metric(size.d, size.pitch)
        if size.note:
            basis = "ISO 261" if size.tpi is None else "ASME B1.1"
            bench.near(
                "thread_listed", "thread and pitch together" + hw.of, basis, f"{size.note}: is it what is on the stud?"
            )
        if size.left_hand or pick("left_hand"):
            bench.note(f"Left-hand thread{hw.of}: tighten counter-clockwise.")
        shank = None if hw.shank_diameter is None else th.check_shank(thread, hw.shank_diameter, pick("hole_diameter"))
        hw = replace(hw, thread=thread, thread_name=size.name)
        return replace(_shank(bench, hw), section=th.least_section(thread, shank, hw.bore, pick("hole_diameter")))
    except (InputError, LibraryError) as error:
        bench.fails("thread", title, "geometry of thread and shank", bench.said(error))
        return replace(hw, shank_diameter=None, shank_length=None)


def _shank(bench: Bench, hw: Hardware) -> Hardware:
    """Length of the shank: what is given, or the clamp length where only a diameter is."""
    if hw.clamp_length is None:
        return hw
    if hw.shank_length is not None and hw.shank_length > hw.clamp_length * (1 + 1e-9):
        raise InputError(
            f"the shank ({bench.show(hw.shank_length, 'length')}) is longer than the clamp length "
            f"({bench.show(hw.clamp_length, 'length')})"
        )
    if hw.shank_diameter is not None and hw.shank_length is None:
        bench.default(
            hw.field("shank_length"),
            bench.show(hw.clamp_length, "length"),
            "the whole clamp length: only a diameter is given",
        )
        return replace(hw, shank_length=hw.clamp_length)
    if hw.shank_diameter is None and hw.shank_length is None and not hw.of:
        bench.default(
            hw.field("shank_length"), bench.show(0.0, "length"), "thread over the whole clamp length, the softest bolt"
        )
    if hw.shank_diameter is None and hw.shank_length is not None and hw.thread is not None:
        bench.default(
            hw.field("shank_diameter"), bench.show(hw.thread.d, "length"), "shank of the thread's own diameter"
        )
    return hw


def _strength(bench: Bench, _joint: Joint, ctx: Context, pick: Pick, hw: Hardware) -> Hardware:
    given = pick("yield_strength"), pick("tensile_strength")
    name, size = pick("grade"), None
    modulus, expansion = pick("modulus"), pick("expansion")
    typed = falls_as(ctx.library, modulus)
    material = Material(modulus=modulus, typed_curves=typed, expansion=expansion)
    points = pick("hot_yield")
    if points:
        at = tuple(sorted(points))
        hot = Curve("yield of the plan", tuple(t for t, _ in at), tuple(y for _, y in at), "plan", flat_below=True)
        hw = replace(hw, hot_yield=hot)
    hw = replace(hw, yield_strength=given[0], tensile_strength=given[1], strength_source="plan", material=material)
    if not name:
        return hw
    try:
        size = size_of(pick)
    except LibraryError:
        return hw
    if size is None:
        return hw
    try:
        found = grades.grade(ctx.library, name, size)
    except LibraryError as error:
        if given[0] is None:
            bench.missing("grade", "bolt grade" + hw.of, ("bolting.grade",), note=bench.said(error))
        else:
            bench.note(bench.said(error))
        return hw
    if found.note:
        bench.note(f"{found.name}: {found.note}")
    nut = grades.usual_nut(ctx.library, found.name)
    return replace(
        hw,
        grade=found.name,
        yield_strength=given[0] if given[0] is not None else found.yield_strength,
        tensile_strength=given[1] if given[1] is not None else found.tensile_strength,
        strength_source="plan" if given[0] is not None else f"{found.name}, {found.source}",
        proof_strength=found.proof_strength,
        yield_share=found.yield_share,
        nut_tensile=nut.tensile_strength if nut is not None else None,
        nut_source=f"{nut.name}, the nut that goes with {found.name} ({nut.source})" if nut is not None else "",
        material=Material(
            modulus if modulus is not None else (found.modulus.at(293.15) if found.modulus else None),
            found.modulus if modulus is None else None,
            () if modulus is None else (found.modulus,) if found.modulus else typed,
            expansion,
            found.expansion if expansion is None else None,
        ),
    )


def _elastic(bench: Bench, _joint: Joint, _ctx: Context, pick: Pick, hw: Hardware) -> Hardware:
    curve = hw.material.modulus_curve
    if hw.material.modulus is not None and curve is not None:
        bench.default(hw.field("modulus"), bench.show(hw.material.modulus, "modulus"), f"{curve.what}: {curve.source}")
    return replace(hw, hole=pick("hole_diameter"), bearing=pick("bearing_diameter"), across_flats=pick("across_flats"))


def _ends(bench: Bench, _joint: Joint, ctx: Context, pick: Pick, hw: Hardware) -> Hardware:
    """Strength of the tapped end."""
    strength, name = pick("tapped_strength"), pick("tapped_material")
    if strength is None and name and not hw.through:
        try:
            strength = materials.material(ctx.library, name).tensile_strength
        except LibraryError as error:
            bench.note(bench.said(error))
    return replace(hw, tapped_tensile=strength)


# Parts at least this stiff are steel or stiffer, and no steel of the table takes less pressure under a nut than this one.
LEAST_OF_STEEL = 180e9
SOFTEST_STEEL = "S235"


def _limit(bench: Bench, joint: Joint, ctx: Context, pick: Pick, hw: Hardware) -> Hardware:
    """Limiting pressure under the nut or head: given, of the material under it, or of the softest steel for steel parts."""
    given = pick("bearing_limit")
    if given is not None:
        return replace(hw, bearing_limit=given, bearing_limit_source="limiting pressure of the plan")
    member = joint.member
    name = pick("bearing_material") or (member.material if member is not None else None)
    assumed = not name and member is not None and (member.modulus or 0.0) >= LEAST_OF_STEEL
    if assumed:
        name = SOFTEST_STEEL
    if not name:
        return hw
    try:
        found = materials.material(ctx.library, name)
    except LibraryError as error:
        bench.note(bench.said(error))
        return hw
    if found.limiting_pressure is None:
        return hw
    older = ""
    if found.limiting_pressure_1986 is not None:
        older = f"; the 1986 edition has {bench.show(found.limiting_pressure_1986, 'stress')}"
    source = f"limiting pressure of {found.name}: {found.pressure_source}{older}"
    if assumed:
        said = "the clamped parts have the modulus of steel; the softest steel of the table is taken"
        bench.default(hw.field("bearing_limit"), bench.show(found.limiting_pressure, "stress"), f"{said}. {source}")
        source = f"{source}, taken for steel of no name"
    hw = replace(hw, bearing_limit_older=found.limiting_pressure_1986)
    return replace(hw, bearing_limit=found.limiting_pressure, bearing_limit_source=source)

"""A joint assessed: hardware, preload and torque, stiffness, prediction, load cases, threads and faces, tools, cautions."""

from __future__ import annotations

from dataclasses import dataclass, replace

from splitline.assess import joint_hardware as jh
from splitline.assess import joint_material as jm
from splitline.assess import joint_preload as jp
from splitline.assess import joint_stiffness as js
from splitline.assess.assembled import checks_of, defaults_of, results_of, working_of
from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.assess.joint_accept import check_maker, put_acceptance, put_cautions
from splitline.assess.joint_cases import Group
from splitline.assess.joint_load import put_loads
from splitline.assess.joint_nut import check_heater, nut_settings
from splitline.assess.joint_scatter import Spread, put_embedding, put_high, put_limits, spread_of
from splitline.assess.joint_sheet import SHEET, SIZE, Sized, all_size
from splitline.assess.joint_tensioner import Pulled, check_pull, put_tensioner
from splitline.assess.joint_threads import put_bearing, put_threads
from splitline.assess.joint_tools import Plan, check_serials, check_served, joint_settings, pass_plan, put_passes
from splitline.assess.joint_types import Grip, Hardware, Material
from splitline.assess.joint_wrench import put_wrench, wrenches
from splitline.assess.made_up import JointMadeUp, MadeUp
from splitline.assess.result import ItemResult
from splitline.assess.settings import SizeSettings
from splitline.assess.sheet import ITEM
from splitline.assess.tightening import add_chances, add_tightening, group_pulls
from splitline.assess.worksheet import Place, Worksheet
from splitline.bolting.introduction import Introduction, introduction
from splitline.errors import InputError
from splitline.library.grades import usual_nut
from splitline.plan.model.joint import Joint, Target


@dataclass(slots=True)
class Work:
    """One size of bolts on its way through the assessment."""

    hw: Hardware
    grip: Grip
    target: Target | None
    lines: Lines
    settings: SizeSettings
    number: int  # 0 the main size
    bolt: float | None = None  # stiffness, N/m
    member: float | None = None
    preload: float | None = None
    torque: float | None = None
    stretch: float | None = None
    preload_set: float | None = None
    group: Group | None = None
    gasket: float = 0.0


def assess_joint(joint: Joint, ctx: Context) -> ItemResult:
    """Every result and check of one joint. No side effects; what cannot be computed is said as missing."""
    bench = Bench("joint", joint.id, joint.title, ctx.system)
    sheet = Worksheet(SHEET, joint, ctx)
    plan = pass_plan(bench, joint.tightening)
    member = sheet.of(jm.member_material) or Material()
    sizes = [(size, hardware_of(sheet, size)) for size in sheet.of(all_size) or ()]
    works = []
    for size, hw in sizes:
        with bench.about(size=hw.bolts):
            works.append(_made(bench, sheet, joint, plan, size, hw))
    bench.settings = joint_settings(joint, plan, tuple(work.settings for work in works))
    spread = spread_of(bench, ctx, joint, works[0].grip.dry)
    made_up = _predict(bench, joint, ctx, spread, works, member)
    pulls = group_pulls(bench, made_up) if plan.method == "hydraulic tensioner" else ()
    introduced = _introduction(bench, joint)
    for number, work in enumerate(works):
        with bench.about(size=work.hw.bolts):
            if plan.method == "hydraulic tensioner":
                pull = pulls[number] if pulls else None
                check_pull(bench, work.lines, joint, work.hw, plan, work.settings, pull)
            _limits(bench, plan, spread, work, introduced)
    count = joint.layout.count if joint.layout is not None else None
    loads = put_loads(bench, joint, ctx, [work.group for work in works], member, count)
    add_chances(bench, made_up)
    for work, greatest in zip(works, loads.greatest, strict=True):
        with bench.about(size=work.hw.bolts):
            put_threads(bench, work.lines, work.hw, greatest)
            if work.preload is not None:
                put_bearing(bench, work.lines, work.hw, work.preload, greatest)
            check_maker(bench, work.hw, work.target, work.torque, work.stretch)
            put_acceptance(bench, work.lines, work.hw, joint, work.stretch, spread.scatter)
    check_serials(bench, ctx, joint)
    put_cautions(bench, joint)
    bench.checks += checks_of(sheet, ctx.system)
    for text in sheet.remarks():
        bench.note(text)
    for taken in defaults_of(sheet, ctx.system):
        bench.default(taken.field, taken.said, taken.basis)
    return bench.done()


def hardware_of(sheet: Worksheet, size: Sized) -> Hardware:
    """One size as the bench's rooms take it."""
    at: Place = (("size", size.number),)
    blank = sheet.of(jh.blank, at) or jh.Blank()
    strength = sheet.of(jh.strength, at) or jh.Strength(None, None)
    pressed = sheet.of(jh.pressed, at)
    given = size.bolting
    named = sheet.of(jh.graded, at)
    nut = usual_nut(sheet.context.library, named.name) if named is not None else None
    return Hardware(
        size.bolts, size.first, size.of, given.kind, size.own("x").removesuffix(".x"),
        thread=blank.thread, thread_name=blank.name, shank_diameter=blank.shank_diameter, shank_length=blank.shank_length,
        bore=given.heater_bore or 0.0, section=blank.section, clamp_length=given.clamp_length,
        material=sheet.of(jh.bolt_material, at) or Material(), grade=named.name if named is not None else "",
        yield_strength=strength.yields, tensile_strength=strength.breaks, proof_strength=strength.proof,
        strength_source=strength.source, yield_share=strength.yield_share, hot_yield=sheet.of(jh.hot_yield, at),
        hole=sheet.of(jh.hole_diameter, at), bearing=sheet.of(jh.bearing_diameter, at),
        bearing_under=sheet.of(jh.under_washer, at), across_flats=sheet.of(jh.across_flats, at),
        nut_height=(sheet.of(jh.turned, at) or jh.Turned()).height, nut_tensile=strength.nut_tensile,
        nut_source=nut.source if nut is not None else "", engagement=given.engagement,
        tapped_tensile=sheet.of(jh.tapped_tensile, at), bearing_limit=pressed.limit if pressed is not None else None,
        bearing_limit_source=pressed.source if pressed is not None else "",
        bearing_limit_older=pressed.older if pressed is not None else None, protrusion=given.stud_protrusion,
    )  # fmt: skip


def _made(bench: Bench, sheet: Worksheet, joint: Joint, plan: Plan, size: Sized, hw: Hardware) -> Work:
    """One size made up: geometry, stiffness, preload, torque, stretch and turn stand on the sheet; then passes and tools."""
    at: Place = (("size", size.number),)
    lines = bench.size(hw.bolts) if hw.of else bench
    for scope, place in ((ITEM, ()), ((SIZE,), at)) if size.number == 0 else (((SIZE,), at),):
        lines.results |= results_of(sheet, scope, place)
        lines.working += working_of(sheet, scope, place)
    grip = sheet.of(jp.friction, at) or Grip()
    work = Work(hw, grip, size.target, lines, SizeSettings(hw.bolts), size.number)
    work.bolt, work.member = sheet.of(js.bolt_stiffness, at), sheet.of(js.member_stiffness, at)
    work.preload, work.torque = sheet.of(jp.preload, at), sheet.of(jp.torque, at)
    work.stretch, work.gasket = sheet.of(js.stretch, at), sheet.of(js.gasket_compliance) or 0.0
    if plan.method == "heat":
        check_heater(bench, hw, plan.passes)
    if work.preload is not None:
        try:
            _tightened(bench, joint, plan, work, work.preload)
        except InputError as error:
            bench.missing("torque", "torque" + hw.of, (), note=bench.said(error))
    return work


def _tightened(bench: Bench, joint: Joint, plan: Plan, work: Work, preload: float) -> None:
    hw, lines = work.hw, work.lines
    put_passes(bench, lines, plan, work.torque, preload)
    check_served(bench, joint, hw)
    turned = None if plan.method in jp.NO_TWIST else work.torque
    work.settings = SizeSettings(hw.bolts, preload, turned, work.stretch)
    work.settings = nut_settings(bench, lines, hw, work.grip, plan.method or "", plan.snug, work.settings)
    if plan.method == "hydraulic tensioner":
        pulled = Pulled(preload, work.stretch, work.bolt, work.member, work.gasket)
        work.preload_set, work.settings = put_tensioner(bench, lines, joint, hw, plan, pulled)
    elif jp.by_torque(joint) and work.torque is not None and plan.method is not None:
        tools = wrenches(bench, joint, plan.method == "hydraulic wrench", hw)
        work.settings = replace(work.settings, tools=tools)
        work.preload_set = put_wrench(bench, lines, joint, plan, hw.of, work.settings)


def _predict(
    bench: Bench, joint: Joint, ctx: Context, spread: Spread, works: list[Work], member: Material
) -> JointMadeUp:
    """Hand the joint as made up to the prediction of tightening, which puts its own results on the bench."""
    sizes = tuple(
        MadeUp(
            bolts=work.hw.bolts,
            first=work.hw.first,
            thread=work.hw.thread,
            section=work.hw.section,
            clamp_length=work.hw.clamp_length,
            modulus=work.hw.material.modulus,
            yield_strength=work.hw.yield_strength,
            bolt_stiffness=work.bolt,
            member_stiffness=work.member,
            preload=work.preload,
            torque=work.torque,
        )
        for work in works
    )
    count = joint.layout.count if joint.layout is not None else None
    gasketed = joint.load is not None and joint.load.seal == "gasket"
    made_up = JointMadeUp(
        count, sizes, spread.scatter, spread.relaxation, gasketed, member.modulus, _torsion(bench, joint)
    )
    bench.joint = replace(bench.joint, made_up=made_up)
    add_tightening(bench, joint, made_up, ctx)
    return made_up


def _torsion(bench: Bench, joint: Joint) -> float | None:
    """Combined over axial stress of the main size at target: 1 where the nut is not turned under load."""
    if joint.tightening is not None and joint.tightening.method in jp.NO_TWIST:
        return 1.0
    axial, combined = bench.get("least_area_stress"), bench.get("combined_stress")
    return combined / axial if axial and combined else None


def _introduction(bench: Bench, joint: Joint) -> Introduction:
    """Where the outside force enters: given, or the safe end of each check."""
    given = joint.load.introduction if joint.load is not None else None
    if given is None and joint.case:
        bench.default(
            "load.introduction", "n = 0 for the clamp, 1 for the bolt", "VDI 2230-1: the safe end of each check"
        )
    return introduction(given)


def _limits(bench: Bench, plan: Plan, spread: Spread, work: Work, introduced: Introduction) -> None:
    """Low and high preload, the overload check, and the group the load cases work with."""
    if work.preload is None:
        return
    hw = work.hw
    top = max(1.0, *plan.passes)  # a pass above the target stays in the bolts: a wrench never slackens a nut
    ends = put_limits(bench, work.lines, spread, work.preload, work.preload_set, hw.bolts, top)
    try:
        torque = None if work.torque is None else top * work.torque
        twist = put_high(bench, work.lines, hw, work.grip, torque, ends.high, plan.method)
    except InputError as error:
        bench.missing("combined_stress", "overload while tightening" + hw.of, (), note=bench.said(error), kind="stress")
        twist = None
    if work.bolt is not None and work.member is not None:
        put_embedding(bench, work.lines, hw, work.preload, spread.relaxation, work.bolt, work.member)
    work.group = Group(work.number, hw, work.preload, ends, work.bolt, work.member, twist, introduced, work.lines)

"""A joint assessed: hardware, preload and torque, stiffness, prediction, load cases, threads and faces, tools, cautions."""

from __future__ import annotations

from dataclasses import dataclass, replace

from splitline.assess import joint_bolt as jb
from splitline.assess import joint_stiffness as js
from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.assess.joint_accept import check_maker, put_acceptance, put_cautions
from splitline.assess.joint_cases import Group
from splitline.assess.joint_friction import grip_of
from splitline.assess.joint_hardware import all_hardware
from splitline.assess.joint_load import put_loads
from splitline.assess.joint_member import member_material
from splitline.assess.joint_nut import check_heater, nut_settings
from splitline.assess.joint_scatter import Spread, put_limits, spread_of
from splitline.assess.joint_target import put_preload
from splitline.assess.joint_tensioner import Pulled, check_pull, put_tensioner
from splitline.assess.joint_threads import put_bearing, put_threads
from splitline.assess.joint_tools import Plan, check_serials, check_served, joint_settings, pass_plan, put_passes
from splitline.assess.joint_types import Grip, Hardware, Material
from splitline.assess.joint_wrench import put_wrench, wrenches
from splitline.assess.made_up import JointMadeUp, MadeUp
from splitline.assess.result import ItemResult
from splitline.assess.settings import SizeSettings
from splitline.assess.tightening import add_chances, add_tightening, group_pulls
from splitline.bolting.introduction import Introduction, introduction
from splitline.errors import InputError
from splitline.plan.model.bolting import Bolting
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


def assess_joint(joint: Joint, ctx: Context) -> ItemResult:
    """Every result and check of one joint. No side effects; what cannot be computed is said as missing."""
    bench = Bench("joint", joint.id, joint.title, ctx.system)
    if joint.bolting is None:
        bench.missing("bolting", "bolting", ("bolting",), note="needs bolting: thread, grade, kind and clamp length")
        joint = joint.model_copy(update={"bolting": Bolting(kind="bolt")})  # the rest that is wanted is said at once
    plan = pass_plan(bench, joint.tightening)
    member = member_material(bench, ctx, joint)
    works = []
    for number, hw in enumerate(all_hardware(bench, joint, ctx)):
        with bench.about(size=hw.bolts):
            works.append(_made(bench, joint, ctx, plan, member, hw, number))
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
    return bench.done()


def _made(bench: Bench, joint: Joint, ctx: Context, plan: Plan, member: Material, hw: Hardware, number: int) -> Work:
    """One size made up: geometry, stiffness, preload, torque, stretch and turn, tools."""
    size = next((s for s in joint.size if s.bolts == hw.bolts), None) if hw.of else None
    target = size.target if size is not None and size.target is not None else joint.target
    lines = bench.size(hw.bolts) if hw.of else bench
    work = Work(hw, grip_of(ctx, joint.friction, hw), target, lines, SizeSettings(hw.bolts), number)
    jb.put_geometry(work.lines, hw)
    work.bolt = js.put_bolt_stiffness(bench, work.lines, hw)
    work.member = js.put_member_stiffness(bench, work.lines, hw, joint, member.modulus)
    js.put_load_factor(work.lines, work.bolt, work.member)
    if plan.method == "heat":
        check_heater(bench, hw, plan.passes)
    work.preload = put_preload(bench, work.lines, hw, work.grip, target, work.bolt)
    if work.preload is None:
        _wanted(bench, plan, work)
    else:
        try:
            _tightened(bench, joint, plan, work, work.preload)
        except InputError as error:
            bench.missing("torque", "torque" + hw.of, (), note=bench.said(error))
    return work


def _wanted(bench: Bench, plan: Plan, work: Work) -> None:
    """What the next checks will want, said while there is no preload yet: all at once."""
    hw, grip = work.hw, work.grip
    if hw.yield_strength is None:
        note = "needs bolting.grade or bolting.yield_strength"
        bench.missing("yield_usage", jb.AT_TARGET + hw.of, ("bolting.grade",), note=note, kind="stress")
    if plan.method in jb.BY_TORQUE and grip.nominal is None and grip.nut_factor is None:
        bench.missing("torque", "torque" + hw.of, grip.needs, note=grip.note or "needs " + ", ".join(grip.needs))


def _tightened(bench: Bench, joint: Joint, plan: Plan, work: Work, preload: float) -> None:
    hw, lines = work.hw, work.lines
    jb.put_stress(bench, lines, hw, preload)
    by_torque = plan.method in jb.BY_TORQUE
    work.torque = jb.put_torque(bench, lines, hw, work.grip, preload, by_torque)
    if plan.method not in jb.NO_TWIST:
        jb.put_combined(bench, lines, hw, work.grip, preload)
    if work.bolt is not None:
        work.stretch = js.put_stretch(lines, preload, work.bolt)
        if work.member is not None:
            js.put_turn(lines, hw, preload, plan.snug, work.bolt, work.member)
            js.put_heat(lines, hw, preload, work.bolt, work.member)
    put_passes(bench, lines, plan, work.torque, preload)
    check_served(bench, joint, hw)
    turned = None if plan.method in jb.NO_TWIST else work.torque
    work.settings = SizeSettings(hw.bolts, preload, turned, work.stretch)
    work.settings = nut_settings(bench, lines, hw, work.grip, plan.method or "", plan.snug, work.settings)
    if plan.method == "hydraulic tensioner":
        pulled = Pulled(preload, work.stretch, work.bolt, work.member)
        work.preload_set, work.settings = put_tensioner(bench, lines, joint, hw, plan, pulled)
    elif by_torque and work.torque is not None:
        jb.put_friction_ends(bench, lines, hw, work.grip, work.torque, preload)
        if plan.method is not None:
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
    if joint.tightening is not None and joint.tightening.method in jb.NO_TWIST:
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
        twist = jb.put_high(bench, work.lines, hw, work.grip, torque, ends.high, plan.method)
    except InputError as error:
        bench.missing("combined_stress", "overload while tightening" + hw.of, (), note=bench.said(error), kind="stress")
        twist = None
    if work.bolt is not None and work.member is not None:
        js.put_embedding(bench, work.lines, hw, work.preload, spread.relaxation, work.bolt, work.member)
    work.group = Group(work.number, hw, work.preload, ends, work.bolt, work.member, twist, introduced, work.lines)

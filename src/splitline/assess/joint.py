"""A joint assessed: hardware, preload and torque, stiffness, prediction, load cases, threads and faces, tools, cautions."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess import joint_hardware as jh
from splitline.assess import joint_material as jm
from splitline.assess import joint_preload as jp
from splitline.assess import joint_scatter as js
from splitline.assess import joint_stiffness as st
from splitline.assess import joint_wrench as jw
from splitline.assess import made_up as mu
from splitline.assess import tightening as tg
from splitline.assess import tightening_further, tightening_order
from splitline.assess.assembled import checks_of, defaults_of, results_of, working_of
from splitline.assess.bench import Bench, Lines
from splitline.assess.context import Context
from splitline.assess.details import JointDetail
from splitline.assess.joint_accept import check_maker, put_acceptance, put_cautions
from splitline.assess.joint_cases import Group
from splitline.assess.joint_load import put_loads
from splitline.assess.joint_scatter import Spread, put_embedding, put_high, put_limits
from splitline.assess.joint_sheet import SHEET, SIZE, Sized, all_size, method_of
from splitline.assess.joint_threads import put_bearing, put_threads
from splitline.assess.joint_tools import settings as js_settings
from splitline.assess.joint_types import Grip, Hardware, Material
from splitline.assess.result import ItemResult
from splitline.assess.sheet import ITEM
from splitline.assess.tightening import add_chances
from splitline.assess.worksheet import Place, Worksheet
from splitline.bolting.introduction import Introduction, introduction
from splitline.errors import InputError
from splitline.library.grades import usual_nut
from splitline.plan.model.joint import Joint, Target
from splitline.plan.passes import Passes

DECLARED_IN = (tightening_order, tightening_further)  # declare results that nothing here asks for by name


@dataclass(slots=True)
class Work:
    """One size of bolts on its way through what is still on the bench."""

    hw: Hardware
    grip: Grip
    target: Target | None
    lines: Lines
    at: Place
    group: Group | None = None

    @property
    def number(self) -> int:
        """0 the main size."""
        return self.at[0][1]


def assess_joint(joint: Joint, ctx: Context) -> ItemResult:
    """Every result and check of one joint. No side effects; what cannot be computed is said as missing."""
    bench = Bench("joint", joint.id, joint.title, ctx.system)
    sheet = Worksheet(SHEET, joint, ctx)
    member = sheet.of(jm.member_material) or Material()
    works = [_made(bench, sheet, size) for size in sheet.of(all_size) or ()]
    bench.results |= results_of(sheet, ITEM)
    bench.working += working_of(sheet, ITEM)
    made_up, few = sheet.of(mu.made_up), sheet.of(tg.few_passes)
    bench.joint = JointDetail(made_up, sheet.of(tg.forecast), (few,) if few is not None else ())
    bench.settings = sheet.of(js_settings)
    spread, planned = sheet.of(js.spread), sheet.of(st.planned)
    assert made_up is not None
    assert spread is not None
    assert planned is not None
    introduced = _introduction(bench, joint)
    for work in works:
        with bench.about(size=work.hw.bolts):
            _limits(bench, sheet, planned, spread, work, introduced)
    count = joint.layout.count if joint.layout is not None else None
    loads = put_loads(bench, joint, ctx, [work.group for work in works], member, count)
    add_chances(bench, made_up)
    for work, greatest in zip(works, loads.greatest, strict=True):
        torque, stretch = sheet.of(jp.torque, work.at), sheet.of(st.stretch, work.at)
        preload = sheet.of(jp.preload, work.at)
        with bench.about(size=work.hw.bolts):
            put_threads(bench, work.lines, work.hw, greatest)
            if preload is not None:
                put_bearing(bench, work.lines, work.hw, preload, greatest)
            check_maker(bench, work.hw, work.target, torque, stretch)
            put_acceptance(bench, work.lines, work.hw, joint, stretch, spread.scatter)
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


def _made(bench: Bench, sheet: Worksheet, size: Sized) -> Work:
    """One size as it stands on the sheet."""
    at: Place = (("size", size.number),)
    lines = bench.size(size.bolts) if size.number else bench
    lines.results |= results_of(sheet, (SIZE,), at)
    lines.working += working_of(sheet, (SIZE,), at)
    return Work(hardware_of(sheet, size), sheet.of(jp.friction, at) or Grip(), size.target, lines, at)


def _introduction(bench: Bench, joint: Joint) -> Introduction:
    """Where the outside force enters: given, or the safe end of each check."""
    given = joint.load.introduction if joint.load is not None else None
    if given is None and joint.case:
        bench.default(
            "load.introduction", "n = 0 for the clamp, 1 for the bolt", "VDI 2230-1: the safe end of each check"
        )
    return introduction(given)


def _limits(
    bench: Bench, sheet: Worksheet, planned: Passes, spread: Spread, work: Work, introduced: Introduction
) -> None:
    """Low and high preload, the overload check, and the group the load cases work with."""
    preload = sheet.of(jp.preload, work.at)
    if preload is None:
        return
    hw, joint = work.hw, sheet.item
    top = max(1.0, *planned.shares)  # a pass above the target stays in the bolts: a wrench never slackens a nut
    ends = put_limits(bench, work.lines, spread, preload, sheet.of(jw.preload_of_torque_set, work.at), hw.bolts, top)
    torque, method = sheet.of(jp.torque, work.at), method_of(joint)
    try:
        twist = put_high(bench, work.lines, hw, work.grip, None if torque is None else top * torque, ends.high, method)
    except InputError as error:
        bench.missing("combined_stress", "overload while tightening" + hw.of, (), note=bench.said(error), kind="stress")
        twist = None
    bolt, member = sheet.of(st.bolt_stiffness, work.at), sheet.of(st.member_stiffness, work.at)
    if bolt is not None and member is not None:
        put_embedding(bench, work.lines, hw, preload, spread.relaxation, bolt, member)
    work.group = Group(work.number, hw, preload, ends, bolt, member, twist, introduced, work.lines)

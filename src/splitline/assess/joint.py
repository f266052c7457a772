"""A joint assessed: its calculation sheet filled in, and the frozen result taken from it.

Results are declared where their physics is: hardware, preload and torque, stiffness, limits by scatter, load cases, threads
and faces, tools, prediction of tightening, acceptance and cautions.
"""

from __future__ import annotations

from dataclasses import replace

from splitline.assess import (
    joint_accept,
    joint_cases,
    joint_gasket,
    joint_hardware,
    joint_load,
    joint_preload,
    joint_scatter,
    joint_split,
    joint_stiffness,
    joint_tensioner,
    joint_threads,
    joint_tools,
    joint_wrench,
    made_up,
    tightening,
    tightening_further,
    tightening_model,
    tightening_order,
)
from splitline.assess.assembled import group_of, item_of
from splitline.assess.context import Context
from splitline.assess.details import JointDetail
from splitline.assess.joint_load import CASE, all_case
from splitline.assess.joint_sheet import SHEET, SIZE, all_size
from splitline.assess.result import ItemResult
from splitline.assess.worksheet import Place, Worksheet
from splitline.plan.model.joint import Joint

# Every room that declares results of a joint, in the order they are shown.
SHEET.arrange(
    joint_hardware, joint_preload, joint_stiffness, joint_scatter, joint_threads, joint_tools, joint_wrench, joint_tensioner,
    joint_load, joint_gasket, joint_cases, joint_split, made_up, tightening_order, tightening_model, tightening, tightening_further,
    joint_accept,
)  # fmt: skip
MAIN: Place = (("size", 0),)


def assess_joint(joint: Joint, ctx: Context) -> ItemResult:
    """Every result and check of one joint. No side effects; what cannot be computed is said as missing."""
    sheet = Worksheet(SHEET, joint, ctx)
    others = (sheet.of(all_size) or ())[1:]
    sizes = tuple(group_of(sheet, (SIZE,), place=(("size", size.number),), bolts=size.bolts) for size in others)
    cases = tuple(
        group_of(sheet, (CASE,), (SIZE, CASE), place=(*MAIN, ("case", case.number)), name=case.name)
        for case in sheet.of(all_case) or ()
    )
    few = sheet.of(tightening.few_passes)
    warnings = (few,) if few is not None else ()
    whole = item_of(sheet, joint.id, joint.title, ctx.system, (SIZE,), place=MAIN)
    place = {case.name: number for number, case in enumerate(joint.case)}
    return replace(
        whole,
        checks=tuple(sorted(whole.checks, key=lambda check: place.get(check.case, -1))),  # read case by case
        sizes=sizes,
        cases=cases,
        joint=JointDetail(sheet.of(made_up.made_up), sheet.of(tightening.forecast), warnings),
        settings=sheet.of(joint_tools.settings),
    )

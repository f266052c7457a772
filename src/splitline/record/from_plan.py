"""A plan as the record sees it. Orders of tightening are computed elsewhere and given in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from splitline.plan.hold_words import statement_of
from splitline.plan.model import Joint, Plan, Step, Window
from splitline.plan.passes import passes_of
from splitline.record.job import ItemPlan, Job, JointPlan, SealPlan, StepPlan, WindowPlan, plan_passes

Orders = Mapping[str, Sequence[Sequence[int]]]  # joint id -> bolts of each step of one pass


def job_of(plan: Plan, orders: Orders) -> Job:
    """The job of a plan. A joint without an order (its bolts are not known yet) has no passes and cannot be closed."""
    return Job(
        title=plan.info.title,
        revision=plan.info.revision or "",
        joints=tuple(_joint(joint, orders.get(joint.id, ())) for joint in plan.joints),
        items=tuple(
            ItemPlan(kind, item.id, item.title)
            for kind, items in (
                ("lift", plan.lifts),
                ("fit", plan.fits),
                ("insertion", plan.insertions),
                ("clearance", plan.clearances),
            )
            for item in items
        ),
        steps=tuple(_step(step, plan) for step in plan.steps),
        seals=tuple(SealPlan(each.id, each.title) for each in plan.items if each.kind == "seal"),
        windows=tuple(window for each in plan.windows if (window := _window(each)) is not None),
    )


NOUNS = {"bolt": "bolt", "cap-screw": "screw"}  # by ``bolting.kind``; all others are studs


def noun_of(joint: Joint) -> str:
    """What its fasteners are called."""
    return NOUNS.get((joint.bolting.kind if joint.bolting else None) or "", "stud")


def _joint(joint: Joint, order: Sequence[Sequence[int]]) -> JointPlan:
    steps = tuple(tuple(int(bolt) for bolt in step) for step in order)
    noun = noun_of(joint)
    if not steps:
        return JointPlan(joint.id, joint.title, noun=noun)
    planned_passes = passes_of(joint.tightening)
    passes = plan_passes(steps, planned_passes.shares, planned_passes.snug, planned_passes.rounds)
    planned = joint.friction.lubricant if joint.friction else None
    return JointPlan(joint.id, joint.title, passes, planned_passes.most_rounds, planned or "", noun)


def _step(step: Step, plan: Plan) -> StepPlan:
    kind, item = step.target or ("", "")
    return StepPlan(
        id=step.id,
        text=step.heading,
        kind=kind,
        item=item,
        passes=tuple(str(name) for name in step.passes or ()),
        bolts=tuple(step.bolts or ()),
        needs=tuple(step.needs or ()),
        hold=step.hold or "",
        witness=step.witness or "",
        statement=statement_of(step, plan),
    )


def _window(window: Window) -> WindowPlan | None:
    if window.from_ is None or window.to is None:
        return None
    return WindowPlan(window.id, window.title, window.from_, window.to, window.at_least, window.at_most)

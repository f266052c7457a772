"""The table of one pass of a joint, a line a stud in the order of tightening, and that of its gaps."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.accepted import accepted_of
from splitline.record.claims import Claim
from splitline.record.entry import JOINED
from splitline.record.order import StepState
from splitline.record.progress import PassProgress
from splitline.ui.paper.table import PaperRow, PaperSheet
from splitline.ui.work.now import Now
from splitline.ui.work.task import Limits, Task
from splitline.ui.work.tasks_joint import joint_task, pass_words, readings_of
from splitline.ui.work.values import Instructed, instructed, nut_lines
from splitline.units import show

_CLOCK = ("12", *(str(hour) for hour in range(1, 12)))
_LINE = 12  # places along a split line
_BY_METHOD = {"stretch": "stretch", "heat": "stretch", "turn": "turn"}


def in_hand(now: Now, joint: str, pass_: str, bolts: tuple[int, ...]) -> Now:
    """The moment as it is for a crew with these bolts in hand: what was pulled on paper was in somebody's."""
    return replace(now, mine=Claim(joint, pass_, bolts, now.person, "", now.at))


def pass_task(now: Now, state: StepState, pass_: str, bolts: tuple[int, ...]) -> Task:
    """The instruction of the fitter's screen for these bolts."""
    return joint_task(state, in_hand(now, state.plan.item, pass_, bolts), ())


def pass_sheet(now: Now, state: StepState, each: PassProgress, key: str, tools: tuple[str, ...]) -> PaperSheet:
    """One pass. Studs that are done, left out or in another crew's hands are there and cannot be ticked."""
    ident, plan = state.plan.item, each.plan
    own = now.set_up(ident, plan.name)
    hands = tools or (tuple(own.tool.split(JOINED)) if own is not None else ())
    values = _values(now, state, each, hands)
    rows, columns = [], dict[str, None]()
    for place, step in enumerate(plan.steps, 1):
        for bolt in step:
            read = {r.what: r for r in readings_of(now, ident, values[bolt], plan.share, bolt) if r.what != "gap"}
            columns |= dict.fromkeys(read)
            locked = _locked(now, ident, each, bolt, values[bolt])
            rows.append(PaperRow(str(bolt), str(bolt), "tighten", locked, bolt, place, limits=read))
    first = values[plan.bolts[0]]
    needs = own is None and not tools and not each.closed
    return PaperSheet(
        key=key,
        kind="pass",
        title=state.plan.text or state.plan.id,
        middle=pass_words(plan.name) + (f"   {plan.share * 100:.0f} %" if plan.share is not None else ""),
        columns=tuple(
            sorted(columns, key=lambda what: what != _likeliest(now, ident, plan.share, first, plan.bolts[0]))
        ),
        rows=tuple(rows),
        task=pass_task(now, state, plan.name, each.open[:1]) if needs else _reading_task(state, plan.name),
        facts=_facts(first, now),
        finish=plan.finish,
        set_up=needs,
    )


def _reading_task(state: StepState, pass_: str) -> Task:
    return Task(
        "bolts", f"paper {state.plan.id} {pass_}", step=state, item=state.plan.item, joint=state.plan.item, pass_=pass_
    )


def _values(now: Now, state: StepState, each: PassProgress, tools: tuple[str, ...]) -> dict[int, Instructed]:
    """What each bolt is pulled to; worked out once a size."""
    joint, result = now.joint(state.plan.item), now.assessment.find("joint", state.plan.item)
    size_of = {bolt: n for n, size in enumerate(result.sizes, 1) for bolt in size.bolts} if result else {}
    by_size: dict[int, Instructed] = {}
    found = {}
    for bolt in each.plan.bolts:
        size = size_of.get(bolt, 0)
        if size not in by_size:
            by_size[size] = instructed(joint, result, each.plan, bolt, tools)
        found[bolt] = by_size[size]
    return found


def _locked(now: Now, joint: str, each: PassProgress, bolt: int, values: Instructed) -> str:
    done = each.done.get(bolt)
    if done is not None:
        at = f" {done.done_at:%H:%M}" if done.done_at else ""
        return f"done{at} {done.done_by}{', moved' if done.moved else ''}"
    if bolt in each.conceded or bolt in each.out:
        return "accepted as deferred"
    crew = next((c.crew for c in now.others if (c.joint, c.pass_) == (joint, each.plan.name) and bolt in c.bolts), None)
    if crew is not None:
        return f"in the hands of {crew}: take over in Work"
    if values.out_of_reach:
        return values.why
    if not values.known and not each.plan.finish:
        return "nothing to pull to: missing in the plan"
    return ""


def _likeliest(now: Now, ident: str, share: float | None, values: Instructed, bolt: int) -> str:
    """What the sheet's blanks are for: what is tightened by, or the stretch where it is accepted by that."""
    joint = now.joint(ident)
    method = joint.tightening.method if joint is not None and joint.tightening is not None else ""
    if method in _BY_METHOD:
        return _BY_METHOD[method or ""]
    if share == 1.0 and accepted_of(joint, now.assessment.find("joint", ident), bolt).by_plan:
        return "stretch"
    return "pressure" if values.pressure is not None else "torque"


def _facts(values: Instructed, now: Now) -> tuple[tuple[str, str], ...]:
    """What the pass was to be pulled to, to hold against the sheet."""
    caption, figure, unit = values.large(now.system)
    found = [(f"{caption} {figure} {unit}", "strong")] if figure else []
    if values.torque is not None and caption != "torque":
        found.append((f"   {show(values.torque, 'torque', now.system)}", ""))
    found += [
        (f"   {tool}: {show(value, 'pressure', now.system, values.gauge)}", "") for tool, value in values.pressures
    ]
    return (*found, *((f"   {said}", style) for said, style in nut_lines(values, now.system)))


def gap_sheet(now: Now, state: StepState, key: str) -> PaperSheet:
    """The gap map after pull-down, as the sheet has it."""
    joint = now.joint(state.plan.item)
    circle = joint is None or joint.layout is None or joint.layout.shape == "circle"
    most = joint.acceptance.gap_max if joint is not None and joint.acceptance is not None else None
    places = [f"{hour} o'clock" for hour in _CLOCK] if circle else [f"place {n}" for n in range(1, _LINE + 1)]
    limits = {"gap": Limits("gap", "length", None, most)}
    last = state.joint.passes[-1].plan.name if state.joint is not None and state.joint.passes else ""
    return PaperSheet(
        key=key,
        kind="readings",
        title=state.plan.text or state.plan.id,
        middle="gaps after pull-down",
        columns=("gap",),
        rows=tuple(PaperRow(place, place, at=place, limits=limits) for place in places),
        task=_reading_task(state, last),
    )

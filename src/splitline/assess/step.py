"""One step of the order of work: running total, passes covered, what must not be closed over."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.covered import coverage
from splitline.assess.result import ItemResult
from splitline.assess.schedule import schedule_of
from splitline.assess.step_test import barred, leak_test
from splitline.plan.model import Item, Joint, Plan, Step

COMMON = "common practice, no published source"


def assess_step(step: Step, plan: Plan, ctx: Context) -> ItemResult:
    """One step. Counted items are observed under this step's id as ``counted:ITEM``."""
    bench = Bench("step", step.id, step.heading, ctx.system)
    schedule = schedule_of(plan)
    place = schedule.place[step.id]
    _times(step, place, plan, bench)
    joint = next((joint for joint in plan.joints if joint.id == step.joint), None)
    if joint is not None:
        for check in coverage(joint, plan.steps, place):
            bench.fails(check.key, check.title, check.basis, check.note)
        if joint.hidden:
            _hidden(step, joint, plan, bench)
    if place == schedule.closing:
        _closed_over(plan, place, bench)
    _counted(step, place, plan, bench, ctx)
    if step.lift is not None:
        bench.caution("suspended-load")
        if any(joint.hidden for joint in plan.joints):
            bench.caution("hidden-bolts")
    if step.test is not None:
        bench.caution("stored-gas" if step.test == "gas" else "liquid-test")
        bench.caution("no-live-tightening")
        if step.target is None:
            leak_test(step, bench, ctx)
    if step.bar_over is not None:
        barred(step, step.bar_over, bench, ctx)
    if step.caution:
        bench.own_caution(step.caution)
    return bench.done()


def _times(step: Step, place: int, plan: Plan, bench: Bench) -> None:
    schedule = schedule_of(plan)
    unknown, people, span = schedule.unknown[place], schedule.people[place], schedule.spans[step.id]
    bench.put("number", place + 1)
    bench.put("starts_after", span.start)
    if unknown:
        bench.note(f"{unknown} of the steps before have no minutes: the running total is short by them.")
    if step.minutes is None:
        return
    spent = 60.0 * step.minutes
    bench.put("duration", spent)
    bench.put("ends_after", span.done)
    crew = step.crew if step.crew is not None else 1
    bench.put("crew_time", spent * crew)
    bench.put("crew_time_total", people + spent * crew)


def _steps_of(joint: Joint, plan: Plan) -> tuple[int, ...]:
    return schedule_of(plan).of_joint.get(joint.id, ())


def _hidden(step: Step, joint: Joint, plan: Plan, bench: Bench) -> None:
    """A joint nobody sees once closed: a hold in both directions."""
    bench.caution("hidden-bolts")
    last = plan.steps[_steps_of(joint, plan)[-1]]
    if step is last and not step.hold:
        note = f'"{joint.id}" is hidden: make its last step a hold point, so that nobody closes over loose or forgotten bolts'
        bench.near("hidden_hold", "Hold point on hidden bolts", COMMON, note)


def _closed_over(plan: Plan, place: int, bench: Bench) -> None:
    """Hidden joints must be done before the closing step; joints in no step at all are named."""
    for joint in plan.joints:
        steps = _steps_of(joint, plan)
        title, basis = f'Closing over "{joint.id}"', COMMON
        if joint.hidden and not steps:
            bench.caution("hidden-bolts")
            bench.fails(
                "hidden_bolts", title, basis, f'hidden joint "{joint.id}" is in no step: it would be closed over'
            )
        elif joint.hidden and steps[-1] > place:
            bench.caution("hidden-bolts")
            late = plan.steps[steps[-1]].id
            bench.fails("hidden_bolts", title, basis, f'hidden joint "{joint.id}" is worked on later, in step "{late}"')
        elif joint.hidden:
            bench.caution("hidden-bolts")
            bench.passes("hidden_bolts", title, basis, f'"{joint.id}" is done in step "{plan.steps[steps[-1]].id}"')
        elif not steps:
            bench.near("in_no_step", f'Joint "{joint.id}"', "order of work", f'"{joint.id}" is in no step')


def _used_in(item: Item) -> tuple[str, ...]:
    used = item.used_in
    return () if used is None else (used,) if isinstance(used, str) else used


def _counted(step: Step, place: int, plan: Plan, bench: Bench, ctx: Context) -> None:
    """Items that must be out again (installation plates, tools) before what they were used in is closed."""
    for item in plan.items:
        if not item.count_out or place != _last_use(item, plan):
            continue
        with bench.about(part=item.id):
            _counted_item(item, step, bench, ctx)


def _counted_item(item: Item, step: Step, bench: Bench, ctx: Context) -> None:
    title, basis = f"Counted out: {item.title}", COMMON
    went_in = ctx.observed.get(step.id, f"counted in:{item.id}")
    planned = (
        int(went_in) if isinstance(went_in, int | float) else item.quantity
    )  # what went in comes out, whatever was planned
    count = planned if planned is not None else "all"
    entered = ctx.observed.get(step.id, f"counted:{item.id}")
    if isinstance(entered, int | float) and planned is not None:
        if entered == planned:
            bench.passes("count_out", title, basis, f"{entered:g} of {count} counted out")
        else:
            bench.fails("count_out", title, basis, f"{entered:g} of {count} counted out: do not close")
        return
    note = f"count out {count} before closing" + ("" if step.hold else "; make this step a hold point")
    bench.on_site("count_out", title, (f"counted:{item.id}",), basis, note, kind="count")


def _last_use(item: Item, plan: Plan) -> int | None:
    """Place of the last step an item is used in, by the step's id or what the step points at."""
    used = _used_in(item)
    places = [n for n, step in enumerate(plan.steps) if step.id in used or (step.target or ("", ""))[1] in used]
    return max(places, default=None)

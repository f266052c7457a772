"""One step of the order of work: running total, passes covered, what must not be closed over, tests and barring over."""

from __future__ import annotations

from dataclasses import replace

from splitline.assess.assembled import item_of
from splitline.assess.cautions import own_caution
from splitline.assess.context import Context
from splitline.assess.covered import Broken, coverage
from splitline.assess.result import ItemResult
from splitline.assess.schedule import Schedule, schedule_of
from splitline.assess.sheet import Against, Assumed, OnSite, Rule, Sheet
from splitline.assess.window import InPlan
from splitline.assess.worksheet import Worksheet
from splitline.fitting.windows import Span
from splitline.plan.model import Item, Joint, Plan, Step
from splitline.record.judged import judged
from splitline.units import show

COMMON = "common practice, no published source"
ORDER = "order of work"
AT_START, AT_END = "test pressure at start", "test pressure at end"
BARRED = "breakaway torque to bar over"
DROP, DROP_BASIS = (
    "Drop of pressure over the hold of the test",
    "drawing or test procedure; both readings at one temperature",
)
MOST_BASIS = (
    "drawing or test procedure; else 10 % above, 50 psi at most, as the relief valve of ASME B31.3 345.5.2 "
    "(not checked against the standard's text)"
)
OVER, OVER_CAP = 0.10, 50 * 6894.757  # of the test pressure; Pa

SHEET = Sheet("step")
JOINT = SHEET.axis("joint")  # of the plan, at the step that closes the machine
ITEM = SHEET.axis("item", part="id")  # counted out at this step
BROKEN = SHEET.axis("broken")  # rules of the order of work that it breaks
SHEET.given("planned_pressure", "step.test_pressure")
SHEET.given("planned_hold", "step.test_hold")
SHEET.given("allowed_drop", "step.test_drop")


def assess_step(step: Step, plan: Plan, ctx: Context) -> ItemResult:
    """One step. Counted items are observed under this step's id as ``counted:ITEM``."""
    result = item_of(Worksheet(SHEET, step, InPlan(plan, ctx)), step.id, step.heading, ctx.system)
    return replace(result, cautions=(own_caution(step.caution), *result.cautions)) if step.caution else result


# times


@SHEET.result()
def schedule(context: InPlan) -> Schedule:
    return schedule_of(context.plan)


@SHEET.result()
def place(step: Step, schedule: Schedule) -> int:
    """From 0."""
    return schedule.place[step.id]


@SHEET.result()
def span(step: Step, schedule: Schedule) -> Span:
    return schedule.spans[step.id]


@SHEET.result(kind="count", title="Place in the order of work", symbol="k", source=ORDER)
def number(place: int) -> int:
    return place + 1


@SHEET.result(kind="time", title="Planned time", symbol="t", formula="minutes", source=ORDER)
def duration(step: Step) -> float | None:
    return 60.0 * step.minutes if step.minutes is not None else None


SHEET.tell("starts_after", "span.start", "time", "Running total at the start", "t_0", "steps before, waits of windows included",
           ORDER)  # fmt: skip
SHEET.tell("ends_after", "span.done", "time", "Running total at the end", "t_1", "t_0 + t, drawn out by a wait", ORDER,
           after=("duration",))  # fmt: skip


@SHEET.result(kind="time", title="Time of all people", symbol="t n", formula="minutes × people", source=ORDER)
def crew_time(step: Step, duration: float) -> float:
    return duration * (1 if step.crew is None else step.crew)


@SHEET.result(kind="time", title="Time of all people so far", symbol="Σ t n", formula="running total", source=ORDER)
def crew_time_total(schedule: Schedule, place: int, crew_time: float) -> float:
    return schedule.people[place] + crew_time


@SHEET.note()
def untimed(schedule: Schedule, place: int) -> str | None:
    unknown = schedule.unknown[place]
    return f"{unknown} of the steps before have no minutes: the running total is short by them." if unknown else None


# the joint it works on


@SHEET.result()
def worked_on(step: Step, context: InPlan) -> Joint | None:
    return next((joint for joint in context.plan.joints if joint.id == step.joint), None)


@SHEET.result()
def all_broken(worked_on: Joint, place: int, context: InPlan) -> tuple[Broken, ...]:
    return tuple(coverage(worked_on, context.plan.steps, place))


@SHEET.check("passes_order", "{broken.title}", BROKEN, basis=ORDER)
def passes_in_order(broken: Broken) -> Rule | None:
    return Rule("fails", broken.note) if broken.key == "passes_order" else None


@SHEET.check("passes_covered", "{broken.title}", BROKEN, basis=ORDER)
def passes_all_covered(broken: Broken) -> Rule | None:
    return Rule("fails", broken.note) if broken.key == "passes_covered" else None


@SHEET.check("hidden_hold", "Hold point on hidden bolts", basis=COMMON)
def held_when_hidden(step: Step, worked_on: Joint, schedule: Schedule, place: int) -> Rule | None:
    """A joint nobody sees once closed: a hold in both directions."""
    if not worked_on.hidden or step.hold or place != schedule.of_joint[worked_on.id][-1]:
        return None
    last = f'"{worked_on.id}" is hidden: make its last step a hold point'
    return Rule("near", f"{last}, so that nobody closes over loose or forgotten bolts")


# closing: hidden joints must be done before; joints in no step at all are named


@SHEET.result()
def all_joint(schedule: Schedule, place: int, context: InPlan) -> tuple[Joint, ...]:
    return context.plan.joints if place == schedule.closing else ()


def _steps_of(joint: Joint, schedule: Schedule) -> tuple[int, ...]:
    return schedule.of_joint.get(joint.id, ())


@SHEET.check("hidden_bolts", 'Closing over "{joint.id}"', JOINT, basis=COMMON)
def closed_over(joint: Joint, schedule: Schedule, place: int, context: InPlan) -> Rule | None:
    if not joint.hidden:
        return None
    steps = _steps_of(joint, schedule)
    if not steps:
        return Rule("fails", f'hidden joint "{joint.id}" is in no step: it would be closed over')
    last = context.plan.steps[steps[-1]].id
    if steps[-1] > place:
        return Rule("fails", f'hidden joint "{joint.id}" is worked on later, in step "{last}"')
    return Rule("ok", f'"{joint.id}" is done in step "{last}"')


@SHEET.check("in_no_step", 'Joint "{joint.id}"', JOINT, basis=ORDER)
def in_no_step(joint: Joint, schedule: Schedule) -> Rule | None:
    return None if joint.hidden or _steps_of(joint, schedule) else Rule("near", f'"{joint.id}" is in no step')


# what must be out again (installation plates, tools) before what it was used in is closed


@SHEET.result()
def all_item(place: int, context: InPlan) -> tuple[Item, ...]:
    return tuple(item for item in context.plan.items if item.count_out and place == _last_use(item, context.plan))


def _last_use(item: Item, plan: Plan) -> int | None:
    """Place of the last step an item is used in, by the step's id or what the step points at."""
    used = (item.used_in,) if isinstance(item.used_in, str) else item.used_in or ()
    places = [n for n, step in enumerate(plan.steps) if step.id in used or (step.target or ("", ""))[1] in used]
    return max(places, default=None)


def _read(context: InPlan, step: Step, name: str) -> float | None:
    """A figure entered on the job."""
    read = context.ctx.observed.get(step.id, name)
    return read if isinstance(read, int | float) else None


@SHEET.check("count_out", "Counted out: {item.title}", ITEM, kind="count", basis=COMMON)
def counted_out(item: Item, step: Step, context: InPlan) -> Rule:
    """What went in comes out, whatever was planned."""
    went_in, entered = (_read(context, step, f"{word}:{item.id}") for word in ("counted in", "counted"))
    count = item.quantity if went_in is None else int(went_in)
    if entered is not None and count is not None:
        told = f"{entered:g} of {count} counted out"
        return Rule("ok", told) if entered == count else Rule("fails", f"{told}: do not close")
    note = f"count out {'all' if count is None else count} before closing"
    return Rule("on-site", note if step.hold else f"{note}; make this step a hold point", (f"counted:{item.id}",))


# a pressure or leak test


def test_limit(step: Step) -> float | None:
    """Greatest pressure (Pa) that may stand in the test; None where the plan gives no test pressure."""
    if step.test_pressure_max is not None or step.test_pressure is None:
        return step.test_pressure_max
    return step.test_pressure + min(OVER * step.test_pressure, OVER_CAP)


def _tests(step: Step) -> bool:
    return step.test is not None and step.target is None


@SHEET.result(when=_tests)
def tested(step: Step) -> Step:
    return step


SHEET.tell("test_pressure", "tested.test_pressure", "pressure", "Pressure of the test", "p_t", "as planned", "plan")


@SHEET.result(kind="pressure", title="Greatest pressure of the test", symbol="p_max",
              formula="as planned, else p_t + min(0.1 p_t, 50 psi)",
              source="ASME B31.3 345.5.2, not checked against the standard's text")  # fmt: skip
def test_pressure_max(tested: Step) -> float | Assumed | None:
    most = test_limit(tested)
    given = most is None or tested.test_pressure_max is not None
    return most if given else Assumed(most, "test_pressure_max", MOST_BASIS, "pressure")


SHEET.tell("test_hold", "tested.test_hold", "time", "Hold of the test", "t_h", "as planned", "plan")
PLANNED = ("planned_pressure", "planned_hold", "allowed_drop")
SHEET.asks("leak_test", DROP, *PLANNED, kind="pressure", basis=DROP_BASIS, when=_tests)


@SHEET.check("test_pressure", "Pressure of the test against the greatest allowed", basis=MOST_BASIS, after=PLANNED)
def not_above(tested: Step, test_pressure_max: float, context: InPlan) -> Rule | None:
    reads = [read for name in ("test_start", "test_end") if (read := _read(context, tested, name)) is not None]
    if not reads:
        return None
    reached, most = (show(each, "pressure", context.ctx.system) for each in (max(reads), test_pressure_max))
    outside = judged(float(max(reads)), None, test_pressure_max, "pressure") == "outside"
    return Rule("fails" if outside else "ok", f"{reached}, at most {most}")


@SHEET.result(kind="pressure", title="Drop of pressure over the hold", symbol="Δp", formula="start less end, one temperature",
              source="measured", after=PLANNED)  # fmt: skip
def test_drop(tested: Step, allowed_drop: float, context: InPlan) -> float:
    start, end = (_read(context, tested, name) for name in ("test_start", "test_end"))
    if start is None or end is None:
        most = show(allowed_drop, "pressure", context.ctx.system)
        why = f"at most {most}; read the pressure at the start and at the end"
        raise OnSite("test_start", "test_end", why=why)
    return float(start) - float(end)


@SHEET.check("leak_test", DROP, kind="pressure", basis=DROP_BASIS, after=PLANNED)
def tight(test_drop: float, allowed_drop: float, context: InPlan) -> Against | Rule:
    if allowed_drop > 0:
        return Against(max(test_drop, 0.0), allowed_drop)
    dropped = show(test_drop, "pressure", context.ctx.system)
    return Rule("fails" if test_drop > 0 else "ok", f"dropped by {dropped}, none is allowed")


# barring over


def _bars(step: Step) -> bool:
    return step.bar_over is not None


@SHEET.result(kind="torque", title="Torque that broke the rotor away", symbol="T", formula="as read", source="measured",
              when=_bars)  # fmt: skip
def bar_over(step: Step, context: InPlan) -> float:
    read = _read(context, step, "bar_over")
    if read is None:
        raise OnSite("bar_over", why=f"at most {show(step.bar_over or 0.0, 'torque', context.ctx.system)}")
    return abs(float(read))


@SHEET.check("bar_over", "Breakaway torque of the rotor", kind="torque", when=_bars,
             basis="drawing; a rotor that needs more rubs or is locked")  # fmt: skip
def turns_freely(step: Step, bar_over: float) -> Against:
    return Against(bar_over, step.bar_over or 0.0)


# cautions


def _lifts(step: Step) -> bool:
    return step.lift is not None


def _hides(step: Step, context: InPlan, all_joint: tuple[Joint, ...], worked_on: Joint | None = None) -> bool:
    """It works on bolts nobody sees later, closes over them, or lifts over them."""
    joints = context.plan.joints if step.lift is not None else all_joint
    return any(joint.hidden for joint in (*joints, *((worked_on,) if worked_on is not None else ())))


def _tests_anything(step: Step) -> bool:
    return step.test is not None


def _with_gas(step: Step) -> bool:
    return step.test == "gas"


def _with_liquid(step: Step) -> bool:
    return step.test is not None and step.test != "gas"


SHEET.stands("hidden-bolts", when=_hides)
SHEET.stands("suspended-load", when=_lifts)
SHEET.stands("stored-gas", when=_with_gas)
SHEET.stands("liquid-test", when=_with_liquid)
SHEET.stands("no-live-tightening", when=_tests_anything)

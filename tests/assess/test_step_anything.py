"""Any order of work that reads is assessed: every step and window, whatever refers to what."""

from __future__ import annotations

import datetime as dt
import math

from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.assess.context import Context
from splitline.assess.item import assess_item
from splitline.assess.step import assess_step
from splitline.assess.window import assess_window
from splitline.library.store import Library
from splitline.plan.model import Item, Joint, Plan, PlanInfo, Step, Window

CTX = Context(Library.load(), dt.date(2026, 11, 25))
NAMES = [f"s{n}" for n in range(8)]
JOINTS = ["inner", "cover"]


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    steps = []
    for n, name in enumerate(NAMES[: draw(st.integers(1, 8))]):
        entry: dict[str, object] = {"id": name}
        if draw(st.booleans()):
            entry["joint"] = draw(st.sampled_from(JOINTS))
            if draw(st.booleans()):
                entry["passes"] = draw(st.lists(st.sampled_from(["snug", 0, 1, 2, 3, "round"]), max_size=4))
            if draw(st.booleans()):
                entry["bolts"] = draw(st.lists(st.integers(1, 8), max_size=8))
        if draw(st.booleans()):
            entry["minutes"] = draw(st.floats(0, 1000))
        if n and draw(st.booleans()):
            entry["needs"] = draw(st.lists(st.sampled_from(NAMES[:n]), max_size=2))
        if draw(st.booleans()):
            entry["hold"] = "supervisor"
        steps.append(Step.model_validate(entry))
    known = [step.id for step in steps]
    moments = st.builds("{}.{}".format, st.sampled_from(known), st.sampled_from(["start", "done"]))
    windows = tuple(
        Window.model_validate({"id": f"w{n}", "title": "W", "from": draw(moments), "to": draw(moments)} | limits)
        for n, limits in enumerate(
            draw(st.lists(st.sampled_from([{"at_least": "10 min"}, {"at_most": "30 min"}, {}]), max_size=3))
        )
    )
    layout = {"shape": "circle", "bolts": 8, "diameter": "500 mm"}
    joints = tuple(
        Joint.model_validate(
            {"id": name, "title": name, "hidden": draw(st.booleans())}
            | ({"layout": layout} if draw(st.booleans()) else {})
        )
        for name in JOINTS
    )
    uses = st.sampled_from([*known, *JOINTS])
    items = tuple(
        Item.model_validate({"id": f"i{n}", "title": "Tool", "count_out": True, "used_in": used, "quantity": 2})
        for n, used in enumerate(draw(st.lists(uses, max_size=2)))
    )
    return Plan(PlanInfo(title="T"), steps=tuple(steps), windows=windows, joints=joints, items=items)


@settings(max_examples=150, deadline=None)
@given(plans())
def test_every_step_and_window_is_assessed(plan: Plan) -> None:
    ends = []
    for step in plan.steps:
        result = assess_step(step, plan, CTX)
        assert all(math.isfinite(value) for value in result.results.values())
        assert all(check.said() for check in result.checks)
        ends.append(result.results["starts_after"])
    assert ends == sorted(ends)
    for window in plan.windows:
        assert all(check.said() for check in assess_window(window, plan, CTX).checks)
    counted = [c for step in plan.steps for c in assess_step(step, plan, CTX).checks if c.key == "count_out"]
    used = {item.used_in for item in plan.items}
    reachable = {step.id for step in plan.steps} | {step.joint for step in plan.steps}
    assert len(counted) == sum(item.used_in in reachable for item in plan.items)
    assert used or not counted
    for item in plan.items:
        assert assess_item(item, plan, CTX).verdict == "ok"

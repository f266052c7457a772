"""Whatever a planner leaves out or writes, the assessor answers: no traceback, no NaN, no silent ok."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.assess.context import Context
from splitline.assess.joint import assess_joint
from splitline.assess.result import ItemResult
from splitline.assess.to_json import item_json
from splitline.plan.check import check_item
from splitline.plan.model.joint import Joint
from splitline.plan.names import Names
from tests.assess.joint_plans import LIBRARY, TODAY, assess, raw_joint

NAMES = Names.of(LIBRARY)
KEPT = {("id",), ("title",), ("bolting", "kind"), ("layout", "shape"), ("tightening", "method"), ("case", 0, "name")}
SPLIT = {"shape": "split-line", "side_a": ["0 mm", "200 mm", "400 mm"], "half_width": "600 mm"}
ZONE = {"from": "0 mm", "to": "300 mm", "pressure": "40 bar", "width": "300 mm"}


def leaves(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Paths of every table and value below a table."""
    found: list[tuple[Any, ...]] = []
    for key, value in node.items() if isinstance(node, dict) else enumerate(node):
        here = (*path, key)
        if isinstance(value, dict) or (isinstance(value, list) and value and isinstance(value[0], dict)):
            found += leaves(value, here)
        if here not in KEPT and isinstance(key, str):
            found.append(here)
    return found


def without(raw: dict[str, Any], path: tuple[Any, ...]) -> None:
    """Take one path out, if its table is still there."""
    node: Any = raw
    for step in path[:-1]:
        if (isinstance(node, dict) and step not in node) or (isinstance(node, list) and step >= len(node)):
            return
        node = node[step]
    if isinstance(node, dict):
        node.pop(path[-1], None)


def assessed(raw: dict[str, Any]) -> ItemResult | None:
    """The joint assessed, None where the plan's reader already refuses it."""
    checked = check_item("joint", raw, NAMES)
    if not isinstance(checked.item, Joint):
        assert checked.said
        return None
    return assess_joint(checked.item, Context(LIBRARY, TODAY))


def sane(result: ItemResult) -> None:
    """JSON without NaN; every check that is not computed says why."""
    text = json.dumps(item_json(result), allow_nan=False)
    assert text
    for check in result.checks:
        assert check.usage is None or math.isfinite(check.usage)
        if check.verdict in ("missing", "on-site"):
            assert check.said().strip(), check


METHODS = ("torque wrench", "hydraulic wrench", "hydraulic tensioner", "stretch", "turn", "heat")


@pytest.mark.parametrize("path", leaves(raw_joint()))
def test_each_field_left_out(path: tuple[Any, ...]) -> None:
    raw = raw_joint()
    without(raw, path)
    result = assessed(raw)
    if result is not None:
        sane(result)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(leaves(raw_joint())), max_size=8), st.sampled_from(METHODS), st.booleans())
def test_several_fields_left_out(gone: list[tuple[Any, ...]], method: str, split: bool) -> None:
    raw = raw_joint(tightening__method=method)
    if split:
        raw["layout"], raw["zone"] = dict(SPLIT), [dict(ZONE)]
    for path in gone:
        without(raw, path)
    result = assessed(raw)
    if result is not None:
        sane(result)


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(["M3", "M12", "M30x2", "M64x4", "M150x6", "1/4-20UNC", "2 1/2-8UN", "6-4UN"]),
    st.sampled_from(["stud", "through-stud", "bolt", "cap-screw"]),
    st.floats(1.0, 3000.0),
    st.floats(1.0, 2000.0),
    st.floats(0.01, 1.0),
    st.floats(-1.0, 3000.0),
    st.floats(-200.0, 900.0),
)
def test_any_size_and_load(
    thread: str, kind: str, clamp: float, stress: float, friction: float, pressure: float, hot: float
) -> None:
    raw = raw_joint(
        bolting__thread=thread, bolting__kind=kind, bolting__clamp_length=f"{clamp} mm", bolting__shank_diameter=None,
        bolting__shank_length=None, bolting__hole_diameter=None, bolting__bearing_diameter=None,
        target__bolt_stress=f"{stress} MPa", friction__thread=friction, case__0__pressure=f"{pressure} bar",
        case__0__bolt_temperature=f"{hot} degC", bolting__modulus=None, bolting__expansion=None, layout__bolts=5,
    )  # fmt: skip
    result = assessed(raw)
    if result is not None:
        sane(result)
        if stress > 1500.0 and "yield_usage" in result.results:
            assert result.verdict == "fails"


def test_faces_far_softer_than_their_bolts_are_still_assessed() -> None:
    """A gap and a foundation that lets the cover move by metres: nonsense, but it must be told, not break."""
    found = assess(
        bolting__thread="M6", bolting__grade="SAE 8", bolting__kind="bolt", bolting__clamp_length="6.65 mm",
        bolting__shank_diameter="4.83 mm", bolting__shank_length=None, bolting__heater_bore="2.2 mm",
        bolting__hole_diameter=None, bolting__bearing_diameter=None, bolting__engagement=None,
        layout__bolts=40, layout__diameter="300 mm", load__pressure_diameter="240 mm",
        target={"preload": "680 kN"}, tightening__order="quadrant", tightening__finish_rounds=0,
        member={
            "modulus": "159 GPa", "expansion": "11e-6 1/K", "outer_diameter": "324 mm", "inner_diameter": "276 mm",
            "flange_thickness": "186 mm", "contact_stiffness": "6.73e8 N/m^3", "initial_gap": "0.1 mm",
        },
    )  # fmt: skip
    assert found.verdict == "fails"
    ends = found.results["predicted"]
    assert len(ends) == 40
    assert 0 <= min(ends) <= max(ends) < 2 * 680e3

"""Tools that are for some sizes, and tools with pumps of their own: who is set to what, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from splitline.assess.settings import JointSettings
from splitline.plan.check import check_item
from splitline.plan.names import Names
from splitline.record.job import PassPlan
from splitline.report.kit_lines.bolting import set_pressures
from splitline.ui.work.values import instructed
from tests.assess.joint_plans import LIBRARY, assess, check, joint, raw_joint
from tests.assess.test_accepted import OTHER

MAIN, SMALL = "M48x3", "M36x4"


def wrench(name: str, top: int, **more: Any) -> dict[str, Any]:
    """A wrench of ``top`` N·m at 700 bar, in proportion from 20 bar up."""
    chart = [["20 bar", f"{top * 20 / 700} N*m"], ["700 bar", f"{top} N*m"]]
    return {"name": name, "serial": name, "pressure_max": "700 bar", "chart": chart, **more}


def told(*tools: dict[str, Any], method: str = "hydraulic wrench", **more: Any) -> dict[str, Any]:
    how = {"method": method, "passes": [0.5, 1.0], "snug": 0, "tool": list(tools), **more}
    return {"size": [OTHER], "tightening": how, "target__bolt_stress": None, "target__yield_fraction": 0.4}


def verdicts(result: Any, key: str) -> list[str]:
    return [c.verdict for c in result.checks if c.key == key]


def test_unequal_wrenches_are_refused_on_one_pump_and_taken_on_two() -> None:
    first, second = wrench("W1", 6000), wrench("W2", 9000)
    shared = assess(**told(first, second, tools_together=2))
    assert verdicts(shared, "one_pump") == ["fails", "fails"]  # for each size
    assert "tightening.tool.pump" in check(shared, "one_pump", "(bolts").note
    own = assess(**told({**first, "pump": "A"}, {**second, "pump": "B"}, tools_together=2))
    assert verdicts(own, "one_pump") == []
    named = assess(**told({**first, "pump": "A"}, {**second, "pump": "A"}, tools_together=2))
    assert verdicts(named, "one_pump") == ["fails", "fails"]
    settings = own.settings
    assert isinstance(settings, JointSettings)
    for bolt in (2, 1):  # by plain proportion of each chart
        torque = (own.results if bolt == 2 else own.sizes[0].results)["torque"]
        for name, top in (("W1", 6000), ("W2", 9000)):
            assert settings.of_bolt(bolt, 1.0, name).value == pytest.approx(torque * 700e5 / top)
    plan = joint(**told({**first, "pump": "A"}, {**second, "pump": "B"}))
    assert max(set_pressures(plan, settings, "A")) == pytest.approx(own.results["torque"] * 700e5 / 6000)
    assert max(set_pressures(plan, settings, "B")) == pytest.approx(own.results["torque"] * 700e5 / 9000)


def test_a_matched_second_wrench_has_its_value_for_every_size() -> None:
    result = assess(**told(wrench("W1", 6000), wrench("W2", 6000), tools_together=2))
    assert result.settings is not None
    for bolt in (2, 1):
        values = [result.settings.of_bolt(bolt, 1.0, name).value for name in ("W1", "W2")]
        assert values[0] is not None
        assert values[0] == values[1]


def test_a_tool_is_set_for_the_sizes_it_is_for_and_no_other() -> None:
    large, small = wrench("W1", 9000, threads=[MAIN]), wrench("W2", 3000, threads=["M36"])
    result, plan = assess(**told(large, small)), joint(**told(large, small))
    assert result.settings is not None
    assert [tool.name for tool in result.settings.sizes[0].tools] == ["W1"]
    assert [tool.name for tool in result.settings.sizes[1].tools] == ["W2"]
    assert verdicts(result, "one_pump") == []  # never at work on one bolt size together
    wrong = result.settings.of_bolt(1, 1.0, "W1")
    assert (wrong.value, wrong.why, wrong.out_of_reach) == (None, "W1 is not for these bolts", True)
    last = PassPlan("2", ((2,), (1,)), 1.0)
    both = [instructed(plan, result, last, bolt, ("W1", "W2")) for bolt in (2, 1)]  # a crew with both in hand
    torques = [result.results["torque"], result.sizes[0].results["torque"]]
    assert both[0].pressure == pytest.approx(torques[0] * 700e5 / 9000)
    assert both[1].pressure == pytest.approx(torques[1] * 700e5 / 3000)
    assert instructed(plan, result, last, 1, ("W1",)).out_of_reach


def test_a_size_no_tool_is_for_is_missing_one() -> None:
    for method, tool in (
        ("hydraulic wrench", wrench("W1", 9000)),
        ("torque wrench", {"name": "T", "serial": "1", "torque_max": "5000 N*m"}),
        ("hydraulic tensioner", {"name": "H", "serial": "1", "piston_area": "9000 mm^2", "pressure_max": "1500 bar"}),
    ):
        result = assess(**told({**tool, "threads": [MAIN]}, method=method))
        assert check(result, "tool").verdict == "missing"
        assert SMALL.split("x")[0] in check(result, "tool").note
        assert not [c for c in assess(**told(tool, method=method)).checks if c.key == "tool"]


def test_tensioners_of_two_sizes_have_their_own_area_and_pump() -> None:
    tools = (
        {"name": "H1", "serial": "1", "piston_area": "9000 mm^2", "loss": 1.2, "pressure_max": "1500 bar", "threads": [MAIN]},
        {"name": "H2", "serial": "2", "piston_area": "5000 mm^2", "loss": 1.3, "pressure_max": "1500 bar", "threads": ["M36"]},
    )  # fmt: skip
    result = assess(**told(*tools, method="hydraulic tensioner"), bolting__stud_protrusion="60 mm")
    assert verdicts(result, "one_pump") == []
    assert result.settings is not None
    small = result.sizes[0].results["preload"]
    assert result.settings.of_bolt(2, 1.0, "H1").value == pytest.approx(result.results["preload"] * 1.2 / 9e-3)
    assert result.settings.of_bolt(1, 1.0, "H2").value == pytest.approx(small * 1.3 / 5e-3)
    alike = [{**tool, "threads": None} for tool in tools]
    bare = [{key: value for key, value in tool.items() if value is not None} for tool in alike]
    shared = assess(**told(*bare, method="hydraulic tensioner"), bolting__stud_protrusion="60 mm")
    assert verdicts(shared, "one_pump") == ["fails"]
    two = [{**tool, "pump": name} for tool, name in zip(bare, ("A", "B"), strict=True)]
    parted = assess(**told(*two, method="hydraulic tensioner"), bolting__stud_protrusion="60 mm")
    assert verdicts(parted, "one_pump") == []
    assert parted.settings is not None
    assert parted.settings.of_bolt(2, 1.0, "H2").value == pytest.approx(parted.results["preload"] * 1.3 / 5e-3)


def test_a_thread_the_joint_does_not_have_is_a_mistake_with_its_place() -> None:
    raw = raw_joint(**told(wrench("W1", 9000, threads=["M52x5"])))
    said = str(check_item("joint", raw, Names.of(LIBRARY)).said)
    assert "no bolt of this joint is M52x5" in said
    assert "threads" in said

"""One number, many tellers: what a stud is set to, in a pass, by a tool, asked of every face that tells it.

Work screen (whose values paper entry and reading limits take), order (text and JSON), sheet, its CSV, the planner's card and
the results of ``check --json`` are asked over random joints of several sizes and tools; each must tell the figure that a
hand calculation of the chart gives.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from splitline.assess.context import Context
from splitline.assess.joint import assess_joint
from splitline.assess.result import ItemResult
from splitline.assess.tightening_list import order_list
from splitline.commands.order import order_lines
from splitline.library.store import Library
from splitline.plan.model import Joint
from splitline.plan.read import read_text
from splitline.record.job import PassPlan
from splitline.report.blocks import Table, text_of
from splitline.report.output import bundle_bytes
from splitline.report.pdf.paper import PAPERS
from splitline.report.sheets import joint as sheet
from splitline.report.sheets.common import Options
from splitline.ui.card.facts import set_said
from splitline.ui.work.values import instructed
from splitline.units import System, split
from tests.report.prints import bundle, demo

LIBRARY = Library.load()
DAY = dt.date(2026, 11, 25)
THREADS = ("M64x4", "M48x3", "M80x4", "M36x4", "M56x4")

PLAN = """format = 1
[plan]
title = "Split line"
display = "{display}"
[[joint]]
id = "line"
title = "Casing split line"
[joint.bolting]
thread = "{threads[0]}"
grade = "ASTM A193 B7"
kind = "through-stud"
clamp_length = "420 mm"
[joint.friction]
thread = 0.12
bearing = 0.12
[joint.layout]
shape = "split-line"
side_a = ["0 mm", "200 mm", "400 mm", "600 mm"]
half_width = "640 mm"
[joint.target]
yield_fraction = 0.5
[joint.member]
modulus = "200 GPa"
expansion = "11.5e-6 1/K"
flange_width = "160 mm"
flange_thickness = "180 mm"
[joint.load]
holds_pressure = false
[joint.tightening]
method = "{method}"
tools_together = {together}
snug = {snug}
passes = {passes}
finish_rounds = 1
{step}
"""
SIZE = """
[[joint.size]]
bolts = {bolts}
[joint.size.bolting]
thread = "{thread}"
"""
WRENCH = """
[[joint.tightening.tool]]
name = "W{number}"
serial = "{number}"
pressure_max = "700 bar"
chart = [["{low} bar", "{torque_low} N*m"], ["700 bar", "{torque_high} N*m"]]
"""
HAND = """
[[joint.tightening.tool]]
name = "W{number}"
serial = "{number}"
torque_max = "{torque_high} N*m"
"""
TENSIONER = """
[[joint.tightening.tool]]
name = "W{number}"
serial = "{number}"
piston_area = "9000 mm^2"
pressure_max = "1500 bar"
loss = {loss}
"""


def read(text: str) -> tuple[Joint, ItemResult]:
    draft = read_text(text, None, LIBRARY)
    assert not draft.problems, draft.problems
    (joint,) = draft.plan.joints
    return joint, assess_joint(joint, Context(LIBRARY, DAY))


@st.composite
def plans(draw: st.DrawFn) -> str:
    method = draw(st.sampled_from(("hydraulic wrench", "hydraulic wrench", "torque wrench", "hydraulic tensioner")))
    threads = draw(st.lists(st.sampled_from(THREADS), min_size=1, max_size=3, unique=True))
    bolts = [[1, 5], [4, 8]][: len(threads) - 1]
    kind = {"hydraulic wrench": WRENCH, "torque wrench": HAND, "hydraulic tensioner": TENSIONER}[method]
    step = draw(st.sampled_from(("", "5 bar", "10 bar", "100 psi") if method != "torque wrench" else ("", "10 N*m")))
    text = PLAN.format(
        display=draw(st.sampled_from(("SI", "US"))),
        threads=threads,
        method=method,
        together=draw(st.sampled_from((1, 2))),
        snug=draw(st.sampled_from((0.0, 0.1, 0.2))),
        passes=draw(st.sampled_from(("[0.3, 0.6, 1.0]", "[0.5, 1.0]", "[1.0]", "[0.4, 1.05]"))),
        step=f'gauge_step = "{step}"' if step else "",
    )
    text += "".join(SIZE.format(bolts=b, thread=t) for b, t in zip(bolts, threads[1:], strict=True))
    for number in range(1, draw(st.integers(1, 3)) + 1):
        low = draw(st.sampled_from((20, 100, 150)))
        high = draw(st.sampled_from((12000, 30000, 60000)))
        loss = draw(st.sampled_from((1.1, 1.25)))
        text += kind.format(number=number, low=low, torque_low=high * low / 700, torque_high=high, loss=loss)
        pump = draw(st.sampled_from(("", "A", "B")))
        text += f'pump = "{pump}"\n' if pump else ""
        served = draw(st.lists(st.sampled_from(threads), unique=True, max_size=2)) if number > 1 else []
        text += f"threads = {served}\n" if served else ""
    return text


def by_hand(joint: Joint, thread: str, results: Mapping[str, Any], share: float, number: int) -> float | None:
    """The set value from torque or preload at target and the tool's own chart, by plain proportion. SI.

    None where the tool does not reach, or is for other threads. Tensioners on one pump go by the first on it.
    """
    how = joint.tightening
    assert how is not None
    tool = how.tool[number]
    step = how.gauge_step
    if tool.threads and thread not in tool.threads:
        return None
    if how.method == "hydraulic tensioner":
        first = next(t for t in how.tool if t.pump == tool.pump and (not t.threads or thread in t.threads))
        assert first.loss is not None
        assert first.piston_area is not None
        value = share * results["preload"] * first.loss / first.piston_area
    else:
        torque = share * results["torque"]
        if how.method == "torque wrench":
            assert tool.torque_max is not None
            if not 0.2 * tool.torque_max * (1 - 1e-9) <= torque <= tool.torque_max * (1 + 1e-9):
                return None
            value = torque
        else:
            assert tool.chart is not None
            (p0, t0), (p1, t1) = tool.chart
            if not t0 * (1 - 1e-9) <= torque <= t1 * (1 + 1e-9):
                return None
            value = p0 + (p1 - p0) * (torque - t0) / (t1 - t0)
    return value if step is None else int(value / step[1] + 1e-6) * step[1]


def column(blocks: list[Any], tool: str) -> dict[tuple[str, str], str]:
    """Cells under the heading of a tool in the table of set values, by pass and size."""
    table = next(block for block in blocks if isinstance(block, Table) and block.title.startswith("Set values"))
    heads = (f"Set {tool} to", f"Set pump to, {tool}")
    at = next(place for place, head in enumerate(table.head) if head in heads)
    several = "Size" in table.head
    return {(text_of(row[0]), text_of(row[2]) if several else ""): text_of(row[at]) for row in table.rows}


SLOW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SLOW
@given(plans(), st.sampled_from(("SI", "US")))
def test_every_teller_tells_the_same_set_value(text: str, system: System) -> None:
    joint, result = read(text)
    listed = order_list(joint, result)
    assert joint.tightening is not None
    assert result.settings is not None
    printed = sheet.settings(joint, result, listed, Options(system=system))
    order = "\n".join(order_lines(listed, system))
    groups = (result.results, *(size.results for size in result.sizes))
    names = [tool.name or "" for tool in joint.tightening.tool]
    json = {one["name"]: one["steps"] for one in listed.as_json()["passes"]}
    for one in listed.passes:
        plan = PassPlan(one.name, listed.steps, one.share, one.name.startswith("round"))
        for size, thread in enumerate(listed.sizes):
            bolt = next(b for b in range(1, 9) if result.settings.size_of(b) == size)
            for number, name in enumerate(names):
                wanted = by_hand(joint, thread, groups[size], one.share, number)
                told = result.settings.of_bolt(bolt, one.share, name)
                screen = instructed(joint, result, plan, bolt, (name,))
                key = (sheet.pass_words(one.name), thread if len(listed.sizes) > 1 else "")
                paper = column(printed, name)[key]
                step = next(s for s in json[one.name] if bolt in s["bolts"])
                of_tool = step["tools"][name] if "tools" in step else step
                shown = screen.pressure if screen.pressure is not None else screen.set_torque
                if wanted is None:
                    assert told.value is None
                    assert shown is None
                    assert screen.large(system) == ("", "", "")
                    assert "set_value" not in of_tool
                    assert paper == told.why
                    assert told.why in order
                    assert name in told.why
                    continue
                assert told.value == pytest.approx(wanted, rel=1e-9)
                assert shown == told.value == of_tool["set_value"]
                figure = " ".join(split(told.value, told.by or "", system, told.gauge))
                assert " ".join(screen.large(system)[1:]) == figure
                assert paper.startswith(figure)
                assert paper in order
    for size, group in enumerate(groups):
        passes = group.get("set_passes")
        if passes is None:
            continue
        assert passes == [result.settings.of_size(size, share).value for share in result.settings.shares]
        card = set_said(result, size, system)
        assert card is not None
        for share in result.settings.shares:
            assert result.settings.of_size(size, share).figure(system)[0] in card


def test_a_split_line_of_three_sizes_is_pulled_to_three_pressures() -> None:
    """The case that hurt: one charted wrench for M64, M48 and M80; every size has its own pressure on every face."""
    threads = ("M64x4", "M48x3", "M80x4")
    text = PLAN.format(display="SI", threads=threads, method="hydraulic wrench", together=1, snug=0.1,
                       passes="[0.5, 1.0]", step='gauge_step = "1 bar"')  # fmt: skip
    text += "".join(SIZE.format(bolts=b, thread=t) for b, t in (([1, 5], "M48x3"), ([4, 8], "M80x4")))
    text += WRENCH.format(number=1, low=10, torque_low=600, torque_high=42000)
    joint, result = read(text)
    screen = [instructed(joint, result, PassPlan("2", ((2,),), 1.0), bolt, ("W1",)).pressure for bolt in (2, 1, 4)]
    assert None not in screen
    assert len(set(screen)) == 3
    torques = [group["torque"] for group in (result.results, *(size.results for size in result.sizes))]
    for pressure, torque in zip(screen, torques, strict=True):
        assert pressure == pytest.approx(torque * 700e5 / 42000, abs=1e5)


def test_a_pass_below_the_chart_is_a_check_and_stands_in_words() -> None:
    text = PLAN.format(display="SI", threads=("M64x4",), method="hydraulic wrench", together=1, snug=0.0,
                       passes="[0.2, 1.0]", step="")  # fmt: skip
    text += WRENCH.format(number=1, low=200, torque_low=5000, torque_high=17500)
    text += WRENCH.format(number=2, low=20, torque_low=300, torque_high=10500)
    joint, result = read(text)
    assert 5000 < result.results["torque"] < 10500
    told = [check for check in result.checks if check.key == "tool_pass"]
    assert [(check.title, check.verdict) for check in told] == [("Pass 20% with W1", "near")]
    assert "below the chart of W1" in told[0].note
    assert "W2" in told[0].note
    printed = sheet.settings(joint, result, order_list(joint, result), Options())
    cells = [text_of(cell) for block in printed if isinstance(block, Table) for row in block.rows for cell in row]
    assert "below the chart of W1" in cells
    assert not [cell for cell in cells if "000000" in cell]


def test_the_csv_of_the_demo_tells_the_set_values_of_the_assessment() -> None:
    import csv

    found = demo()
    text = bundle_bytes(bundle(found), ".csv", PAPERS["A4"]).decode("utf-8-sig")
    cells = {cell for row in csv.reader(text.splitlines()) for cell in row}
    told = 0
    for item in found.assessment.of_kind("joint"):
        sets = item.settings
        if sets is None or sets.by is None:
            continue
        for size in range(len(sets.sizes)):
            for share in sets.shares:
                for setting in sets.by_tool(size, share):
                    assert setting.text("SI") in cells
                    told += 1
    assert told > 5

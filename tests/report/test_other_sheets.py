"""Lift, fit, insertion, clearance and work sheets, and the working, on the block model."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from splitline.assess.clearance_reading import POSITION_SET, PROBE_ENDS, SHIM_FITTED
from splitline.report.blocks import MISSING, Blank, Cautions, Para, Picture, Signs, Table, text_of
from splitline.report.pdf.flow import flow
from splitline.report.pdf.paper import PAPERS
from splitline.report.pdf.pen import Pen
from splitline.report.shapes import Label
from splitline.report.sheets.lift import hung_of, weakest_of
from splitline.units import show
from tests.report.prints import WRONG, bundle, demo, fact, of_type, plan_of, sheet, table, texts

EMPTY = """
format = 1
[plan]
title = "empty"
[[lift]]
id = "l"
title = "L"
[[fit]]
id = "f"
title = "F"
[[insertion]]
id = "i"
title = "I"
[[clearance]]
id = "c"
title = "C"
kind = "shim"
"""


def degrees(text: str) -> float:
    return float(text.removesuffix("°"))


def test_legs_have_angles_both_ways_and_three_tensions() -> None:
    found = demo()
    result = found.assessment.find("lift", "bundle-lift")
    assert result is not None
    rows = texts(table(sheet(found, "lift", "bundle-lift"), "Legs"))
    assert len(rows) == 4
    for number, row in enumerate(rows):
        assert degrees(row[3]) + degrees(row[4]) == pytest.approx(90, abs=0.011)
        assert degrees(row[3]) == pytest.approx(math.degrees(result.results["leg_angle"][number]), abs=0.006)
        wanted = [result.results[key][number] for key in ("leg_tension", "leg_tension_design", "leg_tension_worst")]
        wanted.append(max(wanted[1:]))
        assert list(row[5:9]) == [show(value, "force") for value in wanted]
        assert row[9].startswith("CH-8")


def test_the_weakest_part_is_the_rated_part_with_the_highest_usage() -> None:
    found = demo()
    result = found.assessment.find("lift", "bundle-lift")
    assert result is not None
    weakest = weakest_of(result)
    assert weakest is not None
    assert weakest.usage == pytest.approx(max(result.results["leg_usage"]))
    assert "weakest part" not in text_of(fact(sheet(found, "lift", "bundle-lift"), "Weakest part"))


def test_views_show_hook_legs_and_centre_where_the_assessment_has_them() -> None:
    found = demo()
    result, lift = found.assessment.find("lift", "rotor-lift"), found.plan.lifts[0]
    assert result is not None
    hung = hung_of(lift, result)
    assert hung is not None
    assert list(hung.hook) == result.results["hook"]
    assert [leg.foot for leg in hung.legs] == [leg.pick for leg in lift.leg]
    pictures = of_type(sheet(found, "lift", "rotor-lift"), Picture)
    assert [picture.drawing.said.split(" of")[0].split(",")[0] for picture in pictures] == ["side view", "from above"]


def test_every_part_of_every_leg_is_looked_at_by_somebody() -> None:
    rows = table(sheet(demo(), "lift", "bundle-lift"), "Parts of each leg").rows
    assert [text_of(row[0]) for row in rows] == ["1", "1", "1", "2", "2", "3", "3", "4", "4"]
    assert all(isinstance(row[5], Blank) for row in rows)


def test_upending_loads_are_told_over_the_turn() -> None:
    rows = texts(table(sheet(demo(), "lift", "discharge-head-upend"), "Loads while upending"))
    assert rows[0][0] == "0°"
    assert rows[-1][0] == "90°"


def test_a_leg_without_a_rating_leaves_the_weakest_part_open() -> None:
    found = sheet(demo(WRONG), "lift", "cover-lift")
    assert fact(found, "Weakest part") is MISSING
    assert fact(found, "Crane") is MISSING


def test_the_fit_sheet_carries_every_mounting_step_with_limits_and_log() -> None:
    found = demo()
    result = found.assessment.find("fit", "thrust-collar")
    assert result is not None
    got = sheet(found, "fit", "thrust-collar")
    steps = next(block for block in of_type(got, Table) if block.head[:2] == ("No.", "Action"))
    wanted = result.fit.mounting
    assert len(steps.rows) == len(wanted)
    assert [text_of(row[1]).startswith("H HOLD. ") for row in steps.rows] == [step.sign == "hold" for step in wanted]
    log = table(got, "Log")
    logged = [step for step in wanted if len(step.log) > 1]
    assert [text_of(row[0]) for row in log.rows if text_of(row[0])] == [str(step.number) for step in logged]
    assert [text_of(row[1]) for row in log.rows] == [limit.title for step in logged for limit in step.log]
    assert "floating on oil" in " ".join(text for block in of_type(got, Cautions) for text in block.texts)


def test_the_insertion_log_has_the_stop_force_in_large() -> None:
    found = demo()
    result = found.assessment.find("insertion", "bundle-push")
    assert result is not None
    got = sheet(found, "insertion", "bundle-push")
    assert text_of(fact(got, "STOP at force")) == show(result.results["stop_force"], "force")
    log = table(got, "Force log")
    assert len(log.rows) >= 2 * result.results["strokes"]


def test_clearances_have_lines_as_found_and_as_left() -> None:
    got = next(each for each in bundle(demo()).sheets if each.kind == "clearance")
    tables = [block for block in of_type(got, Table) if text_of(block.rows[0][0]) == "as found"]
    assert len(tables) == len(demo().plan.clearances)
    read = [tuple(text_of(row[0]) for row in block.rows) for block in tables]
    assert {each[0] for each in read} == {"as found"}
    assert {each[-1] for each in read} == {"as left, or measured"}
    # what the screen asks for besides has its blanks too
    beside = {name for each in read for name in each[1:-1]}
    assert beside == {POSITION_SET, SHIM_FITTED, *PROBE_ENDS}


def test_the_order_of_work_has_every_step_its_points_and_windows() -> None:
    found = demo()
    got = next(each for each in bundle(found).sheets if each.kind == "work")
    steps = next(block for block in of_type(got, Table) if block.head[0] == "No.")
    assert len(steps.rows) == len(found.plan.steps)
    said = texts(steps)
    assert said[0][2] == "H HOLD: supervisor"
    assert said[7][3] == "7, 2"  # "bundle-up" needs steps 7 and 2
    assert steps.head[-2:] == ("Done: name, date, time", "Hold, witness: name, date, time")
    for row, step in zip(
        steps.rows, found.plan.steps, strict=True
    ):  # a box for the worker, one for who signs or witnesses
        assert isinstance(row[-2], Blank)
        assert isinstance(row[-1], Blank) == bool(step.hold or step.witness)
    statements = table(got, "What each hold is signed on: I have seen")
    assert [text_of(row[1]) for row in statements.rows] == [step.hold for step in found.plan.steps if step.hold]
    assert all(text_of(row[2]) for row in statements.rows)
    parts = table(got, "Parts used, seals fitted")
    ring = next(row for row in parts.rows if text_of(row[0]) == "Casing O-ring")
    assert all(isinstance(cell, Blank) for cell in ring[1:])  # count, batch, cure date, name
    assert [text_of(cell) for cell in table(got, "Instruments").rows[0][:3]] == [
        "Depth micrometer",
        "DM-3",
        "2027-05-20",
    ]
    assert len(table(got, "Open points").rows) == 3
    assert len(table(got, "Time limits").rows) == len(found.plan.windows)


@pytest.mark.parametrize(("kind", "ident"), [("lift", "l"), ("fit", "f"), ("insertion", "i"), ("clearance", "c")])
def test_items_of_which_nothing_is_known_print_missing(tmp_path: Path, kind: str, ident: str) -> None:
    found = sheet(plan_of(tmp_path, EMPTY), kind, ident)
    labels = {
        "lift": "Load cell, hanging still",
        "fit": "Diametral interference",
        "insertion": "STOP at force",
        "clearance": "Limits",
    }
    assert fact(found, labels[kind]) is MISSING


def test_the_working_has_formula_numbers_and_source_of_the_torque() -> None:
    rows = texts(table(sheet(demo(), "why", "discharge-head"), "From the target to the torque"))
    torque = next(row for row in rows if row[0] == "Torque at target")
    assert torque[1].startswith("T = 59")
    assert "tan λ" in torque[2]
    assert "μ" in torque[2]
    assert "Shigley" in torque[3]


def test_why_this_torque_is_one_page_and_the_long_working_stands_behind_it() -> None:
    for ident in ("discharge-head", "suction-head", "bundle-joint"):
        made = bundle(demo(), ident)
        front, whole = (each for each in made.sheets if each.kind == "why")
        own = replace(made, sheets=(front,))
        assert len(flow(Pen(PAPERS["A4"]), own)) == 1
        titles = [block.title for block in of_type(front, Table)]
        assert titles[0] == "From the target to the torque"
        assert whole.title.endswith("whole working")
        assert len(table(whole, "Results").rows) > len(table(front, "From").rows)


def test_a3_takes_more_on_a_page_than_a4() -> None:
    """Its pages hold half as much again, in larger type."""
    small, large = (len(flow(Pen(PAPERS[name]), bundle(demo(), "discharge-head", name))) for name in ("A4", "A3"))
    assert large < small


def test_an_item_without_steps_can_still_be_signed(tmp_path: Path) -> None:
    text = 'format = 1\n[plan]\ntitle = "t"\n[[joint]]\nid = "j"\ntitle = "J"\n[[step]]\nid = "s"\ntext = "other"\n'
    (signs,) = of_type(sheet(plan_of(tmp_path, text), "joint", "j"), Signs)
    assert signs.rows == (("Joint closed", ""),)


def test_one_system_of_units_on_a_sheet() -> None:
    """Lengths of the trade said in words follow the units of the print, and so does the bar under a drawing."""
    found = demo()
    lift = bundle(found, "bundle-lift", system="US").sheets[0]
    assert any("1 to 2 in" in what for block in of_type(lift, Signs) for what, _ in block.rows)
    push = bundle(found, "bundle-push", system="US").sheets[0]
    assert "each 4 in" in table(push, "Force log").title
    floats = bundle(found, "total-float", system="US").sheets[0]
    assert any("within 0.0008 in" in block.text for block in of_type(floats, Para))
    pictures = [p for each in bundle(demo(), "bundle-lift", system="US").sheets for p in of_type(each, Picture)]
    labels = [shape.text for picture in pictures for shape in picture.drawing.shapes if isinstance(shape, Label)]
    assert any(label.endswith(" in") for label in labels)
    assert not any(label.endswith(" mm") for label in labels)


def test_parts_of_a_leg_nobody_rated_are_frames_and_not_left_out() -> None:
    rows = table(sheet(demo(WRONG), "lift", "cover-lift"), "Parts of each leg").rows
    lacking = [(text_of(row[0]), row[1]) for row in rows if row[3] is MISSING]
    assert lacking == [("1", "fitting at the load"), ("2", "sling"), ("2", "fitting at the load")]

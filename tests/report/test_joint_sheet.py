"""The bolting sheet: what it tells comes from the assessment, what is not there is said, and all can be written in."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.report.blocks import (
    MISSING,
    Blank,
    Cautions,
    Facts,
    Heading,
    Large,
    Para,
    Picture,
    Signs,
    Strong,
    Table,
    text_of,
)
from splitline.units import show
from tests.report.prints import DEMO, WRONG, demo, fact, of_type, plan_of, sheet, table, texts


def test_set_values_of_every_pass_and_tool_are_those_assessed() -> None:
    found = demo()
    result = found.assessment.find("joint", "discharge-head")
    assert result is not None
    rows = texts(table(sheet(found, "joint", "discharge-head"), "Set values"))
    assert [row[0] for row in rows] == ["snug", "pass 1", "pass 2", "pass 3", "round 1"]
    pressures = [show(value, "pressure") for value in result.results["set_passes"]]
    assert [row[4] for row in rows[1:4]] == pressures
    assert [row[5] for row in rows[1:4]] == pressures  # both wrenches have the same chart
    assert rows[4][4] == pressures[-1]
    assert rows[3][3] == show(result.results["torque"], "torque")


def test_a_torque_below_the_chart_says_so_where_its_set_value_would_stand(tmp_path: Path) -> None:
    text = DEMO.read_text("utf-8")
    for snug, said in (
        ("0.2", ["100 bar", "100 bar"]),
        ("0.1", ["below the chart of wrench W1", "below the chart of wrench W2"]),
    ):
        found = plan_of(tmp_path, text.replace("snug = 0.2", f"snug = {snug}"))
        row = table(sheet(found, "joint", "discharge-head"), "Set values").rows[0]
        assert [getattr(cell, "text", cell) for cell in row[4:6]] == said


def test_the_order_has_every_step_with_a_box_for_each_pass() -> None:
    found = demo()
    result = found.assessment.find("joint", "discharge-head")
    assert result is not None
    order = table(sheet(found, "joint", "discharge-head"), "Order within")
    said = [tuple(int(bolt) for bolt in text_of(row[1]).replace("\u00a0", " ").split(" + ")) for row in order.rows]
    assert said == [tuple(step) for step in result.results["order_steps"]]
    assert all(row[2:] == (Blank(),) * 5 for row in order.rows)
    assert "after 3 ask" in order.title


def test_there_is_a_place_for_a_reading_and_a_name_of_every_bolt_in_every_pass() -> None:
    log = table(sheet(demo(), "joint", "discharge-head"), "Reading and name")
    assert sorted(int(text_of(row[0])) for row in log.rows) == list(range(1, 25))
    assert log.head[1:5] == ("snug", "name", "pass 1", "name")
    assert all(isinstance(cell, Blank) for row in log.rows for cell in row[1:])
    assert all(len(row) == 1 + 2 * 5 for row in log.rows)


def test_stretch_is_asked_of_the_measured_bolts_with_their_limits() -> None:
    found = demo()
    result = found.assessment.find("joint", "discharge-head")
    assert result is not None
    rows = texts(table(sheet(found, "joint", "discharge-head"), "Stretch"))
    low, high = (show(result.results[key], "length") for key in ("stretch_low", "stretch_high"))
    assert [row[:2] for row in rows] == [(str(bolt), f"{low} to {high}") for bolt in (1, 7, 13, 19)]


def test_the_map_says_where_it_is_seen_from() -> None:
    (picture,) = of_type(sheet(demo(), "joint", "discharge-head"), Picture)
    assert "Seen from outside, facing the cover." in picture.caption


def test_hold_and_witness_points_of_the_joint_are_to_be_signed() -> None:
    (signs,) = of_type(sheet(demo(), "joint", "discharge-head"), Signs)
    assert [role for _, role in signs.rows] == ["machinery engineer"] * 2
    assert signs.rows[0][0].startswith("H HOLD: ")
    assert signs.rows[1][0].startswith("W WITNESS: ")


def test_several_sizes_have_a_line_each_and_their_own_socket() -> None:
    found = sheet(demo(), "joint", "bundle-joint")
    rows = texts(table(found, "Set values"))
    assert [row[2] for row in rows[:2]] == ["M30", "M36"]
    assert text_of(fact(found, "Socket, across flats")) == "22 mm, 27 mm"
    (first, *_) = of_type(found, Cautions)
    assert first.texts[0].startswith("Hidden bolts: count them in and out")


def test_tensioner_groups_are_told_with_the_pressure_that_ends_level() -> None:
    rows = texts(table(sheet(demo(), "joint", "suction-head"), "Tensioner groups"))
    assert [row[1].split(", ") for row in rows] == [[str(b) for b in range(k, 21, 2)] for k in (1, 2)]
    assert all(row[3].endswith("bar") for row in rows)
    settings = table(sheet(demo(), "joint", "suction-head"), "Set values")
    assert settings.head == ("Pass", "Share", "Preload", "Set pump to, tensioner set T64")
    assert texts(settings)[-1][3] == "900 bar"  # loss from stiffness; rounded down to 10 bar


def test_what_fails_or_is_missing_stands_above_all_else() -> None:
    found = sheet(demo(WRONG), "joint", "cover")
    kinds = [type(block).__name__ for block in found.blocks[:2]]
    assert kinds == ["Cautions", "Table"]
    rows = texts(table(found, "NOT READY"))
    assert rows[0][0] == "▲ fails"
    assert any(row[0] == "○ missing" and row[1] == "Torque" for row in rows)
    assert fact(found, "Lubricant") is MISSING
    assert all(row[3] is MISSING for row in table(found, "Set values").rows)


def test_a_joint_of_which_nothing_is_known_prints_frames_and_no_zero(tmp_path: Path) -> None:
    found = plan_of(tmp_path, 'format = 1\n[plan]\ntitle = "t"\n[[joint]]\nid = "j"\ntitle = "J"\n')
    got = sheet(found, "joint", "j")
    assert fact(got, "Bolt map") is MISSING
    assert fact(got, "Target preload") == MISSING
    assert fact(got, "Passes and order") is MISSING
    said = [text_of(value) for block in of_type(got, Facts) for _, value in block.rows]
    assert "missing" in said
    assert not [text for text in said if text.startswith("0 ")]


def test_headings_and_strong_cells_are_text() -> None:
    found = sheet(demo(), "joint", "discharge-head")
    assert [block.text for block in of_type(found, Heading)] == ["Job log"]
    assert isinstance(fact(found, "Target preload"), Strong)


@pytest.mark.parametrize(("method", "unit"), [("stretch", "mm"), ("heat", "mm"), ("turn", "°")])
def test_bolts_pulled_by_length_are_told_their_stretch_pass_by_pass(tmp_path: Path, method: str, unit: str) -> None:
    text = f"""
format = 1
[plan]
title = "t"
[[joint]]
id = "j"
title = "J"
[joint.bolting]
kind = "through-stud"
thread = "M64x4"
grade = "ASTM A193 B7"
clamp_length = "300 mm"
[joint.layout]
shape = "circle"
bolts = 12
diameter = "900 mm"
[joint.friction]
thread = 0.12
bearing = 0.12
[joint.member]
modulus = "200 GPa"
[joint.target]
bolt_stress = "300 MPa"
[joint.tightening]
method = "{method}"
passes = [0.5, 1.0]
"""
    found = plan_of(tmp_path, text)
    result = found.assessment.find("joint", "j")
    assert result is not None
    got = sheet(found, "joint", "j")
    settings = table(got, "Set values")
    by_nut = (
        *(("Heat by",) if method == "heat" else ()),
        *(("Nut turn from snug, in all",) if method != "stretch" else ()),
    )
    assert settings.head == ("Pass", "Share", "Preload", "Snug torque", *by_nut, "Stretch")
    assert texts(settings)[2][-1] == show(result.results["stretch"], "length")
    assert table(got, "Reading and name").rows[0][3] == Blank(unit)
    assert table(got, "Reading and name").rows[0][1] == Blank("mm" if method == "stretch" else "N·m")


def test_only_set_values_are_printed_large() -> None:
    for item in ("discharge-head", "suction-head"):
        found = sheet(demo(), "joint", item)
        large = [
            (block.title, cell.text)
            for block in of_type(found, Table)
            for row in block.rows
            for cell in row
            if isinstance(cell, Large)
        ]
        assert {title for title, _ in large} == {"Set values, pass by pass"}
        assert all(text.endswith(" bar") for _, text in large)


def test_which_of_two_tools_is_meant_for_which_number_is_told() -> None:
    """The demo's discharge head is pulled by two wrenches at once, its half-bundle joint by one."""
    for ident, told in (("discharge-head", True), ("bundle-joint", False)):
        said = [block.text for block in of_type(sheet(demo(), "joint", ident), Para)]
        assert any("the first tool on the first number" in text for text in said) is told

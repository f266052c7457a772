"""The printed working: formula, numbers put in, result with unit, source; nothing left out, nothing rounded twice."""

from __future__ import annotations

import pytest

from splitline.assess.keys import registry
from splitline.assess.result import Default, Group, ItemResult, Put, Working
from splitline.report.working import LISTED, working_lines

STRESS = Working(
    "bolt_stress",
    345e6,
    (Put("F", 281.8e3, "force"), Put("A_s", 816.7e-6, "area"), Put("method", "as measured", "text")),
    "definition",
    "F / A_s",
)


def item(**fields: object) -> ItemResult:
    return ItemResult("joint", "bolt", "a bolt", "ok", **fields)  # type: ignore[arg-type]


def lines(found: ItemResult, system: str = "SI", width: int = 100) -> list[str]:
    return list(working_lines(found, system, width))  # type: ignore[arg-type]


def test_one_result_line_by_line() -> None:
    got = lines(item(results={"bolt_stress": 345e6}, working=(STRESS,)))
    assert [line.strip() for line in got if line] == [
        "Working",
        "Stress on the stress area",
        "σ = F / A_s",
        "put in: F = 281.8 kN, A_s = 816.7 mm², method = as measured",
        "σ = 345 MPa",
        "source: definition",
    ]


def test_bare_numbers_keep_four_figures() -> None:
    slope = Put("tan λ", 0.0012345678, "number")
    line = Working("nut_factor", 0.0375512, (slope,), "", "T / (F·d)")
    got = lines(item(results={"nut_factor": 0.0375512}, working=(line,)))
    assert any("put in: tan λ = 0.001235" in text for text in got)
    assert any("K = 0.03755" in text for text in got)


def test_a_formula_with_its_left_side_is_not_given_another() -> None:
    line = Working("bolt_stress", 1e6, (), "", "σ = F / A_s")
    got = lines(item(results={"bolt_stress": 1e6}, working=(line,)))
    assert any(text.strip() == "σ = F / A_s" for text in got)


def test_us_units() -> None:
    got = lines(item(results={"bolt_stress": 345e6}, working=(STRESS,)), "US")
    assert any("σ = 50.04 ksi" in line for line in got)
    assert any("F = 63.35 kip" in line for line in got)


def test_a_result_without_numbers_put_in_still_shows_formula_and_source() -> None:
    declared = registry("joint")["torque_passes"]
    got = lines(item(results={"torque_passes": [100.0, 200.0, 333.333]}))
    assert any("100, 200, 333.3 N·m" in line for line in got)
    assert any(declared.source in line for line in got)


def test_long_lists_are_told_by_their_ends() -> None:
    many = [float(n) for n in range(1, LISTED + 2)]
    got = lines(item(results={"torque_passes": many}))
    assert any(f"{len(many)} values, 1 N·m to {len(many)} N·m" in line for line in got)


def test_sizes_cases_defaults_and_notes_have_their_own_headings() -> None:
    size = Group("", (1, 2), {"bolt_stress": 345e6}, (STRESS,))
    one = Group("", (5,), {"bolt_stress": 345e6}, (STRESS,))
    case = Group("hydrotest", (), {"separation_factor": 1.4}, ())
    default = Default("tightening.relaxation", "0.05", "common practice, no published source")
    got = lines(item(sizes=(size, one), cases=(case,), defaults=(default,), notes=("a note",)))
    text = "\n".join(got)
    for heading in (
        "Working of bolts 1, 2", "Working of bolt 5", "Working of case hydrotest", "Taken by default", "Notes"
    ):  # fmt: skip
        assert f"  {heading}\n" in text
    assert "tightening.relaxation: 0.05" in text
    assert "basis: common practice, no published source" in text


def test_an_item_without_results_prints_nothing() -> None:
    assert lines(item()) == []


@pytest.mark.parametrize("width", [60, 80, 120])
def test_no_line_is_wider_than_asked(width: int) -> None:
    long = Working("bolt_stress", 1.0, STRESS.puts * 6, "a source " * 20, "F / A_s")
    got = lines(item(results={"bolt_stress": 345e6}, working=(long,), notes=("word " * 60,)), width=width)
    assert max(len(line) for line in got) <= width


def test_what_rounding_leaves_is_said_as_nothing() -> None:
    from splitline.report.working import value_said

    assert value_said(-5.5e-16, "number", "SI") == "0"
    assert value_said(3.3e-11, "number", "SI") == "3.3e-11"

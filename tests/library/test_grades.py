"""Grades by diameter and system, yield and elasticity against temperature, nuts that go with them."""

from __future__ import annotations

import pytest

from splitline.errors import LibraryError
from splitline.library.curves import Curve, expansion, modulus
from splitline.library.grades import grade, nut_grade, usual_nut
from splitline.library.store import Library
from splitline.library.threads import parse_designation

LIBRARY = Library.load()
KSI = 6.894757293168361e6
CELSIUS = 273.15


@pytest.mark.parametrize(
    ("thread", "yields", "tensile"),
    [("M48x3", 720e6, 860e6), ("M64x4", 720e6, 860e6), ("M72x6", 655e6, 795e6), ("M120x6", 515e6, 690e6)],
)  # ASTM A193M
def test_b7_metric_threads_take_the_metric_edition(thread: str, yields: float, tensile: float) -> None:
    found = grade(LIBRARY, "ASTM A193 B7", parse_designation(thread))
    assert (found.yield_strength, found.tensile_strength) == (yields, tensile)
    assert found.proof_strength is None


@pytest.mark.parametrize(
    ("thread", "yields", "tensile"),
    [("1 3/4-8UN", 105, 125), ("2 1/2-8UN", 105, 125), ("2 3/4-8UN", 95, 115), ("4 1/2-8UN", 75, 100)],
)  # ASTM A193
def test_b7_inch_threads_take_the_inch_edition(thread: str, yields: float, tensile: float) -> None:
    found = grade(LIBRARY, "A193 B7", parse_designation(thread))
    assert found.yield_strength == pytest.approx(yields * KSI, rel=1e-12)
    assert found.tensile_strength == pytest.approx(tensile * KSI, rel=1e-12)


@pytest.mark.parametrize(("thread", "values"), [("M16", (580, 640, 800)), ("M18", (600, 660, 830))])
def test_class_8_8_changes_at_16_mm(thread: str, values: tuple[int, int, int]) -> None:
    # ISO 898-1 Table 3: up to 16 mm, above 16 mm
    found = grade(LIBRARY, "8.8", parse_designation(thread))
    assert found.proof_strength is not None
    got = (found.proof_strength, found.yield_strength, found.tensile_strength)
    assert got == pytest.approx([v * 1e6 for v in values])


def test_an_inch_bolt_of_a_metric_class_takes_its_mpa_values() -> None:
    found = grade(LIBRARY, "ISO 898-1 10.9", parse_designation("1-8UNC"))
    assert found.yield_strength == 940e6


@pytest.mark.parametrize(
    ("name", "thread", "said"),
    [
        ("8.8", "M42", "values up to 39 mm, M42x4.5 is larger: give yield_strength"),
        ("SAE grade 8", "1 3/4-8UN", "values up to 1.5 in"),
        ("ASTM A320 L7", "M72x4", "values up to 65 mm"),
    ],
)
def test_above_the_last_range_nothing_is_said(name: str, thread: str, said: str) -> None:
    with pytest.raises(LibraryError) as caught:
        grade(LIBRARY, name, parse_designation(thread))
    assert said in str(caught.value)


def test_yield_at_temperature() -> None:
    b7 = grade(LIBRARY, "B7", parse_designation("M48x3"))
    assert b7.yield_at(CELSIUS - 40) == b7.yield_strength
    assert b7.yield_at(CELSIUS + 20) == b7.yield_strength
    # ASME II-D Table Y-1, SA-193 B7, 300 °F: 94.1 ksi of 105 (from memory)
    assert b7.yield_at(CELSIUS + 148.889) == pytest.approx(720e6 * 94.1 / 105, rel=2e-3)
    # ISO 898-1:1999 annex A: 8.8 at 100 °C 590 of 640, at 300 °C 480 (from memory)
    class_88 = grade(LIBRARY, "8.8", parse_designation("M16"))
    assert class_88.yield_at(CELSIUS + 100) == pytest.approx(590e6, rel=1e-3)
    assert class_88.yield_at(CELSIUS + 300) == pytest.approx(480e6, rel=1e-3)


def test_yield_at_temperature_without_a_source_is_none() -> None:
    assert grade(LIBRARY, "ASTM A193 B16", parse_designation("M48x3")).yield_at(CELSIUS + 200) is None
    assert grade(LIBRARY, "ASTM A193 B7", parse_designation("M48x3")).yield_at(CELSIUS + 600) is None
    assert grade(LIBRARY, "ASTM A193 B16", parse_designation("M48x3")).yield_at(CELSIUS + 20) is not None


def test_every_grade_can_be_looked_up_at_its_ranges() -> None:
    for row in LIBRARY.rows("grades"):
        for limit in row["up_to"]:
            found = grade(LIBRARY, row.name, parse_designation(f"M{limit * 1e3:g}x3" if limit > 0.01 else "M8"))
            assert found.source
            assert found.modulus is not None
            assert 180e9 < found.modulus.at(CELSIUS + 20) < 215e9
            assert found.expansion is not None
            assert 10e-6 < found.expansion.at(CELSIUS + 100) < 17e-6


def test_a_curve_runs_straight_between_points_and_ends() -> None:
    curve = Curve("x", (300.0, 400.0), (2.0, 1.0), "s")
    assert curve.at(350) == 1.5
    assert curve.at(275.0) == 2.0  # a cold workshop
    with pytest.raises(LibraryError):
        curve.at(273.0)
    with pytest.raises(LibraryError, match="x: 227 °C is beyond the table \\(27 to 127 °C\\)"):
        curve.at(500)
    assert curve.known_at(500) is None
    assert modulus(LIBRARY, "austenitic stainless steel").known_at(20.0) is None
    assert expansion(LIBRARY, "austenitic stainless steel").at(200.0) == pytest.approx(15.3e-6)  # 20 °C stands below


def test_nuts() -> None:
    nut = usual_nut(LIBRARY, "A193 B7")
    assert nut is not None
    assert nut.name == "ASTM A194 2H"
    assert usual_nut(LIBRARY, "B7M") == nut_grade(LIBRARY, "2HM")
    assert usual_nut(LIBRARY, "10.9") == nut_grade(LIBRARY, "nut class 10")
    assert usual_nut(LIBRARY, "no such grade") is None
    assert usual_nut(LIBRARY, "ISO 898-1 4.6") is None
    for pair in ("B7", "B16", "8.8", "10.9", "ASTM A540 B24 class 3"):
        found = usual_nut(LIBRARY, pair)
        assert found is not None
        assert found.tensile_strength > 500e6

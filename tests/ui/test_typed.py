"""From what a person types to the value of the file, by the field's own declaration."""

from __future__ import annotations

import datetime as dt

import pytest

from splitline.plan.fields import Declared, declared
from splitline.plan.names import Names
from splitline.ui.forms.typed import Refused, checked, nudged, shown


def field(*path: str) -> Declared:
    found = declared(path)
    assert found is not None
    return found


NAMES = Names()
CLAMP = field("joint", "bolting", "clamp_length")
PASSES = field("joint", "tightening", "passes")


@pytest.mark.parametrize(
    ("path", "typed", "value"),
    [
        (("joint", "bolting", "clamp_length"), "10 1/2 in", "10 1/2 in"),
        (("joint", "friction", "thread"), "0.12", 0.12),
        (("joint", "layout", "bolts"), "24", 24),
        (("joint", "tightening", "passes"), "0.3, 0.6, 1.0", [0.3, 0.6, 1.0]),
        (("joint", "tightening", "passes"), "[0.5, 1]", [0.5, 1]),
        (("lift", "part", "at"), "0 mm, 0 mm, 210 mm", ["0 mm", "0 mm", "210 mm"]),
        (("lift", "part", "at"), "0, 0, 210 mm", ["0 mm", "0 mm", "210 mm"]),
        (("lift", "leg", "pick"), "-900, 600, 16.5 mm", ["-900 mm", "600 mm", "16.5 mm"]),
        (("joint", "layout", "side_a"), "0, 180, 360 mm", ["0 mm", "180 mm", "360 mm"]),
        (("lift", "part", "at"), "unknown", "unknown"),
        (("joint", "tightening", "tool", "calibration_due"), "2027-03-01", dt.date(2027, 3, 1)),
        (("step", "minutes"), "90", 90),
        (("step", "minutes"), "2 h", "2 h"),
        (("step", "passes"), "snug, 1", ["snug", 1]),
        (("fit", "taper"), "1:30", "1:30"),
        (("joint", "hidden"), "yes", True),
        (("plan", "crew"), "A. Fitter, B. Fitter", ["A. Fitter", "B. Fitter"]),
    ],
)
def test_reads_what_people_type(path: tuple[str, ...], typed: str, value: object) -> None:
    got = checked(field(*path), typed, NAMES)
    assert got == value
    assert type(got) is type(value)


@pytest.mark.parametrize(
    ("path", "typed", "said"),
    [
        (("joint", "bolting", "clamp_length"), "2,5 mm", "use a point"),
        (("joint", "bolting", "clamp_length"), "268", "no unit"),
        (("joint", "bolting", "clamp_length"), "-3 mm", "above 0"),
        (("joint", "friction", "thread"), "0,12", "use a point"),
        (("joint", "friction", "thread"), "7", "at most 1"),
        (("joint", "layout", "bolts"), "2.5", "whole"),
        (("lift", "part", "mass"), "3 ton", "write"),
        (("lift", "leg", "pick"), "3 ft, 20, 16 in", "entry 2: 20 has no unit"),
        (("lift", "leg", "pick"), "0 mm, 0, 16", "entry 3: 16 has no unit"),
        (("lift", "leg", "pick"), "", "empty: as in 900 mm, 600 mm, 420 mm"),
    ],
)
def test_says_what_to_write(path: tuple[str, ...], typed: str, said: str) -> None:
    with pytest.raises(Refused, match=said):
        checked(field(*path), typed, NAMES)


CHART = field("joint", "tightening", "tool", "chart")


@pytest.mark.parametrize(
    ("name", "typed", "value"),
    [
        (CHART, "50 bar 600 N*m, 700 bar 5000 N*m", [["50 bar", "600 N*m"], ["700 bar", "5000 N*m"]]),
        (CHART, "50 bar, 600 N·m; 700 bar, 5000 N·m", [["50 bar", "600 N·m"], ["700 bar", "5000 N·m"]]),
        (
            CHART,
            "1500 psi 600 ft·lbf 10000 psi 4000 ft·lbf",
            [["1500 psi", "600 ft·lbf"], ["10000 psi", "4000 ft·lbf"]],
        ),
        (CHART, '[["50 bar", "600 N*m"], ["700 bar", "5 kN*m"]]', [["50 bar", "600 N*m"], ["700 bar", "5 kN*m"]]),
        (field("lift", "leg", "reduction"), "0 deg 1, 45 deg 0.25", [["0 deg", 1], ["45 deg", 0.25]]),
        (
            field("joint", "layout", "points"),
            "0 mm 0 mm 9 mm -5 mm 0 mm 8 mm",
            [["0 mm", "0 mm"], ["9 mm", "-5 mm"], ["0 mm", "8 mm"]],
        ),
    ],
)
def test_rows_of_figures_are_typed_without_brackets_and_read_back(name: Declared, typed: str, value: object) -> None:
    assert checked(name, typed, NAMES) == value
    assert checked(name, shown(value), NAMES) == value


@pytest.mark.parametrize("typed", ["50 bar", "50 bar 600 N*m 700 bar", "fifty, 600 N*m", ";"])
def test_half_a_row_is_refused(typed: str) -> None:
    with pytest.raises(Refused):
        checked(CHART, typed, NAMES)


def test_arrows_step_in_the_typed_unit() -> None:
    assert nudged(CLAMP, "262 mm", 1) == "265 mm"
    assert nudged(CLAMP, "10.5 in", 1) == "10.6 in"
    assert nudged(field("joint", "friction", "thread"), 0.12, -1) == pytest.approx(0.118)
    assert nudged(field("joint", "layout", "bolts"), 24, 1) == 25
    assert nudged(field("joint", "tightening", "order"), "cross", 1) == "quadrant"
    assert nudged(PASSES, [0.3, 1.0], 1) is None


def test_shown_text_reads_back() -> None:
    for value in ([0.3, 0.6, 1.0], ["0 mm", "1 mm", "2 mm"], 0.12, 24, True, "262 mm", 'a "quoted" [text]'):
        text = shown(value)
        assert isinstance(text, str)
    assert checked(PASSES, shown([0.3, 0.6]), NAMES) == [0.3, 0.6]

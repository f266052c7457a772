"""Drawings: exact size, true places, quick, and only styles a theme knows."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.plan.places import circle_places, line_places
from splitline.ui.draw.bolt_map import bolt_map
from splitline.ui.draw.canvas import Canvas, Scale
from splitline.ui.draw.clearance import Gauge, Point, gauge, gauge_range
from splitline.ui.draw.curves import Curve, curves
from splitline.ui.draw.fit_section import FitSection, fit_section
from splitline.ui.draw.insertion import Way, insertion_way
from splitline.ui.draw.joint_diagram import Springs, joint_diagram
from splitline.ui.draw.joint_section import BoltSection, joint_section
from splitline.ui.draw.lift import LiftScene, Line3, box_round, lift_plan, lift_side
from splitline.ui.draw.passes import Rule, pass_bars
from splitline.ui.draw.places import float_place, gap_place, pads_place, probe_place
from splitline.ui.draw.rows import Row, clean, fit, row_width, width, wrap
from splitline.ui.draw.timeline import Bar, Span, timeline
from splitline.ui.theme import style_names
from tests.counting import calls

SIZES = st.tuples(st.integers(1, 200), st.integers(1, 60))


def plain(rows: list[Row]) -> list[str]:
    return ["".join(text for text, _ in row) for row in rows]


def known_styles(rows: list[Row]) -> bool:
    return {style for row in rows for _, style in row} <= style_names()


def place_of(rows: list[Row], number: int) -> tuple[int, int]:
    """Column and row of a bolt's number."""
    for y, line in enumerate(plain(rows)):
        for x in range(len(line)):
            tail = line[x : x + len(str(number))]
            if (
                tail == str(number)
                and not (line[x - 1 : x] + line[x + len(tail) : x + len(tail) + 1]).strip("[]✓▸").strip()
            ):
                return x, y
    raise AssertionError(f"bolt {number} is not on the map")


def test_every_bolt_of_a_cover_stands_where_it_is() -> None:
    rows = bolt_map(circle_places(24, 1.18, math.radians(7.5), True), range(1, 25), {}, 60, 26)
    places = {n: place_of(rows, n) for n in range(1, 25)}
    assert places[6][0] > places[1][0] > places[19][0]  # clockwise: 6 at three o'clock, 19 at nine
    assert places[1][1] < places[6][1] < places[12][1]
    middle = sum(x for x, _ in places.values()) / 24, sum(y for _, y in places.values()) / 24
    # a cell is twice as high as wide: the ring is round on the screen, to a cell
    radii = [math.hypot(x - middle[0], 2 * (y - middle[1])) for x, y in places.values()]
    assert min(radii) > 20
    assert max(radii) - min(radii) < 3


def test_counter_clockwise_and_first_place() -> None:
    x, y = circle_places(4, 2.0, math.radians(90), True)[0]
    assert (x, y) == pytest.approx((1.0, 0.0), abs=1e-12)
    x, y = circle_places(4, 2.0, 0.0, False)[1]
    assert (x, y) == pytest.approx((-1.0, 0.0), abs=1e-12)


def test_numbers_do_not_move_when_marked() -> None:
    places = circle_places(16, 1.0, 0.0, True)
    bare = bolt_map(places, range(1, 17), {}, 50, 20)
    marked = bolt_map(places, range(1, 17), {5: ("✓", "done"), 9: ("▸", "now")}, 50, 20, tools=(9,))
    assert [place_of(bare, n) for n in range(1, 17)] == [place_of(marked, n) for n in range(1, 17)]


def test_split_line_shows_both_sides() -> None:
    xs = [0.18 * n for n in range(14)]
    rows = bolt_map(line_places(xs, xs, 0.64), range(1, 29), {}, 80, 20)
    tops = {place_of(rows, n)[1] for n in range(1, 15)}
    feet = {place_of(rows, n)[1] for n in range(15, 29)}
    assert len(tops) == len(feet) == 1
    assert max(tops) < min(feet)


def test_twice_the_bolts_are_no_more_than_twice_the_work() -> None:
    """What it takes in seconds is measured in tests/bench."""

    def draw(bolts: int) -> None:
        places, half = circle_places(bolts, 3.0, 0.0, True), bolts // 2
        steps = [(n, n + half) for n in range(1, half + 1)]
        marks = dict.fromkeys(range(1, half + 1), ("✓", "done"))
        bolt_map(places, range(1, bolts + 1), marks, 160, 48, trace=steps, tools=(1, half + 1))
        pass_bars([0.9] * bolts, 160, 48, rules=[Rule(0.8, "need", "need")])

    draw(100)
    assert calls(lambda: draw(200)) < 2.5 * calls(lambda: draw(100))


@settings(max_examples=60, deadline=None)
@given(SIZES, st.integers(3, 400))
def test_maps_fit_any_size(size: tuple[int, int], bolts: int) -> None:
    rows = bolt_map(
        circle_places(bolts, 1.0, 0.1, True), range(1, bolts + 1), {1: ("▸", "now")}, *size, trace=[(1,), (2,)]
    )
    assert len(rows) == size[1]
    assert {row_width(row) for row in rows} == {size[0]}
    assert known_styles(rows)


SCENE = LiftScene(
    hook=(0.0, 0.0, 3.0),
    up=(0.05, 0.0, 1.0),
    centre=(0.02, 0.0, 0.1),
    legs=tuple(Line3((0.0, 0.0, 3.0), (x, y, 0.4), "12 kN  60°", "1") for x in (-0.5, 0.5) for y in (-0.4, 0.4)),
    outline=box_round([(-0.5, -0.4, 0.0), (0.5, 0.4, 0.4)]),
    shift=0.025,
)
PART = BoltSection(0.056, 0.262, 0.07, 0.056, 0.09, 0.008, 0.105, 0.062, 0.05, 0.15, 0.014, 0.058)
SPRINGS = Springs(740e3, 1.2e9, 6.9e9, 520e3, 925e3, 300e3, 268e3, 968e3)
HUB = FitSection(0.125, 0.03, 0.205, 0.072, 1 / 30, 0.0042, [("contact", 71e6, "accent")], ["710 bar"])


@settings(max_examples=40, deadline=None)
@given(SIZES)
def test_every_drawing_takes_any_size(size: tuple[int, int]) -> None:
    steps = [Bar(n, f"step {n}", 3600.0 * n, 3600.0 * n + 1800, hold=n % 2 == 0) for n in range(9)]
    drawn = [
        lift_side(SCENE, *size, 0.7),
        lift_plan(SCENE, *size),
        joint_section(PART, {"clamp": "clamp length 262 mm", "thread": "M56x4"}, *size),
        joint_diagram(SPRINGS, {"preload": "target 740 kN"}, *size),
        fit_section(HUB, {"outer": "hub"}, *size),
        pass_bars([0.2 * n for n in range(7)], *size, rules=[Rule(0.8, "need", "need")], tools=(3,)),
        timeline(steps, [Span("compound", 0.0, 7200.0, 600.0, 9000.0, "near")], *size),
        curves([0, 1, 2], [Curve("head", [3, 4, 5], "accent", limit=4.5, limit_said="limit")], *size),
    ]
    assert all(known_styles(rows) for rows in drawn)


def test_passes_say_what_is_under_the_tools() -> None:
    rows = plain(
        pass_bars([0.6, 1.0, 0.6, 1.0], 60, 20, rules=[Rule(0.8, "need", "need")], tools=(2, 4), facts="lowest 60 %")
    )
    assert "lowest 60 %" in rows[0]
    assert any("need" in line for line in rows)
    assert any(" 2 " in line for line in rows[-3:])


def test_scale_keeps_right_angles() -> None:
    scale = Scale((0.0, 0.0, 2.0, 1.0), (0, 0, 100, 100))
    (x0, y0), (x1, y1) = scale(0.0, 0.0), scale(2.0, 1.0)
    assert (x1 - x0) / 2 == pytest.approx(y0 - y1)


def test_lines_outside_are_cut() -> None:
    canvas = Canvas(10, 4)
    canvas.line(-1e9, 8, 1e9, 8)
    canvas.line(math.nan, 0, 5, 5)
    assert plain(canvas.finish())[2].count("⠉") == 10


@given(st.text(max_size=80), st.integers(1, 40))
def test_text_is_cut_to_its_cells(text: str, cells: int) -> None:
    assert width(fit(clean(text), cells)) == cells
    assert all(width(line) <= max(cells, 2) for line in wrap(text, cells))


def test_odd_text_stays_on_its_line() -> None:
    assert "\n" not in clean("a\nb\x1b[31m\u202e")
    assert width("Öl 油 é") == 8 - 1
    assert wrap("x" * 25, 10) == ["x" * 10, "x" * 10, "x" * 5]


@pytest.mark.parametrize("bolts", [8, 12, 20, 24, 32, 48])
def test_numbers_follow_each_other_round_the_ring_and_never_move(bolts: int) -> None:
    places = circle_places(bolts, 1.0, 0.13, True)
    bare = bolt_map(places, range(1, bolts + 1), {}, 36, 17)
    marked = bolt_map(places, range(1, bolts + 1), dict.fromkeys(range(1, bolts // 2), ("✓", "done")), 36, 17)
    spots = {}
    for y, line in enumerate(plain(bare)):
        spots |= {int(found.group()): (found.start(), y) for found in re.finditer(r"\d+", line)}
    assert [re.sub(r"[^\d]", " ", line) for line in plain(bare)] == [
        re.sub(r"[^\d]", " ", line) for line in plain(marked)
    ]
    assert len(spots) == bolts or bolts > 24
    angles = [math.atan2(2 * (spots[n][1] - 8), spots[n][0] + len(str(n)) / 2 - 18) for n in sorted(spots)]
    turned = [(angle - angles[0]) % (2 * math.pi) for angle in angles]
    assert turned == sorted(turned)


def test_bolts_in_hand_are_written_in_the_tightest_crowd() -> None:
    rows = plain(
        bolt_map(circle_places(96, 3.0, 0.0, True), range(1, 97), {43: ("▸", "now"), 47: ("▹", "next")}, 36, 16)
    )
    assert "▸43" in "".join(rows)
    assert "▹47" in "".join(rows)


def _way(**more: object) -> Way:
    forces = ((24e3, "STOP 24 kN", "limit"), (18e3, "most 18 kN", "need"), (6e3, "least 6 kN", "need"))
    given = {"length": 1.3, "high": 0.8, "distance": 1.6, "stroke": 0.25, "centre": 0.6, "supports": (0.2, 1.1)}
    return Way(**(given | {"seals": 3, "forces": forces} | more))  # type: ignore[arg-type]


def test_bundle_goes_in_stroke_by_stroke_with_the_forces_in_words() -> None:
    labels = {"front": "36 kN", "rear": "33 kN", "travel": "here", "bundle": "7 t"}
    columns = []
    for travel in (0.0, 0.5, 1.6):
        text = plain(insertion_way(_way(), travel, labels, 120, 36))
        assert [
            said for said in ("STOP 24 kN", "most 18 kN", "least 6 kN") if not any(said in line for line in text)
        ] == []
        loads = next(line for line in text if "36 kN" in line)
        assert loads.index("33 kN") < loads.index("36 kN")  # pushed to the right: the front support leads
        columns.append(next(line.index("◆") for line in text if "◆" in line))
    assert columns == sorted(set(columns))
    assert (columns[2] - columns[0]) / (columns[1] - columns[0]) == pytest.approx(1.6 / 0.5, rel=0.1)


def test_scale_of_a_clearance_puts_values_in_their_true_places() -> None:
    points = (Point(0.30, "as found", "▽", "near"), Point(0.36, "as left", "▲", "strong"))
    found = Gauge(0.34, 0.38, "least 0.34", "greatest 0.38", points, ())
    ends = gauge_range(0.34, 0.38, [0.30, 0.36])
    text = plain(gauge(found, 101, ends))
    low, high = text[3].index("┃"), text[3].rindex("┃")
    at = [next(line.index(mark) for line in text if mark in line) for mark in "▽▲"]
    assert at[0] < low < at[1] < high
    assert (at[1] - low) / (high - low) == pytest.approx(0.5, abs=0.05)
    assert (low - at[0]) / (high - low) == pytest.approx(1.0, abs=0.05)


@given(SIZES, st.floats(-2, 2), st.floats(0, 3))
@settings(max_examples=30, deadline=None)
def test_ways_scales_and_places_take_any_size(size: tuple[int, int], value: float, band: float) -> None:
    wide, high = size
    both = {"gap": "0.1 mm", "lift": "0.2 mm", "active": "a" * 30, "inactive": "b"}
    drawn = [
        insertion_way(_way(), value, {"travel": "x" * 20, "stop": "y" * 20, "casing": "c"}, wide, high),
        gap_place(both, wide, high),
        float_place(value, both, wide, high, shim=True),
        pads_place(5, True, both, wide, high),
        probe_place(both, wide, high),
    ]
    assert all(len(rows) == high and {row_width(row) for row in rows} == {wide} for rows in drawn)
    points = (Point(value, "as found 1 mm", "▽", "near"),)
    scale = gauge(
        Gauge(value, value + band, "least", "greatest", points, ()), wide, gauge_range(value, value + band, [value])
    )
    assert {row_width(row) for row in scale} == {wide}
    assert all(known_styles(rows) for rows in [*drawn, scale])


def test_each_tool_has_its_own_trace() -> None:
    places = circle_places(12, 1.0, 0.0, True)
    one, two = (
        sum(style == "accent" for row in bolt_map(places, range(1, 13), {}, 60, 26, trace=trace) for _, style in row)
        for trace in ([(1,), (4,)], [(1, 7), (4, 10)])
    )
    assert two > 1.5 * one


def test_interference_is_drawn_too_thick_and_says_so() -> None:
    part = FitSection(0.125, 0.0, 0.205, 0.072, 1 / 30, 0.005, overlap=0.00018)
    text = plain(fit_section(part, {"interference": "interference 0.18 mm"}, 100, 30))
    assert any("interference drawn" in line and "× too thick" in line for line in text)


def test_a_leg_names_both_its_angles() -> None:
    said = "leg 1  9 kN\n60.0° to horizontal\n30.0° to vertical"
    legs = (Line3((0, 0, 2), (-1, 0, 0), said), Line3((0, 0, 2), (1, 0, 0), said))
    text = "\n".join(plain(lift_side(LiftScene((0, 0, 2), (0, 0, 1), (0, 0, -0.2), legs), 100, 30)))
    assert text.count("60.0° to horizontal") == text.count("30.0° to vertical") == 2
    narrow = "\n".join(plain(lift_side(LiftScene((0, 0, 2), (0, 0, 1), (0, 0, -0.2), legs), 60, 8)))
    assert "9 kN" in narrow


def test_figures_of_a_pass_stand_under_their_bars() -> None:
    shares = [0.5 + n / 100 for n in range(24)]
    text = plain(pass_bars(shares, 100, 28))
    numbers = next(n for n, line in enumerate(text) if " 1 " in line and " 23 " in line)
    under = text[numbers + 1 : numbers + 3]
    for bolt, share in enumerate(shares, 1):
        at = 6 + 3 * (bolt - 1)
        assert under[(bolt - 1) % 2][at : at + 3].strip() == f"{100 * share:.0f}"


def test_a_bolt_has_a_head_and_a_cap_screw_one_wider_than_its_thread() -> None:
    bolt = plain(joint_section(BoltSection(0.03, 0.1, nut=0.03, across=0.046, head=0.019), {"head": "head"}, 90, 24))
    assert any("head" in line for line in bolt)
    studs = plain(joint_section(BoltSection(0.03, 0.1, nut=0.03, across=0.046), {"head": "head"}, 90, 24))
    assert not any("head" in line for line in studs)


@pytest.mark.parametrize("cells", [28, 32, 40, 60, 80])
def test_numbers_of_a_straight_line_of_bolts_stand_in_one_row(cells: int) -> None:
    xs = [0.15 * n for n in range(8)]
    rows = bolt_map(line_places(xs, xs, 0.34), range(1, 17), dict.fromkeys((1, 8, 9, 16), ("◇", "head")), cells, 12)
    text = [line for line in plain(rows) if any(char.isdigit() for char in line)]
    assert [re.findall(r"\d+", line) for line in text] == [
        [str(n) for n in range(1, 9)],
        [str(n) for n in range(9, 17)],
    ]

"""The bolt map: true places, round scales, and numbers nobody can mistake."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.plan.model import Joint
from splitline.plan.model.joint import Layout
from splitline.report.pictures.bolt_map import APART, DIGIT, POINT, Looks, bolt_map, places_of
from splitline.report.shapes import Circle, Drawing, Label, scale_for, scale_said


def joint(**layout: Any) -> Joint:
    return Joint.model_construct(id="j", title="J", layout=Layout.model_construct(**layout))


def circle(bolts: int, **more: Any) -> Joint:
    return joint(**{"shape": "circle", "bolts": bolts, "diameter": 1.0, **more})


def numbers(drawing: Drawing) -> dict[int, Label]:
    return {int(shape.text): shape for shape in drawing.shapes if isinstance(shape, Label) and shape.text.isdigit()}


def box(label: Label) -> tuple[float, float, float, float]:
    high = label.size * POINT
    wide = len(label.text) * high * DIGIT
    return label.x - wide / 2, label.y - high / 2, label.x + wide / 2, label.y + high / 2


def test_bolt_1_stands_where_the_plan_says_and_numbers_run_the_stated_way() -> None:
    quarter = math.pi / 2
    right = places_of(circle(4, first_at=quarter))
    assert right[0] == pytest.approx((0.5, 0.0), abs=1e-12)
    assert right[1] == pytest.approx((0.0, -0.5), abs=1e-12)
    left = places_of(circle(4, first_at=quarter, numbering="counter-clockwise"))
    assert left[0] == pytest.approx((-0.5, 0.0), abs=1e-12)
    assert left[1] == pytest.approx((0.0, -0.5), abs=1e-12)


def test_distances_on_paper_are_true_to_the_stated_scale() -> None:
    drawing = bolt_map(circle(8), Looks({}), 100, 100)
    assert drawing is not None
    rings = [shape for shape in drawing.shapes if isinstance(shape, Circle) and shape.dash]
    n = float(drawing.said.rsplit(":", 1)[1])
    assert rings[0].r * 2 == pytest.approx(1000 / n)


def test_a_larger_paper_keeps_a_round_scale() -> None:
    zoom = 2**0.5
    small, large = (bolt_map(circle(8), Looks({}), 100, 100, z) for z in (1.0, zoom))
    assert small is not None
    assert large is not None
    n = float(large.said.rsplit(":", 1)[1])
    ring = next(shape for shape in large.shapes if isinstance(shape, Circle) and shape.dash)
    assert ring.r * 2 * zoom == pytest.approx(1000 / n)
    assert n < float(small.said.rsplit(":", 1)[1])


@pytest.mark.parametrize("bolts", [3, 24, 60, 128, 200])
def test_every_number_stands_once_clear_of_the_others_and_on_the_field(bolts: int) -> None:
    drawing = bolt_map(circle(bolts), Looks(dict.fromkeys(range(1, bolts + 1), 0.01)), 182, 175)
    assert drawing is not None
    found = numbers(drawing)
    assert sorted(found) == list(range(1, bolts + 1))
    for a, b in itertools.combinations(map(box, found.values()), 2):
        gap = 2 * APART - 1e-9  # two numbers in one row are not read as one
        assert a[2] + gap <= b[0] or b[2] + gap <= a[0] or a[3] <= b[1] + 1e-9 or b[3] <= a[1] + 1e-9
    for left, top, right, low in map(box, found.values()):
        assert left >= -1e-9
        assert right <= drawing.width + 1e-9
        assert top >= -3.0  # numbers may reach into the gap above the drawing, never into text
        assert low <= drawing.height - 3.0


def test_a_split_line_numbers_side_a_above_and_side_b_below() -> None:
    side = tuple(0.1 * k for k in range(8))
    drawing = bolt_map(joint(shape="split-line", side_a=side, half_width=0.3), Looks({}), 182, 95)
    assert drawing is not None
    found = numbers(drawing)
    assert [n for n, label in found.items() if label.y < found[9].y] == list(range(1, 9))
    assert found[1].x == pytest.approx(found[9].x, abs=1.0)
    assert any(isinstance(s, Label) and s.text == "side a" for s in drawing.shapes)


def test_bolts_of_another_size_are_grey_and_measured_ones_have_a_dot() -> None:
    drawing = bolt_map(circle(12), Looks({}, others=(1,), measured=(4,)), 100, 100)
    assert drawing is not None
    fills = [shape.fill for shape in drawing.shapes if isinstance(shape, Circle) and shape.fill is not None]
    assert fills.count(0.72) == 1
    assert fills.count(0.0) == 1


def test_no_places_no_map() -> None:
    assert bolt_map(Joint(id="j", title="J"), Looks({}), 100, 100) is None
    assert bolt_map(joint(shape="circle", bolts=12), Looks({}), 100, 100) is None


@given(st.floats(1e-3, 50), st.floats(1e-3, 50), st.floats(20, 400), st.floats(20, 400))
def test_the_scale_is_the_largest_round_one_that_fits(width: float, height: float, wide: float, high: float) -> None:
    n = scale_for(width, height, wide, high)
    assert width * 1000 / n <= wide * (1 + 1e-6)
    assert height * 1000 / n <= high * (1 + 1e-6)
    assert max(width * 1000 / wide, height * 1000 / high) > n / 1.34  # the next smaller scale would not fit


@pytest.mark.parametrize(("n", "said"), [(10, "1:10"), (2.5, "1:2.5"), (1, "1:1"), (0.5, "2:1")])
def test_scales_are_said_as_on_drawings(n: float, said: str) -> None:
    assert scale_said(n) == said

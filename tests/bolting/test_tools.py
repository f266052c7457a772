"""Tools: charts, ranges, set values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.bolting import tools


@given(st.floats(1e7, 7e7))
def test_chart_runs_both_ways(pressure: float) -> None:
    chart = tools.chart([(1e7, 1160.0), (3e7, 3400.0), (7e7, 8120.0)])
    assert tools.pressure_for_torque(chart, tools.torque_at_pressure(chart, pressure)) == pytest.approx(pressure)


def test_chart_points_and_middle() -> None:
    chart = tools.chart([(7e7, 8120.0), (1e7, 1160.0)])
    assert tools.torque_at_pressure(chart, 4e7) == pytest.approx(4640.0)
    assert tools.torque_at_pressure(chart, 7e7) == pytest.approx(8120.0)
    assert tools.torque_at_pressure(tools.chart_from_factor(1.16e-4, 7e7), 3e7) == pytest.approx(3480.0)


@given(st.floats(0.0, 1e8), st.sampled_from([1.0, 5.0, 5e5, 1e6, 0.1]))
def test_round_down_is_a_mark_not_above(value: float, step: float) -> None:
    got = tools.round_down(value, step)
    assert got <= value + 1e-6 * step
    assert got > value - step * (1 + 1e-9)
    assert got / step == pytest.approx(round(got / step), abs=1e-6)


def test_round_down_keeps_a_value_on_its_mark() -> None:
    assert tools.round_down(0.3 * 10.0, 1.0) == pytest.approx(3.0)
    assert tools.round_down(29_999_999.999_999, 5e5) == pytest.approx(3e7)
    assert tools.round_down(29_900_000.0, 5e5) == pytest.approx(29.5e6)


def test_hand_tools_start_at_a_fifth() -> None:
    """ISO 6789: from 20 % of the greatest torque."""
    assert tools.hand_tool_range(1000.0) == (200.0, 1000.0)
    assert tools.hand_tool_range(1000.0, 300.0) == (300.0, 1000.0)
    assert tools.hand_tool_range(1000.0, 100.0) == (200.0, 1000.0)


@given(st.floats(1e3, 1e7), st.floats(1.0, 1.6), st.floats(1e-3, 5e-2))
def test_tensioner_there_and_back(load: float, loss: float, area: float) -> None:
    pressure = tools.tensioner_pressure(load, loss, area)
    assert tools.preload_from_pressure(pressure, loss, area) == pytest.approx(load)
    assert tools.stress_at_pull(load, loss, area) == pytest.approx(pressure)

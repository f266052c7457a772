"""Impossible inputs each give a plain sentence."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pytest

from splitline.bolting import gasket, joint_load, split_line, stiffness, stretch, stripping, tools, torque
from splitline.bolting.limits import limits
from splitline.bolting.thread import check_shank, least_section, metric, unified
from splitline.errors import InputError

M48 = metric(0.048, 0.003)
BOLT = stiffness.Bolt(M48, 205e9, 0.268)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: metric(0.0, 0.003), "thread diameter must be above 0"),
        (lambda: metric(0.048, 0.03), "leaves nothing of a thread"),
        (lambda: unified(0.0254, 0), "threads per inch must be above 0"),
        (lambda: check_shank(M48, 0.060), r"the shank \(60 mm\) is larger than its thread \(48 mm\)"),
        (lambda: least_section(M48, 0.044, 0.05), "larger than its heater bore"),
        (lambda: stiffness.bolt_stiffness(stiffness.Bolt(M48, 205e9, 0.0)), "clamp length must be above 0"),
        (lambda: stiffness.bolt_stiffness(stiffness.Bolt(M48, 205e9, nan)), "clamp length must be above 0"),
        (lambda: stiffness.bolt_stiffness(stiffness.Bolt(M48, 205e9, 0.1, 0.04, 0.2)), "longer than the clamp length"),
        (lambda: stiffness.member_compliance([], 0.07, 0.05, True), "no clamped layer"),
        (
            lambda: stiffness.member_compliance([stiffness.Layer(0.1, 205e9, 0.05)], 0.075, 0.052, True),
            "not larger than the bolt hole",
        ),
        (lambda: stiffness.member_compliance([stiffness.Layer(0.1, 205e9, 0.2)], 0.05, 0.052, True), "does not cover"),
        (lambda: torque.thread_torque_factor(M48, 0.0), "thread friction must be from 0.01 to 1, got 0"),
        (lambda: torque.thread_torque_factor(M48, 2.0), "thread friction must be from 0.01 to 1, got 2"),
        (lambda: torque.bearing_torque_factor(2.0, 0.075, 0.052), "bearing friction must be from 0.01 to 1"),
        (lambda: torque.mean_bearing_diameter(0.05, 0.052), "must be larger than its hole"),
        (lambda: torque.torque_short(1e5, 0.0, 0.048), "nut factor must be from 0.01 to 1"),
        (lambda: torque.torque_short(-1.0, 0.15, 0.048), "preload must be 0 or more"),
        (lambda: torque.nut_factor(100.0, 0.0, 0.048), "preload must be above 0"),
        (
            lambda: torque.friction_from_nut_factor(0.015, metric(0.016, 0.002), 0.024, 0.0175),
            "no friction can give it",
        ),
        (lambda: stripping.strip_areas(M48, limits(M48), 0.0), "engagement must be above 0"),
        (lambda: stripping.minimum_engagement(M48, limits(M48), 860e6, 0.0), "internal thread must be above 0"),
        (lambda: limits(metric(0.5, 0.006)), "from 1 to 355 mm"),
        (lambda: joint_load.pressure_force(inf, 1.0), "pressure must be a number"),
        (lambda: joint_load.bolt_state(1e5, 1e5, 1.2, 1e4, 0.0), "load factor must be from 0 to 1"),
        (lambda: joint_load.joint_preload_limits(1e5, 1.2, 0.05), "scatter must be from 0"),
        (lambda: gasket.seat(0.4, 0.4), "must be larger than its inner diameter"),
        (lambda: gasket.seat_at(0.4, 0.3), "wider than its own radius"),
        (lambda: stretch.turn_angle(1e5, 2e5, 1e9, 1e9, 0.003), "snug load must be from 0"),
        (lambda: stretch.heat_rise(1e-4, 0.0, 12e-6), "heated length must be above 0"),
        (lambda: tools.chart([(1e5, 10.0)]), "at least two points"),
        (lambda: tools.chart([(1e5, 10.0), (2e5, 9.0)]), "must rise"),
        (lambda: tools.pressure_for_torque(tools.chart([(1e7, 1e3), (7e7, 7e3)]), 8e3), "outside the tool's chart"),
        (lambda: tools.torque_at_pressure(tools.chart([(1e7, 1e3), (7e7, 7e3)]), 5e6), "outside the tool's chart"),
        (lambda: tools.tensioner_pressure(1e5, 0.9, 1e-3), "load loss must be from 1"),
        (lambda: split_line.tributary([0.0, 0.2, 0.1], -0.1, 0.3), "must rise"),
        (lambda: split_line.tributary([0.0, 0.2], 0.1, 0.3), "outside its end bolts"),
        (lambda: split_line.tributary_forces([(0, 1)], [split_line.Zone(1, 0, 1e5, 0.4)]), "must run forward"),
        (lambda: split_line.line_ends([0.0]), "at least two bolts"),
        (lambda: split_line.lip(1e5, 1e4, 0.0, 0.07, 0.1), "inside edge must be above 0"),
    ],
)
def test_refused_with_a_sentence(call: Callable[[], object], words: str) -> None:
    with pytest.raises(InputError, match=words):
        call()


def test_the_same_bolt_is_fine() -> None:
    assert stiffness.bolt_stiffness(BOLT) > 0.0

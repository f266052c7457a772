"""Stiffness: what must grow, what must not change."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.bolting.stiffness import Bolt, Layer, bolt_stiffness, load_factor, member_compliance
from splitline.bolting.thread import metric

M48 = metric(0.048, 0.003)


@given(st.floats(0.02, 0.4), st.floats(0.02, 0.4), st.floats(0.076, 0.4), st.booleans())
def test_splitting_a_layer_changes_nothing(a: float, b: float, sleeve: float, through: bool) -> None:
    whole = member_compliance([Layer(a + b, 205e9, sleeve)], 0.075, 0.052, through)
    parts = member_compliance([Layer(a, 205e9, sleeve), Layer(b, 205e9, sleeve)], 0.075, 0.052, through)
    assert parts == pytest.approx(whole, rel=1e-9)


@given(st.floats(0.03, 0.6), st.floats(0.05, 0.2))
def test_members_lie_between_the_plain_sleeves(grip: float, extra: float) -> None:
    """A cone is stiffer than a tube of the nut face and softer than a tube of the sleeve."""
    sleeve = 0.075 + extra
    got = member_compliance([Layer(grip, 205e9, sleeve)], 0.075, 0.052, True)
    tubes = [grip / (205e9 * pi / 4 * (d**2 - 0.052**2)) for d in (sleeve, 0.075)]
    assert tubes[0] < got < tubes[1]


@given(st.floats(0.0, 0.2), st.floats(0.03, 0.048), st.floats(0.0, 0.02))
def test_bolt_softens_with_bore_and_waist(shank: float, waist: float, bore: float) -> None:
    plain = bolt_stiffness(Bolt(M48, 205e9, 0.268, 0.048, shank))
    assert bolt_stiffness(Bolt(M48, 205e9, 0.268, waist, shank, bore)) <= plain * (1 + 1e-12)


def test_two_halves_see_the_layer_order_mirrored() -> None:
    stiff, soft = Layer(0.1, 205e9, 0.2), Layer(0.15, 105e9, 0.2)
    there = member_compliance([stiff, soft], 0.075, 0.052, True)
    assert member_compliance([soft, stiff], 0.075, 0.052, True) == pytest.approx(there, rel=1e-12)
    # tapped: the narrow end of the cone under the nut counts most
    assert member_compliance([soft, stiff], 0.075, 0.052, False) > member_compliance([stiff, soft], 0.075, 0.052, False)


def test_load_factor_is_a_share() -> None:
    assert load_factor(1.0, 4.0) == pytest.approx(0.2)

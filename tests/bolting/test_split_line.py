"""Split lines: tributary forces add up, the lip obeys statics."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.bolting import split_line as sl


@given(st.lists(st.floats(0.05, 0.4), min_size=1, max_size=12), st.floats(0.0, 2.0), st.floats(0.1, 3.0))
def test_the_line_carries_the_whole_pressure(gaps: list[float], start: float, length: float) -> None:
    positions = [0.0]
    for gap in gaps:
        positions.append(positions[-1] + gap)
    low, high = sl.line_ends(positions)
    forces = sl.tributary_forces(sl.tributary(positions, low, high), [sl.Zone(start, start + length, 4e6, 0.42)])
    assert sum(forces) == pytest.approx(4e6 * 0.42 * length, rel=1e-9)


def test_half_a_pitch_outside_the_end_bolts() -> None:
    assert sl.line_ends([0.0, 0.2, 0.5]) == pytest.approx((-0.1, 0.65))


@given(st.floats(1e4, 1e6), st.floats(0.0, 0.9), st.floats(0.03, 0.1), st.floats(0.03, 0.1))
def test_lip_in_equilibrium(load: float, share: float, inside: float, outside: float) -> None:
    """Force and moment about the bolt line: the contact pressure's resultant is N, at F·a/N outward of the bolt."""
    force, length = share * load, 0.18
    got = sl.lip(load, force, inside, outside, length)
    clamp, width = load - force, inside + outside
    arm = outside - force * inside / clamp  # of the contact force from the outer edge
    if arm <= 0.0:
        assert got.inside_pressure == 0.0
    elif width / 3 < arm < 2 * width / 3:
        edge_in, mean = got.inside_pressure, clamp / (width * length)
        edge_out = 2 * mean - edge_in
        moment = length * width**2 * (edge_in / 3 + edge_out / 6)
        assert moment == pytest.approx(clamp * arm, rel=1e-9, abs=1e-9 * clamp * width)
        signed = sl.lip_pressure_signed(load, force, inside, outside, length)
        assert signed == pytest.approx(edge_in, rel=1e-9, abs=1e-9 * mean)  # may be 0: where the lip just opens
    elif arm <= width / 3:
        assert got.inside_pressure == 0.0
        assert got.contact_width == pytest.approx(3 * arm)


def test_lip_without_pressure_and_bolt_in_the_middle_is_even() -> None:
    even = sl.lip(1e6, 0.0, 0.06, 0.06, 0.2)
    assert even.inside_pressure == pytest.approx(1e6 / (0.12 * 0.2))


def test_lip_opens_at_the_prying_load() -> None:
    """Moments about the outer edge: F_b·b = F·(a + b)."""
    need = sl.bolt_load_to_open(1e5, 0.06, 0.07)
    assert need == pytest.approx(1e5 * 0.13 / 0.07)
    assert sl.lip(0.99 * need, 1e5, 0.06, 0.07, 0.2).contact_width == 0.0
    assert sl.lip(1.01 * need, 1e5, 0.06, 0.07, 0.2).contact_width > 0.0


def test_no_pressure_is_left_without_a_bolt() -> None:
    """Statics: Σ F = p·w·l of the zone, also where the zone runs past the half pitch outside the end bolts."""
    places = [0.08, 0.23, 0.38, 0.53]
    stretches = sl.tributary(places, *sl.line_ends(places))
    forces = sl.tributary_forces(stretches, [sl.Zone(0.0, 0.70, 4e6, 0.42)])
    assert sum(forces) == pytest.approx(4e6 * 0.42 * 0.70)
    assert forces == pytest.approx([4e6 * 0.42 * part for part in (0.155, 0.15, 0.15, 0.245)])

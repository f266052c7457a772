"""Floats, shims, pads, gap maps, probes, rules of thumb at their edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.clearance import (
    clearance_from_lift,
    diametral,
    from_sides,
    lift_factor,
    o_ring_squeeze,
    radial,
    shim_for_float,
    shim_sides,
    split_by_offset,
    split_by_ratio,
    thrust_faces,
    tilt_limit,
)
from splitline.fitting.gaps import gap_map, tilt_of
from splitline.fitting.probes import gap_change, probe_over_float, sensitivity_from

INCH = 0.0254


def test_diametral_is_twice_radial() -> None:
    assert diametral(radial(0.3e-3)) == 0.3e-3
    assert from_sides(0.1e-3, 0.14e-3) == pytest.approx(0.24e-3)


@given(st.integers(3, 24), st.booleans(), st.integers(720, 1440))
def test_lift_factor_against_a_search_of_the_bearing(pads: int, between: bool, steps: int) -> None:
    """Move the journal centre along the load line until a pad stops it: x·n ≤ c for every pad."""
    del steps
    pitch = 2 * math.pi / pads
    angles = [math.pi + (pitch / 2 if between else 0.0) + i * pitch for i in range(pads)]  # 0 is up, π the load
    up = min(1 / math.cos(a) for a in angles if math.cos(a) > 1e-12)
    down = min(1 / -math.cos(a) for a in angles if math.cos(a) < -1e-12)
    assert lift_factor(pads, between) == pytest.approx((up + down) / 2, rel=1e-9)


def test_many_pads_are_a_plain_bore_and_two_are_refused() -> None:
    assert lift_factor(400, True) == pytest.approx(1.0, abs=1e-4)
    # 4 pads, load between: 1.414; 3 pads 1.5 either way (geometry)
    assert lift_factor(4, True) == pytest.approx(math.sqrt(2))
    assert lift_factor(3, True) == pytest.approx(1.5)
    with pytest.raises(InputError, match="pads"):
        clearance_from_lift(0.2e-3, 2, False)


def test_float_splits() -> None:
    # A published form splits 60/40, not half and half (Bloch & Geitner)
    assert split_by_ratio(6.0e-3, 0.6) == pytest.approx(3.6e-3)
    assert split_by_ratio(6.0e-3, 0.5) == split_by_offset(6.0e-3, 0.0)
    with pytest.raises(InputError, match="offset"):
        split_by_offset(0.4e-3, 0.3e-3)
    with pytest.raises(InputError, match="share"):
        split_by_ratio(1e-3, 1.2)
    with pytest.raises(InputError, match="stop"):
        thrust_faces(0.1e-3, 0.4e-3, 6e-3)


@given(st.floats(0, 2e-3), st.floats(0.1e-3, 0.4e-3), st.floats(0, 0.3e-3), st.floats(0, 1))
def test_a_shim_within_its_band_lands_within_the_limits(found: float, low: float, span: float, where: float) -> None:
    high = low + span
    shim = shim_for_float(found, low, high)
    left = found - (shim.least + (shim.most - shim.least) * where)
    assert low - 1e-12 <= left <= high + 1e-12
    assert shim.needed == (not low <= found <= high)
    assert {"add": found > high, "take": found < low, "leave": low <= found <= high}[shim.action]


def test_shims_on_both_sides_set_float_and_position_together() -> None:
    """Float 0.52 wanted 0.32 mm, rotor on its active shoes 3.10 wanted 3.25 mm from the stop: 0.15 active, 0.05 inactive."""
    sides = shim_sides(0.52e-3, 0.32e-3, 3.10e-3, 3.25e-3)
    assert (sides.active, sides.inactive) == pytest.approx((0.15e-3, 0.05e-3))
    assert 0.52e-3 - sides.active - sides.inactive == pytest.approx(0.32e-3)


def test_gap_map_names_the_open_places() -> None:
    found = gap_map((0.0, 0.02e-3, 0.06e-3, 0.04e-3), 0.05e-3)
    assert (found.widest_at, found.open_places, found.closed) == (2, (2,), False)
    assert found.spread == pytest.approx(0.06e-3)
    assert gap_map((0.0, 0.0), 0.05e-3).closed
    with pytest.raises(InputError, match="at least one"):
        gap_map((), 0.05e-3)


@given(st.floats(1e-5, 1e-3), st.floats(0, 0.99), st.floats(2e-3, 3e-3))
def test_tilt_of_a_tilted_plane(amplitude: float, turn: float, mean: float) -> None:
    gaps = tuple(mean + amplitude * math.cos(2 * math.pi * (i / 8 - turn)) for i in range(8))
    found, where = tilt_of(gaps)
    assert found == pytest.approx(amplitude, rel=1e-6)
    assert math.cos(2 * math.pi * (where - turn)) == pytest.approx(1.0, abs=1e-6)
    with pytest.raises(InputError):
        tilt_of((0.0, 0.1e-3))


def test_probe_set_at_mid_float_stays_linear_and_at_a_stop_does_not() -> None:
    assert probe_over_float(-10.0, 1.0e-3).inside
    at_stop = probe_over_float(-15.0, 1.0e-3)
    assert not at_stop.inside
    assert at_stop.far == pytest.approx(-18.937)
    assert gap_change(-10.0, -10.7874) == pytest.approx(0.1e-3)
    assert sensitivity_from((0.5e-3, 1.0e-3, 1.5e-3), (-4.0, -8.0, -12.0)) == pytest.approx(8000.0)
    with pytest.raises(InputError):
        sensitivity_from((1e-3, 1e-3), (-8.0, -8.1))


def test_gland_deeper_than_the_ring_does_not_seal() -> None:
    assert o_ring_squeeze(3.5e-3, 3.6e-3) < 0
    assert tilt_limit(0.3e-3, 60e-3) == pytest.approx(5e-3)

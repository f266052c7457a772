"""Joint diagrams: equilibrium, separation, temperature, embedding."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.bolting import joint_load as jl


@given(st.floats(1e3, 1e6), st.floats(0.01, 0.5), st.floats(0.0, 1e6), st.floats(-1e5, 1e5))
def test_bolt_load_is_clamp_plus_outside_force(load: float, phi: float, force: float, thermal: float) -> None:
    """Equilibrium of the faces: F_S = F_K + F_A as long as they touch (the same preload at both ends)."""
    state = jl.bolt_state(load, load, phi, force, thermal)
    if state.residual_clamp >= 0.0:
        assert state.high == pytest.approx(state.residual_clamp + force, rel=1e-9, abs=1e-3)
    else:
        assert state.high == pytest.approx(force, rel=1e-9)


@given(st.floats(1e3, 1e6), st.floats(0.01, 0.5), st.floats(1e3, 1e6))
def test_separation_factor_crosses_one_as_the_clamp_crosses_zero(load: float, phi: float, force: float) -> None:
    state = jl.bolt_state(load, load, phi, force, 0.0)
    assert state.separation_factor is not None
    if abs(state.separation_factor - 1.0) > 1e-9:
        assert (state.separation_factor > 1.0) == (state.residual_clamp > 0.0)


def test_a_closing_force_separates_nothing() -> None:
    state = jl.bolt_state(1e5, 1e5, 0.2, -1e4, 0.0)
    assert state.separation_factor is None
    assert state.residual_clamp == pytest.approx(1.08e5)


@given(st.floats(0.05, 1.0), st.floats(-50.0, 300.0))
def test_equal_expansion_and_temperature_change_nothing(length: float, rise: float) -> None:
    heat = jl.Heat(length, 12e-6, rise, 12e-6, rise)
    assert jl.thermal_change(heat, 1e-9, 2e-10, 5e5) == pytest.approx(0.0, abs=1e-6)


def test_a_softer_hot_bolt_loses_its_share_of_preload() -> None:
    """Both moduli at 90 %: the same stretch holds 90 % of the load."""
    heat = jl.Heat(0.3, 12e-6, 200.0, 12e-6, 200.0, 0.9, 0.9)
    assert jl.thermal_change(heat, 1e-9, 2e-10, 5e5) == pytest.approx(-0.1 * 5e5)


def test_short_bolts_lose_more_by_embedding() -> None:
    """VDI 2230:1986, f_Z = 3.29·(L/d)^0.34 µm (from memory): 3.29 µm at L = d, 5.27 µm at L = 4 d."""
    assert jl.embedding(0.02, 0.02) == pytest.approx(3.29e-6)
    assert jl.embedding(0.08, 0.02) == pytest.approx(5.27e-6, rel=1e-3)


def test_o_ring_takes_the_far_wall_of_its_groove() -> None:
    assert jl.o_ring_effective_diameter(0.50, 0.512) == 0.512

"""Torque and preload: inverses, limits and worst-case pairs."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.bolting import torque as tq
from splitline.bolting.thread import Section, least_section, metric

diameters = st.sampled_from([(0.016, 0.002), (0.030, 0.0035), (0.048, 0.003), (0.064, 0.004), (0.100, 0.006)])
frictions = st.floats(0.05, 0.4)


@given(diameters, frictions, frictions, st.floats(1e3, 1e7))
def test_preload_is_the_inverse_of_torque(size: tuple[float, float], mu_t: float, mu_b: float, load: float) -> None:
    thread, mu = metric(*size), tq.Friction(mu_t, mu_b)
    face, hole = 1.55 * thread.d, 1.08 * thread.d
    applied = tq.torque(load, thread, mu, face, hole)
    assert tq.preload_from_torque(applied, thread, mu, face, hole) == pytest.approx(load, rel=1e-12)
    factor = tq.nut_factor(applied, load, thread.d)
    assert tq.preload_short(applied, factor, thread.d) == pytest.approx(load, rel=1e-12)


@given(diameters, frictions)
def test_one_friction_from_a_nut_factor(size: tuple[float, float], mu: float) -> None:
    thread = metric(*size)
    face, hole = 1.55 * thread.d, 1.08 * thread.d
    factor = tq.torque_factor(thread, tq.Friction(mu, mu), face, hole) / thread.d
    assert tq.friction_from_nut_factor(factor, thread, face, hole) == pytest.approx(mu, rel=1e-9)


@given(diameters, frictions, st.floats(0.5, 1.6))
def test_friction_scale_explains_a_preload(size: tuple[float, float], mu: float, share: float) -> None:
    """At a fixed torque a higher preload means lower friction, by one factor on both coefficients."""
    thread, base = metric(*size), tq.Friction(mu, 0.9 * mu)
    face, hole = 1.55 * thread.d, 1.08 * thread.d
    applied = tq.torque(1e5, thread, base, face, hole)
    scale = tq.friction_scale(applied, share * 1e5, thread, base, face, hole)
    assert (scale < 1.0) == (share > 1.0) or share == pytest.approx(1.0)
    if scale > 0.0:
        torque = (
            share
            * 1e5
            * (
                tq.flank_torque_factor(thread, scale * mu)
                + 0.5 * scale * base.bearing * tq.mean_bearing_diameter(face, hole)
            )
        )
        assert torque == pytest.approx(applied, rel=1e-9)


@given(diameters, frictions, st.floats(1e8, 1e9))
def test_combined_stress_meets_the_limit(size: tuple[float, float], mu: float, limit: float) -> None:
    thread = metric(*size)
    section = least_section(thread, 0.88 * thread.d, 0.2 * thread.d)
    factor = tq.thread_torque_factor(thread, mu)
    load = tq.preload_at_combined(limit, section, factor)
    got = tq.combined_stress(load / section.area, tq.torsion_stress(load * factor, section))
    assert got == pytest.approx(limit, rel=1e-12)


def test_torsion_of_a_solid_section_is_the_vdi_form() -> None:
    """VDI 2230-1:2003: τ = 12 M_G/(π d_s³), and a bore takes its own b³ off."""
    assert tq.torsion_stress(1000.0, Section(0.04)) == pytest.approx(12e3 / (3.141592653589793 * 0.04**3))
    assert tq.torsion_stress(1000.0, Section(0.04, 0.02)) > tq.torsion_stress(1000.0, Section(0.04))


def test_loosening_needs_less_than_tightening() -> None:
    thread, mu = metric(0.048, 0.003), tq.Friction(0.12, 0.12)
    face, hole = 0.075, 0.052
    loose = tq.loosening_torque_factor(thread, mu, face, hole)
    tight = tq.torque_factor(thread, mu, face, hole)
    # the lead helps one way and hinders the other: difference of the two tangents, t = tan λ, s = μ sec 30°
    t, s = thread.lead_tangent, 0.12 * tq.SEC30
    difference = thread.pitch_diameter * t * (1 + s * s) / (1 - (s * t) ** 2)
    assert tight - loose == pytest.approx(difference, rel=1e-9)


def test_dry_threads_may_run_back() -> None:
    thread = metric(0.016, 0.002)
    assert tq.loosening_torque_factor(thread, tq.Friction(0.01, 0.01), 0.024, 0.0175) < 0.0

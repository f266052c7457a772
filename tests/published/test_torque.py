"""Torque and preload against textbooks, standards and VDI 2230 tables."""

from __future__ import annotations

from math import pi
from statistics import mean, stdev

import pytest

from splitline.bolting.joint_load import bolt_state, joint_preload_limits, tightening_factor
from splitline.bolting.stiffness import load_factor
from splitline.bolting.thread import Thread, metric, unified
from splitline.bolting.torque import (
    Friction,
    nut_factor,
    preload_short,
    screw_torque,
    torque,
    torque_short,
)

MM, INCH, LBF, PSI, KSI = 1e-3, 0.0254, 4.4482216152605, 6894.757293168361, 6894757.293168361
LBF_IN, FT_LBF = LBF * INCH, LBF * INCH * 12


def test_wentzell_6_1() -> None:
    """Wentzell, Machine Design, Ex. 6.1 p. 120: 3/4 in, 85 % of proof, K = 0.2."""
    load = 0.85 * 85_000 * PSI * 0.334 * INCH**2
    assert torque_short(load, 0.2, 0.75 * INCH) == pytest.approx(3619.73 * LBF_IN, rel=1e-4)


def test_wentzell_6_1_with_own_area() -> None:
    """The same with our own area of 3/4-10 UNC (0.334 in² rounded): within the book's rounding of the area."""
    load = 0.85 * 85_000 * PSI * unified(0.75 * INCH, 10).stress_area
    assert torque_short(load, 0.2, 0.75 * INCH) == pytest.approx(3619.73 * LBF_IN, rel=2e-3)


def test_jindal_9_5_and_9_6() -> None:
    """Jindal, Machine Design, Ex. 9-5 p. 268 and Ex. 9-6 p. 269."""
    assert torque_short(0.75 * 650e6 * 115e-6, 0.2, 14 * MM) == pytest.approx(156.97, rel=1e-3)
    assert torque_short(120e3, 0.18, 20 * MM) == pytest.approx(432.0, rel=1e-4)


def test_shigley_8_3() -> None:
    """Budynas & Nisbett, Shigley, 9th ed. (2011), Example 8-3 p. 439; (b) result from memory."""
    area, preload, load = 0.373 * INCH**2, 25e3 * LBF, 6e3 * LBF
    assert preload / area == pytest.approx(67.02 * KSI, rel=1e-3)
    share = load_factor(6.5e6 * LBF / INCH, 13.8e6 * LBF / INCH)
    assert share == pytest.approx(0.32, rel=1e-3)
    state = bolt_state(preload, preload, share, load, 0.0)
    assert state.high / area == pytest.approx(72.17 * KSI, rel=1e-3)
    assert torque_short(preload, 0.2, 0.75 * INCH) == pytest.approx(3750 * LBF_IN, rel=1e-4)


@pytest.mark.parametrize(("factor", "torque"), [(0.3, 72.7), (0.25, 60.6), (0.15, 36.3)])
def test_mechanical_fastening_p85(factor: float, torque: float) -> None:
    """Mechanical Fastening, Joining, and Assembly (textbook), p. 85."""
    assert torque_short(1275 * LBF, factor, 0.19 * INCH) == pytest.approx(torque * LBF_IN, rel=2e-3)


@pytest.mark.parametrize(("d", "tpi", "proof", "load", "torque"), [(0.75, 10, 55, 13778, 172), (1, 8, 33, 14999, 250)])
def test_sae_grade_2_table(d: float, tpi: float, proof: float, load: float, torque: float) -> None:
    """SAE J429 grade 2 clamp and torque table, 75 % of proof, K = 0.2."""
    clamp = 0.75 * proof * KSI * unified(d * INCH, tpi).stress_area
    assert clamp == pytest.approx(load * LBF, rel=3e-3)
    assert torque_short(clamp, 0.2, d * INCH) == pytest.approx(torque * FT_LBF, rel=3e-3)


@pytest.mark.parametrize(
    ("d", "torque", "load", "factor"),
    [(0.75, 150, 17500, 0.1371), (1, 350, 31800, 0.1321), (1.25, 700, 52500, 0.128)],
)
def test_bloch_geitner_table_4_2(d: float, torque: float, load: float, factor: float) -> None:
    """Bloch & Geitner, Machinery Component Maintenance and Repair, Table 4-2 p. 152: 50,000 psi, lubricated."""
    assert nut_factor(torque * FT_LBF, load * LBF, d * INCH) == pytest.approx(factor, rel=5e-2)
    # that table's tension is 50,000 psi on the area of UNC up to 1 in, 8UN above (within its rounding)
    tpi = 10 if d < 1 else 8
    assert 50 * KSI * unified(d * INCH, tpi).stress_area == pytest.approx(load * LBF, rel=5e-2)


def additive(preload: float, thread: Thread, mu: Friction, mean_face: float, *, rounded: bool) -> float:
    """ISO 16047: F·(P/2π + μ d₂/(2 cos 30°) + μ_b D_m/2); VDI 2230 rounds it to 0.16 P and 0.58 d₂ μ."""
    lead, flank = (0.16, 0.58) if rounded else (1 / (2 * pi), 1 / 3**0.5)
    part = lead * thread.pitch + flank * mu.thread * thread.pitch_diameter
    return preload * (part + 0.5 * mu.bearing * mean_face)


def test_friction_forms() -> None:
    """ISO 16047 and VDI 2230 torque forms (from memory), M20x2.5 at 130 kN: our long form lies 0.3 % over the first."""
    thread, mu = metric(20 * MM, 2.5 * MM), Friction(0.12, 0.12)
    bearing, hole = 28.2 * MM, 22 * MM  # mean 25.1 mm
    exact = additive(130e3, thread, mu, 25.1 * MM, rounded=False)
    assert exact == pytest.approx(413.01, rel=1e-4)
    assert additive(130e3, thread, mu, 25.1 * MM, rounded=True) == pytest.approx(414.05, rel=1e-4)
    assert 1.0 < torque(130e3, thread, mu, bearing, hole) / exact < 1.004


# VDI 2230 guide values of the tightening factor: scatter column from VDI 2230:1986 and :2001, α_A = (1 + s)/(1 − s)
@pytest.mark.parametrize(
    ("scatter", "factor"),
    [(0.05, 1.105), (0.12, 1.273), (0.09, 1.198), (0.23, 1.597), (0.17, 1.41), (0.28, 1.778), (0.60, 4.0)],
)
def test_tightening_factor(scatter: float, factor: float) -> None:
    assert tightening_factor(scatter) == pytest.approx(factor, rel=1e-3)


def test_preload_limits() -> None:
    """J. Fail. Anal. Prev. 2019, doi 10.1007/s11668-019-00693-z: F = T/(kD), (1 ∓ Γ)·F; numbers derived."""
    nominal = preload_short(432.0, 0.18, 20 * MM)
    assert nominal == pytest.approx(120e3, rel=1e-6)
    low, high = joint_preload_limits(nominal, 0.35, 0.0)
    assert (low, high) == pytest.approx((78e3, 162e3), rel=1e-6)


# Shigley 8th to 10th ed., Prob. 8-4, published solutions: square thread with collar; the long form with a flat flank
@pytest.mark.parametrize(
    ("load", "f", "fc", "collar", "raising", "lowering", "efficiency"),
    [(5e3, 0.09, 0.06, 45, 15.85, 7.83, 0.251), (6e3, 0.08, 0.05, 40, 16.23, 6.622, 0.294)],
)
def test_power_screw(
    load: float, f: float, fc: float, collar: float, raising: float, lowering: float, efficiency: float
) -> None:
    middle, lead = 22.5 * MM, 5 * MM
    face = load * fc * collar * MM / 2
    up = load * screw_torque(middle, lead, f, 0.0) + face
    assert up == pytest.approx(raising, rel=2e-3)
    assert load * screw_torque(middle, -lead, f, 0.0) + face == pytest.approx(lowering, rel=2e-3)
    assert load * lead / (2 * pi * up) == pytest.approx(efficiency, rel=2e-3)


def test_default_scatter_covers_measured_preloads() -> None:
    """Shigley, 9th ed., Table 8-14 p. 439: ten tests at 90 N·m, lubricated: mean 34.18 kN, deviation 2.88 kN."""
    loads = [30.3, 32.5, 32.5, 32.9, 32.9, 33.8, 34.3, 34.7, 37.4, 40.5]
    assert mean(loads) == pytest.approx(34.18, rel=1e-3)
    assert stdev(loads) == pytest.approx(2.88, rel=1e-3)
    low, high = joint_preload_limits(mean(loads), 0.25, 0.0)  # NASA: torque, lubricated
    assert low < min(loads)
    assert high > max(loads)

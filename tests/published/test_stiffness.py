"""Bolt and member stiffness and joint diagrams against textbooks."""

from __future__ import annotations

from math import log, pi, radians, tan

import pytest

from splitline.bolting.joint_load import bolt_state
from splitline.bolting.stiffness import (
    HEX_HEAD,
    NO_END,
    NUT,
    Bolt,
    Layer,
    bolt_compliances,
    bolt_stiffness,
    frustum,
    load_factor,
    member_compliance,
    member_stiffness,
    rod,
    series,
)
from splitline.bolting.thread import metric, unified

MM, INCH, LBF, PSI = 1e-3, 0.0254, 4.4482216152605, 6894.757293168361
MPSI, MLBF_IN = PSI * 1e6, LBF / INCH * 1e6


def test_shigley_8_2_geometry() -> None:
    """Shigley, 9th ed. (2011), Example 8-2 and Fig. 8-17 p. 431: cones of washer, steel and cast iron, half grip 0.6725."""
    washer, upper, lower, bearing = 0.095, 0.5, 0.75, 0.75
    half = (washer + upper + lower) / 2
    assert half == pytest.approx(0.6725, rel=1e-3)
    assert half - washer - upper == pytest.approx(0.0775, rel=1e-3)
    spread = 2 * tan(radians(30))
    assert bearing + spread * (washer + upper) == pytest.approx(1.437, rel=1e-3)
    assert bearing + spread * half == pytest.approx(1.527, rel=1e-3)
    # our layers give the book's frusta in series
    layers = [Layer((washer + upper) * INCH, 30 * MPSI, 1.0), Layer(lower * INCH, 14.5 * MPSI, 1.0)]
    ours = member_stiffness(layers, bearing * INCH, 0.5 * INCH, through=True)
    book = series(
        [
            frustum(30 * MPSI, 0.75 * INCH, 0.5 * INCH, 0.595 * INCH),
            frustum(14.5 * MPSI, 1.437 * INCH, 0.5 * INCH, 0.0775 * INCH),
            frustum(14.5 * MPSI, 0.75 * INCH, 0.5 * INCH, 0.6725 * INCH),
        ]
    )
    assert ours == pytest.approx(book, rel=1e-3)


def test_shigley_problem_8_25_tapped() -> None:
    """Shigley, 8th ed., published solution of Prob. 8-25: cap screw in a tapped hole, l = h + d/2 = 0.845 in."""
    bolt = rod(0.845 * INCH, 0.1419 * INCH**2, 30 * MPSI)
    assert 1 / bolt == pytest.approx(5.04 * MLBF_IN, rel=2e-3)
    cones = [
        frustum(modulus * MPSI, small * INCH, 0.5 * INCH, height * INCH)
        for modulus, small, height in ((30, 0.75, 0.4225), (30, 1.018, 0.1725), (14.5, 0.75, 0.25))
    ]
    for cone, book in zip(cones, (36.14, 134.6, 23.49), strict=True):
        assert 1 / cone == pytest.approx(book * MLBF_IN, rel=2e-3)
    assert series(cones) == pytest.approx(12.87 * MLBF_IN, rel=2e-3)
    assert load_factor(1 / bolt, series(cones)) == pytest.approx(0.281, rel=2e-3)
    # the book's 1.018 in is 0.02 in under its own 30° cone (0.75 + 2·0.25·tan 30° = 1.0387); our layers take the cone
    cones[1] = frustum(30 * MPSI, (0.75 + 0.5 * tan(radians(30))) * INCH, 0.5 * INCH, 0.1725 * INCH)
    layers = [Layer(0.595 * INCH, 30 * MPSI, 1.0), Layer(0.25 * INCH, 14.5 * MPSI, 1.0)]
    ours = member_stiffness(layers, 0.75 * INCH, 0.5 * INCH, through=True)
    assert ours == pytest.approx(series(cones), rel=1e-9)


def test_jindal_9_4() -> None:
    """Jindal, Machine Design, Ex. 9-4 p. 267: 45° cones from D = 1.5 d, final bolt stress 123.28 MPa."""
    d, area, e_bolt, e_member = 20 * MM, 245e-6, 205e9, 105e9
    bolt = 1 / rod(84 * MM, pi / 4 * d**2, e_bolt)  # full shank between the faces
    member = 1 / member_compliance([Layer(80 * MM, e_member, 1.0)], 1.5 * d, d, True, radians(45))
    state = bolt_state(105e6 * area, 105e6 * area, load_factor(bolt, member), 20e3, 0.0)
    assert state.high / area == pytest.approx(123.28e6, rel=1e-3)


def test_jindal_5_5_gasket() -> None:
    """Jindal, Machine Design, Ex. 5-5 p. 141: bolt and gasket stiffness by plain rods."""
    bolt = 1 / rod(24 * MM, pi / 4 * (15 * MM) ** 2, 210e9)
    assert bolt == pytest.approx(1546.25e6, rel=1e-3)
    gasket = member_stiffness([Layer(3 * MM, 480e6, 30 * MM)], 30 * MM, 15 * MM, through=True, half_angle=0.0)
    assert gasket == pytest.approx(84.82e6, rel=1e-3)


def test_bhandari_7_16_and_7_17() -> None:
    """Bhandari, Design of Machine Elements, Ex. 7.16 p. 256 and 7.17 p. 257.

    The book adds Φ·P to a preload so low that the faces part; our bolt then carries the whole load instead.
    """
    d, length = 1.0, 1.0  # any: only the ratio counts
    bolt = 1 / rod(length, pi / 4 * d**2, 207e9)
    plates = 1 / rod(length, pi / 4 * ((2 * d) ** 2 - d**2), 71e9)
    share = load_factor(bolt, plates)
    assert share == pytest.approx(0.49286, rel=1e-4)
    state = bolt_state(5e3, 5e3, share, 10e3, 0.0)
    assert 5e3 + state.swing == pytest.approx(9928.6, rel=1e-4)
    assert (5e3 + state.swing) / (380e6 / 2.5) == pytest.approx(65.3195e-6, rel=1e-4)
    assert state.residual_clamp < 0.0
    assert state.high == pytest.approx(10e3)
    soft = bolt_state(2.5e3, 2.5e3, load_factor(1.0, 2.5), 5e3, 0.0)
    assert (2.5e3 + soft.swing) / (400e6 / 2.5) == pytest.approx(24.5536e-6, rel=1e-4)
    assert soft.high == pytest.approx(5e3)


def test_wentzell_6_4b() -> None:
    """Wentzell, Machine Design, Ex. 6.4 p. 124: ten studs on a cylinder head, total bolt load under pressure."""
    bolts = 10 / rod(6 * INCH, 1.073 * INCH**2, 30 * MPSI)
    members = 1 / rod(6 * INCH, 50 * INCH**2, 30 * MPSI)
    head = 500 * PSI * pi / 4 * (20 * INCH) ** 2
    preload = 10 * 115_884 * LBF
    state = bolt_state(preload, preload, load_factor(bolts, members), head, 0.0)
    assert state.high == pytest.approx(1_186_593.4 * LBF, rel=1e-5)


def test_frustum_is_the_integral_of_its_slices() -> None:
    """The closed form beside its own definition, ∫ dz/(E π/4 (D(z)² − d²)), by Simpson's rule."""
    small, hole, height, modulus = 75 * MM, 52 * MM, 130 * MM, 205e9
    n, total = 2000, 0.0
    for k in range(n + 1):
        diameter = small + 2 * height * k / n * tan(radians(30))
        weight = 1 if k in (0, n) else (4 if k % 2 else 2)
        total += weight / (modulus * pi / 4 * (diameter**2 - hole**2))
    assert frustum(modulus, small, hole, height) == pytest.approx(total * height / n / 3, rel=1e-6)


def test_vdi_cone_limited_by_its_sleeve() -> None:
    """VDI 2230-1:2003, eq. 5.1/24 (D_W < D_A < D_A,Gr), a tapped joint (w = 2), with tan φ = tan 30°."""
    bearing, hole, sleeve, grip, modulus, t = 75 * MM, 52 * MM, 120 * MM, 200 * MM, 205e9, tan(radians(30))
    w = 2
    cone = 2 / (w * hole * t) * log((bearing + hole) * (sleeve - hole) / ((bearing - hole) * (sleeve + hole)))
    tube = 4 / (sleeve**2 - hole**2) * (grip - (sleeve - bearing) / (w * t))
    ours = member_compliance([Layer(grip, modulus, sleeve)], bearing, hole, through=False)
    assert ours == pytest.approx((cone + tube) / (modulus * pi), rel=1e-9)


def test_bolt_by_segments_with_allowances() -> None:
    """Shank, thread at the stress area (Shigley eq. 8-17); mid-nut 0.5 d (ASME PCC-1), hex head 0.5 d (VDI 2230, 5.1.1)."""
    d, modulus = 48 * MM, 205e9
    thread = metric(d, 3 * MM)
    bolt = Bolt(thread, modulus, 268 * MM, 44 * MM, 180 * MM, 14 * MM, ends=(NUT, HEX_HEAD))
    bore = pi / 4 * (14 * MM) ** 2
    area, full = pi / 4 * (48 - 0.9382 * 3) ** 2 * 1e-6 - bore, pi / 4 * d**2 - bore
    shank = pi / 4 * (44 * MM) ** 2 - bore
    hand = (0.180 / shank + 0.088 / area + 0.5 * d / area + 0.5 * d / full) / modulus
    assert 1 / bolt_stiffness(bolt) == pytest.approx(hand, rel=1e-9)
    assert sum(bolt_compliances(bolt).values()) == pytest.approx(hand, rel=1e-9)


def test_stretch_of_a_full_thread_stud() -> None:
    """ASME PCC-1, stretch control (from memory): ΔL = S·L_eff/E on the stress area, L_eff from mid-nut to mid-nut."""
    thread = unified(1.5 * INCH, 8)
    stud = Bolt(thread, 29.7e6 * PSI, 9 * INCH, ends=(NUT, NUT))
    load = 50e3 * PSI * thread.stress_area
    assert load / bolt_stiffness(stud) == pytest.approx(50e3 * (9 + 1.5) / 29.7e6 * INCH, rel=1e-9)


def test_plain_inch_rod() -> None:
    """Without allowances a full shank is EA/L (definition)."""
    thread = unified(1.5 * INCH, 8)
    bolt = Bolt(thread, 200e9, 0.3, thread.d, 0.3, ends=(NO_END, NO_END))
    assert bolt_stiffness(bolt) == pytest.approx(200e9 * pi / 4 * thread.d**2 / 0.3, rel=1e-12)

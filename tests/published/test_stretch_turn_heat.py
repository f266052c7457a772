"""Stretch, nut turn, heating and tensioner allowance against textbooks."""

from __future__ import annotations

from math import inf, pi, radians

import numpy as np
import pytest

from splitline.bolting.joint_load import Heat, thermal_change
from splitline.bolting.stiffness import rod
from splitline.bolting.stretch import heat_rise, load_from_turn, nut_advance, strain_energy, stretch, turn_angle
from splitline.bolting.tools import nut_give, tensioner_loss

MM, INCH, LBF, PSI, KSI = 1e-3, 0.0254, 4.4482216152605, 6894.757293168361, 6894757.293168361


def test_wentzell_6_2() -> None:
    """Wentzell, Machine Design, Ex. 6.2 p. 121: stretch at 72,250 psi over 5 in, and the turn at 10 threads per inch."""
    area = 0.334 * INCH**2
    bolt = 1 / rod(5 * INCH, area, 30e6 * PSI)
    load = 72_250 * PSI * area
    assert stretch(load, bolt) == pytest.approx(0.01204 * INCH, rel=1e-3)
    rigid = 1e9 * bolt
    assert turn_angle(load, 0.0, bolt, rigid, 0.1 * INCH) == pytest.approx(radians(43.35), rel=1e-3)


def test_bhavikatti_8_23() -> None:
    """Bhavikatti, Mechanics of Solids, Ex. 8.23 p. 268: bolt in a tube, nut advanced 0.5 mm."""
    bolt_area, tube_area = pi / 4 * 20**2 * 1e-6, pi / 4 * (40**2 - 28**2) * 1e-6
    bolt, tube = 1 / rod(0.6, bolt_area, 200e9), 1 / rod(0.6, tube_area, 120e9)
    load = load_from_turn(2 * pi, 0.0, bolt, tube, 0.5 * MM)
    assert load / bolt_area == pytest.approx(91.73e6, rel=1e-3)
    assert load / tube_area == pytest.approx(44.96e6, rel=1e-3)
    assert nut_advance(load, 0.0, bolt, tube) == pytest.approx(0.5 * MM, rel=1e-9)


def test_beer_johnston_2_2() -> None:
    """Beer & Johnston, Sample Problem 2.2 p. 71: two bolts each side of a rod, quarter turn of 0.1 in pitch."""
    bolt = 1 / rod(18 * INCH, pi / 4 * (0.75 * INCH) ** 2, 29e6 * PSI)
    rod_area = pi / 4 * (1.5 * INCH) ** 2
    half_rod = 0.5 / rod(12 * INCH, rod_area, 10.6e6 * PSI)  # each bolt squeezes half the rod
    load = load_from_turn(radians(90), 0.0, bolt, half_rod, 0.1 * INCH)
    assert 2 * load / rod_area == pytest.approx(10.533 * KSI, rel=1e-3)


def test_hibbeler_4_8() -> None:
    """Hibbeler, Mechanics of Materials, Ex. 4.8 p. 142 (moduli from memory): half turn at 20 threads per inch."""
    bolt_area, tube_area = pi * (0.25 * INCH) ** 2, pi * (0.5**2 - 0.25**2) * INCH**2
    bolt, tube = 1 / rod(3 * INCH, bolt_area, 10_600 * KSI), 1 / rod(3 * INCH, tube_area, 6_480 * KSI)
    load = load_from_turn(pi, 0.0, bolt, tube, INCH / 20)
    assert load == pytest.approx(11.22e3 * LBF, rel=4e-3)
    assert load / bolt_area == pytest.approx(57.1 * KSI, rel=4e-3)
    assert load / tube_area == pytest.approx(19.0 * KSI, rel=4e-3)


def test_gere_2_15() -> None:
    """Gere, Mechanics of Materials, Ex. 2.15 p. 126: energy of reduced-shank and long bolts at one load."""
    full, small = pi / 4 * 0.5**2, pi / 4 * 0.406**2
    plain = rod(1.25, full, 1.0) + rod(0.25, small, 1.0)
    reduced = rod(1.5, small, 1.0)
    long = rod(13.25, full, 1.0) + rod(0.25, small, 1.0)
    energy = [strain_energy(1.0, 1 / c) for c in (plain, reduced, long)]
    assert energy[1] / energy[0] == pytest.approx(1.40, rel=3e-3)
    assert energy[2] / (2 * energy[0]) == pytest.approx(4.18, rel=3e-3)


@pytest.mark.parametrize("beside", [0.0, 0.5, 1.0])
@pytest.mark.parametrize(("d", "length"), [(64, 200), (48, 268), (30, 400)])
def test_load_loss_of_a_tensioner(d: float, length: float, beside: float) -> None:
    """Independent model: a member of two places, under the nut and under the bridge, coupled by flexibility, and pull,
    run-down and release as one system of equations."""
    stud, nut = rod(length * MM, pi / 4 * (0.92 * d * MM) ** 2, 205e9), nut_give(d * MM, 205e9)
    seat = rod(length * MM, pi / 4 * ((2.5 * d * MM) ** 2 - (1.1 * d * MM) ** 2), 205e9)
    # unknown: load left in the nut, and the gap run down while the tool pulls 1 N, of which the nut takes nothing
    lines = np.array([[0.0, 1.0], [stud + seat + nut, -1.0]])
    left, _ = np.linalg.solve(lines, np.array([stud + beside * seat, 0.0]))
    assert tensioner_loss(stud, seat, nut, beside=beside) == pytest.approx(1 / left, rel=1e-9)
    assert 1.0 < 1 / left < 1.45  # common practice, no published source: a twentieth to a third is lost


def test_heating_gives_the_stress_of_a_held_bar() -> None:
    """Mechanics (Gere, ch. 2.5): a bar held at its ends and cooled by ΔT carries E·α·ΔT; the rise is the inverse."""
    modulus, expansion, length, area = 205e9, 12e-6, 0.5, 3e-3
    bolt = 1 / rod(length, area, modulus)
    rise = heat_rise(nut_advance(300e6 * area, 0.0, bolt, 1e15), length, expansion)
    assert rise == pytest.approx(300e6 / (modulus * expansion), rel=1e-4)


def test_thermal_change_of_bolt_and_sleeve() -> None:
    """Mechanics (Gere, Ex. 2-8, sleeve and bolt both heated): force E_s A_s E_b A_b (α_s − α_b) ΔT/(E_s A_s + E_b A_b)."""
    ebab, esas, rise, length = 205e9 * 1e-3, 105e9 * 2e-3, 100.0, 0.4
    heat = Heat(length, 12e-6, rise, 18e-6, rise)
    force = thermal_change(heat, length / ebab, length / esas)
    assert force == pytest.approx(ebab * esas * 6e-6 * rise / (ebab + esas), rel=1e-12)


def test_rigid_members_may_be_infinite() -> None:
    assert load_from_turn(2 * pi, 0.0, 1e9, inf, 1 * MM) == pytest.approx(1e6)

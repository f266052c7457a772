"""Limits, symmetry and reciprocity of the interaction model."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.tightening.contact import (
    Flange,
    beam_compliance,
    infinite_beam_descent,
    rectangle_torsion,
    ring_compliance,
)
from splitline.tightening.interaction import (
    interaction,
    joint_matrix,
    measured_circle,
    measured_line,
    two_sides,
)
from tests.tightening.joints import BOLT, cover, flange

FLANGES = st.builds(
    Flange,
    st.floats(7e10, 2.2e11),
    st.floats(0.03, 0.4),
    st.floats(0.03, 0.4),
    st.floats(1e9, 5e12),
)


@given(FLANGES, st.floats(0.2, 3.0), st.integers(3, 60))
@settings(max_examples=30, deadline=None)
def test_ring_is_reciprocal_and_alike_all_round(made: Flange, radius: float, bolts: int) -> None:
    matrix = ring_compliance(made, radius, bolts)
    assert matrix == pytest.approx(matrix.T, rel=1e-12)
    assert np.roll(np.roll(matrix, 1, 0), 1, 1) == pytest.approx(matrix, rel=1e-12)
    assert np.linalg.eigvalsh(matrix).min() > 0
    a = interaction(joint_matrix(matrix, np.full(bolts, BOLT)))
    assert np.diag(a) == pytest.approx(1.0)
    assert a == pytest.approx(a.T, rel=1e-6, abs=1e-9)


def test_total_of_a_ring_is_the_face_alone() -> None:
    """All bolts pulled alike press the cover down evenly: Σ C = n / (2πR·k), whatever the ring's stiffness."""
    made = flange()
    row = ring_compliance(made, 0.59, 24)[0]
    # Between bolts the ring still bends: with many bolts that is gone.
    many = ring_compliance(made, 0.59, 400)[0]
    even = 1 / (2 * pi * 0.59 * made.line_stiffness)
    assert many.sum() / 400 == pytest.approx(even, rel=1e-6)
    assert row.sum() / 24 == pytest.approx(even, rel=0.01)


def test_rigid_face_means_no_interaction() -> None:
    made = Flange(2e11, 0.15, 0.15, 1e19)
    a = interaction(joint_matrix(ring_compliance(made, 0.59, 24), np.full(24, BOLT)))
    assert np.abs(a - np.eye(24)).max() < 1e-5


def test_rigid_ring_is_a_plate_on_springs() -> None:
    """Descent (1/(2πR))·(1/k + 2·cos Δ/(k + k_r/R²)): even descent and tilt, the ring turning with its section."""
    made = Flange(1e21, 0.15, 0.15, 7e11)
    angle = 2 * pi * np.arange(24) / 24
    face, rock = made.line_stiffness, made.rocking_stiffness
    rigid = (1 / face + 2 * np.cos(angle) / (face + rock / 0.59**2)) / (2 * pi * 0.59)
    assert ring_compliance(made, 0.59, 24)[0] == pytest.approx(rigid, rel=1e-6, abs=1e-6 * rigid[0])


def test_large_ring_is_an_endless_beam() -> None:
    """With a radius of many decay lengths the curve does not matter; Hetényi's endless beam, rocking apart."""
    made = flange(10)
    radius, bolts = 40.0, 800
    pitch = 2 * pi * radius / bolts
    row = ring_compliance(made, radius, bolts)[0]
    for away in range(6):
        assert row[away] == pytest.approx(infinite_beam_descent(made, away * pitch), abs=2e-3 * row[0])


def test_middle_of_a_long_beam_is_an_endless_beam() -> None:
    made = flange()
    places = [9.7, 9.9, 10.0, 10.4]
    matrix = beam_compliance(made, places, 0.0, 20.0)
    for one, here in enumerate(places):
        for other, there in enumerate(places):
            assert matrix[one, other] == pytest.approx(infinite_beam_descent(made, here - there), rel=1e-9)


def test_short_beam_is_rigid() -> None:
    """Descent and tilt on springs: (1 + 12·x·ξ/L²)/(k·L), also where the closed form would lose its digits."""
    for modulus in (1e17, 1e22, 1e27):
        made = Flange(modulus, 0.13, 0.15, 7e11)
        at = np.array([0.05, 0.2, 0.5])
        middle = at - 0.3
        rigid = (1 + 12 * np.outer(middle, middle) / 0.36) / (made.line_stiffness * 0.6)
        assert beam_compliance(made, at, 0.0, 0.6) == pytest.approx(rigid, rel=1e-4, abs=1e-6 * rigid.max())


@given(FLANGES, st.floats(0.2, 6.0), st.lists(st.floats(0, 1), min_size=2, max_size=30, unique=True))
@settings(max_examples=60, deadline=None)
def test_beam_mirrored_is_the_same_beam(made: Flange, length: float, shares: list[float]) -> None:
    at = np.array(sorted(shares)) * length
    matrix = beam_compliance(made, at, 0.0, length)
    mirrored = beam_compliance(made, length - at[::-1], 0.0, length)[::-1, ::-1]
    assert mirrored == pytest.approx(matrix, rel=1e-6, abs=1e-9 * matrix.max())
    assert np.linalg.eigvalsh(matrix).min() > -1e-9 * matrix.max()


def test_one_bolt_is_two_springs_in_series() -> None:
    made = flange()
    seat = ring_compliance(made, 0.59, 1)
    stiffness = np.linalg.inv(joint_matrix(seat, [BOLT]))
    assert stiffness[0, 0] == pytest.approx(1 / (1 / BOLT + seat[0, 0]))


def test_order_of_magnitude() -> None:
    """Thick metal faces about 1 %, gasketed 10 to 30 % (experience of flange assembly, no single source)."""
    assert -0.02 < cover().interaction[1, 0] < -0.005
    assert -0.30 < cover(softer=30).interaction[1, 0] < -0.10


def test_softer_face_passes_more_on() -> None:
    losses = [-cover(softer=soft).interaction[1, 0] for soft in (0.1, 1, 5, 20, 50)]
    assert losses == sorted(losses)


def test_sides_of_a_split_line_stay_apart() -> None:
    made = flange()
    sides = [beam_compliance(made, at, -0.1, 1.1) for at in ([0.0, 0.5, 1.0], [0.0, 1.0])]
    a = interaction(joint_matrix(two_sides(*sides), np.full(5, BOLT)))
    assert (a[:3, 3:] == 0).all()
    assert (a[3:, :3] == 0).all()


def test_torsion_constant_of_a_square_and_a_strip() -> None:
    """Square of side b: 0.1406·b⁴; thin strip: b·t³/3 (Timoshenko & Goodier, Theory of Elasticity, torsion)."""
    assert rectangle_torsion(0.1, 0.1) == pytest.approx(0.1406e-4, rel=0.005)
    assert rectangle_torsion(1.0, 0.001) == pytest.approx(1.0 * 0.001**3 / 3, rel=0.005)
    assert rectangle_torsion(0.2, 0.1) == rectangle_torsion(0.1, 0.2)


def test_measured_coefficients_by_distance() -> None:
    a = measured_circle([1.0, -0.08, -0.02], 8)
    assert a[0].tolist() == [1.0, -0.08, -0.02, 0, 0, 0, -0.02, -0.08]
    line = measured_line([1.0, -0.1], 3, 2)
    assert line[0].tolist() == [1.0, -0.1, 0, 0, 0]
    assert line[3].tolist() == [0, 0, 0, 1.0, -0.1]


@pytest.mark.parametrize("coefficients", [[], [0.9, -0.1], [1.0, -1.0], [1.0, float("nan")]])
def test_measured_coefficients_that_cannot_be(coefficients: list[float]) -> None:
    with pytest.raises(InputError):
        measured_circle(coefficients, 8)


def test_refused_inputs() -> None:
    with pytest.raises(InputError, match="width"):
        Flange(2e11, 0.0, 0.15, 7e11)
    with pytest.raises(InputError, match="on the flange"):
        beam_compliance(flange(), [0.0, 2.0], 0.0, 1.0)
    with pytest.raises(InputError, match="radius"):
        ring_compliance(flange(), 0.0, 12)
    with pytest.raises(InputError, match="does not fit"):
        joint_matrix(np.eye(3), [1.0, 1.0])
    with pytest.raises(InputError, match="stiffness"):
        joint_matrix(np.eye(2), [1.0, 0.0])
    with pytest.raises(InputError, match="symmetric"):
        joint_matrix(np.array([[1.0, 0.5], [0.0, 1.0]]), [1.0, 1.0])

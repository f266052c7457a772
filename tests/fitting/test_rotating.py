"""The rotating disc: equilibrium, free surfaces, the solid and thin-ring limits."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.cylinder import Elastic
from splitline.fitting.rotating import spin_growth, spinning

STEEL = Elastic(207e9, 0.3, 7830.0)


@given(st.floats(0.05, 0.9), st.floats(10, 3000), st.floats(0.05, 0.45), st.floats(0.05, 0.95))
def test_equilibrium_and_compatibility(bore: float, speed: float, nu: float, place: float) -> None:
    """d(r σ_r)/dr − σ_t + ρω²r² = 0 and du/dr = ε_r, by central differences."""
    material = Elastic(207e9, nu, 7830.0)
    d = bore + (1 - bore) * place
    h = 1e-5

    def stress(at: float) -> tuple[float, float]:
        s = spinning(at, bore, 1.0, material, speed)
        return s.radial, s.hoop

    r = d / 2
    up, down = stress(d + 2 * h)[0] * (r + h), stress(d - 2 * h)[0] * (r - h)
    left = (up - down) / (2 * h) - stress(d)[1] + material.density * speed**2 * r**2
    assert left == pytest.approx(0.0, abs=1e-5 * stress(bore)[1])
    grown = (
        spin_growth(d + 2 * h, bore, 1.0, material, speed) - spin_growth(d - 2 * h, bore, 1.0, material, speed)
    ) / (4 * h)
    radial_strain = (stress(d)[0] - nu * stress(d)[1]) / material.modulus
    assert grown == pytest.approx(radial_strain, rel=1e-4, abs=1e-4 * stress(bore)[1] / material.modulus)


@given(st.floats(0.05, 0.95), st.floats(10, 3000))
def test_free_surfaces_carry_no_radial_stress(bore: float, speed: float) -> None:
    scale = spinning(bore, bore, 1.0, STEEL, speed).hoop
    for at in (bore, 1.0):
        assert spinning(at, bore, 1.0, STEEL, speed).radial == pytest.approx(0.0, abs=1e-9 * scale)


def test_thin_ring_stands_at_density_times_rim_speed_squared() -> None:
    speed, r = 1000.0, 0.25
    assert spinning(0.5, 0.499, 0.5, STEEL, speed).hoop == pytest.approx(7830 * (speed * r) ** 2, rel=5e-3)


def test_pinhole_doubles_the_centre_stress_of_a_solid_disc() -> None:
    solid = spinning(0.0, 0.0, 0.5, STEEL, 1000.0)
    assert solid.radial == solid.hoop
    assert spinning(1e-5, 1e-5, 0.5, STEEL, 1000.0).hoop == pytest.approx(2 * solid.hoop, rel=1e-6)


def test_a_place_outside_the_disc_is_refused() -> None:
    with pytest.raises(InputError, match="outside"):
        spinning(0.6, 0.1, 0.5, STEEL, 100.0)
    with pytest.raises(InputError, match="speed"):
        spinning(0.2, 0.1, 0.5, STEEL, -1.0)

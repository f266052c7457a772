"""Mounting on oil, by heat and by force."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import InputError
from splitline.fitting.cylinder import Elastic, pressed
from splitline.fitting.heating import Cooling, carrying_time, cooling_drop, heating_band, heating_rise, opening
from splitline.fitting.interference import Pair, contact_pressure
from splitline.fitting.mounting import (
    push_force,
    push_off_force,
    ram_pressure,
    stored_energy,
)
from splitline.fitting.taper import Taper, advance_for

STEEL = Elastic(207e9, 0.3, 7830.0, 11.4e-6)
PAIR = Pair(0.16, 0.0, 0.25, 0.09, STEEL, STEEL)
TAPER = Taper(1 / 30)


def test_push_and_push_off_differ_by_twice_the_friction() -> None:
    up, off = push_force(PAIR, 80e6, 0.015, TAPER), push_off_force(PAIR, 80e6, 0.015, TAPER)
    assert up - off == pytest.approx(2 * 0.015 * 80e6 * PAIR.area, rel=1e-12)
    assert push_force(PAIR, 80e6, 0.0, Taper()) == 0.0
    assert push_off_force(PAIR, 80e6, 0.02, TAPER) < 0 < push_off_force(PAIR, 80e6, 0.005, TAPER)


def test_work_of_pushing_up_without_friction_is_the_stored_energy() -> None:
    """The push force grows in step with the advance: its work, half force times advance, ends up in hub and shaft."""
    interference = 0.18e-3
    push = push_force(PAIR, contact_pressure(PAIR, interference), 0.0, TAPER)
    assert 0.5 * push * advance_for(interference, TAPER) == pytest.approx(stored_energy(PAIR, interference), rel=1e-9)


def test_strain_energy_of_both_bodies_is_the_stored_energy() -> None:
    """½σ:ε summed over hub and solid shaft by rings gives the same figure."""
    interference = 0.18e-3
    p = contact_pressure(PAIR, interference)
    total, n = 0.0, 4000
    for bore, outer, inside, outside in ((0.16, 0.25, p, 0.0), (0.0, 0.16, 0.0, p)):
        step = (outer - bore) / n
        for i in range(n):
            at = bore + (i + 0.5) * step
            s = pressed(at, bore, outer, inside, outside)
            density = (s.radial**2 + s.hoop**2 - 2 * 0.3 * s.radial * s.hoop) / (2 * STEEL.modulus)
            total += density * math.pi * at / 2 * step * PAIR.length
    assert stored_energy(PAIR, interference) == pytest.approx(total, rel=1e-5)


def test_ram() -> None:
    assert ram_pressure(1e5, 0.01) == pytest.approx(1e7)


@given(st.floats(1e-5, 1e-3), st.floats(0, 5e-4), st.floats(0.02, 1.0), st.floats(5e-6, 2e-5))
def test_the_heated_bore_opens_by_interference_and_gap(delta: float, gap: float, d: float, alpha: float) -> None:
    rise = heating_rise(delta, gap, d, alpha)
    assert opening(d, alpha, rise) == pytest.approx(delta + gap, rel=1e-12)
    low, high = heating_band(rise)
    assert opening(d, alpha * 0.95, high) == pytest.approx(delta + gap, rel=1e-12)
    assert low < rise < high


def test_cooling_the_shaft_saves_heat() -> None:
    shrink = -opening(0.16, 11.4e-6, -60.0)
    saved = heating_rise(0.18e-3, 0.16e-3, 0.16, 11.4e-6) - heating_rise(0.18e-3, 0.16e-3, 0.16, 11.4e-6, shrink)
    assert saved == pytest.approx(60.0)
    assert heating_rise(0.01e-3, 0.0, 0.16, 11.4e-6, 1e-3) == 0.0
    assert cooling_drop(shrink, 0.16, 11.4e-6) == pytest.approx(60.0)
    with pytest.raises(InputError, match="absolute zero"):
        cooling_drop(1e-3, 0.1, 1e-5)


def test_carrying_time_without_radiation_is_the_closed_form() -> None:
    """m c/(h A) ln((T₁ − T_a)/(T₂ − T_a)), A with the bore (lumped cooling, heat-transfer texts)."""
    hub = Cooling(0.16, 0.25, 0.09, convection=15.0, emissivity=0.0)
    area = hub.surface + math.pi * 0.16 * 0.09
    closed = hub.density * 480.0 * hub.volume / (15.0 * area) * math.log(200 / 110)
    assert carrying_time(hub, 293.15 + 200, 293.15 + 110) == pytest.approx(closed, rel=1e-6)


def test_carrying_time_with_radiation_matches_stepping_through_it() -> None:
    hub = Cooling(0.16, 0.25, 0.09)
    hot, closed = 493.15, 393.15
    temperature, clock, step = hot, 0.0, 0.5
    while temperature > closed:
        lost = hub.film(temperature) * hub.surface + hub.convection * math.pi * hub.bore * hub.length
        temperature -= lost * (temperature - hub.ambient) * step / (hub.density * hub.specific_heat * hub.volume)
        clock += step
    assert carrying_time(hub, hot, closed) == pytest.approx(clock, rel=2e-3)
    assert hub.biot(hot) < 0.1
    with pytest.raises(InputError):
        carrying_time(hub, 300.0, 400.0)
    assert carrying_time(hub, hot, hot) == 0.0


@pytest.mark.parametrize("change", [{"outer": 0.1}, {"length": 0.0}, {"emissivity": 1.5}, {"ambient": -3.0}])
def test_impossible_hubs_are_refused(change: dict[str, float]) -> None:
    with pytest.raises(InputError):
        Cooling(**({"bore": 0.16, "outer": 0.25, "length": 0.09} | change))

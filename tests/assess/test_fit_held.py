"""Keys, shoulders and nuts: friction alone is not the capacity of such a part. Figures worked out by hand from Shigley."""

from __future__ import annotations

import pytest

from splitline.fitting.held import key_bearing_torque, key_shear_torque, nut_force, shoulder_pressure
from tests.assess.test_fit import check, fit

KEY = {"key_width": "28 mm", "key_height": "16 mm", "key_length": "90 mm", "key_yield": "350 MPa"}
NUT = {"shoulder_diameter": "130 mm", "nut_torque": "1900 N*m", "nut_thread": "95 mm"}


def test_shigley_example_of_a_square_key() -> None:
    """Shigley 9th ed., example 7-6 (from memory): 1.4375 in shaft, 3/8 in key of 65 kpsi, F = 2819 lbf, n 2.8: l = 0.56 in."""
    inch, pound, kpsi = 0.0254, 4.4482216152605, 6.894757e6
    torque = key_shear_torque(1.4375 * inch, 0.375 * inch, 1.0 * inch, 65 * kpsi)
    force = torque / (1.4375 * inch / 2) / pound  # of one inch of key
    assert 2.8 * 2819 / force == pytest.approx(0.561, abs=0.004)


def test_key_and_nut_by_hand() -> None:
    assert key_shear_torque(0.1, 0.028, 0.09, 350e6) == pytest.approx(0.577 * 350e6 * 0.028 * 0.09 * 0.05)
    assert key_bearing_torque(0.1, 0.016, 0.09, 350e6) == pytest.approx(350e6 * 0.008 * 0.09 * 0.05)
    assert key_bearing_torque(0.1, 0.016, 0.09, 350e6, 2) == pytest.approx(1.5 * 350e6 * 0.008 * 0.09 * 0.05)
    assert nut_force(1900.0, 0.095) == pytest.approx(100e3)
    assert shoulder_pressure(100e3, 0.13, 0.1) == pytest.approx(100e3 / (0.7853981634 * (0.0169 - 0.01)))


def test_a_key_takes_the_torque_and_is_judged_with_the_factor() -> None:
    # bearing 12.6 kN·m over 1.5: 8.4 kN·m
    good = fit(**KEY, torque="8 kN*m", axial="5 kN")
    assert check(good, "key_bearing").verdict in ("ok", "near")
    assert check(fit(**KEY, torque="9 kN*m", axial="5 kN"), "key_bearing").verdict == "fails"
    assert check(fit(**(KEY | {"key_yield": None}), torque="8 kN*m"), "key").verdict == "missing"


def test_a_soft_hub_limits_the_key() -> None:
    soft = fit(**KEY, torque="8 kN*m", hub_yield="200 MPa").results["key_bearing_torque"]
    assert soft == pytest.approx(fit(**KEY, torque="8 kN*m").results["key_bearing_torque"] * 200 / 350)


def test_a_part_that_only_locates_needs_key_shoulder_and_nut_for_its_duty() -> None:
    bare = fit(locates=True, torque="8 kN*m", axial="20 kN")
    assert check(bare, "key").verdict == check(bare, "held_axially").verdict == "missing"
    whole = fit(locates=True, torque="8 kN*m", axial="20 kN", **KEY, **NUT)
    assert check(whole, "nut_force").verdict == "ok"
    assert check(fit(locates=True, torque="8 kN*m", axial="80 kN", **KEY, **NUT), "nut_force").verdict == "fails"
    assert not [c for c in whole.checks if c.key in ("grip", "held_by")]
    assert check(fit(locates=True, torque=None, axial=None), "held_by").verdict == "on-site"


def test_a_shoulder_without_axial_force_asks_for_no_nut() -> None:
    shoulder = {"locates": True, "torque": None, "shoulder_diameter": "130 mm"}
    assert check(fit(**shoulder, axial="0 kN"), "held_axially").verdict == "ok"
    assert check(fit(**shoulder, axial="5 kN"), "held_axially").verdict == "missing"
    assert check(fit(**shoulder, axial=None), "held_axially").verdict == "missing"


@pytest.mark.parametrize("mounting", ["oil", "heat", "press"])
def test_nut_torque_and_face_runout_stand_on_a_step_and_are_read(mounting: str) -> None:
    found = fit(mounting=mounting, max_temperature="260 degC", **NUT, face_runout="0.01 mm").fit.mounting
    told = [{limit.name: limit for limit in step.log} for step in found]
    (nut,) = [each["nut_torque"] for each in told if "nut_torque" in each]
    (face,) = [each["face_runout"] for each in told if "face_runout" in each]
    assert nut.target == 1900.0
    assert face.high == pytest.approx(1e-5)

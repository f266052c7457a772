"""Published values all the way through: a joint as typed in a plan, read, assessed, and its result held against the book."""

from __future__ import annotations

from typing import Any

import pytest

from splitline.assess.result import ItemResult
from tests.assess.joint_plans import assess

MM2, INCH2, LBF, FT_LBF = 1e-6, 0.0254**2, 4.4482216152605, 1.3558179483314
BARE = {
    "bolting__shank_diameter": None, "bolting__shank_length": None, "bolting__modulus": None, "bolting__expansion": None,
    "bolting__hole_diameter": None, "bolting__bearing_diameter": None, "layout__bolts": 8,
}  # fmt: skip


def bolt(**changes: Any) -> ItemResult:
    return assess(**{**BARE, **changes})


# VDI 2230:2001 table as reproduced in a fastener catalogue (hex bolts, ISO 273 medium holes): preload kN, torque N·m
@pytest.mark.parametrize(
    ("thread", "mu", "grade", "face", "hole", "load", "torque"),
    [
        ("M12x1.25", 0.12, "8.8", 16.6, 13.5, 48, 90),
        ("M16x1.5", 0.14, "10.9", 22.5, 17.5, 125.5, 359),
        ("M20x1.5", 0.10, "12.9", 28.2, 22, 252, 653),
        ("M20x1.5", 0.12, "8.8", 28.2, 22, 148, 454),
        ("M24x2", 0.14, "10.9", 33.6, 26, 290, 1232),
    ],
)
def test_vdi_fine_threads(
    thread: str, mu: float, grade: str, face: float, hole: float, load: float, torque: float
) -> None:
    """The table's preload gives its torque, at 90 % of yield in combined stress (its rounding: 0.7 %)."""
    r = bolt(
        bolting__kind="bolt", bolting__thread=thread, bolting__grade=grade, bolting__bearing_diameter=f"{face} mm",
        bolting__hole_diameter=f"{hole} mm", friction__thread=mu, friction__bearing=mu,
        target__bolt_stress=None, target__preload=f"{load} kN",
    ).results  # fmt: skip
    strength = {"8.8": 640e6 if thread.startswith(("M12", "M16")) else 660e6, "10.9": 940e6, "12.9": 1100e6}[grade]
    assert r["torque"] == pytest.approx(torque, rel=7e-3)
    assert r["combined_stress"] == pytest.approx(0.9 * strength, rel=7e-3)


def test_shigley_8_3b() -> None:
    """Shigley, 9th ed., Example 8-3 p. 439 (result from memory): 3/4-16, 25 kip, K = 0.2: 3750 lbf·in."""
    r = bolt(
        bolting__thread="3/4-16UNF", friction__thread=None, friction__bearing=None, friction__nut_factor=0.2,
        target__bolt_stress=None, target__preload="25 kip",
    ).results  # fmt: skip
    assert r["torque"] == pytest.approx(3750 * LBF * 0.0254, rel=1e-4)
    assert r["stress_area"] == pytest.approx(0.373 * INCH2, rel=2e-3)
    assert r["bolt_stress"] == pytest.approx(67.02e3 * 6894.757, rel=2e-3)


def test_sae_grade_2_table() -> None:
    """SAE J429 grade 2 clamp and torque table: 3/4-10, 75 % of proof (55 ksi), K = 0.2: 13,778 lbf, 172 ft·lbf."""
    r = bolt(
        bolting__thread="3/4-10UNC", friction__thread=None, friction__bearing=None, friction__nut_factor=0.2,
        target__bolt_stress="41.25 ksi",
    ).results  # fmt: skip
    assert r["preload"] == pytest.approx(13_778 * LBF, rel=3e-3)
    assert r["torque"] == pytest.approx(172 * FT_LBF, rel=3e-3)


# ISO 898-1 proof and tensile loads, N
@pytest.mark.parametrize(
    ("thread", "grade", "key", "load", "tolerance"),
    [
        ("M12", "8.8", "proof_load", 48_900, 0.005),
        ("M16", "10.9", "proof_load", 130_000, 0.005),
        ("M24", "12.9", "proof_load", 342_000, 0.005),
        ("M20", "8.8", "tensile_load", 203_000, 0.01),
        ("M30", "10.9", "tensile_load", 583_000, 0.01),
    ],
)
def test_iso_898_loads(thread: str, grade: str, key: str, load: float, tolerance: float) -> None:
    assert bolt(bolting__thread=thread, bolting__grade=grade).results[key] == pytest.approx(load, rel=tolerance)


# Bickford, Design and Behavior of Bolted Joints, 4th ed. (2008), metric strip-area table, Le = d, mm²
@pytest.mark.parametrize(
    ("d", "bolt_area", "nut_area"), [(24, 971.1, 1320.2), (48, 4119.5, 5482.0), (80, 11922, 15419)]
)
def test_strip_areas(d: int, bolt_area: float, nut_area: float) -> None:
    thread = f"M{d}x6" if d == 80 else f"M{d}"
    r = bolt(bolting__thread=thread, bolting__engagement=f"{d} mm", bolting__clamp_length=f"{4 * d} mm").results
    assert r["strip_external"] == pytest.approx(bolt_area * MM2, rel=5e-4)
    assert r["strip_internal"] == pytest.approx(nut_area * MM2, rel=5e-4)


# ASME PCC-1 Table 1, reference torques for 50 ksi on the root area (from memory, rounded up there to 50 ft·lbf): ft·lbf
# at friction 0.16 and 0.12
@pytest.mark.parametrize(
    ("thread", "plain", "coated"),
    [
        ("1 3/8-8UN", 1400, 1050),
        ("1 1/2-8UN", 1800, 1400),
        ("1 3/4-8UN", 2950, 2300),
        ("2-8UN", 4500, 3400),
        ("2 1/2-8UN", 9000, 6800),
    ],
)
def test_pcc1_reference_torques(thread: str, plain: float, coated: float) -> None:
    """Heavy hex nuts and normal holes of our library; the table's rounding up takes a few per cent."""
    for mu, torque in ((0.16, plain), (0.12, coated)):
        area = bolt(bolting__thread=thread).results
        root = area["minor_diameter"] - (1.3 - 1.226869) * 0.0254 / 8
        load = 50e3 * 6894.757 * 3.141592653589793 / 4 * root**2
        r = bolt(
            bolting__thread=thread, friction__thread=mu, friction__bearing=mu, target__bolt_stress=None,
            target__preload=f"{load} N",
        ).results  # fmt: skip
        assert 0.95 * torque < r["torque"] / FT_LBF < 1.0 * torque


def test_appendix_2_flange() -> None:
    """'Loads on Flanges - the ASME way' geometry, Appendix 2 by hand: gasket 17.75 x 16.25 in, m = 3, y = 10,000 psi, 150 psi."""
    load = {
        "seal": "gasket", "gasket_inner": "16.25 in", "gasket_width": "0.75 in", "gasket_m": 3.0, "gasket_y": "10 ksi",
    }  # fmt: skip
    found = bolt(load=load, case__0__pressure="150 psi")
    assert found.results["gasket_seating_load"] == pytest.approx(164_849 * LBF, rel=1e-4)
    assert found.cases[0].results["pressure_force"] == pytest.approx(34_601.0 * LBF, rel=2e-4)
    assert found.cases[0].results["gasket_operating_load"] == pytest.approx(49_437.0 * LBF, rel=2e-4)

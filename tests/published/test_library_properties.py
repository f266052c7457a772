"""Modulus against temperature, scatter, gaskets, friction and hub steel against published tables."""

from __future__ import annotations

import pytest

from splitline.library.curves import modulus
from splitline.library.lubricants import fit_friction, lubricant
from splitline.library.materials import material
from splitline.library.scatter import gasket, gasket_modulus, scatter
from splitline.library.store import Library

LIBRARY = Library.load()
PSI = 6894.757293168361
CARBON = "carbon steel, C up to 0.3 %"
CR_MO = "chromium-molybdenum steel, 1/2 to 2 % Cr"


@pytest.mark.parametrize(
    ("celsius", "gpa"), [(21, 203.4), (93, 198.6), (149, 195.1), (260, 188.2), (316, 184.1), (427, 166.9)]
)
def test_modulus_of_carbon_steel(celsius: float, gpa: float) -> None:
    # ASME B31.3 Table C-6, carbon steel C up to 0.3 %, as reproduced in GPa
    assert modulus(LIBRARY, CARBON).at(celsius + 273.15) == pytest.approx(gpa * 1e9, rel=0.002)


@pytest.mark.parametrize(("fahrenheit", "msi"), [(70, 29.7), (300, 28.5), (500, 27.5), (700, 26.3)])
def test_modulus_of_chromium_molybdenum_steel(fahrenheit: float, msi: float) -> None:
    # ASME B31.3 Table C-6 / II-D Table TM-1, from memory
    kelvin = (fahrenheit + 459.67) / 1.8
    assert modulus(LIBRARY, CR_MO).at(kelvin) == pytest.approx(msi * 1e6 * PSI, rel=0.01)


def test_modulus_of_chromium_molybdenum_steel_in_the_cold() -> None:
    # The one figure of that row seen in print: 217.9 GPa at -200 °C (31.6 Msi at -325 °F)
    assert modulus(LIBRARY, CR_MO).at(75.0) == pytest.approx(217.9e9, rel=0.002)


def test_preload_scatter_of_the_nasa_criteria() -> None:
    # NASA criteria for preloaded bolts, as tabulated; ±35 and ±25 % also in J. Fail. Anal. Prev. 2019,
    # doi 10.1007/s11668-019-00693-z
    percent = {
        "torque, unlubricated": 35,
        "torque, cadmium plated": 30,
        "torque, lubricated": 25,
        "hydraulic tensioner": 15,
        "load-indicating washer": 10,
        "ultrasonic": 10,
        "elongation measured": 5,
        "instrumented bolt": 5,
    }
    for name, value in percent.items():
        row = LIBRARY.find("scatter_published", f"NASA: {name}")
        assert row["scatter"] * 100 == pytest.approx(value, rel=1e-6)
    assert scatter(LIBRARY, "hydraulic wrench").value == 0.25
    assert scatter(LIBRARY, "hydraulic tensioner").value == 0.15
    assert scatter(LIBRARY, "stretch").value == 0.05


def test_preload_accuracy_of_machinery_s_handbook() -> None:
    # Machinery's Handbook, accuracy of bolt preload, as tabulated
    percent = {
        "by feel": 35,
        "torque wrench": 25,
        "turn of nut": 15,
        "load-indicating washer": 10,
        "yield sensing": 8,
        "elongation measured": 5,
        "strain gauge": 1,
        "ultrasonic": 1,
    }
    for name, value in percent.items():
        row = LIBRARY.find("scatter_published", f"Machinery's Handbook: {name}")
        assert row["scatter"] * 100 == pytest.approx(value, rel=1e-6)
    assert LIBRARY.find("scatter_published", "Machinery's Handbook: elongation measured")["low"] * 100 == 3


@pytest.mark.parametrize(
    ("name", "low", "high", "alpha_low", "alpha_high"),
    [
        # VDI 2230:1986 guide values: scatter column seen, tightening factor alpha_A = (1 + s)/(1 - s) derived
        ("yield or angle controlled", 5, 12, 1.105, 1.273),
        ("hydraulic", 9, 23, 1.198, 1.597),
        ("torque, tested on the joint", 17, 23, 1.41, 1.597),
        ("torque, friction estimated", 23, 28, 1.597, 1.778),
    ],
)
def test_vdi_guide_values(name: str, low: float, high: float, alpha_low: float, alpha_high: float) -> None:
    row = LIBRARY.find("scatter_published", f"VDI 1986: {name}")
    assert (row["low"], row["high"]) == pytest.approx((low / 100, high / 100), rel=1e-6)
    alphas = [(1 + s) / (1 - s) for s in (row["low"], row["high"])]
    assert alphas == pytest.approx([alpha_low, alpha_high], rel=1e-3)


@pytest.mark.parametrize(
    ("name", "m", "y_psi"),
    [
        # ASME VIII-1 Table 2-5.1 in Moss, Pressure Vessel Design Manual, p. 45
        ("vegetable fiber", 1.75, 1100),
        ("spiral wound stainless/nickel-copper alloy 400", 3.0, 10000),
        ("flat metal jacketed, soft Al", 3.25, 5500),
        ("flat metal jacketed, iron/soft steel", 3.75, 7600),
        ("solid flat iron/soft steel", 5.5, 18000),
        ("solid flat stainless", 6.5, 26000),
        ("o-ring", 0, 0),  # the self-energizing row, seen
    ],
)
def test_gasket_factors(name: str, m: float, y_psi: float) -> None:
    found = gasket(LIBRARY, name)
    assert found.m == pytest.approx(m, rel=1e-6)
    assert found.y == pytest.approx(y_psi * PSI, rel=1e-6)


@pytest.mark.parametrize(
    ("name", "ksi"),
    [("compressed fibre", 70), ("rubber", 10), ("flexible graphite", 35), ("PTFE", 24), ("spiral wound", 569)],
)
def test_gasket_moduli(name: str, ksi: float) -> None:
    # Moss, Pressure Vessel Design Manual, p. 61
    assert gasket_modulus(LIBRARY, name) == pytest.approx(ksi * 1000 * PSI, rel=1e-6)


@pytest.mark.parametrize(("name", "low", "high"), [("lubricated", 0.075, 0.15), ("not lubricated", 0.15, 0.25)])
def test_nut_factor_of_flange_bolts(name: str, low: float, high: float) -> None:
    # Moss, Pressure Vessel Design Manual, p. 61: friction factor in T = K d F
    factor = lubricant(LIBRARY, f"flange bolts, {name}").nut_factor
    assert factor is not None
    assert (factor.low, factor.high) == pytest.approx((low, high), rel=1e-6)


def test_friction_of_the_oil_film_while_mounting() -> None:
    # published bearing-industry text on the oil injection method: 0.005 on well finished faces
    assert fit_friction(LIBRARY, "oil film while mounting").band.low == pytest.approx(0.005, rel=1e-9)


@pytest.mark.parametrize(("name", "mu"), [("synthetic-wheel skates", 0.02), ("steel roller skates", 0.05)])
def test_rolling_friction(name: str, mu: float) -> None:
    # rigging reference card (common practice)
    assert LIBRARY.find("sliding_friction", name)["friction"] == pytest.approx(mu, rel=1e-9)


def test_steel_of_keyless_hubs() -> None:
    # ANSI/AGMA 9103-C17 (abstract)
    steel = material(LIBRARY, "steel for keyless hubs")
    assert (steel.modulus, steel.density, steel.expansion) == pytest.approx((207e9, 7830, 1.14e-5), rel=1e-12)

"""Materials, lubricants, scatter, gaskets, friction: names planners write, and the limits of the tables."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import LibraryError
from splitline.library.lubricants import fit_friction, lubricant, seal_drag
from splitline.library.materials import material
from splitline.library.scatter import gasket, gasket_modulus, scatter
from splitline.library.store import Library

LIBRARY = Library.load()


def test_materials() -> None:
    steel = material(LIBRARY, "WCB")
    assert (steel.yield_strength, steel.tensile_strength) == (250e6, 485e6)  # ASTM A216
    assert steel.modulus_curve.at(293.15) == pytest.approx(steel.modulus, rel=1e-3)
    assert steel.expansion_curve.at(373.15) == pytest.approx(steel.expansion, rel=1e-6)
    iron = material(LIBRARY, "GJL-250")
    assert iron.brittle
    assert iron.yield_strength is None
    with pytest.raises(LibraryError, match="nearest"):
        material(LIBRARY, "ASTM A216 WCX")


def test_a_table_against_temperature_agrees_with_the_value_beside_it() -> None:
    for row in LIBRARY.rows("materials"):
        found = material(LIBRARY, row.name)
        assert found.modulus_curve.at(294.3) == pytest.approx(found.modulus, rel=0.005)
        assert found.expansion_curve.at(366.5) == pytest.approx(found.expansion, rel=0.025)


def test_the_two_editions_of_the_limiting_pressure_stand_side_by_side() -> None:
    # VDI 2230: mild steel 260 MPa (1986), 490 MPa (2003)
    mild = material(LIBRARY, "S235")
    assert (mild.limiting_pressure_1986, mild.limiting_pressure) == (260e6, 490e6)


def test_lubricants() -> None:
    paste = lubricant(LIBRARY, "molybdenum disulfide paste")
    assert paste.thread.low < paste.thread.nominal < paste.thread.high
    assert not paste.dry
    assert lubricant(LIBRARY, "unlubricated").dry
    assert lubricant(LIBRARY, "flange bolts, not lubricated").dry
    assert not lubricant(LIBRARY, "flange bolts, lubricated").dry


def test_nut_factor_and_friction_of_a_row_describe_one_lubricant() -> None:
    """K from the row's own friction for M36x4, hex nut, ISO 273 medium hole, against the row's nut factor.

    K = [d2/2 (tan λ + μ sec 30°)/(1 − μ tan λ sec 30°) + μ Dm/2] / d (the long form); both ends of the band within 0.03
    or a quarter, whichever is more: test tables and friction classes come from different laboratories.
    """
    d, pitch, bearing_mean = 36.0, 4.0, (51.1 + 39) / 2
    pitch_diameter = d - 0.649519 * pitch
    lead = pitch / (3.14159265 * pitch_diameter)

    def factor(thread: float, bearing: float) -> float:
        slope = 1.1547005 * thread
        return (pitch_diameter / 2 * (lead + slope) / (1 - lead * slope) + bearing * bearing_mean / 2) / d

    for row in LIBRARY.rows("lubricants"):
        found = lubricant(LIBRARY, row.name)
        assert found.nut_factor is not None
        nominal = factor(found.thread.nominal, found.bearing.nominal)
        assert nominal == pytest.approx(found.nut_factor.nominal, abs=0.03, rel=0.2), row.name
        for end in ("low", "high"):
            computed = factor(getattr(found.thread, end), getattr(found.bearing, end))
            assert computed == pytest.approx(getattr(found.nut_factor, end), abs=0.05, rel=0.3), f"{row.name} {end}"


def test_scatter_defaults_and_a_site_s_own(tmp_path: Path) -> None:
    assert scatter(LIBRARY, "torque wrench").value == 0.25
    assert scatter(LIBRARY, "torque wrench", dry=True).value == 0.35
    assert scatter(LIBRARY, "stretch", dry=True).value == 0.05
    for method in ("hydraulic wrench", "hydraulic tensioner", "turn", "heat"):
        assert 0 < scatter(LIBRARY, method).value < 0.4
        assert "(" in scatter(LIBRARY, method).source
    (tmp_path / "library.toml").write_text(
        '[[scatter]]\nname = "torque wrench"\nsource = "own trials"\nscatter = 0.18\n[[scatter]]\nname = "turn"\nsource = "s"\n',
        "utf-8",
    )
    site = Library.load(tmp_path)
    assert (scatter(site, "torque wrench").value, scatter(site, "torque wrench").source) == (0.18, "own trials")
    with pytest.raises(LibraryError, match="neither"):
        scatter(site, "turn")


def test_gaskets() -> None:
    ring = gasket(LIBRARY, "o-ring")
    assert (ring.m, ring.y) == (0, 0)
    assert gasket(LIBRARY, "spiral wound").crush is not None
    assert gasket(LIBRARY, "solid flat, stainless").crush is None
    assert gasket_modulus(LIBRARY, "elastomer") == gasket_modulus(LIBRARY, "rubber")


def test_friction_and_seals() -> None:
    assert fit_friction(LIBRARY, "grip, oil").use == "grip"
    # DIN 7190-1 (from memory): shrunk on degreased faces holds more than mounted on oil
    dry, oil = "grip: steel on steel, shrunk, heated to 300 °C, faces degreased", "grip, oil"
    assert fit_friction(LIBRARY, dry).band.nominal > fit_friction(LIBRARY, oil).band.nominal
    assert seal_drag(LIBRARY).band.nominal == 500.0  # N/m

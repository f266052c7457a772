"""Gasketed closures and split lines, through the assessor."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from tests.assess.joint_plans import HEAD, assess, check

GASKET = {
    "pressure_diameter": "1010 mm", "seal": "gasket", "gasket_width": "20 mm", "gasket_m": 3.0, "gasket_y": "69 MPa",
}  # fmt: skip
SPLIT = {
    "layout": {"shape": "split-line", "side_a": ["0 mm", "200 mm", "400 mm", "600 mm"], "half_width": "640 mm"},
    "member__outer_diameter": None,
    "member__inner_diameter": None,
    "member__flange_width": "160 mm",
}
ZONE = {
    "from": "0 mm", "to": "400 mm", "pressure": "40 bar", "width": "420 mm",
    "bolt_to_inside": "60 mm", "bolt_to_outside": "90 mm",
}  # fmt: skip


def test_gasket_loads_by_hand() -> None:
    """ASME VIII-1 Appendix 2: b = 2.52·√b₀ (mm) above b₀ = 6.35 mm; W_m2 = π b G y; W_m1 = H + 2 b π G m p."""
    found = assess(load=GASKET)
    b = 0.5 * sqrt(10 / 25.4) * 25.4e-3
    r, case = found.results, found.cases[0].results
    assert r["gasket_effective_width"] == pytest.approx(b)
    assert r["gasket_seating_load"] == pytest.approx(pi * b * 1.01 * 69e6)
    end = 6e6 * pi / 4 * 1.01**2
    assert case["gasket_operating_load"] == pytest.approx(end + 2 * b * pi * 1.01 * 3 * 6e6)
    # all bolts together: the mean of the predicted preloads, less scatter and relaxation, not 24 times the lowest bolt
    mean = min(sum(r["predicted"]) / 24, r["preload"]) if "predicted" in r else r["preload"]
    assert check(found, "gasket_seating").limit == pytest.approx(24 * mean * 0.75 * 0.95)
    crush = check(found, "gasket_crush")
    assert crush.demand == pytest.approx(24 * 1.25 * r["preload"] / (pi * 1.01 * 0.02))
    assert crush.limit == pytest.approx(2 * 69e6)


def test_gasket_from_the_library_and_its_missing_width() -> None:
    named = {k: v for k, v in GASKET.items() if k not in ("gasket_m", "gasket_y")}
    found = assess(load={**named, "gasket": "spiral wound"})
    assert found.cases[0].results["gasket_operating_load"] > 0
    del named["gasket_width"]
    assert check(assess(load=named), "gasket_seating").verdict == "missing"


def test_gasketed_joints_relax_more() -> None:
    """0.10 against 0.05 (common practice, no published source)."""
    metal = assess(tightening__relaxation=None)
    soft = assess(load=GASKET, tightening__relaxation=None, member__contact_stiffness="0.05 MPa/um")
    said = {d.field: d.said for d in (*metal.defaults, *soft.defaults) if d.field == "tightening.relaxation"}
    assert said["tightening.relaxation"] == "0.1"


def test_split_line_without_zones_is_missing() -> None:
    found = assess(**SPLIT)
    assert check(found, "zones").verdict == "missing"
    assert "residual_clamp" not in found.cases[0].results


def test_tributary_forces_by_hand() -> None:
    """Bolts 200 mm apart, zone 0 to 400 mm: bolt 1 has 100 mm of it, bolt 2 and 3 have 200 and 100 mm."""
    found = assess(**SPLIT, zone=[ZONE], case__0__pressure=None, load__introduction=1)
    case = found.cases[0].results
    unit = 4e6 * 0.42
    assert case["bolt_forces"] == pytest.approx([unit * length for length in (0.1, 0.2, 0.1, 0.0)] * 2)
    assert case["force_per_bolt"] == pytest.approx(unit * 0.2)
    assert case["pressure_force"] == pytest.approx(2 * unit * 0.4)
    phi, low = found.results["load_factor"], found.results["preload_low"]
    assert case["residual_clamp"] == pytest.approx(low - (1 - phi) * unit * 0.2)


def test_a_case_pressure_scales_the_zones() -> None:
    found = assess(**SPLIT, zone=[ZONE], case__0__pressure="60 bar")
    assert found.cases[0].results["force_per_bolt"] == pytest.approx(6e6 * 0.42 * 0.2)
    assert any("times 1.5" in note for note in found.notes)


def test_lip_by_hand() -> None:
    """Moments about the bolt line: N = F_low − (1 − Φ) F, its resultant F·a/N outward; linear pressure over a + b."""
    found = assess(**SPLIT, zone=[ZONE], case__0__pressure=None, load__introduction=1)
    case = found.cases[0].results
    phi, low, force = found.results["load_factor"], found.results["preload_low"], 4e6 * 0.42 * 0.2
    clamp = low + phi * force - force
    off = force * 0.06 / clamp - (0.09 - 0.06) / 2  # from the middle of the face, outward
    pressure = clamp / (0.15 * 0.2) * (1 - 6 * off / 0.15)
    assert case["lip_pressure"] == pytest.approx(pressure)
    said = check(found, "lip_pressure")
    assert said.demand == pytest.approx(4e6)
    assert said.limit == pytest.approx(pressure)
    assert case["lip_opening_load"] == pytest.approx(force * (1 + 60 / 90))


def test_zones_without_pressure_are_not_scaled() -> None:
    """Zones of 0 bar have nothing a case's pressure could be a multiple of; unscaled ones are not told as scaled."""
    none = assess(**SPLIT, zone=[{**ZONE, "pressure": "0 bar"}], case__0__pressure="60 bar")
    assert none.cases[0].results["pressure_force"] == 0.0
    assert not any("taken times" in note for note in none.notes)
    same = assess(**SPLIT, zone=[ZONE], case__0__pressure="40 bar")
    plain = assess(**SPLIT, zone=[ZONE], case__0__pressure=None)
    assert same.cases[0].results["pressure_force"] == plain.cases[0].results["pressure_force"] > 0.0
    assert not any("taken times" in note for note in same.notes)
    two = [ZONE, {**ZONE, "from": "400 mm", "to": "600 mm", "pressure": "20 bar"}]
    both = assess(**SPLIT, zone=two, case__0__pressure="80 bar").cases[0].results["pressure_force"]
    assert both == pytest.approx(
        2 * assess(**SPLIT, zone=two, case__0__pressure=None).cases[0].results["pressure_force"]
    )


def test_zone_without_edges_says_what_the_lip_needs() -> None:
    bare = {k: v for k, v in ZONE.items() if not k.startswith("bolt_to")}
    assert check(assess(**SPLIT, zone=[bare]), "lip_pressure").verdict == "missing"


def test_sizes_are_assessed_on_their_own() -> None:
    size = [{"bolts": [1, 2], "first": True, "bolting": {"thread": "M64x4"}, "target": {"preload": "900 kN"}}]
    found = assess(HEAD, size=size)
    own = found.sizes[0].results
    assert found.sizes[0].bolts == (1, 2)
    assert own["preload"] == pytest.approx(900e3)
    assert own["stress_area"] > found.results["stress_area"]
    assert own["hole_diameter"] == pytest.approx(0.070)  # ISO 273 medium for M64
    assert own["least_area"] == pytest.approx(own["stress_area"])  # the main size's reduced shank is not taken over
    assert any("(bolts 1, 2)" in c.title for c in found.checks)


def test_gasket_diameter_from_its_own_diameters() -> None:
    """Appendix 2: G = outer − 2 b when b₀ > 1/4 in; 16.25 in bore and 0.75 in width give 17.1376 in."""
    load = {**GASKET, "gasket_inner": "16.25 in", "gasket_width": "0.75 in", "pressure_diameter": None}
    found = assess(load={k: v for k, v in load.items() if v is not None})
    assert found.results["gasket_diameter"] == pytest.approx(17.1376 * 0.0254, rel=1e-5)
    assert found.cases[0].results["pressure_force"] == pytest.approx(6e6 * pi / 4 * (17.1376 * 0.0254) ** 2, rel=1e-5)

"""Sling, shackle, eyebolt and turnbuckle tables against published ones.

The rating tables of 29 CFR 1910.184 and 1926.251 left the regulation and the tag governs; OSHA's guidance tables remain
good checks. US tables count angles from the horizontal, EN tables from the vertical.
"""

from __future__ import annotations

import math

import pytest

from splitline.library.fittings import angled_pull, fitting
from splitline.library.slings import bend_share, choke_share, leg_factor, sling
from splitline.library.store import Library

LIBRARY = Library.load()
TONNE = 9806.65
POUND = 4.4482216152605
SHORT_TON = 2000 * POUND
INCH = 0.0254
DEG = math.pi / 180
FROM_45, FROM_60 = 30 * DEG, 50 * DEG  # an angle within 0-45 and within 45-60 degrees from the vertical


@pytest.mark.parametrize(
    ("grade", "size", "single", "double", "triple", "tolerance"),
    [
        # OSHA, Guidance on Safe Sling Use, Table 1 (grade 80): two legs and three or four at 60, 45, 30 degrees, lb
        (80, "9/32", 3500, (6100, 4900, 3500), (9100, 7400, 5200), 0.012),
        (80, "5/16", 4500, (7800, 6400, 4500), (11700, 9500, 6800), 0.012),
        (80, "3/8", 7100, (12300, 10000, 7100), (18400, 15100, 10600), 0.012),
        (80, "7/8", 34200, (59200, 48400, 34200), (88900, 72500, 51300), 0.012),
        # Table 2 (grade 100)
        (100, "7/32", 2700, (4700, 3800, 2700), (7000, 5700, 4000), 0.018),
        (100, "9/32", 4300, (7400, 6100, 4300), (11200, 9100, 6400), 0.012),
        (100, "3/8", 8800, (15200, 12400, 8800), (22900, 18700, 13200), 0.012),
        (100, "1/2", 15000, (26000, 21200, 15000), (39000, 31800, 22500), 0.012),
        # grade 100 chain rating as reproduced in a rating table
        (100, "5/8", 22600, (39100, 32000, 22600), (58700, 47900, 33900), 0.012),
    ],
)
def test_chain_slings(
    grade: int, size: str, single: float, double: tuple[float, ...], triple: tuple[float, ...], tolerance: float
) -> None:
    capacity = sling(LIBRARY, f"alloy chain grade {grade} {size} in").capacity
    assert capacity == pytest.approx(single * POUND, rel=1e-9)
    for degrees, two, three in zip((60, 45, 30), double, triple, strict=True):
        vertical = capacity * math.sin(degrees * DEG)
        assert 2 * vertical == pytest.approx(two * POUND, rel=tolerance)
        assert 3 * vertical == pytest.approx(three * POUND, rel=tolerance)


def test_chain_of_the_australian_table() -> None:
    # AS 3775.1-2014 as reproduced: 10 mm grade 80 straight 3.2 t, 5.5 t at 60 and 4.5 t at 90 degrees included;
    # EN 818-4 rounds the same chain down to 3.15 t
    capacity = sling(LIBRARY, "alloy chain grade 80 10 mm").capacity
    assert capacity == pytest.approx(3.2 * TONNE, rel=0.016)
    assert 2 * capacity * math.cos(30 * DEG) == pytest.approx(5.5 * TONNE, rel=0.012)
    assert 2 * capacity * math.cos(45 * DEG) == pytest.approx(4.5 * TONNE, rel=0.012)


@pytest.mark.parametrize(
    ("size", "one", "two", "four", "endless"),
    [
        (10, 1.15, (1.6, 1.15), (2.4, 1.7), 1.85),
        (16, 3.0, (4.2, 3.0), (6.3, 4.5), 4.8),
        (20, 4.6, (6.5, 4.6), (9.8, 6.9), 7.35),
        (32, 11.8, (16.5, 11.8), (25.0, 17.5), 19.0),
    ],
)
def test_wire_rope_slings(
    size: int, one: float, two: tuple[float, float], four: tuple[float, float], endless: float
) -> None:
    # EN 13414-1:2003 Table 4, t; the table's figures are rounded to preferred numbers
    capacity = sling(LIBRARY, f"wire rope {size} mm 6x36 IWRC").capacity / TONNE
    assert capacity == pytest.approx(one, rel=1e-9)
    for angle, pair, quad in zip((FROM_45, FROM_60), two, four, strict=True):
        assert capacity * leg_factor(LIBRARY, "EN, two legs", angle).value == pytest.approx(pair, rel=0.035)
        assert capacity * leg_factor(LIBRARY, "EN, three or four legs", angle).value == pytest.approx(quad, rel=0.035)
    assert capacity * leg_factor(LIBRARY, "EN, endless sling in choke", 0).value == pytest.approx(endless, rel=0.035)


@pytest.mark.parametrize("core", [("IWRC", 0.356), ("FC", 0.330)])
def test_wire_rope_slings_by_the_standard_s_formula(core: tuple[str, float]) -> None:
    # EN 13414-1: WLL = F_min K_T K_L/(Z g), F_min = K d² 1770 MPa, K_T = 0.9, Z = 5; 20 mm within 2 %, all within 3.5 %.
    # K from memory (EN 12385-4, 6x36)
    name, factor = core
    ropes = [row for row in LIBRARY.rows("slings") if row.name.endswith(f"mm 6x36 {name}")]
    assert len(ropes) > 15
    for row in ropes:
        rating = factor * row["size"] ** 2 * 1770e6 * 0.9 / 5
        assert row["capacity"] == pytest.approx(rating, rel=0.02 if row["size"] == 0.02 else 0.035), row.name


def test_metric_chain_by_its_mean_stress() -> None:
    # EN 818-4: 200 MPa (grade 80), 250 MPa (grade 100) in both legs of the link, rounded to preferred numbers
    for row in LIBRARY.rows("slings"):
        if row["kind"] == "chain" and row.name.endswith("mm"):
            stress = 250e6 if "grade 100" in row.name else 200e6
            assert row["capacity"] == pytest.approx(2 * math.pi / 4 * row["size"] ** 2 * stress, rel=0.06), row.name


def test_web_sling_modes() -> None:
    # EN 1492-1 mode factors as reproduced, 5 t sling
    five = sling(LIBRARY, "web sling 5 t")
    straight = five.capacity / TONNE
    assert straight == pytest.approx(5.0, rel=1e-6)
    assert straight * five.choker == pytest.approx(4.0, rel=1e-6)
    rated = {
        ("EN 1492, basket, legs parallel", 0.0): 10.0,
        ("EN 1492, choke", 0.0): 4.0,
        ("EN 1492, basket", FROM_45): 7.0,
        ("EN 1492, basket", FROM_60): 5.0,
        ("EN, two legs", FROM_45): 7.0,
        ("EN, two legs", FROM_60): 5.0,
        ("EN, three or four legs", FROM_45): 10.5,
        ("EN, three or four legs", FROM_60): 7.5,
    }
    for (mode, angle), tonnes in rated.items():
        assert straight * leg_factor(LIBRARY, mode, angle).value == pytest.approx(tonnes, rel=1e-6), mode


@pytest.mark.parametrize(
    ("size", "vertical", "choker", "basket"),
    [
        ("5/8", 900, 450, (1800, 1500, 1200, 900)),
        ("3/4", 1100, 550, (2200, 1900, 1500, 1100)),
        ("1", 1800, 900, (3600, 3100, 2600, 1800)),
        ("2", 6200, 3100, (12500, 10500, 8800, 6200)),
    ],
)
def test_natural_fibre_rope(size: str, vertical: float, choker: float, basket: tuple[float, ...]) -> None:
    # 29 CFR Part 1918 Appendix II Table 2, eye-and-eye, lb: basket vertical and at 60, 45, 30 degrees
    rope = sling(LIBRARY, f"fibre rope {size} in, natural")
    assert rope.capacity == pytest.approx(vertical * POUND, rel=1e-9)
    assert rope.capacity * rope.choker == pytest.approx(choker * POUND, rel=0.07)
    for degrees, rated in zip((90, 60, 45, 30), basket, strict=True):
        assert 2 * rope.capacity * math.sin(degrees * DEG) == pytest.approx(rated * POUND, rel=0.07)


@pytest.mark.parametrize(("size", "breaking", "rated"), [("1/2", 10.35, 2.2), ("3/4", 23.04, 4.9), ("1", 40.41, 8.5)])
def test_wire_rope_of_the_military_table(size: str, breaking: float, rated: float) -> None:
    # MIL-DTL-3903 Table IV, type II uncoated: breaking strength over 5, testing variation 0.95, splice in it; short tons
    capacity = sling(LIBRARY, f"wire rope {size} in MIL type II").capacity
    assert capacity == pytest.approx(rated * SHORT_TON, rel=0.012)
    assert capacity == pytest.approx(breaking / 5 / 0.95 * SHORT_TON, rel=0.012)


def test_inch_wire_rope_slings_stand_on_the_breaking_strength() -> None:
    # Extra improved plow steel, IWRC, minimum breaking strength in short tons (wire rope users' handbook, from memory)
    # over 5, with a mechanical splice efficiency between 0.9 and 1
    for size, breaking in {"1/2": 13.3, "3/4": 29.4, "1": 51.7, "1 1/2": 114, "2": 198}.items():
        capacity = sling(LIBRARY, f"wire rope {size} in IWRC").capacity
        assert 0.9 <= capacity / (breaking / 5 * SHORT_TON) <= 1.0, size


@pytest.mark.parametrize(
    ("first", "last", "share"), [(120.1, 180, 1.0), (90, 120, 0.87), (60, 89, 0.74), (30, 59, 0.62), (0, 29, 0.49)]
)
def test_choke_angle(first: int, last: int, share: float) -> None:
    # ASME B30.9 factors as reproduced in a sling instruction: share of the choker rating
    for degrees in (first, (first + last) / 2, last):
        assert choke_share(LIBRARY, "wire rope", degrees * DEG).value == pytest.approx(share, rel=1e-9)


@pytest.mark.parametrize(
    ("ratio", "percent"), [(40, 95), (30, 93), (20, 91), (15, 89), (6, 79), (4, 75), (2, 65), (1, 50)]
)
def test_bend_efficiency(ratio: float, percent: float) -> None:
    # wire rope bending (D/d) efficiency curve as reproduced in a rigging reference; 20 is its worked example (10 in / 1/2 in)
    assert bend_share(LIBRARY, ratio).value * 100 == pytest.approx(percent, rel=1e-3)


@pytest.mark.parametrize(("ratio", "factor"), [(1, 2.0), (1.5, 1.69), (2, 1.55), (3, 1.41), (6, 1.26), (7, 1.23)])
def test_bend_factor_of_the_marine_guideline(ratio: float, factor: float) -> None:
    # 0027/ND Rev 11.2, Guidelines for Marine Lifting, 7.8.1 and Table 7-1 (after IMCA M 179)
    assert 1 / bend_share(LIBRARY, ratio, "marine").value == pytest.approx(factor, rel=0.004)


SIZES = ("3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "7/8", "1", "1 1/8", "1 1/4", "1 3/8", "1 1/2")


def test_shackle_ratings() -> None:
    # rigging reference card (common practice), short tons and pin diameters in inches
    carbon = (0.3333, 0.5, 0.75, 1, 1.5, 2, 3.25, 4.75, 6.5, 8.5, 9.5, 12, 13.5, 17)
    alloy = (2, 2.6, 3.3, 5, 7, 9.5, 12.5, 15, 18, 21, 30)
    pins = (0.25, 0.31, 0.38, 0.44, 0.5, 0.63, 0.75, 0.88, 1.0, 1.13, 1.25, 1.38, 1.5, 1.63)
    for size, tons, pin in zip(SIZES, carbon, pins, strict=True):
        found = fitting(LIBRARY, f"shackle {size} in carbon")
        assert found.capacity == pytest.approx(tons * SHORT_TON, rel=1e-3)
        assert found.pin_diameter == pytest.approx(pin * INCH, rel=1e-3)
    for size, tons in zip(SIZES[3:], alloy, strict=True):
        assert fitting(LIBRARY, f"shackle {size} in alloy").capacity == pytest.approx(tons * SHORT_TON, rel=1e-3)


def test_shackle_ratings_of_the_former_federal_table() -> None:
    # 29 CFR 1926.251 Table H-19 / 1915.118 Table G-10 (from memory), short tons
    sizes = ("1/2", "5/8", "3/4", "7/8", "1", "1 1/8", "1 1/4", "1 3/8", "1 1/2", "1 3/4", "2")
    tons = (1.4, 2.2, 3.2, 4.3, 5.6, 6.7, 8.2, 10.0, 11.9, 16.2, 21.2)
    for size, value in zip(sizes, tons, strict=True):
        found = fitting(LIBRARY, f"shackle {size} in, federal table").capacity
        assert found == pytest.approx(value * SHORT_TON, rel=0.02)


def test_shackle_rule_of_thumb_is_near_the_federal_table() -> None:
    # NAVEDTRA 14251: SWL = 3 D² short tons, D in inches; 5/8 in gives 1.17 short tons, well under the table's 2.2
    found = fitting(LIBRARY, "shackle 5/8 in, federal table").capacity
    assert found is not None
    assert pytest.approx(1.1719, rel=1e-4) == 3 * 0.625**2
    assert found > 1.1719 * SHORT_TON


@pytest.mark.parametrize(("degrees", "share"), [(0, 1.0), (45, 0.7)])
def test_shackle_side_load(degrees: float, share: float) -> None:
    # rigging reference card (common practice)
    table = angled_pull(LIBRARY, "shackle")
    assert table is not None
    assert table.share(degrees * DEG) == pytest.approx(share, rel=1e-9)


def test_eyebolt_angled_pull() -> None:
    # eyebolt angled-pull table (ASME B18.15 form) as reproduced: 3/8 in, 1550 lb straight, 1240 lb at 15, 388 lb at 90
    row = LIBRARY.find("angled_pull", "eyebolt, shouldered: five-point table")
    shares = dict(zip((round(a / DEG) for a in row["angle"]), row["share"], strict=True))
    assert shares == pytest.approx({0: 1.0, 15: 0.8, 30: 0.65, 45: 0.3, 90: 0.25}, rel=0.002)
    capacity = fitting(LIBRARY, "eyebolt 3/8 in").capacity
    assert capacity is not None
    assert capacity == pytest.approx(1550 * POUND, rel=0.002)
    assert capacity * shares[15] == pytest.approx(1240 * POUND, rel=0.002)
    assert capacity * shares[90] == pytest.approx(388 * POUND, rel=0.002)


def test_eyebolt_engagement_is_said() -> None:
    # WAC 296-155-56110(2)(c) and DOE-STD-1090-96 12.4: 1.5 diameters in a steel tapped blind hole
    assert "1.5 diameters" in fitting(LIBRARY, "eyebolt, shouldered").note


def test_turnbuckles() -> None:
    # AASHTO M 269-77 Table 2, lb
    work = {
        "3/4": 4000, "7/8": 5800, "1": 7600, "1 1/4": 12000, "1 1/2": 17000, "1 3/4": 23000, "2": 30000
    }  # fmt: skip
    breaking = (20000, 29000, 38000, 60000, 85000, 115000, 150000)
    for (size, load), ultimate in zip(work.items(), breaking, strict=True):
        assert fitting(LIBRARY, f"turnbuckle {size} in").capacity == pytest.approx(load * POUND, rel=1e-6)
        assert LIBRARY.find("fittings", f"turnbuckle {size} in")["breaking"] == pytest.approx(
            ultimate * POUND, rel=1e-6
        )

"""Property classes and grades against published tables."""

from __future__ import annotations

import pytest

from splitline.library.grades import grade
from splitline.library.store import Library
from splitline.library.threads import parse_designation

LIBRARY = Library.load()
KSI = 6.894757293168361e6


@pytest.mark.parametrize(
    ("thread", "area_mm2", "loads_kn"),
    [
        ("M16", 157, (125, 163, 192)),
        ("M20", 245, (203, 255, 299)),
        ("M24", 353, (293, 367, 431)),
        ("M30", 561, (466, 583, 684)),
    ],
)
def test_iso_898_1_minimum_tensile_loads(thread: str, area_mm2: float, loads_kn: tuple[float, ...]) -> None:
    # ISO 898-1, minimum ultimate tensile loads of 8.8, 10.9, 12.9; the loads are rounded to three figures
    for name, load in zip(("8.8", "10.9", "12.9"), loads_kn, strict=True):
        tensile = grade(LIBRARY, name, parse_designation(thread)).tensile_strength
        assert tensile * area_mm2 * 1e-6 == pytest.approx(load * 1e3, rel=0.01)


@pytest.mark.parametrize(
    ("thread", "area_mm2", "loads_n"),
    [
        ("M12", 84.3, (48900, 70000, 81800)),
        ("M16", 157, (91000, 130000, 152000)),
        ("M24", 353, (212000, 293000, 342000)),
    ],
)
def test_iso_898_1_proof_loads(thread: str, area_mm2: float, loads_n: tuple[float, ...]) -> None:
    # ISO 898-1, proof loads of 8.8, 10.9, 12.9
    for name, load in zip(("8.8", "10.9", "12.9"), loads_n, strict=True):
        proof = grade(LIBRARY, name, parse_designation(thread)).proof_strength
        assert proof is not None
        assert proof * area_mm2 * 1e-6 == pytest.approx(load, rel=0.005)


@pytest.mark.parametrize(
    ("name", "threads", "proof", "tensile", "yields"),
    [
        # Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Table 8-11, p. 435. Its "M16 to M36"
        # for 8.8 is ISO 898-1's "above 16 mm": M16 itself has 580/800/640, as the proof loads above show.
        ("8.8", ("M18", "M20", "M36"), 600, 830, 660),
        ("10.9", ("M5", "M20", "M36"), 830, 1040, 940),
        # 12.9 from Analysis and Design of Machine Elements, Table 3.2, p. 77, which reproduces it
        ("12.9", ("M1.6", "M20", "M36"), 970, 1220, 1100),
    ],
)
def test_metric_classes(name: str, threads: tuple[str, ...], proof: float, tensile: float, yields: float) -> None:
    for thread in threads:
        found = grade(LIBRARY, name, parse_designation(thread))
        got = (found.proof_strength, found.tensile_strength, found.yield_strength)
        assert got == pytest.approx((proof * 1e6, tensile * 1e6, yields * 1e6), rel=1e-6)


@pytest.mark.parametrize(
    ("name", "threads", "proof", "tensile", "yields"),
    [
        # Budynas & Nisbett, 9th ed. (2011), Table 8-9, p. 433
        ("SAE grade 5", ("1/4-20UNC", "1-8UNC"), 85, 120, 92),
        ("SAE grade 8", ("1/4-20UNC", "1 1/2-6UNC"), 120, 150, 130),
        ("SAE grade 2", ("1/4-20UNC", "3/4-10UNC"), 55, 74, 57),
        ("SAE grade 2", ("7/8-9UNC", "1 1/2-6UNC"), 33, 60, 36),
    ],
)
def test_sae_grades(name: str, threads: tuple[str, ...], proof: float, tensile: float, yields: float) -> None:
    for thread in threads:
        found = grade(LIBRARY, name, parse_designation(thread))
        got = (found.proof_strength, found.tensile_strength, found.yield_strength)
        assert got == pytest.approx((proof * KSI, tensile * KSI, yields * KSI), rel=1e-6)


@pytest.mark.parametrize(
    ("name", "threads", "tensile", "yields"),
    [
        # ASTM A193/A193M mechanical requirements (inch)
        ("A193 B7", ("2 5/8-8UN", "4-8UN"), 115, 95),
        ("A193 B7", ("4 1/4-8UN", "6-8UN"), 100, 75),
        ("A193 B7M", ("1/2-13UNC", "4-8UN"), 100, 80),
        ("A193 B7M", ("4 1/4-8UN", "6-8UN"), 100, 75),
        ("A193 B16", ("1/2-13UNC", "2 1/2-8UN"), 125, 105),
        ("A193 B16", ("2 5/8-8UN", "4-8UN"), 110, 95),
        ("A193 B16", ("4 1/4-8UN", "6-8UN"), 100, 85),
        # ASTM A193/A320 tables
        ("A320 L7", ("1/2-13UNC", "2 1/2-8UN"), 125, 105),
        ("A320 L7M", ("1/2-13UNC", "2 1/2-8UN"), 100, 80),
        ("A193 B8 Cl.2", ("1/2-13UNC", "3/4-10UNC"), 125, 100),
        ("A193 B8 Cl.2", ("1 3/8-8UN", "1 1/2-8UN"), 100, 50),
        # ASTM A540/A540M grade B24 table as reproduced
        ("A540 B24 class 5", ("6 1/4-8UN", "9 1/2-8UN"), 115, 100),
    ],
)
def test_astm_inch_grades(name: str, threads: tuple[str, ...], tensile: float, yields: float) -> None:
    for thread in threads:
        found = grade(LIBRARY, name, parse_designation(thread))
        assert found.tensile_strength == pytest.approx(tensile * KSI, rel=1e-6)
        assert found.yield_strength == pytest.approx(yields * KSI, rel=1e-6)

"""Slings and fittings: names, choke and bend steps, the lowest of the angled-pull tables."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import LibraryError
from splitline.library.fittings import AngledPull, angled_pull, fitting
from splitline.library.slings import bend_share, choke_share, leg_factor, sling
from splitline.library.store import Library
from splitline.lifting import rigging

LIBRARY = Library.load()
TONNE = 9806.65
DEG = math.pi / 180


def test_slings_by_the_names_a_plan_writes() -> None:
    rope = sling(LIBRARY, "wire rope 28 mm 6x36 IWRC")
    assert (rope.kind, rope.size) == ("wire rope", 0.028)
    assert rope.capacity == pytest.approx(9.0 * TONNE)
    assert sling(LIBRARY, "wire rope 28 mm 6x19 IWRC") == rope
    assert sling(LIBRARY, "alloy chain grade 80 16 mm").capacity == pytest.approx(8.0 * TONNE)
    assert sling(LIBRARY, "web sling 5 t").capacity == pytest.approx(5.0 * TONNE)
    assert sling(LIBRARY, "round sling 0.5 t").capacity == pytest.approx(0.5 * TONNE)
    assert sling(LIBRARY, "wire rope 1 1/2 in").capacity == pytest.approx(21 * 2000 * 4.4482216152605)


def test_stiffness_of_a_wire_rope_is_metal_times_modulus() -> None:
    """EA = 0.47 d² × 96.5 GPa (rope users' handbook, 6x36 IWRC, from memory) within the rounding of the ratings."""
    for size in (10, 20, 32, 48):
        ea = sling(LIBRARY, f"wire rope {size} mm").stiffness
        assert ea == pytest.approx(0.47 * (size * 1e-3) ** 2 * 96.5e9, rel=0.03)


def test_angle_of_choke_by_steps() -> None:
    shares = [choke_share(LIBRARY, "wire rope", a * DEG).value for a in (0, 29, 30, 59.9, 60, 90, 120, 120.1, 180)]
    assert shares == [0.49, 0.49, 0.62, 0.62, 0.74, 0.87, 0.87, 1.0, 1.0]
    assert choke_share(LIBRARY, "some new sling", 45 * DEG).value == 0.62
    with pytest.raises(LibraryError, match="angle of choke"):
        choke_share(LIBRARY, "wire rope", -0.1)


def test_bend_between_and_beyond_the_points() -> None:
    assert bend_share(LIBRARY, 20).value == pytest.approx(0.91)
    assert bend_share(LIBRARY, 3).value == pytest.approx(0.70)
    assert bend_share(LIBRARY, 80).value == 0.95
    assert bend_share(LIBRARY, 0.9).value == 0.0


def test_leg_factors_end_at_sixty_degrees_from_the_vertical() -> None:
    at = [leg_factor(LIBRARY, "EN, two legs", a * DEG).value for a in (0, 45, 46, 60, 61)]
    assert at == [1.4, 1.4, 1.0, 1.0, 0.0]


def test_fittings() -> None:
    eye = fitting(LIBRARY, "eyebolt, shouldered")
    assert eye.capacity is None
    assert eye.angled is not None
    assert fitting(LIBRARY, "eyebolt M36").capacity == pytest.approx(4.6 * TONNE)
    assert fitting(LIBRARY, "shackle 8.5 t").pin_diameter == pytest.approx(0.028)
    ring = fitting(LIBRARY, "swivel hoist ring")
    assert ring.angled is not None
    assert ring.angled.share(90 * DEG) == 1
    assert fitting(LIBRARY, "turnbuckle").angled is None
    plain_eye = fitting(LIBRARY, "eyebolt, plain").angled
    assert plain_eye is not None
    assert [plain_eye.share(a * DEG) for a in (0, 1)] == [1, 0]


def test_the_lowest_printed_eyebolt_table_is_the_default() -> None:
    table = angled_pull(LIBRARY, "eyebolt, shouldered")
    assert table is not None
    assert table.share(0) == 1
    assert table.share(45 * DEG) == pytest.approx(0.25)
    assert table.share(90 * DEG) == pytest.approx(0.25)
    assert table.share(91 * DEG) == 0
    printed = [
        row for row in LIBRARY.rows("angled_pull") if row["fitting"] == "eyebolt, shouldered" and row["published"]
    ]
    assert len(printed) >= 2
    for degrees in range(0, 91, 3):
        for row in printed:
            one = AngledPull(tuple(zip(row["angle"], row["share"], strict=True)), row.source)
            assert table.share(degrees * DEG) <= one.share(degrees * DEG) + 1e-12
    assert all(row.source in table.source for row in printed)


def test_a_site_s_card_stands_alone(tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_text(
        '[[angled_pull]]\nname = "our card"\nsource = "site lifting procedure"\nfitting = "eyebolt, shouldered"\n'
        'angle = ["0 deg", "90 deg"]\nshare = [1.0, 0.2]\n',
        "utf-8",
    )
    table = angled_pull(Library.load(tmp_path), "eyebolt, shouldered")
    assert table is not None
    assert table.source == "site lifting procedure"
    assert table.share(45 * DEG) == pytest.approx(0.6)


@given(st.floats(0, 2))
def test_a_share_never_rises_with_the_angle(angle: float) -> None:
    for kind in ("eyebolt, shouldered", "shackle", "eyebolt, plain"):
        table = angled_pull(LIBRARY, kind)
        assert table is not None
        assert 0 <= table.share(angle + 0.01) <= table.share(angle) <= 1


@given(st.floats(0, math.pi), st.floats(1, 60))
def test_the_lifting_room_computes_with_the_same_factors(angle: float, ratio: float) -> None:
    """The pure functions of lifting carry the general factors themselves: they and the tables must not part."""
    assert rigging.choke_factor(angle) == pytest.approx(choke_share(LIBRARY, "wire rope", angle).value)
    assert rigging.bend_efficiency(ratio) == pytest.approx(bend_share(LIBRARY, ratio).value)
    shackle = angled_pull(LIBRARY, "shackle")
    assert shackle is not None
    assert list(rigging.SHACKLE_SIDE) == [pytest.approx(point) for point in shackle.points]
    for legs, name in ((2, "EN, two legs"), (3, "EN, three or four legs"), (4, "EN, three or four legs")):
        for from_vertical in (0.0, math.pi / 4, math.pi / 3):
            factor = leg_factor(LIBRARY, name, from_vertical).value
            assert rigging.mode_capacity(1.0, legs, from_vertical) == pytest.approx(factor)

"""Tags of a lift against the site's register. 29 CFR 1910.184 and ASME B30.9: the tag governs; no tag, no lift."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.assess.context import Context, Observed
from splitline.assess.lift import assess_lift
from splitline.assess.result import Check, ItemResult
from splitline.errors import LibraryError
from splitline.library.rigging import reject_signs
from splitline.library.store import Library
from splitline.plan.model import Lift
from tests.assess.lifts import LIBRARY, LUGS, TODAY, TONNE, legs, lift

ROW = """[[rigging]]
name = "S-{n}"
source = "register, page {n}"
kind = "sling"
sling = "wire rope 20 mm 6x36 IWRC"
capacity = "4.6 t"
length = "3000 mm"
certificate = "C-{n}"
inspection_due = 2027-03-01
"""
SHACKLE = (
    '[[rigging]]\nname = "SH-1"\nsource = "register"\nkind = "shackle"\ncapacity = "3 t"\ninspection_due = 2027-03-01\n'
)


def library(folder: Path, *, first: tuple[str, str] = ("", ""), more: str = "") -> Library:
    """Four slings; in the first one text is replaced by another."""
    rows = [ROW.format(n=n) for n in range(1, 5)]
    rows[0] = rows[0].replace(*first) if first[0] else rows[0]
    (folder / "library.toml").write_text("\n".join(rows) + more, "utf-8")
    return Library.load(folder)


def four(**fields: object) -> dict[str, object]:
    given = lift(8000.0, (0.0, 0.0, -0.6), legs(LUGS, [3.0] * 4, fitting="swivel hoist ring", fitting_capacity="8 t"))
    for number, leg in enumerate(given["leg"], 1):
        leg.update({"tag": f"S-{number}", "sling": "wire rope 20 mm 6x36 IWRC"} | fields)
        for name in [name for name, value in leg.items() if value is None]:
            del leg[name]
    return given


def assessed(given: dict[str, object], at: Library, observed: dict[tuple[str, str], str] | None = None) -> ItemResult:
    return assess_lift(Lift.model_validate(given), Context(at, TODAY, Observed(observed or {})))


def tags(result: ItemResult) -> list[Check]:
    return [check for check in result.checks if check.key == "rigging_register"]


def test_without_a_register_nothing_is_looked_up() -> None:
    assert tags(assessed(four(), LIBRARY)) == []


def test_tags_in_order_are_ok_and_say_their_papers(tmp_path: Path) -> None:
    found = tags(assessed(four(), library(tmp_path)))
    assert [check.verdict for check in found] == ["ok"] * 4
    assert [check.leg for check in found] == [1, 2, 3, 4]
    assert "C-1" in found[0].note
    assert "2027-03-01" in found[0].note


@pytest.mark.parametrize(
    ("old", "new", "verdict", "word"),
    [
        ('name = "S-1"', 'name = "S-9"', "fails", "not in the rigging register"),
        ("2027-03-01", "2026-11-24", "fails", "inspection was due 2026-11-24"),
        ("2027-03-01", "2026-11-25", "ok", "2026-11-25"),  # due today: still good
        ("inspection_due = 2027-03-01\n", "", "missing", "inspection_due"),
        ('"4.6 t"', '"4.5 t"', "fails", "44.1 kN"),
        ("wire rope 20 mm 6x36 IWRC", "wire rope 22 mm 6x36 IWRC", "fails", "wire rope 22 mm"),
        ('certificate = "C-1"', 'withdrawn = "broken wires"', "fails", "broken wires"),
        ('kind = "sling"', 'kind = "shackle"', "fails", "shackle"),
        ('"3000 mm"', '"3100 mm"', "near", "3100 mm"),
        ('"3000 mm"', '"3010 mm"', "ok", ""),  # inside the usual tolerance of 0.5 %
    ],
)
def test_what_bars_a_tag(tmp_path: Path, old: str, new: str, verdict: str, word: str) -> None:
    found = tags(assessed(four(), library(tmp_path, first=(old, new))))
    assert found[0].verdict == verdict
    assert word in found[0].note
    assert [check.verdict for check in found[1:]] == ["ok"] * 3


def test_a_tag_on_more_legs_than_it_has_fails_and_a_set_does_not(tmp_path: Path) -> None:
    given = four(tag="S-1")
    result = assessed(given, library(tmp_path))
    assert {check.verdict for check in tags(result)} == {"fails"}
    assert "legs 1, 2, 3, 4" in tags(result)[0].note
    assert not [check for check in result.checks if check.key == "sling_tag_twice"]  # said once
    two = library(tmp_path, first=('kind = "sling"', 'kind = "sling"\nlegs = 4'))
    assert {check.verdict for check in tags(assessed(given, two))} == {"ok"}


def test_the_register_s_rating_stands_in_where_the_plan_has_none(tmp_path: Path) -> None:
    at = library(tmp_path, first=('"4.6 t"', '"4.1 t"'))
    result = assessed(four(sling=None), at)
    carried = [check for check in result.checks if check.key == "leg_capacity"]
    assert carried[0].limit == pytest.approx(4.1 * TONNE)
    assert carried[1].limit == pytest.approx(4.6 * TONNE)
    assert "register, page 1" in carried[0].basis
    lacking = [c for c in assessed(four(sling=None), LIBRARY).checks if c.key == "leg_capacity" and c.part == "sling"]
    assert {check.verdict for check in lacking} == {"missing"}


def test_the_tag_governs_over_the_table(tmp_path: Path) -> None:
    """A sling of a known type tagged for less is checked for less, and said to be less than planned."""
    result = assessed(four(), library(tmp_path, first=('"4.6 t"', '"2.0 t"')))
    assert next(c for c in result.checks if c.key == "leg_capacity").limit == pytest.approx(2.0 * TONNE)
    assert tags(result)[0].verdict == "fails"


def test_a_tag_read_on_site_is_looked_up(tmp_path: Path) -> None:
    seen = {("lift", f"leg.{n}.tag"): f"S-{n}" for n in (1, 2, 3)} | {("lift", "leg.4.tag"): "X-7"}
    found = tags(assessed(four(tag=None), library(tmp_path), seen))
    assert [check.verdict for check in found] == ["ok", "ok", "ok", "fails"]
    assert "X-7" in found[3].note


def test_shackles_beams_and_hoists_are_looked_up_once_the_register_holds_one(tmp_path: Path) -> None:
    given = four(shackle_tag="SH-1")
    alone = tags(assessed(given, library(tmp_path)))
    assert {check.part for check in alone} == {"sling"}
    result = assessed(given, library(tmp_path, more=SHACKLE))
    shackles = [check for check in tags(result) if check.part == "shackle"]
    assert [check.verdict for check in shackles] == ["ok"] * 4
    chain = result.lift.chains[0]
    rated = next(part for part in chain if part.name == "shackle")
    assert rated.capacity == pytest.approx(3.0 * TONNE)
    assert "SH-1" in rated.basis


def test_a_tag_read_on_site_stands_before_the_one_planned(tmp_path: Path) -> None:
    """What hangs there is what was read: another sling than the planned one is looked up in its place."""
    at = library(tmp_path, more=ROW.format(n=5).replace('"4.6 t"', '"1.0 t"'))
    result = assessed(four(), at, {("lift", "leg.2.tag"): "S-5"})
    assert [check.verdict for check in tags(result)] == ["ok", "fails", "ok", "ok"]
    carried = [check for check in result.checks if check.key == "leg_capacity"]
    assert carried[1].limit == pytest.approx(1.0 * TONNE)


@pytest.mark.parametrize("kind", ["shackle", "adjuster"])
def test_a_named_piece_without_a_rating_is_missing(tmp_path: Path, kind: str) -> None:
    """No register, or none that holds it, and no rating in the plan: never left out of the chain in silence."""
    for at in (LIBRARY, library(tmp_path)):
        result = assessed(four(**{f"{kind}_tag": "Z-1"}), at)
        lacking = [c for c in result.checks if c.part == kind and c.verdict == "missing"]
        assert [c.leg for c in lacking] == [1, 2, 3, 4]
        assert lacking[0].needs == (f"leg.1.{kind}_capacity",)
        assert result.verdict in ("missing", "fails")


def test_a_doubled_tag_is_told_though_the_register_holds_no_slings(tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_text(SHACKLE, "utf-8")
    result = assessed(four(tag="S-1"), Library.load(tmp_path))
    assert [check.verdict for check in result.checks if check.key == "sling_tag_twice"] == ["near"]


def test_a_register_says_what_is_wrong_with_a_row(tmp_path: Path) -> None:
    with pytest.raises(LibraryError, match=r"library\.toml:4: .*not one of sling, shackle, adjuster, beam"):
        library(tmp_path, first=('kind = "sling"', 'kind = "rope"'))
    with pytest.raises(LibraryError, match="date without quotes"):
        library(tmp_path, first=("2027-03-01", '"2027-03-01"'))


@pytest.mark.parametrize(
    "kind", ["wire rope", "chain", "web sling", "round sling", "shackle", "eyebolt, plain", "beam"]
)
def test_every_kind_says_what_sets_it_aside(kind: str) -> None:
    signs, source = reject_signs(LIBRARY, kind)
    assert len(signs) >= 4
    assert any("legible" in sign for sign in signs)
    assert "B30" in source


def test_ten_broken_wires_in_a_lay() -> None:
    """ASME B30.9 and 29 CFR 1910.184(f): ten in one lay or five in one strand of one lay (from memory)."""
    signs, _ = reject_signs(LIBRARY, "wire rope")
    assert any("10 broken wires" in sign and "5 in one strand" in sign for sign in signs)

"""What a check is of stands in its fields; what a case or an item is called changes no number and no verdict."""

from __future__ import annotations

import json
from typing import Any

import pytest

from splitline.assess.context import Context
from splitline.assess.item import assess_item
from splitline.assess.result import ItemResult
from splitline.assess.to_json import item_json
from splitline.plan.model import Item
from splitline.plan.read import read_text
from tests.assess.joint_plans import LIBRARY, TODAY, assess

PLAN = read_text('format = 1\n[plan]\ntitle = "t"\n').plan
NAMES = (
    "hydrotest (bolts cold)",
    "greatest pressure, trip",
    "latest",
    "leak test",
    "round",
    "Caution",
)
OTHER = [{"bolts": [1, 2], "bolting": {"thread": "M64x4"}}]


def numbers(found: ItemResult) -> Any:
    """Everything a person is told but the words."""
    checks = [(c.key, c.size, c.demand, c.limit, c.usage, c.verdict, c.needs) for c in found.checks]
    return dict(found.results), [dict(case.results) for case in found.cases], checks


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("kind", [None, "operating", "test"])
def test_the_name_of_a_case_changes_nothing(name: str, kind: str | None) -> None:
    def joint(called: str) -> ItemResult:
        return assess(case=[{"name": called, "kind": kind, "pressure": "165 bar"}], size=OTHER)

    assert numbers(joint(name)) == numbers(joint("design"))


def test_what_is_a_test_is_said_by_its_kind() -> None:
    """1.2 in operation, 1.1 in a test: common practice, no published source. A case of no kind is operating, and says so."""
    needs = {}
    for kind in (None, "operating", "test"):
        found = assess(case=[{"name": "a", "kind": kind, "pressure": "100 bar"}])
        (check,) = [c for c in found.checks if c.key == "separation_factor"]
        needs[kind] = check.demand or 0.0
        assert ("case.0.kind" in {d.field for d in found.defaults}) is (kind is None)
    assert needs[None] == needs["operating"] == pytest.approx(needs["test"] * 1.2 / 1.1)


def test_checks_say_case_size_and_tool() -> None:
    cases = [{"name": "design", "pressure": "60 bar"}, {"name": "shut down", "pressure": "40 bar"}]
    found = assess(case=cases, size=OTHER)
    separation = [(c.case, c.size) for c in found.checks if c.key == "separation_factor"]
    rest = tuple(range(3, 25))
    assert separation == [(case, bolts) for case in ("design", "shut down") for bolts in (rest, (1, 2))]
    assert {c.size for c in found.checks if c.key == "bearing_pressure"} == {rest, (1, 2)}
    assert {c.tool for c in found.checks if c.key == "calibration"} == {"T1"}
    told = json.loads(json.dumps(item_json(found)))["checks"]
    assert [(c["case"], c["size"]) for c in told if c["key"] == "separation_factor"][1] == ("design", [1, 2])


def test_the_title_of_an_item_decides_nothing() -> None:
    """Shelf life is asked by kind and material; kit lines of lubricant and guide pins give way to items of that kind."""
    for kind, material, asked in (
        (None, None, False),
        ("seal", None, True),
        (None, "FKM 90", True),
        ("other", None, False),
    ):
        told = []
        for title in ("O-ring of NBR", "Guide pins", "Cover plate"):
            item = Item.model_validate({"id": "x", "title": title, "quantity": 1, "kind": kind, "material": material})
            found = assess_item(item, PLAN, Context(LIBRARY, TODAY))
            told.append([(c.key, c.verdict) for c in found.checks])
            assert ("kind" in {d.field for d in found.defaults}) is (kind is None and material is None)
        assert told[0] == told[1] == told[2]
        assert (("shelf_life", "on-site") in told[0]) is asked

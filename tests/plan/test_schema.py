"""The published schema against the reader: both are made from one declaration and must not part."""

from __future__ import annotations

import datetime as dt
import json
import re
import tomllib
from pathlib import Path
from random import Random
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.errors import PlanError, UnitsError
from splitline.plan.leaf.base import pattern
from splitline.plan.read import read_text
from splitline.plan.schema import plan_schema
from splitline.plan.starting import TEMPLATES, starting_text
from splitline.units import KINDS, read
from tests.plan.random_edits import random_edit
from tests.plan.test_broken_plans import HEAD, JOINT, STUD
from tests.plan.texts import COMMENTED

PLANS = Path(__file__).parents[2] / "plans"
VALIDATOR = jsonschema.Draft202012Validator(plan_schema())


def as_json(value: Any) -> Any:
    """TOML dates as an editor's checker hands them on: texts."""
    if isinstance(value, dict):
        return {key: as_json(cell) for key, cell in value.items()}
    if isinstance(value, list):
        return [as_json(cell) for cell in value]
    return value.isoformat() if isinstance(value, dt.date | dt.time) else value


def mistakes(text: str) -> list[str]:
    return [error.message for error in VALIDATOR.iter_errors(as_json(tomllib.loads(text)))]


def test_it_is_a_schema_and_plain_json() -> None:
    jsonschema.Draft202012Validator.check_schema(plan_schema())
    assert json.loads(json.dumps(plan_schema(), allow_nan=False)) == plan_schema()


@pytest.mark.parametrize(
    "text",
    [
        COMMENTED,
        *(starting_text(name) for name in TEMPLATES),
        *(p.read_text("utf-8") for p in sorted(PLANS.glob("*.toml"))),
    ],
)
def test_what_the_reader_takes_the_schema_takes(text: str) -> None:
    assert mistakes(text) == []


STRUCTURAL = [
    "",
    "format = 1",
    'format = "1"\n[plan]\ntitle = "x"',
    "format = 2\n[plan]\ntitle = 'x'",
    "format = 1\n[plan]\n",
    "format = 1\n[plan]\ntitle = 3",
    "format = 1\nplan = 3",
    'format = 1\n[plan]\ntitle = "x"\ndisplay = "imperial"',
    HEAD + "[[jiont]]\nid = 'a'",
    HEAD + "[joint]\nid = 'a'\ntitle = 'A'",
    HEAD + "[[joint]]\nid = 'a'",
    HEAD + "[[joint]]\nid = 'A b'\ntitle = 'A'",
    JOINT + "hidden = 'yes'",
    JOINT + "bolting = 'M48'",
    JOINT + "[joint.bolting]\nthread = 'M48x3'",
    JOINT + "[joint.case]\nname = 'x'",
    JOINT + "case = [1]",
    JOINT + "[[joint.case]]\npressure = '3 bar'",
    STUD + "clamp_lenght = '268 mm'",
    STUD + "clamp_length = 268",
    STUD + "clamp_length = '268'",
    STUD + "clamp_length = '26,8 mm'",
    STUD + "clamp_length = '268 bar'",
    STUD + "nut = 'round'",
    JOINT + "[joint.layout]\nshape = 'circle'\nbolts = 2",
    JOINT + "[joint.layout]\nshape = 'circle'\nbolts = 24.5",
    JOINT + "[joint.friction]\nthread = 0.001",
    JOINT + "[joint.tightening]\nmethod = 'turn'\npasses = [0.3, 1.5]",
    JOINT + "[joint.tightening]\nmethod = 'turn'\ntools_together = 3",
    JOINT + "[joint.tightening]\nmethod = 'turn'\n[joint.tightening.tool]\nserail = 'x'",
    HEAD + "[[lift]]\nid = 'l'\ntitle = 'L'\n[[lift.part]]\nat = ['0 mm', '1 mm']",
    HEAD + "[[lift]]\nid = 'l'\ntitle = 'L'\n[[lift.part]]\nat = 'unknwon'",
    HEAD + "[[fit]]\nid = 'f'\ntitle = 'F'\ntaper = '30'",
]


@pytest.mark.parametrize("text", STRUCTURAL)
def test_what_the_reader_refuses_by_its_form_the_schema_refuses(text: str) -> None:
    assert refused(text)
    assert mistakes(text)


def refused(text: str) -> bool:
    try:
        return bool(read_text(text).problems)
    except PlanError:
        return True


QUANTITIES = [(kind.name, unit) for kind in KINDS.values() for unit in kind.units]


def test_the_pattern_of_a_quantity_takes_every_unit_of_its_kind() -> None:
    for kind, unit in [*QUANTITIES, *(("capacity", unit) for unit in KINDS["mass"].units)]:
        for figure in ("12 ", "-0.5 ", "+.5e-3 ", "7. "):
            if kind != "temperature":
                read(f"{figure}{unit}", kind)
            assert re.search(pattern(kind), figure + unit), (kind, figure + unit)


@given(st.text(st.sampled_from("0123456789.,eE+-/ mbarinkNtg"), max_size=10), st.sampled_from(list(KINDS)))
def test_what_is_read_as_a_quantity_fits_its_pattern(text: str, kind: str) -> None:
    try:
        read(text, kind)
    except UnitsError:
        return
    assert re.search(pattern(kind), text)


def test_every_field_explains_itself_to_an_editor() -> None:
    for name, table in plan_schema()["$defs"].items():
        assert table["additionalProperties"] is False
        for key, field in table["properties"].items():
            assert field["description"], f"{name}.{key}"


def test_the_schema_in_docs_is_in_step() -> None:
    path = Path(__file__).parents[2] / "docs" / "splitline-plan.schema.json"
    assert json.loads(path.read_text("utf-8")) == plan_schema(), (
        "run: splitline schema --force -o docs/splitline-plan.schema.json"
    )


@settings(max_examples=60, deadline=None)
@given(st.randoms(use_true_random=False))
def test_what_the_reader_takes_after_any_edit_the_schema_takes(rnd: Random) -> None:
    draft = read_text(COMMENTED)
    for _ in range(rnd.randint(1, 4)):
        after = draft.apply(random_edit(rnd, draft))
        if not after.problems:
            draft = after
    assert [error.message for error in VALIDATOR.iter_errors(as_json(draft.tree))] == []

"""Digests of a plan and what changed since."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.compare import Changes, compare, differences, digests
from splitline.record.plans import changed_since, put_plan, standing
from tests.record.helpers import journal

PLAN = """format = 1
[plan]
title = "Prüfung"
[[joint]]
id = "head"
[joint.bolting]
thread = "M48x3"
due = 2027-03-01
[[clearance]]
id = "float"
low = "0.25 mm"
"""


def test_the_digest_is_of_canonical_json_as_written() -> None:
    said = (
        '{"clearance":[{"id":"float","low":"0.25 mm"}],"format":1,'
        '"joint":[{"bolting":{"due":"2027-03-01","thread":"M48x3"},"id":"head"}],"plan":{"title":"Prüfung"}}'
    )
    assert digests(PLAN).whole == hashlib.sha256(said.encode()).hexdigest()


def test_comments_and_order_of_keys_do_not_count() -> None:
    other = PLAN.replace('thread = "M48x3"\ndue = 2027-03-01', '# why\ndue = 2027-03-01\n\nthread   = "M48x3"')
    assert digests(other) == digests(PLAN)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("0.25 mm", "0.250 mm", Changes(changed=("clearance float",))),
        ("M48x3", "M52x3", Changes(changed=("joint head",))),
        ('title = "Prüfung"', 'title = "Probe"', Changes(changed=("plan",))),
        ('[[clearance]]\nid = "float"\nlow = "0.25 mm"\n', "", Changes(removed=("clearance float",))),
        ("[[clearance]]", '[[clearance]]\nid = "seal"\n[[clearance]]', Changes(added=("clearance seal",))),
    ],
)
def test_what_changed_is_told_by_item(old: str, new: str, expected: Changes) -> None:
    before, after = digests(PLAN), digests(PLAN.replace(old, new))
    assert compare(dict(before.items), dict(after.items)) == expected
    assert before.whole != after.whole
    assert expected


def test_items_that_changed_places_are_told() -> None:
    steps = '[[step]]\nid = "lift"\n[[step]]\nid = "bead"\n'
    swapped = '[[step]]\nid = "bead"\n[[step]]\nid = "lift"\n'
    before, after = digests(PLAN + steps), digests(PLAN + swapped)
    found = compare(dict(before.items), dict(after.items))
    assert found == Changes(moved=("order of step: was lift, bead; now bead, lift",))
    (only,) = differences(PLAN + steps, PLAN + swapped)
    assert only.said == 'order of step: was ["lift","bead"], now ["bead","lift"]'
    assert found


def test_a_plan_is_stored_once_until_it_changes(tmp_path: Path) -> None:
    book, other = journal(tmp_path), journal(tmp_path)
    first = put_plan(book, PLAN, "P. Planner", "Prüfung", "A")
    assert first is not None
    assert first.text == PLAN
    assert put_plan(other, PLAN + "# comment\n", "P. Planner") is None
    assert not changed_since(book.record.entries, PLAN)
    new = PLAN.replace("M48x3", "M52x3")
    assert changed_since(book.record.entries, new).changed == ("joint head",)
    assert put_plan(other, new, "P. Planner") is not None
    stands = standing(book.refresh().entries)
    assert stands is not None
    assert (stands.number, stands.text) == (2, new)
    assert put_plan(book, PLAN, "P. Planner") is not None


def test_what_is_no_toml_is_refused() -> None:
    with pytest.raises(RecordError, match="not valid TOML"):
        digests("[plan")

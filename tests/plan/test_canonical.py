"""Digests: what counts is what the TOML says, not how it is laid out."""

from __future__ import annotations

import hashlib
import json
import tomllib

from splitline.plan.canonical import canonical, digest, item_digests, normal_form
from splitline.plan.read import read_text
from tests.plan.texts import COMMENTED


def test_the_digest_as_anybody_can_compute_it() -> None:
    tree = tomllib.loads('b = 1\na = "ü"\n[t]\nd = 2027-03-01\n')
    text = '{"a":"ü","b":1,"t":{"d":"2027-03-01"}}'
    assert canonical(tree) == text
    assert json.loads(text)["a"] == "ü"
    assert digest(tree) == hashlib.sha256(text.encode()).hexdigest()


def test_comments_order_and_layout_do_not_count() -> None:
    a = tomllib.loads("x = 1 # c\ny = [1,\n 2]\n")
    b = tomllib.loads("y = [1, 2]\nx = 1")
    assert digest(a) == digest(b)
    assert digest(a) != digest(tomllib.loads("y = [1, 2]\nx = 1.0"))


def test_an_edited_clearance_changes_its_own_digest_only() -> None:
    draft = read_text(COMMENTED)
    before = dict(item_digests(draft.tree))
    after = dict(item_digests(draft.edit(("step", 0, "text"), "Other").tree))
    assert {name for name in before if before[name] != after[name]} == {"step one"}
    assert list(before)[:2] == ["plan", "joint head"]


def test_caches_tell_a_date_from_a_text() -> None:
    a, b = tomllib.loads("d = 2027-03-01"), tomllib.loads('d = "2027-03-01"')
    assert canonical(a) == canonical(b)
    assert normal_form(a) != normal_form(b)

"""Names that stand for something else in a folder of plans are refused wherever a plan is made, saved or opened."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from splitline.errors import PlanError
from splitline.plan.draft import Origin
from splitline.plan.read import open_plan, read_text
from splitline.plan.save import save, save_as
from splitline.plan.start import start_plan

TEXT = 'format = 1\n\n[plan]\ntitle = "New plan"\n'
RESERVED = [
    "library.toml",
    "Library.toml",
    "people.toml",
    "cover.record.toml",
    "COVER.RECORD.TOML",
    "cover.record",
    "cover.record.head",
    ".toml",
]


@pytest.mark.parametrize("name", RESERVED)
def test_no_plan_is_made_or_saved_under_it(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    with pytest.raises(PlanError, match=r"choose another name|ends in \.toml"):
        start_plan("single-lift", path)
    draft = read_text(TEXT, path)
    with pytest.raises(PlanError):
        save_as(draft, path)
    with pytest.raises(PlanError):
        save(replace(draft.edit(("plan", "tag"), "x"), origin=Origin(path, TEXT.encode(), TEXT, draft.tree)))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["library.toml", "people.toml", "cover.record.toml"])
def test_neither_is_opened_as_a_plan(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text(TEXT)
    with pytest.raises(PlanError, match="not a plan"):
        open_plan(tmp_path / name)

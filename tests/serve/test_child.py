"""One tablet's program: where it begins again after a lost link."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from splitline.serve.child import PLACE, at_work


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    file = tmp_path / "place.json"
    monkeypatch.setenv(PLACE, str(file))
    return file


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    folder = tmp_path / "plans"
    folder.mkdir()
    path = folder / "cover.toml"
    path.write_text("format = 1\n")
    return path


def test_a_tablet_at_work_comes_back_to_its_work(place: Path, plan: Path) -> None:
    place.write_text(json.dumps({"plan": str(plan), "person": "Ines"}))
    assert at_work(plan.parent) == plan
    assert at_work(plan) == plan


@pytest.mark.parametrize(
    "found", ["", "[]", "{}", '{"plan": 3, "person": "Ines"}', '{"plan": "/etc/passwd", "person": "Ines"}']
)
def test_anything_else_begins_at_the_start(place: Path, plan: Path, found: str) -> None:
    place.write_text(found)
    assert at_work(plan.parent) is None


def test_nobody_at_work_begins_at_the_start(place: Path, plan: Path) -> None:
    place.write_text(json.dumps({"plan": str(plan), "person": ""}))
    assert at_work(plan.parent) is None
    place.unlink()
    assert at_work(plan.parent) is None

"""Unsaved work survives a crash."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.plan import recovery
from splitline.plan.read import open_plan
from splitline.plan.save import PlanChangedError, save
from tests.plan.texts import COMMENTED


@pytest.fixture
def path(tmp_path: Path) -> Path:
    target = tmp_path / "cover.toml"
    target.write_text(COMMENTED, "utf-8")
    return target


def test_kept_found_and_put_onto_the_file(path: Path) -> None:
    draft = open_plan(path).edit(("plan", "title"), "Unsaved").remove(("joint", 1))
    assert recovery.Keeper().keep(draft)
    assert path.read_text("utf-8") == COMMENTED
    found = recovery.found(path)
    assert found is not None
    assert found.path.name == "cover.recovery"
    assert found.same_base(open_plan(path))
    again = found.onto(open_plan(path))
    assert again.changed
    assert again.tree == draft.tree
    assert again.new_text == draft.new_text  # comments and all
    save(again)
    recovery.drop(recovery.recovery_path(path))
    assert recovery.found(path) is None
    assert open_plan(path).get(("plan", "title")) == "Unsaved"


def test_the_file_changed_since_is_told(path: Path) -> None:
    recovery.Keeper().keep(open_plan(path).edit(("plan", "title"), "Unsaved"))
    save(open_plan(path).edit(("plan", "title"), "Theirs"))
    found = recovery.found(path)
    assert found is not None
    assert not found.same_base(open_plan(path))


def test_work_taken_up_over_somebody_s_edit_is_not_saved_without_asking(path: Path) -> None:
    recovery.Keeper().keep(open_plan(path).edit(("plan", "title"), "Unsaved"))
    save(open_plan(path).edit(("plan", "title"), "Theirs"))
    found = recovery.found(path)
    assert found is not None
    taken = found.onto(open_plan(path))
    with pytest.raises(PlanChangedError) as refused:
        save(taken)
    assert "Theirs" in refused.value.difference
    assert open_plan(path).get(("plan", "title")) == "Theirs"
    save(taken, over=refused.value.seen)
    assert open_plan(path).get(("plan", "title")) == "Unsaved"


def test_nothing_unsaved_nothing_kept(path: Path) -> None:
    assert not recovery.Keeper().keep(open_plan(path))
    assert recovery.found(path) is None
    recovery.drop(recovery.recovery_path(path))


@pytest.mark.parametrize("text", ["", "something else\n", "\x00"])
def test_a_foreign_file_of_that_name_is_left_alone(path: Path, text: str) -> None:
    recovery.recovery_path(path).write_text(text, "utf-8")
    assert recovery.found(path) is None


def test_two_sessions_keep_their_work_apart(path: Path) -> None:
    first, second = recovery.Keeper(), recovery.Keeper()
    draft = open_plan(path)
    assert first.keep(draft.edit(("plan", "title"), "First"))
    assert second.keep(draft.edit(("plan", "title"), "Second"))
    assert first.keep(draft.edit(("plan", "title"), "First again"))
    assert first.path is not None
    assert second.path is not None
    assert {first.path.name, second.path.name} == {"cover.recovery", "cover.recovery-2"}
    seen = recovery.found(path, own=first.path)
    assert seen is not None
    assert "Second" in seen.text
    first.drop()
    assert second.path.is_file()
    assert recovery.found(path, own=second.path) is None


def test_work_taken_back_is_not_kept(path: Path) -> None:
    keeper, draft = recovery.Keeper(), open_plan(path)
    keeper.keep(draft.edit(("plan", "title"), "Unsaved"))
    assert not keeper.keep(draft)
    assert recovery.found(path) is None

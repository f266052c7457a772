"""Unsaved work survives a crash."""

from __future__ import annotations

import os
import subprocess
import sys
import time
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


def left(path: Path, text: str, *, number: int = 1, process: int = 0, age: float = 0.0, machine: str = "") -> Path:
    """What a session with this process id left beside the plan, so many seconds ago."""
    name = f"cover.recovery{'' if number == 1 else f'-{number}'}"
    by = f", by process {process} on {machine or recovery._machine()}, {len(text.encode())} bytes" if process else ""
    target = path.with_name(name)
    target.write_text(
        f"# unsaved work, kept 2027-03-01T06:0{number}:00, on a file with digest none{by}\n{text}", "utf-8"
    )
    os.utime(target, (time.time() - age,) * 2)
    return target


@pytest.fixture
def ended() -> int:
    """Id of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def names(path: Path) -> set[str]:
    return {each.name for each in path.parent.iterdir()} - {path.name}


def test_what_an_ended_session_left_and_the_plan_has_is_cleared_and_work_is_offered(path: Path, ended: int) -> None:
    text = path.read_text("utf-8")
    work = text.replace("Cover", "Other cover") + "# typed\n"
    left(path, text, process=ended)
    left(path, work, number=2, process=ended)
    left(path, text, number=3, process=os.getpid())  # that session lives: its name stays its own
    left(path, text, number=4, process=ended, machine="another")  # of another machine nobody knows for a day
    left(path, text, number=5, process=ended, machine="another", age=90_000)
    left(path, text, number=6, age=90_000)  # of an older version, which did not tell
    recovery.tidy(path, text)
    assert names(path) == {"cover.recovery-2", "cover.recovery-3", "cover.recovery-4"}
    offered = recovery.found(path, text=text)
    assert offered is not None
    assert offered.text == work
    recovery.drop(offered.path)
    assert recovery.found(path, text=text) is None


def test_a_name_taken_and_never_written_is_cleared_once_it_is_old(path: Path) -> None:
    for number, age in ((2, 0), (3, 90)):
        target = path.with_name(f"cover.recovery-{number}")
        target.touch()
        os.utime(target, (time.time() - age,) * 2)
    recovery.tidy(path, path.read_text("utf-8"))
    assert names(path) == {"cover.recovery-2"}


def test_what_a_killed_writer_left_is_cleared_and_whole_work_in_it_is_not_lost(path: Path, ended: int) -> None:
    text = path.read_text("utf-8")
    work = text + "# typed\n"
    old = (time.time() - 90,) * 2
    whole = left(path, work, number=2, process=ended)
    whole.rename(path.with_name(".cover.recovery-2.0badc0de.tmp"))  # its own file was still empty
    path.with_name("cover.recovery-2").touch()
    half = left(path, work, number=3, process=ended).rename(path.with_name(".cover.recovery-3.0badc0de.tmp"))
    half.write_bytes(half.read_bytes()[:-4])
    path.with_name("cover.recovery-4.4711").write_text("older writers called it so")
    path.with_name(".cover.recovery-5.00.tmp").write_text("at work just now")
    theirs = (".other.recovery-2.0badc0de.tmp", "cover.recovery-notes.txt", "cover.toml.bak")
    for name in theirs:
        path.with_name(name).write_text("theirs")
    for each in path.parent.iterdir():
        if each.name != ".cover.recovery-5.00.tmp":
            os.utime(each, old)
    recovery.tidy(path, text)
    offered = recovery.found(path, text=text)
    assert offered is not None
    assert offered.text == work
    assert names(path) == {offered.path.name, ".cover.recovery-5.00.tmp", *theirs}


def test_nothing_of_the_own_session_is_cleared(path: Path) -> None:
    keeper = recovery.Keeper()
    keeper.keep(open_plan(path).edit(("plan", "title"), "Unsaved"))
    assert keeper.path is not None
    os.utime(keeper.path, (time.time() - 90_000,) * 2)
    recovery.tidy(path, "", keeper.path)
    assert keeper.path.is_file()

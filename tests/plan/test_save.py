"""Saving: whole or not at all, never over another's edit, the old file kept, links and modes kept."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from splitline.errors import PlanError
from splitline.plan import save as saving
from splitline.plan.draft import Draft
from splitline.plan.read import open_plan, read_text
from splitline.plan.save import PlanChangedError, save, save_as
from tests.plan.texts import COMMENTED


@pytest.fixture
def path(tmp_path: Path) -> Path:
    target = tmp_path / "plan.toml"
    target.write_bytes(COMMENTED.encode())
    return target


def edited(path: Path, title: str = "New title") -> Draft:
    return open_plan(path).edit(("plan", "title"), title)


def visible(folder: Path) -> list[str]:
    return sorted(name for name in os.listdir(folder) if not name.endswith(".lock"))


def test_saved_and_read_again(path: Path) -> None:
    draft = save(edited(path))
    assert open_plan(path).tree == draft.tree
    assert path.read_text() == COMMENTED.replace('"Close-up"', '"New title"')
    assert not draft.changed
    assert draft.problems == open_plan(path).problems
    assert (path.parent / "plan.toml.bak").read_text() == COMMENTED
    assert visible(path.parent) == ["plan.toml", "plan.toml.bak"]


def test_saved_twice_and_one_old_file_kept(path: Path) -> None:
    draft = save(save(edited(path, "one")).edit(("plan", "title"), "two"))
    assert 'title = "two"' in path.read_text()
    assert 'title = "one"' in (path.parent / "plan.toml.bak").read_text()
    assert draft.text == path.read_text()


def test_nothing_to_save_writes_nothing(path: Path) -> None:
    before = path.stat()
    save(open_plan(path))
    assert path.stat().st_mtime_ns == before.st_mtime_ns
    assert visible(path.parent) == ["plan.toml"]


def test_bytes_that_were_not_edited_stay(path: Path) -> None:
    raw = b"\xef\xbb\xbf" + COMMENTED.replace("\n", "\r\n").encode()
    path.write_bytes(raw)
    save(edited(path))
    assert path.read_bytes() == raw.replace(b'"Close-up"', b'"New title"')


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_the_mode_is_kept(path: Path, mode: int) -> None:
    path.chmod(mode)
    save(edited(path))
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_a_link_stays_a_link(path: Path) -> None:
    link = path.parent / "sub" / "link.toml"
    link.parent.mkdir()
    link.symlink_to(path)
    save(edited(link))
    assert link.is_symlink()
    assert 'title = "New title"' in path.read_text()
    assert visible(link.parent) == ["link.toml"]


def test_another_persons_edit_is_not_written_over(path: Path) -> None:
    mine = edited(path, "mine")
    save(edited(path, "theirs"))
    on_disk = path.read_bytes()
    with pytest.raises(PlanChangedError) as error:
        save(mine)
    assert path.read_bytes() == on_disk
    assert '-title = "theirs"' in error.value.difference
    assert '+title = "mine"' in error.value.difference
    assert error.value.theirs == on_disk.decode()
    assert 'title = "mine"' in error.value.mine
    save(mine, over=error.value.seen)  # looked at and wanted all the same
    assert 'title = "mine"' in path.read_text()
    assert (path.parent / "plan.toml.bak").read_bytes() == on_disk


def test_a_third_edit_after_the_look_is_not_written_over(path: Path) -> None:
    mine = edited(path, "mine")
    save(edited(path, "theirs"))
    with pytest.raises(PlanChangedError) as error:
        save(mine)
    save(edited(path, "third"))
    with pytest.raises(PlanChangedError):
        save(mine, over=error.value.seen)
    assert 'title = "third"' in path.read_text()


def test_a_file_that_can_no_longer_be_read_is_never_written_over(path: Path) -> None:
    mine = edited(path)
    path.write_bytes(b"\x00\x01junk")
    with pytest.raises(PlanChangedError, match="can no longer be read") as error:
        save(mine)
    with pytest.raises(PlanChangedError):
        save(mine, over=error.value.seen)
    assert path.read_bytes() == b"\x00\x01junk"


def test_a_deleted_file_is_said_and_can_be_written_again(path: Path) -> None:
    mine = edited(path)
    path.unlink()
    with pytest.raises(PlanChangedError, match="deleted or moved") as error:
        save(mine)
    assert not path.exists()
    save(mine, over=error.value.seen)
    assert 'title = "New title"' in path.read_text()


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (errno.ENOSPC, "no room left on the disk"),
        (errno.EROFS, "no permission to write"),
        (errno.EIO, "Input/output error"),
    ],
)
@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failed_write_leaves_the_file_as_it_was(
    path: Path, monkeypatch: pytest.MonkeyPatch, code: int, said: str, step: str
) -> None:
    draft = edited(path)

    def fail(*_: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(saving.os, step, fail)
    with pytest.raises(PlanError, match=said) as error:
        save(draft)
    assert "stands as it was" in str(error.value)
    assert path.read_text() == COMMENTED
    assert visible(path.parent) == ["plan.toml"]


@pytest.mark.skipif(os.getuid() == 0, reason="root writes everywhere")
def test_a_folder_that_cannot_be_written(path: Path) -> None:
    draft = edited(path)
    path.parent.chmod(0o555)
    try:
        with pytest.raises(PlanError, match="no permission to write in this folder"):
            save(draft)
    finally:
        path.parent.chmod(0o755)
    assert path.read_text() == COMMENTED


def test_a_file_marked_read_only_is_left_alone(path: Path) -> None:
    path.chmod(0o444)
    with pytest.raises(PlanError, match="marked read-only"):
        save(edited(path))
    assert path.read_text() == COMMENTED
    assert visible(path.parent) == ["plan.toml"]


def test_what_a_killed_writer_left_is_cleared_away(path: Path) -> None:
    (path.parent / ".plan.toml.99999.tmp").write_text("half")
    save(edited(path))
    assert visible(path.parent) == ["plan.toml", "plan.toml.bak"]


def test_a_text_that_would_not_read_back_is_not_written(path: Path) -> None:
    draft = edited(path)
    draft.__dict__["new_text"] = COMMENTED  # as if splicing had gone wrong
    with pytest.raises(PlanError, match="does not read back"):
        save(draft)
    assert path.read_text() == COMMENTED


def test_a_new_file_never_replaces_one(tmp_path: Path) -> None:
    draft = read_text(COMMENTED)
    saved = save_as(draft, tmp_path / "new.toml")
    assert saved.origin.path == tmp_path / "new.toml"
    assert (tmp_path / "new.toml").read_text() == COMMENTED
    with pytest.raises(PlanError, match="is already there"):
        save_as(draft, tmp_path / "new.toml")
    (tmp_path / "dangling.toml").symlink_to(tmp_path / "nowhere.toml")
    with pytest.raises(PlanError, match="is already there"):
        save_as(draft, tmp_path / "dangling.toml")
    with pytest.raises(PlanError, match="no such folder"):
        save_as(draft, tmp_path / "no" / "new.toml")


def test_a_plan_without_a_file(tmp_path: Path) -> None:
    with pytest.raises(PlanError, match="save it under a name"):
        save(read_text(COMMENTED).edit(("plan", "title"), "x"))


def test_a_new_plan_never_takes_over_a_record_that_was_left(tmp_path: Path) -> None:
    (tmp_path / "cover.record.toml").write_text("format = 1\n", "utf-8")
    draft = read_text('format = 1\n\n[plan]\ntitle = "T"\n', tmp_path / "other.toml")
    with pytest.raises(PlanError, match=r"cover\.record\.toml"):
        save_as(draft, tmp_path / "cover.toml")
    assert not (tmp_path / "cover.toml").exists()

"""The one atomic write: whole or not at all, whatever fails, and nothing of anybody else's touched."""

from __future__ import annotations

import ast
import errno
import os
import stat
from pathlib import Path

import pytest

from splitline.whole_file import write_whole

SRC = Path(__file__).parents[1] / "src" / "splitline"


def test_what_stands_there_is_replaced_with_its_permissions_and_nothing_is_left_beside(tmp_path: Path) -> None:
    path = tmp_path / "a.md"
    write_whole(path, b"one")
    assert stat.S_IMODE(path.stat().st_mode) == 0o666 & ~_umask()
    path.chmod(0o640)
    write_whole(path, b"two")
    assert (path.read_bytes(), stat.S_IMODE(path.stat().st_mode)) == (b"two", 0o640)
    write_whole(path, b"three", mode=0o600, sync=False)
    assert (path.read_bytes(), stat.S_IMODE(path.stat().st_mode)) == (b"three", 0o600)
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["write", "fsync", "chmod", "replace", "before"])
def test_whatever_fails_the_older_file_stands_and_nothing_is_left(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    path = tmp_path / "a.md"
    path.write_bytes(b"mine")
    if step == "write":
        monkeypatch.setattr(os, "fdopen", _full)
    elif step != "before":
        monkeypatch.setattr(os, step, fails)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, b"new", before=fails if step == "before" else None)
    monkeypatch.undo()
    assert path.read_bytes() == b"mine"
    assert list(tmp_path.iterdir()) == [path]


def test_the_file_is_on_the_disk_before_it_is_in_place_and_its_name_after(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    sync, replace = os.fsync, os.replace

    def synced(handle: int) -> None:
        done.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file")
        sync(handle)

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(os, "replace", lambda a, b: (done.append("place"), replace(a, b)))
    write_whole(tmp_path / "a", b"x", before=lambda: done.append("before"))
    assert done == ["file", "before", "place", "folder"]
    done.clear()
    write_whole(tmp_path / "a", b"y", sync=False)
    assert done == ["place"]


def test_a_link_planted_beside_it_is_not_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    victim = tmp_path / "victim"
    victim.write_text("mine")
    monkeypatch.setattr(os, "urandom", lambda n: b"\0" * n)
    (tmp_path / f".out.{'00' * 6}.tmp").symlink_to(victim)
    with pytest.raises(FileExistsError):
        write_whole(tmp_path / "out", b"new")
    assert victim.read_text() == "mine"


def test_only_what_writers_of_this_file_left_is_cleared_away(tmp_path: Path) -> None:
    for name in (".a.toml.99999.tmp", ".a.toml.0badc0de.tmp", ".a.toml.123.bak.tmp"):
        (tmp_path / name).write_text("half")
    others = {".a.toml.toml.0badc0de.tmp", ".b.toml.0badc0de.tmp", ".a.toml.lock", "a.toml.bak"}
    for name in others:
        (tmp_path / name).write_text("theirs")
    write_whole(tmp_path / "a.toml", b"x", clear=True)
    assert {path.name for path in tmp_path.iterdir()} == {"a.toml", *others}


def test_the_longest_name_a_folder_takes_can_be_written(tmp_path: Path) -> None:
    path = tmp_path / ("n" * 251 + ".md")
    write_whole(path, b"x", clear=True)
    assert path.read_bytes() == b"x"


def test_no_other_file_replaces_files_its_own_way() -> None:
    """The older plan kept as .bak is the one other place where a name changes hands."""
    users = set()
    for source in SRC.rglob("*.py"):
        for node in ast.walk(ast.parse(source.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
                continue
            name, of_os = node.func.attr, ast.unparse(node.func) in ("os.replace", "os.rename")
            of_path = name in ("replace", "rename") and len(node.args) == 1 and not node.keywords  # a text's takes two
            if of_os or of_path or name in ("mkstemp", "NamedTemporaryFile"):
                users.add(source.relative_to(SRC).as_posix())
    assert users == {"whole_file.py", "plan/save.py"}


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


class _Full:
    """A file on a full disk."""

    def __init__(self, handle: int) -> None:
        self._handle = handle

    def __enter__(self) -> _Full:
        return self

    def __exit__(self, *_: object) -> None:
        os.close(self._handle)

    def write(self, _: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")


def _full(handle: int, *_: object) -> _Full:
    return _Full(handle)

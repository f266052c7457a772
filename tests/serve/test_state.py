"""Links and places that outlive a server."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from splitline.errors import SplitlineError
from splitline.serve.state import state_of, withdraw


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))


def test_a_restarted_server_answers_to_the_same_links(tmp_path: Path) -> None:
    assert state_of(tmp_path) == state_of(tmp_path)


def test_each_folder_has_its_own_links(tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    assert state_of(tmp_path).work_token != state_of(other).work_token


def test_new_links_end_the_old_ones(tmp_path: Path) -> None:
    old = state_of(tmp_path)
    new = state_of(tmp_path, new_links=True)
    assert {old.work_token, old.view_token}.isdisjoint({new.work_token, new.view_token})
    assert state_of(tmp_path) == new


def test_nobody_else_can_read_the_links(tmp_path: Path) -> None:
    folder = state_of(tmp_path).places.parent
    assert folder.stat().st_mode & 0o077 == 0
    assert (folder / "links.json").stat().st_mode & 0o077 == 0


def test_one_tablet_is_withdrawn_and_the_other_links_stay(tmp_path: Path) -> None:
    first = state_of(tmp_path, tablets=("crane bay", "bench"))
    assert len({first.work_token, first.view_token, *first.tablets.values()}) == 4
    assert state_of(tmp_path) == first
    withdraw(tmp_path, "crane bay")
    left = state_of(tmp_path)
    assert (left.work_token, left.view_token) == (first.work_token, first.view_token)
    assert left.tablets == {"bench": first.tablets["bench"]}
    again = state_of(tmp_path, tablets=("crane bay",))
    assert again.tablets["crane bay"] != first.tablets["crane bay"]
    assert again.links is not None
    assert again.links.stat().st_mode & 0o077 == 0


def test_new_links_are_new_for_the_tablets_too(tmp_path: Path) -> None:
    old = state_of(tmp_path, tablets=("bench",))
    new = state_of(tmp_path, new_links=True)
    assert new.tablets.keys() == {"bench"}
    assert new.tablets != old.tablets


def test_a_tablet_without_a_link_of_its_own_cannot_be_withdrawn(tmp_path: Path) -> None:
    with pytest.raises(SplitlineError, match='no tablet "bench"'):
        withdraw(tmp_path, "bench")
    state_of(tmp_path, tablets=("bench",))
    with pytest.raises(SplitlineError, match='those that have: "bench"'):
        withdraw(tmp_path, "crane bay")
    for name in ("", "  ", "a\x1b[31mb", "x" * 41):
        with pytest.raises(SplitlineError, match="printable"):
            state_of(tmp_path, tablets=(name,))


@pytest.mark.parametrize(
    "rubbish",
    [
        "",
        "{}",
        "[]",
        '{"work": "a", "view": "a"}',
        json.dumps({"work": 1, "view": 2}),
        json.dumps({"work": "w" * 32, "view": "v" * 32, "tablets": {"bench": "w" * 32}}),
        '{"work": 1, "tablets": []}',
    ],
)
def test_a_spoilt_file_of_links_is_made_anew(tmp_path: Path, rubbish: str) -> None:
    state = state_of(tmp_path)
    (state.places.parent / "links.json").write_text(rubbish)
    fresh = state_of(tmp_path)
    assert len(fresh.work_token) >= 32
    assert fresh.work_token != fresh.view_token


def test_a_folder_that_cannot_be_written_costs_only_the_memory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "file"))
    state = state_of(tmp_path)
    assert len(state.work_token) >= 32
    assert state.places.is_dir()


def test_each_target_has_a_cookie_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Browsers keep cookies by host, not by port (RFC 6265, section 8.5): two servers on one host share the jar."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    one, other = state_of(tmp_path / "a"), state_of(tmp_path / "b")
    assert one.cookie != other.cookie
    assert state_of(tmp_path / "a").cookie == one.cookie

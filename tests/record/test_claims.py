"""Bolts in hand: two screens never show the same studs."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import RecordError
from splitline.record.claims import AWAKE, LIFE, Claim, Claims
from tests.record.helpers import Ticking

PAIRS = ((1, 5), (2, 6), (3, 7), (4, 8))


def first_free(others: tuple[Claim, ...]) -> tuple[str, str, tuple[int, ...]] | None:
    taken = {bolt for claim in others for bolt in claim.bolts}
    return next((("head", "1", pair) for pair in PAIRS if not taken.intersection(pair)), None)


def screens(folder: Path, clock: Ticking, *names: str) -> list[Claims]:
    return [Claims(folder / "cover.toml", f"crew {name[0]}", name, clock) for name in names]


def test_each_crew_gets_other_studs(tmp_path: Path) -> None:
    a, b = screens(tmp_path, Ticking(), "A", "B")
    assert [c.bolts for c in (a.choose(first_free), b.choose(first_free), a.choose(first_free)) if c] == [
        (1, 5), (2, 6), (1, 5),
    ]  # fmt: skip
    a.release()
    assert [claim.bolts for claim in b.others()] == []
    assert b.choose(lambda others: None) is None
    assert b.read() == ()


def test_a_claim_outlives_a_sleeping_tablet_and_then_runs_out(tmp_path: Path) -> None:
    clock = Ticking()
    a, b = screens(tmp_path, clock, "A", "B")
    a.choose(first_free)
    clock.now += LIFE / 2
    a.renew()
    clock.now += LIFE * 0.75
    assert [claim.bolts for claim in b.others()] == [(1, 5)]
    clock.now += LIFE
    assert b.others() == ()


def test_the_same_crew_on_a_new_screen_goes_on_with_its_studs(tmp_path: Path) -> None:
    clock = Ticking()
    a, again = screens(tmp_path, clock, "A", "A2")
    a.choose(first_free)
    awake = again.choose(first_free)
    assert awake is not None
    assert awake.bolts == (2, 6)
    again.release()
    clock.now += AWAKE
    resumed = again.choose(first_free)
    assert resumed is not None
    assert resumed.bolts == (1, 5)
    assert len(again.read()) == 1


def test_taking_over_is_on_purpose(tmp_path: Path) -> None:
    clock = Ticking()
    a, b = screens(tmp_path, clock, "A", "B")
    held = a.choose(first_free)
    assert held is not None
    with pytest.raises(RecordError, match="another crew"):
        b.choose(lambda others: ("head", "1", (5,)))
    clock.forward(seconds=2)
    a.renew()
    b.take_over(held)
    assert [(claim.bolts, claim.crew) for claim in a.read()] == [((1, 5), "crew B")]


def test_only_one_of_two_takes_the_same_bolts_over(tmp_path: Path) -> None:
    a, b, c = screens(tmp_path, Ticking(), "A", "B", "C")
    held = a.choose(first_free)
    assert held is not None
    b.take_over(held)
    with pytest.raises(RecordError, match="no longer has these bolts in hand"):
        c.take_over(held)
    assert [(claim.bolts, claim.crew) for claim in a.read()] == [((1, 5), "crew B")]


def test_a_claims_file_that_does_not_read_counts_as_empty(tmp_path: Path) -> None:
    (a,) = screens(tmp_path, Ticking(), "A")
    for text in ("", "[", "[1]", '{"a": 1}', '[{"joint": "head"}]'):
        (tmp_path / "cover.record.claims").write_text(text)
        assert a.read() == ()
    assert a.choose(first_free) is not None

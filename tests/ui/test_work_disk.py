"""Work on a disk that is full at first, or is not written to for a while."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from splitline.errors import PlanError, RecordError
from splitline.record.entry import Accepted, Note
from splitline.record.journal import Journal
from splitline.ui.work import acts
from tests.record.helpers import Ticking
from tests.ui.test_work_desk import started, task
from tests.ui.work_helpers import desk, plan_file


def test_the_plan_goes_before_the_first_act_though_there_was_no_room_for_it_at_first(tmp_path: Path) -> None:
    at = desk(plan_file(tmp_path))
    full = [True]

    def sync(fd: int) -> None:
        if full[0]:
            raise OSError(28, "No space left on device")
        os.fsync(fd)

    at.journal = Journal(at.path, Ticking(), sync)
    for _ in range(2):
        with pytest.raises(RecordError, match="NOT stored: No space left"):
            at.stand_plan()
        with pytest.raises(RecordError, match="NOT stored: No space left"):
            acts.sign(at, task(at), "start")
    full[0] = False
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    assert [entry.kind for entry in at.journal.refresh().entries] == ["plan", "signed", "signed"]


def test_an_altered_record_can_be_accepted_though_a_new_plan_waits_for_it(tmp_path: Path) -> None:
    started(tmp_path)
    record = tmp_path / "cover.record.toml"
    record.write_bytes(record.read_bytes().replace(b'batch = "B7"', b'batch = "B8"'))
    plan_file(tmp_path, 10)
    at = desk(tmp_path / "cover.toml")
    with pytest.raises(RecordError, match="was altered"):
        at.stand_plan()
    acts.accept(at, task(at).stop, "Aiko", "batch corrected by hand")
    acts.note(at, "goes on")
    assert [type(entry) for entry in at.journal.refresh().entries[-3:-2]] == [Accepted]
    assert [entry.kind for entry in at.journal.refresh().entries[-2:]] == ["plan", "note"]
    assert isinstance(at.journal.refresh().entries[-1], Note)


def test_a_plan_that_cannot_be_read_is_tried_again_when_it_changes(tmp_path: Path) -> None:
    at = started(tmp_path)
    whole = at.path.read_text("utf-8")
    at.path.write_text("[[joint]\n", "utf-8")
    assert at.plan_changed()
    with pytest.raises(PlanError):
        at.load()
    assert not at.plan_changed()  # said once; what is stored meanwhile is seen
    assert task(at).kind == "bolts"
    at.path.write_text(whole + "\n", "utf-8")
    assert at.plan_changed()
    at.load()
    assert not at.plan_changed()

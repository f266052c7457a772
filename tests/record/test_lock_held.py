"""Another program holds the record's lock: no screen stands still for it, and nothing is said to be stored."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import filelock
import pytest

from splitline.errors import RecordError
from splitline.record.entry import Note
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from tests.record.helpers import Ticking, uid
from tests.ui.work_helpers import assessor, plan_file


@pytest.fixture
def waits(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """How long each lock was asked to be waited for, s."""
    asked: list[float] = []
    real = filelock.FileLock.acquire

    def acquire(self: Any, timeout: float | None = None, *more: Any, **named: Any) -> Any:
        asked.append(-1.0 if timeout is None else timeout)
        return real(self, min(timeout or 0.0, 0.01), *more, **named)

    monkeypatch.setattr(filelock.FileLock, "acquire", acquire)
    return asked


def test_taking_bolts_and_showing_the_instruction_wait_for_nobody(tmp_path: Path, waits: list[float]) -> None:
    at = Desk(plan_file(tmp_path), Ticking(), assessor)
    at.take_seat("Ines")
    at.stand_plan()
    acts.sign(at, at.task()[1], "start")
    acts.sign(at, at.task()[1], "done")
    holder = filelock.FileLock(at.journal.paths.lock)
    acts.set_up(at, at.task()[1], "molybdenum disulfide paste", "B7", "wrench W1", "1", None)
    with holder:
        waits.clear()
        _, task = at.task()
        assert waits
        assert max(waits) <= 0.3
        assert task.middle == "CANNOT STORE"
        assert any("another program holds the record" in line for line, _ in task.lines)
        with pytest.raises(RecordError, match="nothing was stored"):
            at.store(Note(uid=uid(), done_by="Ines", text="in between"))
        assert max(waits) <= 1.0
        at.leave_seat()
        assert max(waits) <= 1.0
    at.take_seat("Ines")
    assert at.task()[1].kind == "bolts"

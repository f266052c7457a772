"""Three crews in processes of their own on one cover, one of them killed again and again."""

from __future__ import annotations

import asyncio
import os
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

from splitline.record.clock import wall
from splitline.record.entry import Tightened
from splitline.record.evidence import verify
from splitline.record.journal import Journal
from splitline.ui.work import acts
from splitline.ui.work.desk import Desk
from splitline.ui.work.flow_set_up import ask_set_up
from splitline.ui.work.now import Now
from splitline.ui.work.tasks import task_now
from tests.ui.test_work_desk import started, task
from tests.ui.work_helpers import desk, plan_file

ROOT = Path(__file__).parents[2]
BOLTS = 24


def crew(plan: Path, name: str) -> subprocess.Popen[str]:
    env = os.environ | {"PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT}"}
    command = [sys.executable, "-m", "tests.ui.work_crew", str(plan), name]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env, cwd=ROOT)


def test_no_stud_is_lost_and_none_is_done_twice(tmp_path: Path) -> None:
    chance = random.Random(5)
    plan = plan_file(tmp_path, BOLTS)
    at = desk(plan, clock=wall)  # the crews work by the real clock
    acts.sign(at, task(at), "start")
    acts.sign(at, task(at), "done")
    at.leave_seat()
    steady = [crew(plan, "Ines"), crew(plan, "Tomas")]
    said: list[str] = []
    for _ in range(2):
        victim = crew(plan, "Aiko")
        time.sleep(chance.uniform(0.7, 1.1))
        victim.send_signal(signal.SIGKILL)
        said += victim.communicate()[0].splitlines()
    last = crew(plan, "Aiko")
    for process in (*steady, last):
        said += process.communicate(timeout=40)[0].splitlines()
    entries = [entry for entry in Journal(plan).refresh().entries if isinstance(entry, Tightened)]
    done = Counter((entry.pass_, bolt) for entry in entries for bolt in entry.bolts)
    assert done == Counter((name, bolt) for name in ("snug", "1", "2", "round 1") for bolt in range(1, BOLTS + 1))
    order = [entry.pass_ for entry in entries]
    assert order == sorted(order, key=["snug", "1", "2", "round 1"].index)
    assert not [line for line in said if line.startswith("refused")]
    assert verify(plan).ok
    assert len({entry.crew for entry in entries}) >= 2


def test_a_crew_that_starts_late_finds_the_work_where_it_stands(tmp_path: Path) -> None:
    at = started(tmp_path, 4)
    acts.tighten(at, task(at))
    at.leave_seat()
    late = desk(at.path, "Tomas")
    assert task(late).kind == "set-up"
    assert any("batch B7" in line for line, _ in task(late).lines)


def test_a_second_crew_is_shown_the_free_tool_first(tmp_path: Path) -> None:
    ines = started(tmp_path)  # with wrench W1
    tomas = desk(ines.path, "Tomas")
    now = tomas.refresh()
    screen: Any = Answering(tomas, now)
    asyncio.run(ask_set_up(screen, task_now(now)))
    first, second = screen.asked[0]._choices[:2]
    assert (first.label, "with Ines" in first.note) == ("wrench W2", False)
    assert (second.label, "with Ines" in second.note) == ("wrench W1", True)


class Answering:
    """A screen whose every question is gone back from."""

    def __init__(self, at: Desk, now: Now) -> None:
        self.desk, self.now, self.asked = at, now, list[Any]()

    async def ask(self, question: Any) -> None:
        self.asked.append(question)

"""SIGKILL at any moment of saving: the plan on disk is whole, old or new."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from random import Random

import pytest

from splitline.plan.read import open_plan
from tests.plan.texts import COMMENTED

ROOT = Path(__file__).parents[2]


def kill_while_saving(path: Path, delay: float) -> int:
    """Run a saver, kill it after a while, read what stands: the number of the last whole save."""
    process = subprocess.Popen([sys.executable, "-m", "tests.plan.saver", str(path)], stdout=subprocess.PIPE, cwd=ROOT)
    assert process.stdout is not None
    assert process.stdout.readline() == b"ready\n"
    time.sleep(delay)
    process.send_signal(signal.SIGKILL)
    process.wait()
    process.stdout.close()
    draft = open_plan(path)
    notes = draft.tree["plan"].get("notes", "save 0 ")
    match = re.fullmatch(r"save (\d+) (x*)", notes)
    assert match is not None
    count = int(match.group(1))
    assert len(match.group(2)) == (count % 7) * 4000
    assert {**draft.tree, "plan": {}} == {**open_plan(path).tree, "plan": {}}
    assert draft.text.count("@") == COMMENTED.count("@")
    return count


@pytest.mark.parametrize("rounds", [3, pytest.param(200, marks=pytest.mark.long)])
def test_the_plan_is_always_whole(tmp_path: Path, rounds: int, request: pytest.FixtureRequest) -> None:
    if rounds > 3 and "long" not in request.config.getoption("-m"):
        pytest.skip("on demand: pytest -m long")
    path = tmp_path / "plan.toml"
    path.write_text(COMMENTED, "utf-8")
    rnd = Random(1)
    assert sum(kill_while_saving(path, rnd.uniform(0.01, 0.12)) for _ in range(rounds)) > 0

"""Steps 15 to 26 of the demo, one after the other, by keys alone: nothing is skipped, no act lacks its number, all is signed.

Minutes of pressing keys, so on demand (``-m long``); what each step shows at its start is asked in
``test_demo_steps_have_numbers.py`` in every run.
"""

from __future__ import annotations

import datetime as dt
import re
import tomllib
from pathlib import Path

import pytest
from textual.pilot import Pilot

from splitline.assess.step import BARRED
from splitline.record.entry import Measured
from splitline.record.evidence import verify
from splitline.ui.work.choice import ChoiceScreen
from splitline.ui.work.counts import counts_open
from splitline.ui.work.desk import Desk
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.resume import ResumeScreen
from splitline.ui.work.screen import WorkScreen
from splitline.ui.work.target import Target
from splitline.ui.work.task import Limits, Task
from splitline.ui.work.text import TextScreen
from splitline.units import KINDS, from_si
from tests.record.helpers import Ticking
from tests.ui.test_work_demo import DEMO, middle
from tests.ui.test_work_screen import WorkApp, seen

FIRST = 15


def late_part(folder: Path) -> Path:
    """The demo from its step 15 on."""
    head, *steps = DEMO.read_text("utf-8").split("[[step]]")
    own = steps[FIRST - 1 :]
    ids = {re.search(r'id = "(.*?)"', step)[1] for step in own}  # type: ignore[index]

    def kept(found: re.Match[str]) -> str:
        names = [name for name in re.findall(r'"(.*?)"', found[1]) if name in ids]
        return f"needs = [{', '.join(map(repr, names))}]".replace("'", '"')

    own = [re.sub(r"needs = \[(.*?)\]", kept, step) for step in own]
    head = re.sub(r"\[\[window\]\].*?(?=\n# -)", "", head, flags=re.DOTALL)  # its steps come before
    path = folder / "late.toml"
    path.write_text(head + "".join(f"[[step]]{step}" for step in own), "utf-8")
    return path


class Crew:
    """Presses what a careful crew presses, by what stands on the screen."""

    def __init__(self, app: WorkApp, pilot: Pilot[None], clock: Ticking) -> None:
        self.app, self.pilot, self.clock = app, pilot, clock
        self.limits: Limits | None = None
        self.tasks: list[Task] = []

    @property
    def desk(self) -> Desk:
        return self.app.work.desk

    async def press(self, *keys: str) -> None:
        await self.pilot.press(*keys)
        await self.pilot.pause(0.01)

    async def go(self, most: int = 1500) -> None:
        """On until every step of the plan is done and signed."""
        for _ in range(most):
            screen = self.app.screen
            if isinstance(screen, WorkScreen):
                task = screen.shown
                if task is None:
                    await self.pilot.pause(0.02)
                    continue
                if self._through():
                    return  # what is in no step of this part of the plan comes next
                await self._work(task)
            elif isinstance(screen, PadScreen):
                await self.press(*self._typed(screen), "enter")
            elif isinstance(screen, TextScreen):
                await self.press("b", "1", "enter")
            elif isinstance(screen, ChoiceScreen):
                if not screen.query(Target):
                    await self.pilot.pause(0.02)  # its page is being built
                    continue
                await self.press(self._chosen(screen))
            elif isinstance(screen, ResumeScreen):
                await self.press("enter")
            else:
                raise AssertionError(f"{screen}: {seen(self.app)}")
        raise AssertionError(seen(self.app))

    def _through(self) -> bool:
        now = self.app.work.now
        own = {step.id for step in self.desk.assessment.plan.steps}
        return now is not None and all(state.state == "done" for state in now.states if state.plan.id in own)

    async def _work(self, task: Task) -> None:
        assert task.kind != "stopped", task.lines
        if not self.tasks or self.tasks[-1].key != task.key:
            self.tasks.append(task)
        key = self._act(task)
        if key is None:
            self.clock.forward(minutes=30)
            await self.app.work._poll()
            await self.pilot.pause(0.02)
        else:
            await self.press(key)

    def _act(self, task: Task) -> str | None:
        """The key of what comes next; None: wait."""
        first = task.answers[0]
        keys = {answer.id: answer.key for answer in task.answers}
        if task.kind == "bolts":
            return keys.get("still", keys.get("unmoved")) or next(
                (a.key for a in task.answers if a.label == "Did not move"), first.key
            )
        if first.ready:
            return first.key
        asked = [line for line, style in task.lines if line.startswith(("Done asks", "to be read"))]
        if asked:
            self.limits = next(
                (each for each in task.readings if each.what in asked[0].partition(": ")[2]), task.readings[0]
            )
            return keys["reading"]
        if "count" in keys:
            return keys["count"]
        return None

    def _chosen(self, screen: ChoiceScreen) -> str:
        own = list(screen.query(Target))
        labels = [target.label for target in own]
        wanted = self.limits.what if screen.asked == "What was read" and self.limits else None
        if wanted is None:
            own_words = next((n for n, label in enumerate(labels, 1) if not label.startswith("Another")), 1)
            return str(labels.index("No further tool") + 1 if "No further tool" in labels else own_words)
        if wanted in labels:
            return str(labels.index(wanted) + 1)
        assert "More …" in labels, (wanted, labels)
        return str(labels.index("More …") + 1)

    def _typed(self, screen: PadScreen) -> list[str]:
        """A number in the pad's own unit."""
        title, unit = screen.asked, screen.unit
        task = self.tasks[-1]
        if title.endswith("how many are out"):
            assert self.desk.journal is not None
            now = self.app.work.now
            assert now is not None
            assert task.step is not None
            return list(str(counts_open(now, task.step.plan.id)[0].wanted))
        if title.startswith("Tilt"):
            limits = next(each for each in task.readings if each.what == "tilt")
        else:
            assert self.limits is not None, title
            limits = self.limits
        value = self.value(limits, task)
        assert limits.judge(value) != "outside", limits
        shown = from_si(value, limits.quantity, unit) if limits.quantity in KINDS else value * 100
        return [{".": "full_stop", "-": "minus"}.get(sign, sign) for sign in f"{shown:.3f}".rstrip("0").rstrip(".")]

    def value(self, limits: Limits, task: Task) -> float:
        """What such a crew reads: in the middle of its limits; the zero where the stop and the advance put it."""
        if limits.what.startswith("zero") and limits.low is None:
            result = self.desk.assessment.find("fit", task.item)
            assert result is not None
            return 0.03 + float(result.results["advance"])
        if limits.what.startswith("difference of two zeros"):
            return 0.01e-3
        if limits.what == BARRED:
            return 90.0
        return middle(limits)


@pytest.mark.long
async def test_steps_15_to_26_by_keys_alone(tmp_path: Path) -> None:
    clock = Ticking(dt.datetime(2026, 11, 25, 6, tzinfo=dt.UTC))  # before the calibrations of the demo lapse
    path = late_part(tmp_path)
    app = WorkApp(path, Desk(path, clock))
    async with app.run_test(size=(100, 32)) as pilot:
        crew = Crew(app, pilot, clock)
        await crew.go()
        desk = app.work.desk
    steps = [step["id"] for step in tomllib.loads(DEMO.read_text("utf-8"))["step"]][FIRST - 1 :]
    assert list(dict.fromkeys(task.step.plan.id for task in crew.tasks if task.step is not None)) == steps
    # The gate stands where a joint is in no step of this part of the order: an acceptance has checks and a name, no figure.
    lacking = [
        (task.title, task.part, task.lines)
        for task in crew.tasks
        if task.kind in ACTS and task.middle != GATE and not task.figures
    ]
    assert lacking == []
    read = [entry for entry in desk.journal.record.entries if isinstance(entry, Measured)]
    assert {entry.verdict for entry in read} <= {"inside", "not judged"}
    assert {entry.what for entry in read if entry.verdict == "not judged"} <= UNJUDGED
    assert verify(path).ok


GATE = "not to be started"
ACTS = ("bolts", "mounting", "plain")  # a set-up and a signature have words and names, no figures
UNJUDGED = {"zero, from a fixed face"}  # of the hub, which has no stop dimension

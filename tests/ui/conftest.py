"""A small plan of one head cover and one lift, in a folder of its own; what the screens remember goes there too."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.worker import WorkerCancelled

from splitline.ui.app import SplitlineApp
from splitline.ui.screens.plan import PlanScreen

PLAN = """\
format = 1

[plan]
title = "Head cover [M64 x] and \\"quotes\\", Müller"
revision = "A"
crew = ["A. Fitter", "B. Fitter"]

# the cover
[[joint]]
id = "cover"
title = "Cover to casing"

[joint.bolting]
kind = "stud"
thread = "M48x3"
grade = "ASTM A193 B7"
clamp_length = "268 mm"   # measured
engagement = "62 mm"
tapped_strength = "485 MPa"

[joint.friction]
thread = 0.12
bearing = 0.12

[joint.layout]
shape = "circle"
bolts = 12
diameter = "800 mm"

[joint.target]
bolt_stress = "345 MPa"

[joint.load]
pressure_diameter = "600 mm"
seal = "o-ring"

[[joint.case]]
name = "design"
pressure = "60 bar"

[joint.member]
modulus = "200 GPa"
outer_diameter = "960 mm"
inner_diameter = "620 mm"
flange_thickness = "120 mm"

[joint.tightening]
method = "torque wrench"

[[lift]]
id = "cover-lift"
title = "Cover"

[[lift.part]]
name = "cover"
mass = "2400 kg"
at = ["0 mm", "0 mm", "100 mm"]

[lift.hook]
above_picks = "2 m"

[[lift.leg]]
pick = ["500 mm", "0 mm", "200 mm"]
capacity = "3 t"
elongation = 0.01

[[lift.leg]]
pick = ["-500 mm", "0 mm", "200 mm"]
capacity = "3 t"
elongation = 0.01

[[step]]
id = "lift"
text = "Cover onto the studs"
lift = "cover-lift"
hold = "lifting supervisor"
minutes = 60

[[step]]
id = "tighten"
text = "Pull down the cover"
joint = "cover"
minutes = 90
"""

Opened = Callable[[Pilot[None]], Awaitable[PlanScreen]]


@pytest.fixture(autouse=True)
def own_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.delenv("NO_COLOR", raising=False)


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    folder = tmp_path / "plans"
    folder.mkdir()
    path = folder / "cover.toml"
    path.write_text(PLAN, "utf-8")
    return path


@pytest.fixture
def app(plan_file: Path) -> SplitlineApp:
    return SplitlineApp(plan_file)


async def settled(pilot: Pilot[None]) -> None:
    """Wait until everything beside the screen is done and shown."""
    await pilot.pause(0.08)  # heavy work starts a moment after the first picture
    for _ in range(3):
        await pilot.pause()
        with suppress(WorkerCancelled):  # its screen was left
            await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def opened(pilot: Pilot[None]) -> PlanScreen:
    """The plan's screen with its first assessment."""
    await settled(pilot)
    screen = pilot.app.screen
    assert isinstance(screen, PlanScreen)
    return screen


def text_of(screen: PlanScreen, pane: str) -> str:
    """What stands in a pane."""
    from splitline.ui.widgets.lines import LineView

    view = screen.query_one(f"#{pane}", LineView)
    return "\n".join("".join(text for text, _ in line.row) for line in view.lines)

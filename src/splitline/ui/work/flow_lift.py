"""The trial lift: what is read while it hangs clear, what is looked at, then a tick of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from splitline.assess.cautions import trial_lift
from splitline.ui.work import acts, asks
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.flow_instrument import taken
from splitline.ui.work.reasons import SET_DOWN
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_lift import TILT, TRIAL, must_trim, tail_of, tilt_read, trial_words

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


CLEAR = (
    ("{} clear of the ground, hold. Nobody under it.", "caution"),
    ("Look: level, slings in their seats, hook over the centre, brake holds, load cell.", "strong"),
)


async def trial(screen: WorkScreen, task: Task) -> None:
    """It hangs clear. Where the plan asks for trimming, the tilt is read before it is ticked; outside, the work stops."""
    turned = trial_words(tail_of(screen.now, task.item))
    system = screen.now.system if screen.now is not None else "SI"
    clear = tuple((text.format(trial_lift(system)), style) for text, style in CLEAR)
    lines = (
        *(turned or clear),
        ("A load cell that is read goes in by Reading before this.", "dim"),
    )
    choices = [
        Choice("clear", "Holds well", "pivot, slings and hook looked at")
        if turned
        else Choice("clear", "Hangs well", "level, slings and hook looked at"),
        Choice("down", "Set down again", "say why"),
    ]
    found = await screen.ask(ChoiceScreen("Trial lift", choices, lines, asks.BACK_FIRST))
    if found == "clear" and await _tilt(screen, task):
        screen.act(lambda: acts.sign(screen.desk, task, TRIAL))
    elif found == "down":
        why = await asks.reason(screen, "Set down again", SET_DOWN)
        if why:
            screen.act(lambda: acts.note(screen.desk, why, "trial lift set down", task.item))


async def _tilt(screen: WorkScreen, task: Task) -> bool:
    """Whether the tilt stands in the record where it must, asked for now if it does not; False: go back."""
    now, step = screen.now, task.step
    if now is None or step is None or not must_trim(now.assessment.find("lift", task.item)):
        return True
    if tilt_read(now, task.item, step.plan.id):
        return True
    limits = next(each for each in task.readings if each.what == TILT)
    if not await taken(screen, limits):
        return False
    value = await asks.amount(screen, limits, "Tilt after trimming, spirit level on the face")
    if value is None:
        return False
    screen.act(lambda: acts.read(screen.desk, task, limits, *value))
    return limits.judge(value[0]) != "outside"

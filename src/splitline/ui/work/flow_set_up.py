"""The set-up of a pass: lubricant and batch, tools, their serial numbers and calibration; asked once, then locked."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from splitline.plan.model import Joint
from splitline.record.entry import Signed
from splitline.ui.work import acts, asks
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.task import Task
from splitline.ui.work.text import TextScreen
from splitline.ui.work.values import JOINED

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


async def set_up(screen: WorkScreen, task: Task) -> None:
    """Lubricant batch, tool and its calibration: once a pass, then locked."""
    now = screen.now
    joint = screen.desk.assessment.plan.find("joint", task.joint)
    if now is None or not isinstance(joint, Joint):
        return
    first = now.set_up(task.joint, task.pass_, anybody=True)
    stuff = (first.lubricant, first.batch) if first else await _lubricant(screen, task, joint)
    if stuff is None:
        return
    tools = await _tools(screen, joint)
    if tools is None:
        return
    name = JOINED.join(each[0] for each in tools)
    serial = JOINED.join(each[1] for each in tools)
    due = min(each[2] for each in tools)
    screen.act(lambda: acts.set_up(screen.desk, task, stuff[0], stuff[1], name, serial, due))


async def _lubricant(screen: WorkScreen, task: Task, joint: Joint) -> tuple[str, str] | None:
    planned = joint.friction.lubricant if joint.friction and joint.friction.lubricant else ""
    lubricant: str | None = planned
    title = "Lubricant on thread and nut face"
    if planned:
        other = Choice(asks.OTHER, "Another one", "the torque is not for it")
        lubricant = await screen.ask(ChoiceScreen(title, [Choice(planned, planned, "as planned"), other]))
    if lubricant in (asks.OTHER, ""):
        lubricant = await screen.ask(
            TextScreen(title, (("The plan's torque is for its own lubricant only.", "caution"),))
        )
    if lubricant is None:
        return None
    before = [
        e.batch
        for e in (screen.now.alive if screen.now else ())
        if isinstance(e, Signed) and e.act == "set-up" and e.batch
    ]
    choices = [Choice(batch, batch, "used before") for batch in dict.fromkeys(reversed(before))]
    batch: str | None = asks.OTHER
    if choices:
        batch = await screen.ask(
            ChoiceScreen("Batch of the lubricant", [*choices, Choice(asks.OTHER, "Another batch")])
        )
    if batch == asks.OTHER:
        batch = await screen.ask(
            TextScreen("Batch of the lubricant", ((f"{lubricant}: as printed on the tin", "dim"),))
        )
    return (lubricant, batch) if batch else None


Hand = tuple[str, str, date]  # tool, serial number, its calibration runs out


async def _tools(screen: WorkScreen, joint: Joint) -> list[Hand] | None:
    """The tools this crew works with together: one, or as many as the plan says."""
    together = joint.tightening.tools_together if joint.tightening and joint.tightening.tools_together else 1
    found: list[Hand] = []
    for number in range(1, min(together, 4) + 1):
        title = "Tool in your hands" if together == 1 else f"Tool {number} of {together}"
        tool = await _tool(screen, joint, title, [each[0] for each in found])
        if tool is None:
            return None
        if tool == NO_MORE:
            break
        found.append(tool)
    return found


NO_MORE: Hand = ("", "", date.max)


async def _tool(screen: WorkScreen, joint: Joint, title: str, taken: list[str]) -> Hand | None:
    tools = joint.tightening.tool if joint.tightening else ()
    names = [tool.name or f"tool {number}" for number, tool in enumerate(tools, 1)]
    choices = [
        Choice(str(i), name, tools[i].serial or "serial not known") for i, name in enumerate(names) if name not in taken
    ]
    choices.append(Choice(asks.OTHER, "Another tool", "not in the plan"))
    if taken:
        choices.append(Choice("none", "No further tool", "this crew pulls with these"))
    found = await screen.ask(ChoiceScreen(title, choices)) if tools or taken else asks.OTHER
    if found is None or found == "none":
        return NO_MORE if found else None
    serial: str | None = None
    due: date | None = None
    if found == asks.OTHER:
        name = await screen.ask(TextScreen(title, (("Its chart must be its own: never another tool's.", "caution"),)))
    else:
        name, serial, due = names[int(found)], tools[int(found)].serial, tools[int(found)].calibration_due
    if not name:
        return None
    serial = serial or await screen.ask(TextScreen(f"Serial number of {name}"))
    if not serial:
        return None
    due = due or await asks.day(screen, f"Calibration of {name} {serial} runs out on")
    return (name, serial, due) if due else None

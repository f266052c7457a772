"""The set-up of a pass: lubricant and batch, tools, their serial numbers and calibration; asked once, then locked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from splitline.plan.model import Joint
from splitline.record.entry import Signed
from splitline.ui.work import acts, asks
from splitline.ui.work.asks import Asker
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.task import Task
from splitline.ui.work.text import TextScreen
from splitline.ui.work.values import JOINED

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


@dataclass(frozen=True, slots=True)
class SetUp:
    """The answers: lubricant, its batch, tools and serial numbers joined, the first calibration to run out."""

    lubricant: str
    batch: str
    tool: str
    serial: str
    due: date


async def set_up(screen: WorkScreen, task: Task) -> None:
    """Lubricant batch, tool and its calibration: once a pass, then locked."""
    found = await ask_set_up(screen, task)
    if found is not None:
        screen.act(
            lambda: acts.set_up(screen.desk, task, found.lubricant, found.batch, found.tool, found.serial, found.due)
        )


async def ask_set_up(screen: Asker, task: Task) -> SetUp | None:
    """The questions of a set-up; a second crew is not asked for the lubricant again."""
    now = screen.now
    joint = screen.desk.assessment.plan.find("joint", task.joint)
    if now is None or not isinstance(joint, Joint):
        return None
    first = now.set_up(task.joint, task.pass_, anybody=True)
    stuff = (first.lubricant, first.batch) if first else await _lubricant(screen, task, joint)
    tools = await _tools(screen, task, joint) if stuff is not None else None
    if stuff is None or tools is None:
        return None
    name = JOINED.join(each[0] for each in tools)
    serial = JOINED.join(each[1] for each in tools)
    return SetUp(stuff[0], stuff[1], name, serial, min(each[2] for each in tools))


async def _lubricant(screen: Asker, task: Task, joint: Joint) -> tuple[str, str] | None:
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


async def _tools(screen: Asker, task: Task, joint: Joint) -> list[Hand] | None:
    """The tools this crew works with together: one, or as many as the plan says."""
    together = joint.tightening.tools_together if joint.tightening and joint.tightening.tools_together else 1
    found: list[Hand] = []
    hands = _in_hands(screen, task)
    for number in range(1, min(together, 4) + 1):
        title = "Tool in your hands" if together == 1 else f"Tool {number} of {together}"
        tool = await _tool(screen, joint, title, [each[0] for each in found], hands)
        if tool is None:
            return None
        if tool == NO_MORE:
            break
        found.append(tool)
    return found


NO_MORE: Hand = ("", "", date.max)


async def _tool(screen: Asker, joint: Joint, title: str, taken: list[str], hands: dict[str, str]) -> Hand | None:
    tools = joint.tightening.tool if joint.tightening else ()
    names = [tool.name or f"tool {number}" for number, tool in enumerate(tools, 1)]
    today = screen.desk.clock().date()
    choices = [
        Choice(str(i), name, _known(tools[i].serial, tools[i].calibration_due, today, hands.get(name, "")))
        for i, name in enumerate(names)
        if name not in taken
    ]
    choices.sort(key=lambda choice: names[int(choice.value)] in hands)
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
    if due is not None and due < today and not await _lapsed(screen, f"{name} {serial}", due):
        return None
    return (name, serial, due) if due else None


def _in_hands(screen: Asker, task: Task) -> dict[str, str]:
    """Tools another crew set this pass up with, and whose they are."""
    found: dict[str, str] = {}
    place = (task.joint, task.pass_)
    for entry in screen.now.alive if screen.now is not None else ():
        if isinstance(entry, Signed) and entry.act == "set-up" and (entry.joint, entry.pass_) == place:
            found |= dict.fromkeys(entry.tool.split(JOINED), entry.crew)
    return {tool: crew for tool, crew in found.items() if crew and crew != screen.desk.person}


def _known(serial: str | None, due: date | None, today: date, crew: str = "") -> str:
    if due is not None and due < today:
        return f"CALIBRATION LAPSED {due}"
    said = serial or "serial not known"
    return f"{said}, with {crew}" if crew else said


async def _lapsed(screen: Asker, tool: str, due: date) -> bool:
    """A tool whose calibration has run out: going back to take another is what the cursor stands on."""
    lines = (
        (f"The calibration of {tool} ran out on {due}.", "fails"),
        ("Take another tool. With this one the work stops until a named person accepts it.", "caution"),
    )
    return await asks.sure(screen, "Use it all the same?", "Use it", lines)

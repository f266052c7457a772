"""The set-up of a pass: lubricant and batch, tools, their serial numbers and calibration; asked once, then locked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from splitline.plan.model import Joint
from splitline.plan.model.tightening import Tool
from splitline.record.entry import JOINED, Signed
from splitline.record.tools import holder, tools_of
from splitline.ui.work import acts, asks
from splitline.ui.work.asks import Asker
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_joint import pass_words
from splitline.ui.work.text import TextScreen
from splitline.ui.work.values import tools_said

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
    why: str = ""  # of a batch that was not on this joint
    dues: tuple[str, ...] = ()  # calibration of each tool


async def set_up(screen: WorkScreen, task: Task) -> None:
    """Lubricant batch, tool and its calibration: once a pass, then locked."""
    found = await ask_set_up(screen, task)
    if found is not None:
        screen.act(
            lambda: acts.set_up(
                screen.desk,
                task,
                found.lubricant,
                found.batch,
                found.tool,
                found.serial,
                found.due,
                found.why,
                found.dues,
            )
        )


async def ask_set_up(screen: Asker, task: Task) -> SetUp | None:
    """The questions of a set-up; a second crew is not asked for the lubricant again."""
    now = screen.now
    joint = screen.desk.assessment.plan.find("joint", task.joint)
    if now is None or not isinstance(joint, Joint):
        return None
    first = now.set_up(task.joint, task.pass_, anybody=True)
    before = _before(screen, task) if first is None else None
    if before is not None:
        again = await _again(screen, task, before)
        if again is None or (again == AGAIN and not await _free(screen, tools_of(before))):
            return None
        if again == AGAIN:
            return _as_before(before)
    stuff = (first.lubricant, first.batch, first.reason) if first else await _lubricant(screen, task, joint)
    tools = await _tools(screen, task, joint) if stuff is not None else None
    if stuff is None or tools is None or not await _free(screen, tuple((each[0], each[1]) for each in tools)):
        return None
    name = JOINED.join(each[0] for each in tools)
    serial = JOINED.join(each[1] for each in tools)
    dues = tuple(each[2].isoformat() for each in tools)
    return SetUp(stuff[0], stuff[1], name, serial, min(each[2] for each in tools), stuff[2], dues)


async def _free(screen: Asker, tools: tuple[tuple[str, str], ...]) -> bool:
    """Whether each tool is in no other hands, or is taken over out of them on purpose."""
    now = screen.now
    for tool in tools:
        held = holder(now.alive, tool) if now is not None else None
        if held is None or held.crew == screen.desk.person or (held.joint, held.pass_) not in _open_passes(screen):
            continue
        said = " ".join(filter(None, tool))
        lines = (
            (f"{said} is with {held.crew}, {pass_words(held.pass_)}. One wrench is in one pair of hands.", "strong"),
            (f"Only when it lies in your hands: {held.crew} is then asked for another tool.", "caution"),
        )
        if not await asks.sure(screen, f"Take {said} over?", f"Taken over from {held.crew}", lines):
            return False
    return True


def _open_passes(screen: Asker) -> set[tuple[str, str]]:
    """Joint and pass of what is still being worked on: a tool of a closed pass lies free."""
    states = screen.now.states if screen.now is not None else ()
    return {
        (state.plan.item, each.plan.name)
        for state in states
        if state.joint is not None
        for each in state.joint.passes
        if not each.closed
    }


AGAIN = "again"
BATCH = ("the tin was empty", "the old batch is out of date", "the old tin was dirty", "the old batch is not at hand")


def _before(screen: Asker, task: Task) -> Signed | None:
    """What this crew set an earlier pass of this joint up with, where its calibration still runs."""
    if screen.now is None or task.kind != "set-up":
        return None
    own = (
        e
        for e in reversed(screen.now.alive)
        if isinstance(e, Signed) and (e.act, e.joint, e.crew) == ("set-up", task.joint, screen.desk.person)
    )
    last = next(own, None)
    whole = last is not None and last.lubricant and last.batch and last.tool and last.serial and last.calibration_due
    return last if last is not None and whole and _runs(last, screen.desk.clock().date()) else None


def _runs(entry: Signed, today: date) -> bool:
    return entry.calibration_due is not None and entry.calibration_due >= today


async def _again(screen: Asker, task: Task, before: Signed) -> str | None:
    """All as before, or one by one."""
    lines = (
        (f"{before.lubricant}, batch {before.batch}", "strong"),
        (tools_said(before.tool, before.serial), "strong"),
        ("Look at the tin and at the tools in your hands.", "caution"),
    )
    choices = [
        Choice(AGAIN, "As before", f"as in {pass_words(before.pass_)}"),
        Choice("other", "Something else", "asked one by one"),
    ]
    return await screen.ask(ChoiceScreen("Lubricant and tools of this pass", choices, lines))


def _as_before(before: Signed) -> SetUp:
    assert before.calibration_due is not None
    return SetUp(before.lubricant, before.batch, before.tool, before.serial, before.calibration_due, "", before.dues)


async def _lubricant(screen: Asker, task: Task, joint: Joint) -> tuple[str, str, str] | None:
    """Lubricant, its batch, and why the batch is another one than was on this joint."""
    planned = joint.friction.lubricant if joint.friction and joint.friction.lubricant else ""
    title = "Lubricant on thread and nut face"
    choices = [Choice(planned, planned, "as planned")] if planned else _used_here(screen, joint.id)
    lubricant: str | None = asks.OTHER
    if choices:
        other = Choice(asks.OTHER, "Another one", "the torque is not for it" if planned else "type it")
        lubricant = await screen.ask(ChoiceScreen(title, [*choices, other]))
    if lubricant == asks.OTHER:
        lubricant = await screen.ask(TextScreen(title, _meant(joint, planned)))
    found = await ask_batch(screen, joint.id, lubricant) if lubricant is not None else None
    return (lubricant, *found) if lubricant is not None and found is not None else None


async def ask_batch(screen: Asker, joint: str, lubricant: str) -> tuple[str, str] | None:
    """The batch of a lubricant; where another one was on this joint, why. None: somebody went back."""
    before = [
        e.batch
        for e in (screen.now.alive if screen.now else ())
        if isinstance(e, Signed) and e.act == "set-up" and e.batch and e.lubricant == lubricant
    ]  # a batch of another lubricant is never offered
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
    if not batch:
        return None
    other = acts.other_batch(screen.now.alive if screen.now else (), joint, lubricant, batch)
    if not other:
        return batch, ""
    lines = (
        (f"{lubricant}: batch {other} was on this joint until now, {batch} is another one.", "caution"),
        ("Friction may differ from batch to batch: the change goes on record with its reason.", ""),
    )
    why = await asks.reason(screen, "Why another batch", BATCH, lines)
    return (batch, why) if why else None


def _used_here(screen: Asker, joint: str) -> list[Choice]:
    """Lubricants of earlier passes of this joint, the last first: typed otherwise they would count as a second one."""
    alive = screen.now.alive if screen.now else ()
    used = [e.lubricant for e in alive if isinstance(e, Signed) and (e.act, e.joint) == ("set-up", joint)]
    return [Choice(each, each, "used on this joint") for each in dict.fromkeys(reversed(used)) if each]


def _meant(joint: Joint, planned: str) -> tuple[tuple[str, str], ...]:
    """Which lubricant the torque is for, as far as the plan says."""
    if planned:
        return ((f"The torque is for {planned} only. Another one: call the planner before you pull.", "caution"),)
    given = joint.friction
    if given is None or given.thread is None:
        return (("The plan names no lubricant. Call the planner before you pull.", "caution"),)
    bearing = f", {given.bearing:g} under the nut" if given.bearing is not None else ""
    said = (
        f"The plan names none: its torque is for a coefficient of friction of {given.thread:g} in the thread{bearing}. "
    )
    return ((said + "Only a lubricant that is known to give that.", "caution"),)


Hand = tuple[str, str, date]  # tool, serial number, its calibration runs out


async def _tools(screen: Asker, task: Task, joint: Joint) -> list[Hand] | None:
    """The tools this crew works with together: one, or as many as the plan says."""
    together = joint.tightening.tools_together if joint.tightening and joint.tightening.tools_together else 1
    parts = {tool.threads for tool in joint.tightening.tool} if joint.tightening else set()
    most = max(
        min(together, 4) * max(len(parts), 1), 1
    )  # tools that are each for some sizes are all at hand in one pass
    found: list[Hand] = []
    hands = _in_hands(screen, task)
    for number in range(1, most + 1):
        title = "Tool in your hands" if most == 1 else f"Tool {number} of {most}"
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
        Choice(str(i), name, _known(tools[i], today, hands.get(name, "")))
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


def _known(tool: Tool, today: date, crew: str = "") -> str:
    due = tool.calibration_due
    if due is not None and due < today:
        return f"CALIBRATION LAPSED {due}"
    said = tool.serial or "serial not known"
    if tool.threads:
        said += f", for {', '.join(tool.threads)}"
    return f"{said}, with {crew}" if crew else said


async def _lapsed(screen: Asker, tool: str, due: date) -> bool:
    """A tool whose calibration has run out: going back to take another is what the cursor stands on."""
    lines = (
        (f"The calibration of {tool} ran out on {due}.", "fails"),
        ("Take another tool. With this one the work stops until a named person accepts it.", "caution"),
    )
    return await asks.sure(screen, "Use it all the same?", "Use it", lines)

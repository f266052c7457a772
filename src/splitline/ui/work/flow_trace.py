"""Questions that make the work traceable: parts and seals, counts in, sling tags, batches, swapped tools, open points."""

from __future__ import annotations

from datetime import date
from functools import partial
from typing import TYPE_CHECKING

from splitline.plan.model import Item, Lift
from splitline.record.entry import OPEN_POINT, Note
from splitline.record.facts import closing_note
from splitline.ui.work import acts, asks
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.flow_set_up import ask_batch, set_up
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.task import LISTED, SWAPPED, Task
from splitline.ui.work.tasks_parts import used_here
from splitline.ui.work.text import TextScreen

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


def _whole(text: str) -> str:
    return "" if text.isdecimal() else "a whole number"


async def part(screen: WorkScreen, task: Task) -> None:
    """A part, seal or consumable that was used: which, how many, of which batch; a seal with its cure date."""
    items = tuple(each for each in screen.desk.assessment.plan.items if each.kind != "instrument")
    here = used_here(items, task.step.plan if task.step is not None else None)
    ordered = [*here, *(each for each in items if each not in here)]
    choices = [Choice(each.id, each.title, each.size or "") for each in ordered]
    choices.append(Choice(asks.OTHER, "Another part", "not in the plan"))
    found = await screen.ask(ChoiceScreen("Part that was used", choices)) if ordered else asks.OTHER
    name = await screen.ask(TextScreen("Part that was used")) if found == asks.OTHER else found
    if not name:
        return
    item = next((each for each in items if each.id == found), None)
    title = item.title if item is not None else name
    planned = f"the plan says {item.quantity}" if item is not None and item.quantity is not None else "how many"
    count = await screen.ask(PadScreen(f"{title}: how many", ((planned, "dim"),), check=_whole))
    batch = await _batch(screen, title, item) if count else None
    if not count or batch is None:
        return
    cured: date | None = None
    if item is not None and item.kind == "seal":
        cured = await _cured(screen, item)
        if cured is None:
            return
    failed = acts.aged(screen.desk, item, cured) if item is not None and cured is not None else ()
    lines = [(f"{check.title}: {check.said(screen.system)}", "fails") for check in failed]
    lines += [("Take another one. The record will say that it was fitted all the same.", "caution")] if failed else []
    if failed and not await asks.sure(screen, f"Fit {title} all the same?", "Fitted all the same", lines):
        return
    screen.act(lambda: acts.part_used(screen.desk, task, name, int(count), batch, cured, failed))


NONE = "none"


async def _batch(screen: WorkScreen, title: str, item: Item | None) -> str | None:
    """As on the bag or tin; "" where it bears none."""
    known = [item.batch] if item is not None and item.batch else []
    choices = [Choice(each, each, "as in the plan") for each in known]
    choices += [Choice(asks.OTHER, "Batch", "as printed on it"), Choice(NONE, "Bears no batch", "goes on record")]
    found = await screen.ask(ChoiceScreen(f"{title}: batch", choices))
    if found == asks.OTHER:
        return await screen.ask(TextScreen(f"{title}: batch", (("As printed on the bag or tin.", "dim"),)))
    return "" if found == NONE else found


async def _cured(screen: WorkScreen, item: Item) -> date | None:
    """Read on the bag of this very seal."""
    if item.cure_date is not None:
        label = item.cure_date.isoformat()
        choices = [Choice("plan", label, "as in the plan"), Choice(asks.OTHER, "Another date", "as on the bag")]
        lines = (("Read it on the bag, not on the plan.", "caution"),)
        found = await screen.ask(ChoiceScreen(f"{item.title}: cured on", choices, lines, asks.BACK_FIRST))
        if found != asks.OTHER:
            return item.cure_date if found else None
    return await asks.day(screen, f"{item.title}: cured on")


async def count_in(screen: WorkScreen, task: Task) -> None:
    """Parts that must come out again, counted as they go in."""
    items = [each for each in screen.desk.assessment.plan.items if each.count_out]
    if not items:
        screen.say_here("the plan names nothing that is counted out again", "dim")
        return
    choices = [Choice(each.id, each.title, f"the plan says {each.quantity or 'no number'}") for each in items]
    found = await screen.ask(ChoiceScreen("What goes in", choices))
    if not found:
        return
    title = next(each.title for each in items if each.id == found)
    text = await screen.ask(PadScreen(f"{title}: how many go in", check=_whole))
    if text:
        screen.act(lambda: acts.count_in(screen.desk, task, found, int(text)))


async def sling_tag(screen: WorkScreen, task: Task) -> None:
    """The tag of the sling that hangs in a leg, whatever the plan says."""
    lift = screen.desk.assessment.plan.find("lift", task.item)
    if not isinstance(lift, Lift) or not lift.leg:
        screen.say_here("this step lifts nothing with legs", "dim")
        return
    choices = [
        Choice(str(n), f"Leg {n}", f"the plan says {leg.tag}" if leg.tag else "") for n, leg in enumerate(lift.leg, 1)
    ]
    found = await screen.ask(ChoiceScreen("Sling of which leg", choices))
    if not found:
        return
    lines = (("The tag governs, not the table: capacity and inspection date read on the sling.", "caution"),)
    text = await screen.ask(TextScreen(f"Tag on the sling of leg {found}", lines))
    if text:
        screen.act(lambda: acts.tag(screen.desk, task, f"leg.{found}.tag", text))


async def batch(screen: WorkScreen, task: Task) -> None:
    """A new tin in the middle of a pass: the tools stay, the batch and its reason are asked."""
    own = screen.now.set_up(task.joint, task.pass_) if screen.now is not None else None
    if own is None:
        screen.say_here("set up this pass first", "near")
        return
    found = await ask_batch(screen, task.joint, own.lubricant)
    if found is not None:
        screen.act(
            lambda: acts.set_up(
                screen.desk,
                task,
                own.lubricant,
                found[0],
                own.tool,
                own.serial,
                own.calibration_due,
                found[1],
                own.dues,
            )
        )


async def swap(screen: WorkScreen, task: Task) -> None:
    """The tools of this crew sit the other way round on the two fasteners in hand, from here on."""
    screen.desk.pairing = LISTED if screen.desk.pairing == SWAPPED else SWAPPED
    await screen.update()
    screen.say_here("tools told the other way round from here on", "near")


async def points(screen: WorkScreen, task: Task) -> None:
    """Open points: a new one, or one that is done."""
    alive = screen.now.alive if screen.now is not None else ()
    left = [e for e in alive if isinstance(e, Note) and e.topic == OPEN_POINT and closing_note(e.number, alive) is None]
    choices = [Choice("new", "New open point", "what, who, by when")]
    choices += [
        Choice(str(e.number), e.text, f"{e.owner}{f' by {e.due.isoformat()}' if e.due else ''}: touch when done")
        for e in left
    ]
    found = await screen.ask(ChoiceScreen("Open points", choices, ((f"{len(left)} open", "strong"),)))
    if found == "new":
        await _new_point(screen, task)
    elif found:
        point = next(e for e in left if e.number == int(found))
        words = await screen.ask(TextScreen("What was done", ((point.text, "strong"),)))
        if words:
            screen.act(partial(acts.close_point, screen.desk, point.number, words))


async def _new_point(screen: WorkScreen, task: Task) -> None:
    text = await screen.ask(TextScreen("What is left to do", ((task.title, "dim"),)))
    owner = await asks.name(screen, "Who sees to it", ((text, "strong"),), own=False) if text else None
    if not text or not owner:
        return
    choices = [
        Choice("day", "By a day", "year, month, day"),
        Choice("handover", "Before handover", "no day of its own"),
    ]
    when = await screen.ask(ChoiceScreen("By when", choices, ((text, "strong"),)))
    due = await asks.day(screen, "By when") if when == "day" else None
    if when == "handover" or due is not None:
        screen.act(lambda: acts.open_point(screen.desk, task, text, owner, due))


def offers(screen: WorkScreen, task: Task) -> list[Choice]:
    """What of it fits this task."""
    choices: list[Choice] = []
    plan = screen.desk.assessment.plan
    if task.kind == "bolts":
        choices.append(Choice("set-up", "Other tool", "from here on in this pass"))
        choices.append(Choice("batch", "Other batch", "a new tin in this pass"))
        if task.pulled_with or (screen.desk.pairing != LISTED and len(task.bolts) > 1):
            choices.append(Choice("swap", "Tools swapped", "each tool is on the other one"))
    if task.step is not None and task.step.plan.kind == "lift":
        choices.append(Choice("sling-tag", "Sling tag", "which sling hangs in which leg"))
    choices.append(Choice("part", "Part used", "seal, shim, consumable: batch"))
    if any(each.count_out for each in plan.items):
        choices.append(Choice("count-in", "Count in", "what must come out again"))
    return [*choices, Choice("points", "Open points", "left to do, or done since")]


async def trace(screen: WorkScreen, task: Task) -> None:
    """A list of its own under More, which has room for no more."""
    found = await screen.ask(ChoiceScreen("Tools, parts, open points", offers(screen, task)))
    if found:
        await FLOWS[found](screen, task)


FLOWS = {
    "set-up": set_up,
    "part": part,
    "count-in": count_in,
    "sling-tag": sling_tag,
    "batch": batch,
    "swap": swap,
    "points": points,
}

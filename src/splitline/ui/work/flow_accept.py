"""A named person takes something on themselves: a stop, studs set aside, a plan whose checks do not pass."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from splitline.record.entry import Signed, Tightened
from splitline.ui.work import acts, asks
from splitline.ui.work.choice import Choice, ChoiceScreen
from splitline.ui.work.gate import gate_of
from splitline.ui.work.reasons import ACCEPT, BACK
from splitline.ui.work.task import Task

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen

MOST = 6  # checks told on one sheet


async def concede(screen: WorkScreen, task: Task) -> None:
    """A named person lets studs set aside stay so."""
    said = ((f"The joint then has fewer tight {task.noun}s than planned. Ask who may decide this.", "caution"),)
    person = await asks.signer(screen, "Who accepts this", said)
    role = await asks.role(screen, person) if person else None
    why = await asks.reason(screen, "Why", ACCEPT) if role else None
    if person and role and why:
        screen.act(lambda: acts.concede(screen.desk, task, person, why, role))


async def bring_back(screen: WorkScreen, task: Task) -> None:
    """A named person brings studs that were accepted as set aside back into the instruction."""
    left = task.step.joint.left_out if task.step is not None and task.step.joint is not None else {}
    choices = [
        Choice(str(number), acts.bolts_said(tuple(b for b, e in left.items() if e.number == number), task.noun), why)
        for number, why in {entry.number: entry.reason for entry in left.values()}.items()
    ]
    found = choices[0].value if len(choices) == 1 else await screen.ask(ChoiceScreen("Bring back", choices))
    if not found:
        return
    said = next(choice.label for choice in choices if choice.value == found)
    lines = ((f"{said}: instructed again from the pass it was deferred in, pass by pass.", "strong"),)
    person = await asks.signer(screen, "Who brings it back", lines)
    role = await asks.role(screen, person) if person else None
    why = await asks.reason(screen, "Why", BACK, lines) if role else None
    if person and role and why:
        screen.act(lambda: acts.bring_back(screen.desk, task, int(found), person, why, role))


async def accept(screen: WorkScreen, task: Task) -> None:
    """A named person takes a stop on themselves; their own one only after a warning that is recorded."""
    now = screen.now
    stop = next((stop for stop in now.stops if stop.key == task.stop), None) if now else None
    text = now.said(stop) if now and stop else task.stop
    person = await asks.signer(screen, "Who accepts this", ((text, "strong"),))
    made = next((e for e in now.alive if e.number == stop.entry), None) if now and stop and stop.entry else None
    own = bool(person) and made is not None and screen.desk.people.among(person or "", (made.done_by, made.entered_by))
    if own:
        said = (
            (f"{person} made this entry. Another person should look at it.", "caution"),
            ("The record will say that the same person did and accepted it.", ""),
        )
        if not await asks.sure(screen, f"{person} accepts their own entry?", "Accept all the same", said):
            return
    role = await asks.role(screen, person) if person else None
    why = await asks.reason(screen, "Why", ACCEPT, ((text, "strong"),)) if role else None
    if person and role and why:
        screen.act(lambda: acts.accept(screen.desk, task.stop, person, why, own, role))


async def accept_plan(screen: WorkScreen, task: Task) -> None:
    """Checks of the plan fail: a named person answers for going on."""
    wards = gate_of(screen.now, task.step.plan).open_wards if screen.now and task.step else ()
    checks = tuple(check for ward in wards for check in ward.wrong)
    lines = tuple((f"{check.title}: {check.said(screen.system)}", check.verdict) for check in checks[:MOST])
    more = len(checks) - MOST
    lines += ((f"and {more} more", "near"),) if more > 0 else ()
    person = await asks.signer(screen, "Who accepts this", lines)
    role = await asks.role(screen, person) if person else None
    why = await asks.reason(screen, "Why", ACCEPT, lines) if role else None
    if person and role and why:
        for ward in wards:
            keys = tuple(check.key for check in ward.wrong)
            if not screen.act(partial(acts.accept_plan, screen.desk, task, keys, person, why, ward.id, role)):
                return


def hands(screen: WorkScreen, task: Task) -> set[str]:
    """Who did the work of a step, as the record has it; and who sits at this screen."""
    plan = task.step.plan if task.step is not None else None
    own = {screen.desk.person}
    for entry in screen.now.alive if screen.now is not None and plan is not None else ():
        here = getattr(entry, "step", "") == plan.id if plan is not None else False
        pulled = isinstance(entry, Tightened) and plan is not None and entry.joint == plan.item
        if pulled or (here and not (isinstance(entry, Signed) and entry.act in ("hold", "witness"))):
            own.add(entry.done_by)
    return own

"""Which tables there are to fill at this moment, by the order of work and the record."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.record.order import StepState
from splitline.record.progress import PassProgress
from splitline.record.stops import Stop
from splitline.ui.paper import work
from splitline.ui.paper.items import item_sheet
from splitline.ui.paper.joints import gap_sheet, pass_sheet
from splitline.ui.paper.table import PaperSheet
from splitline.ui.work.now import Now
from splitline.ui.work.tasks_joint import pass_words

ITEMS = ("lift", "fit", "insertion", "clearance")
TITLES = {"lift": "lift checks", "fit": "mounting steps", "insertion": "force log", "clearance": "readings"}


@dataclass(frozen=True, slots=True)
class Offer:
    """A table that can be chosen."""

    key: str
    label: str
    note: str


def offers(now: Now) -> list[Offer]:
    """The open pass of each joint first, then what else can be entered; passes that are done take readings only."""
    stopped = {stop.item for stop in _stops(now)}
    fresh: list[Offer] = []
    later: list[Offer] = []
    for state in now.states:
        plan, name = state.plan, state.plan.text or state.plan.id
        held = "" in stopped or plan.item in stopped
        if plan.kind == "joint" and state.joint is not None:
            for each in state.joint.passes:
                offer = _pass(state, each, name)
                if offer is not None and (each.closed or (state.workable and not held)):
                    (later if each.closed else fresh).append(offer)
            joint = now.joint(plan.item)
            begun = any(each.done for each in state.joint.passes)
            if joint is not None and joint.acceptance is not None and joint.acceptance.gap_max is not None and begun:
                later.append(Offer(f"gap|{plan.id}", name, "gaps by feeler"))
        elif plan.kind in ITEMS and state.workable and not held and now.assessment.find(plan.kind, plan.item):
            fresh.append(Offer(f"item|{plan.id}", name, TITLES[plan.kind]))
    if any(state.state in ("to sign", "now", "open") and (state.state == "to sign" or not state.plan.kind)
           for state in now.states) and "" not in stopped:  # fmt: skip
        fresh.append(Offer(work.KEY, "Order of work", "plain steps, hold points"))
    return [*fresh, *later]


def _pass(state: StepState, each: PassProgress, name: str) -> Offer | None:
    current = state.joint.current if state.joint is not None else None
    key = f"pass|{state.plan.id}|{each.plan.name}"
    every, words = len(each.plan.bolts), pass_words(each.plan.name)
    if each.closed:
        return Offer(key, name, f"{words}, readings only")
    if current is not None and current.plan.name == each.plan.name:
        return Offer(key, name, f"{words}, {len(each.open)} of {every} open")
    return None


def sheet_of(now: Now, key: str, tools: tuple[str, ...] = ()) -> PaperSheet | None:
    """The table of an offer; None where it is gone since. ``tools``: those in hand, where not in the record yet."""
    if key == work.KEY:
        return work.work_sheet(now)
    kind, _, rest = key.partition("|")
    ident, _, name = rest.partition("|")
    state = next((each for each in now.states if each.plan.id == ident), None)
    if state is None:
        return None
    if kind == "item":
        return item_sheet(now, state, key)
    joint = state.joint
    each = next((one for one in joint.passes if one.plan.name == name), None) if joint is not None else None
    if kind == "gap":
        return gap_sheet(now, state, key)
    return pass_sheet(now, state, each, key, tools) if each is not None else None


def stopped(now: Now) -> str:
    """Why a table that is expected is not offered: the work is stopped."""
    found = _stops(now)
    return found[0].text if found else ""


def _stops(now: Now) -> list[Stop]:
    """A time limit that is over by now may have been kept when the work was done: it is judged by the sheet's times."""
    return [stop for stop in now.stops if not stop.key.startswith("window ")]

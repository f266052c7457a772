"""Which tables there are to fill at this moment, by the order of work and the record."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.record.progress import PassProgress
from splitline.record.stops import Stop
from splitline.ui import marks
from splitline.ui.paper.items import item_sheet
from splitline.ui.paper.joints import gap_sheet, pass_sheet
from splitline.ui.paper.table import COUNT, PaperRow, PaperSheet
from splitline.ui.work.counts import counts_open, how_many
from splitline.ui.work.now import Now
from splitline.ui.work.task import Task
from splitline.ui.work.tasks_joint import pass_words
from splitline.ui.work.tasks_test import to_read

KEY = "work"


def work_sheet(now: Now) -> PaperSheet:
    """Every step that is not done yet. What has a sheet of its own is entered there; its hold point is here."""
    rows = [row for state in now.states if state.state != "done" for row in _rows(now, state)]
    read = tuple(dict.fromkeys(what for row in rows for what in row.limits))
    return PaperSheet(KEY, "item", "Order of work", "steps and signatures", read, tuple(rows), Task("plain", KEY))


def _rows(now: Now, state: StepState) -> list[PaperRow]:
    plan = state.plan
    number = next(n for n, each in enumerate(now.states, 1) if each is state)
    name = f"{number}  {plan.text or plan.id}"
    rows: list[PaperRow] = []
    if state.state != "to sign":
        begins = {w.plan.start for w in now.windows} | {w.plan.end for w in now.windows}
        if not plan.kind and state.started is None and f"{plan.id}.start" in begins:
            rows.append(PaperRow(f"{plan.id} start", f"{name}: started", "start", part=plan.id))
        for each in counts_open(now, plan.id):
            label = f"{number}  count out {each.title}, {how_many(each)}"
            rows.append(PaperRow(f"{plan.id} {each.item}", label, words=COUNT + each.item, part=plan.id))
        rows += _readings(now, state, name)
        rows += _witness(plan, state, number)
        rows.append(PaperRow(f"{plan.id} done", name, "done", "on its own sheet" if plan.kind else "", part=plan.id))
    if state.state == "to sign":
        rows += _witness(plan, state, number)
    if plan.hold and state.hold is None:
        label = f"{number}  {marks.HOLD} HOLD, {plan.hold}"
        rows.append(PaperRow(f"{plan.id} hold", label, "hold", part=plan.id, sign="hold"))
    return rows


def _readings(now: Now, state: StepState, name: str) -> list[PaperRow]:
    """Both readings of a pressure or leak test, the torque of barring over: a line each, those taken left out."""
    step = next((each for each in now.assessment.plan.steps if each.id == state.plan.id), None)
    if step is None or state.plan.kind or not state.workable:
        return []
    return [
        PaperRow(
            f"{step.id} {limits.what}", f"{name}: {limits.what}", part=step.id, limits={limits.what: limits}, reads=True
        )
        for limits in to_read(step, now)
    ]


def _witness(plan: StepPlan, state: StepState, number: int) -> list[PaperRow]:
    if not state.asks_witness:
        return []
    label = f"{number}  {marks.WITNESS} witness, {plan.witness}"
    return [PaperRow(f"{plan.id} witness", label, "witness", part=plan.id, sign="witness")]


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
        fresh.append(Offer(KEY, "Order of work", "plain steps, hold points"))
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
    if key == KEY:
        return work_sheet(now)
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

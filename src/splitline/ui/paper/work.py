"""The table of the order of work: plain steps, counts, witnesses and hold points, as the printed list has them."""

from __future__ import annotations

from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.ui import marks
from splitline.ui.paper.table import COUNT, PaperRow, PaperSheet
from splitline.ui.work.counts import counts_open, how_many
from splitline.ui.work.now import Now
from splitline.ui.work.task import Task
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

"""The order of work: what is done, what is next, what has to wait and for what."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from splitline.record.entry import ABSENT, NO_WITNESS, WITNESS, Entry, Signed
from splitline.record.job import Job, StepPlan, covering, part_of
from splitline.record.progress import JointProgress, joint_progress
from splitline.record.struck import live

State = Literal["open", "now", "to sign", "done", "waits"]


@dataclass(frozen=True, slots=True)
class StepState:
    """One line of the order of work."""

    plan: StepPlan
    state: State
    why: str = ""  # what it waits for
    joint: JointProgress | None = None  # its own part of the joint
    started: datetime | None = None
    done: datetime | None = None  # its work; a hold may still be unsigned
    hold: Signed | None = None
    witness: Signed | None = None  # present, or called and not there: its ``act`` tells

    @property
    def asks_witness(self) -> bool:
        """Its witness point is not answered: neither that somebody was there, nor that nobody came."""
        return bool(self.plan.witness) and self.witness is None

    @property
    def absent(self) -> bool:
        """The witness was called and was not there."""
        return self.witness is not None and self.witness.act != WITNESS

    @property
    def workable(self) -> bool:
        """Its work may be done now."""
        return self.state in ("open", "now")


def step_states(job: Job, entries: Iterable[Entry]) -> tuple[StepState, ...]:
    """Each step of the order of work, in order.

    A step waits for the steps it ``needs``, for earlier steps on the same item, and for every earlier hold point. A
    hold counts only if it was signed after the last act it covers: work that was struck and done anew is signed anew.
    A witness point of any kind of step is answered, present or absent, before the step is done; nothing waits for that.
    """
    alive = live(entries)
    signed = _signatures(alive)
    raw = [_raw(step, job, alive, signed) for step in covering(job)]
    found: list[StepState] = []
    complete: dict[str, bool] = {}
    barrier = ""
    for state, finished in raw:
        step = state.plan
        whole = finished and (not step.hold or state.hold is not None)
        why = "" if whole else _waits(step, found, complete, barrier)
        found.append(_judged(state, finished, whole, why))
        complete[step.id] = whole
        if step.hold and not whole and not barrier:
            barrier = f"hold point: {step.text or step.id} is not signed by {step.hold}"
    return _mark_now(found)


def _signatures(alive: tuple[Entry, ...]) -> dict[tuple[str, str], list[Signed]]:
    found: dict[tuple[str, str], list[Signed]] = {}
    for entry in alive:
        if isinstance(entry, Signed) and entry.step:
            found.setdefault((entry.act, entry.step), []).append(entry)
    return found


def _raw(
    step: StepPlan, job: Job, alive: tuple[Entry, ...], signed: Mapping[tuple[str, str], list[Signed]]
) -> tuple[StepState, bool]:
    started = min((e.done_at for e in signed.get(("start", step.id), ()) if e.done_at), default=None)
    joint = job.joint(step.item) if step.kind == "joint" else None
    progress, done_at, last = None, None, 0
    if joint is not None:
        progress = joint_progress(part_of(joint, step.passes, step.bolts), alive)
        times = [each.started_at for each in progress.passes if each.started_at]
        started = min([*times, *([started] if started else [])], default=None)
        ends = [each.last for each in progress.passes if each.last]
        last = max((each.number for each in ends), default=0)
        finished = progress.closed
        if finished:
            done_at = max((each.done_at for each in ends if each.done_at), default=None)
    else:
        ends_signed = signed.get(("done", step.id), ())
        finished = bool(ends_signed)
        if ends_signed:
            done_at, last = ends_signed[-1].done_at, ends_signed[-1].number
    hold = next((e for e in reversed(signed.get(("hold", step.id), [])) if e.number > last), None)
    witness = _witness(step, signed)
    return StepState(step, "open", "", progress, started, done_at, hold if finished else None, witness), finished


def _witness(step: StepPlan, signed: Mapping[tuple[str, str], list[Signed]]) -> Signed | None:
    """Who was there; else who wrote down that nobody came."""
    there = signed.get((WITNESS, step.id), [])
    away = signed.get((ABSENT, step.id), [])
    away = away or [entry for entry in signed.get(("done", step.id), ()) if NO_WITNESS in entry.statement]
    return next(reversed(there or away), None)


def _waits(step: StepPlan, before: list[StepState], complete: Mapping[str, bool], barrier: str) -> str:
    if barrier:
        return barrier
    for need in step.needs:
        if not complete.get(need, False):
            return f"needs {need} first"
    for other in before:
        same = step.item and (other.plan.kind, other.plan.item) == (step.kind, step.item)
        if same and not complete[other.plan.id]:
            return f"{other.plan.text or other.plan.id} comes first"
    return ""


def _judged(state: StepState, finished: bool, whole: bool, why: str) -> StepState:
    answered = not (finished and state.asks_witness)
    what: State = "done" if whole and answered else "waits" if why else "to sign" if finished else "open"
    return StepState(
        state.plan, what, why, state.joint, state.started, state.done if finished else None, state.hold, state.witness
    )


def _mark_now(states: list[StepState]) -> tuple[StepState, ...]:
    """The first step that can be worked on, or signed, is the one now."""
    for place, state in enumerate(states):
        if state.state == "to sign":
            break
        if state.state == "open":
            states[place] = StepState(
                state.plan, "now", "", state.joint, state.started, state.done, state.hold, state.witness
            )
            break
    return tuple(states)


def moments(states: Iterable[StepState]) -> dict[str, datetime]:
    """Moments reached: ``STEP.start``, ``STEP.done``; ``ITEM.start`` and ``ITEM.done`` over all steps of an item.

    A step whose start nobody recorded began at the latest when it was done: time limits go from there.
    """
    found: dict[str, datetime] = {}
    items: dict[str, list[StepState]] = {}
    for state in states:
        began = state.started or state.done
        if began:
            found[f"{state.plan.id}.start"] = began
        if state.done:
            found[f"{state.plan.id}.done"] = state.done
        if state.plan.item:
            items.setdefault(state.plan.item, []).append(state)
    for item, own in items.items():
        starts = [began for state in own if (began := state.started or state.done)]
        ends = [state.done for state in own if state.done]
        if starts:
            found.setdefault(f"{item}.start", min(starts))
        if len(ends) == len(own):
            found.setdefault(f"{item}.done", max(ends))
    return found

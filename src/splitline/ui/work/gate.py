"""One gate for every kind of step: what fails or misses an input in the plan does not start without a named person."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.fit_measured import INTERFERENCE, worked_out
from splitline.assess.result import Check, ItemResult
from splitline.errors import RecordError
from splitline.record.entry import PLAN_ACCEPTED, Measured, Note, Planned
from splitline.record.job import StepPlan
from splitline.record.order import StepState
from splitline.ui.marks import shape
from splitline.ui.work.now import Now
from splitline.ui.work.task import Answer, Task

ACCEPTED = PLAN_ACCEPTED


@dataclass(frozen=True, slots=True)
class Ward:
    """Checks that do not pass of one thing a step stands on, and who accepted them: its item, or the step itself."""

    id: str
    wrong: tuple[Check, ...]
    accepted: Note | None = None


@dataclass(frozen=True, slots=True)
class Gate:
    """What of a step does not pass."""

    wards: tuple[Ward, ...] = ()

    @property
    def wrong(self) -> tuple[Check, ...]:
        """Every check that does not pass."""
        return tuple(check for ward in self.wards for check in ward.wrong)

    @property
    def open_wards(self) -> tuple[Ward, ...]:
        """Those nobody accepted."""
        return tuple(ward for ward in self.wards if ward.accepted is None)

    @property
    def shut(self) -> bool:
        """Whether nothing may start yet."""
        return bool(self.open_wards)


def failing(result: ItemResult | None) -> tuple[Check, ...]:
    """Checks of the plan that fail or cannot be made."""
    return result.checks_of("fails", "missing") if result else ()


def _wrong_of(now: Now, kind: str, ident: str) -> tuple[Check, ...]:
    """What does not pass in the plan and still does not with what was entered on the job.

    A reading outside its limits stops the work by itself and is accepted as that. A lift is judged with what was entered,
    since its crane's radius is known on the job alone; of a fit, what is worked out from readings none of which is judged
    alone: the interference of eight diameters, two tapers, the heating for them.
    """
    found = failing(now.assessment.find(kind, ident))
    if kind == "lift" or now.planned is None:
        return found
    before = {check.key for check in failing(now.planned.find(kind, ident))}
    return tuple(check for check in found if check.key in before or check.key in _worked_out(now, kind, ident))


def _worked_out(now: Now, kind: str, ident: str) -> frozenset[str]:
    fit = next((each for each in now.assessment.plan.fits if each.id == ident), None) if kind == "fit" else None
    if fit is None:
        return frozenset()
    direct = any(isinstance(e, Measured) and e.item == ident and e.what == INTERFERENCE for e in now.alive)
    return worked_out(fit, direct)


def accepted_by(now: Now, item: str, checks: tuple[Check, ...]) -> Note | None:
    """The note under which a named person accepted these checks of the plan as it stands."""
    keys = {check.key for check in checks}
    for entry in reversed(now.alive):
        if isinstance(entry, Planned):
            return None
        own = isinstance(entry, Note) and (entry.topic, entry.item) == (ACCEPTED, item)
        if isinstance(entry, Note) and own and keys <= set(_keys(entry)):
            return entry
    return None


def _keys(note: Note) -> tuple[str, ...]:
    """Keys of the checks a note accepts; before they had a field of their own they stood in front of its words."""
    return note.checks or tuple(note.text.partition(" |")[0].split())


def why_of(note: Note) -> str:
    """The reason of an acceptance."""
    return note.text if note.checks else note.text.partition("| ")[2]


def gate_of(now: Now, step: StepPlan) -> Gate:
    """How a step stands before its gate: the item it works on, and what is checked of the step itself."""
    found = []
    for kind, ident in ((step.kind, step.item), ("step", step.id)):
        wrong = _wrong_of(now, kind, ident) if kind and ident else ()
        if wrong:
            found.append(Ward(ident, wrong, accepted_by(now, ident, wrong)))
    return Gate(tuple(found))


def check_gate(now: Now, step: StepPlan) -> None:
    """RecordError while the gate is shut: no way of entering, screen or paper, goes round it."""
    gate = gate_of(now, step)
    if gate.shut:
        first = gate.open_wards[0].wrong[0]
        raise RecordError(
            f"{first.title}: {first.said(now.system)}. A named person accepts this on the work screen before it starts; "
            "nothing was stored"
        )


def gate_lines(gate: Gate, now: Now) -> tuple[tuple[str, str], ...]:
    """What does not pass, and who answers for it."""
    lines: list[tuple[str, str]] = []
    for ward in gate.wards:
        lines += [(f"{shape(c.verdict)} {c.title}: {c.said(now.system)}", c.verdict) for c in ward.wrong]
        if ward.accepted is not None:
            lines.append((f"accepted by {ward.accepted.done_by}: {why_of(ward.accepted)}", "near"))
    return tuple(lines)


def shut_task(step: StepState, now: Now, later: tuple[Answer, ...], title: str) -> Task | None:
    """The task in place of the work while the gate is shut; None where it is open."""
    gate = gate_of(now, step.plan)
    if not gate.shut:
        return None
    lines = (
        ("The plan does not pass its checks here:", "fails"),
        *gate_lines(gate, now),
        ("", ""),
        ("Nothing starts before the planner has mended that, or a named person accepts it with a reason.", "strong"),
    )
    return Task(
        kind="plain",
        key=f"gate {step.plan.id} {' '.join(sorted({check.key for check in gate.wrong}))}",
        title=title,
        middle="not to be started",
        lines=lines,
        answers=(Answer("accept-plan", "Accept", "a", guarded=True), *later),
        step=step,
        item=step.plan.item,
    )

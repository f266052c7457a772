"""What the record needs to know of a plan: plain names, orders and limits, no computation.

``from_plan`` fills these from a plan and its assessment.
"""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class PassPlan:
    """One trip over the bolts of a joint."""

    name: str  # "snug", "1", "2", ..., "round 1"
    steps: tuple[tuple[int, ...], ...]  # bolts of each step, tools together
    share: float | None = None  # of the target
    finish: bool = False  # a check round: goes on until no nut moves

    @property
    def bolts(self) -> tuple[int, ...]:
        """All bolts in the order of the pass."""
        return tuple(bolt for step in self.steps for bolt in step)


@dataclass(frozen=True, slots=True)
class JointPlan:
    """A joint's passes in order, planned check rounds included."""

    id: str
    title: str = ""
    passes: tuple[PassPlan, ...] = ()
    max_rounds: int = 0  # check rounds at most; 0: as many as planned
    lubricant: str = ""  # the one the torque was computed for; "": given as friction only
    noun: str = "stud"  # what its fasteners are called


@dataclass(frozen=True, slots=True)
class ItemPlan:
    """A lift, fit, insertion or clearance."""

    kind: str
    id: str
    title: str = ""


@dataclass(frozen=True, slots=True)
class SealPlan:
    """A seal of the kit, whose batch and cure date are entered as it is fitted."""

    id: str
    title: str = ""


@dataclass(frozen=True, slots=True)
class StepPlan:
    """One line of the order of work."""

    id: str
    text: str = ""
    kind: str = ""  # joint | lift | fit | insertion | clearance | "" for a plain instruction
    item: str = ""
    passes: tuple[str, ...] = ()  # of a joint; (): all not named by its other steps
    bolts: tuple[int, ...] = ()  # (): all
    needs: tuple[str, ...] = ()  # ids of steps
    hold: str = ""  # role that signs before anything later starts
    witness: str = ""  # role that is told and recorded
    statement: str = ""  # what the hold is signed on


@dataclass(frozen=True, slots=True)
class WindowPlan:
    """A time limit between two moments: ``STEP.start``, ``STEP.done`` (an item's id does too)."""

    id: str
    title: str
    start: str
    end: str
    at_least: float | None = None  # s
    at_most: float | None = None  # s


@dataclass(frozen=True, slots=True)
class Job:
    """A plan as the record sees it."""

    title: str = ""
    revision: str = ""
    joints: tuple[JointPlan, ...] = ()
    items: tuple[ItemPlan, ...] = ()
    steps: tuple[StepPlan, ...] = ()
    windows: tuple[WindowPlan, ...] = ()
    seals: tuple[SealPlan, ...] = ()

    def joint(self, ident: str) -> JointPlan | None:
        """The joint of this id."""
        return next((joint for joint in self.joints if joint.id == ident), None)

    @property
    def titles(self) -> dict[str, str]:
        """What joints, items and steps are called, by id; without those that have no title."""
        found = {joint.id: joint.title for joint in self.joints if joint.title}
        found |= {item.id: item.title for item in self.items if item.title}
        return found | {step.id: step.text for step in self.steps if step.text}


def plan_passes(
    steps: tuple[tuple[int, ...], ...],
    shares: tuple[float, ...],
    snug: float = 0.0,
    finish_rounds: int = 0,
    round_steps: tuple[tuple[int, ...], ...] | None = None,
) -> tuple[PassPlan, ...]:
    """Passes of a joint whose every pass follows ``steps``: snug if above 0, one a share, the check rounds."""
    found = [PassPlan("snug", steps, snug)] if snug > 0 else []
    found += [PassPlan(str(place), steps, share) for place, share in enumerate(shares, 1)]
    found += [PassPlan(f"round {place}", round_steps or steps, 1.0, True) for place in range(1, finish_rounds + 1)]
    return tuple(found)


def part_of(joint: JointPlan, passes: tuple[str, ...], bolts: tuple[int, ...]) -> JointPlan:
    """The joint cut down to what one step of the order of work asks for. "round" names all check rounds."""
    kept = []
    for each in joint.passes:
        if passes and each.name not in passes and not (each.finish and "round" in passes):
            continue
        steps = each.steps
        if bolts:
            wanted = set(bolts)
            steps = tuple(left for step in steps if (left := tuple(bolt for bolt in step if bolt in wanted)))
        kept.append(replace(each, steps=steps))
    return replace(joint, passes=tuple(kept))


def covering(job: Job) -> tuple[StepPlan, ...]:
    """The order of work with every pass of every joint and every item in it.

    A pass no step names goes to the step that holds the pass before it; a joint or item without a step comes last.
    """
    steps = list(job.steps)
    for joint in job.joints:
        own = [place for place, step in enumerate(steps) if step.kind == "joint" and step.item == joint.id]
        if not own:
            steps.append(StepPlan(joint.id, joint.title, "joint", joint.id))
        elif all(steps[place].passes for place in own):
            _spread(steps, own, joint)
    named = {(step.kind, step.item) for step in steps}
    steps += [
        StepPlan(item.id, item.title, item.kind, item.id) for item in job.items if (item.kind, item.id) not in named
    ]
    return tuple(steps)


def _spread(steps: list[StepPlan], own: list[int], joint: JointPlan) -> None:
    def holder(name: str, finish: bool) -> int | None:
        return next((p for p in own if name in steps[p].passes or (finish and "round" in steps[p].passes)), None)

    before = own[0]
    for each in joint.passes:
        found = holder(each.name, each.finish)
        if found is None:
            steps[before] = replace(steps[before], passes=(*steps[before].passes, each.name))
        else:
            before = found

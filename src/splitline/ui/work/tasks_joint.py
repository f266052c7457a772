"""Tasks of a joint: the set-up of a pass, then its bolts, a step of the order at a time."""

from __future__ import annotations

from splitline.assess.accepted import accepted_of
from splitline.assess.fit_step import TOOL
from splitline.assess.result import ItemResult
from splitline.assess.stud_loads import estimated, sentence
from splitline.record.entry import JOINED, Measured
from splitline.record.job import JointPlan
from splitline.record.order import StepState
from splitline.record.progress import PassProgress
from splitline.record.tools import tools_of
from splitline.ui import marks
from splitline.ui.work.counts import count_lines, counts_open, wait_left
from splitline.ui.work.gate import shut_task
from splitline.ui.work.now import Now
from splitline.ui.work.old_values import OLD, old_said, pulled_otherwise
from splitline.ui.work.task import LISTED, Answer, Figure, Kind, Limits, Mark, Task
from splitline.ui.work.values import Instructed, instructed, nut_lines, pairs_of, tools_said
from splitline.units import show

TAKEN = "▫"
NEXT = "▹"


def pass_words(name: str) -> str:
    """A pass as it is said."""
    return name if name[:1].isalpha() else f"pass {name}"


def joint_task(step: StepState, now: Now, later: tuple[Answer, ...]) -> Task:
    """The task of a joint's step that can be worked on."""
    whole = now.job.joint(step.plan.item)
    result = now.assessment.find("joint", step.plan.item)
    title = step.plan.text or (whole.title if whole else step.plan.item)
    current = step.joint.current if step.joint else None
    if whole is None or current is None:
        lines = (
            ("The plan does not say yet how many bolts this joint has or in which order.", "missing"),
            ("Nothing is tightened before the planner gives that.", "strong"),
        )
        return Task(
            "nothing", f"unknown {step.plan.id}", title, "", "", (), lines, later, step=step, item=step.plan.item
        )
    shut = shut_task(step, now, later, title)
    if shut is not None:
        return shut
    if not now.view_only and now.set_up(whole.id, current.plan.name) is None:
        return _set_up(step, whole, current, now, later, title)
    return _bolts(step, whole, current, now, later, title, result)


def _heading(whole: JointPlan, current: PassProgress) -> str:
    numbered = [each.name for each in whole.passes if each.name.isdecimal()]  # snug and rounds are not counted
    place = f" of {len(numbered)}" if current.plan.name in numbered else ""
    share = f"   {current.plan.share * 100:.0f} %" if current.plan.share is not None else ""
    return f"{pass_words(current.plan.name)}{place}{share}" if current.plan.name != "snug" else f"snug{share}"


def _set_up(
    step: StepState, whole: JointPlan, current: PassProgress, now: Now, later: tuple[Answer, ...], title: str
) -> Task:
    first = now.set_up(whole.id, current.plan.name, anybody=True)
    asked = "tool serial" if first else "lubricant batch and tool serial"
    lost = now.lost_tool(whole.id, current.plan.name)
    lines = [
        *([(lost, "fails")] if lost else []),
        (f"Before {pass_words(current.plan.name)}: enter {asked}, once; then it is locked.", "strong"),
        *_witness(step, current),
        *_in_every_stud(whole, now),
        ("", ""),
    ]
    left, waits = counts_open(now, step.plan.id), wait_left(now, step)
    lines += count_lines(left)
    lines += [(waits, "fails")] if waits else []
    if first:
        lines.append((f"Lubricant: {first.lubricant}, batch {first.batch} ({first.done_by})", "dim"))
    return Task(
        kind="set-up",
        key=f"set-up {whole.id} {current.plan.name} {now.person} {now.last_strike}{f' {lost}' if lost else ''}",
        title=title,
        middle=_heading(whole, current),
        lines=tuple(lines),
        answers=(
            Answer("count", "Count out", "enter") if left else Answer("set-up", "Set up", "enter", not waits),
            *later,
        ),
        marks=_marks(whole.id, current, (), (), now),
        step=step,
        item=whole.id,
        joint=whole.id,
        noun=whole.noun,
        pass_=current.plan.name,
    )


def _in_every_stud(whole: JointPlan, now: Now) -> tuple[tuple[str, str], ...]:
    """What the pass before left in the lowest stud, in one sentence; a reading that cannot be explained is asked about."""
    joint, result = now.joint(whole.id), now.assessment.find("joint", whole.id)
    if joint is None or result is None:
        return ()
    found = estimated(result, joint, now.alive)
    if found is None or found.planned:
        return ()
    asked = [(f"Stud {each.stud}: its reading cannot be explained. Ask the planner.", "fails") for each in found.asked]
    return ((f"Estimate: {sentence(found, whole.noun, now.system)}", ""), *asked)


def _witness(step: StepState, current: PassProgress) -> tuple[tuple[str, str], ...]:
    """Who is called before the first pass of the step."""
    first = step.joint is not None and current.plan.name == step.joint.passes[0].plan.name
    if not first or not step.plan.witness or step.witness is not None:
        return ()
    return ((f"Witness point, {step.plan.witness}: call before it starts", "near"),)


def _in_hand(whole: JointPlan, current: PassProgress, now: Now) -> tuple[int, ...]:
    """What this person has in hand of this pass; who only looks on sees the step that is next."""
    mine = now.mine
    bolts: tuple[int, ...] = ()
    if mine is not None and (mine.joint, mine.pass_) == (whole.id, current.plan.name):
        bolts = tuple(bolt for bolt in mine.bolts if bolt in current.open)
    if not bolts and now.view_only:
        bolts = next((left for _, left in current.steps()), ())
    return bolts


def _figures(whole: JointPlan, values: Instructed, bolts: tuple[int, ...], now: Now) -> tuple[Figure, ...]:
    """Which fasteners, and what they are pulled to."""
    noun = f"{whole.noun}{'s' if len(bolts) > 1 else ''}".upper()
    few = len(bolts) <= 4
    which = Figure(noun, "+".join(map(str, bolts)) if few else str(len(bolts)), "" if few else f"{whole.noun}s at once")
    caption, large, unit = values.large(now.system)
    return (which, Figure(caption, large, unit)) if large else (which,)


def _bolts(
    step: StepState,
    whole: JointPlan,
    current: PassProgress,
    now: Now,
    later: tuple[Answer, ...],
    title: str,
    result: ItemResult | None,
) -> Task:
    bolts = _in_hand(whole, current, now)
    if not bolts:
        return _taken(step, whole, current, now, later, title)
    place = next((p for p, left in current.steps() if set(bolts) <= set(left)), 0)
    held = _held(now, whole.id, current.plan.name)
    rest = [left for p, left in current.steps(held) if p != place]
    partner = tuple(b for p, left in current.steps(held) if p == place for b in left if b not in bolts)
    rest = [partner, *rest] if partner else rest  # the others of the step, one tool at a time
    own = now.set_up(whole.id, current.plan.name)
    tools = own.tool.split(JOINED) if own else ()
    values = instructed(now.joint(whole.id), result, current.plan, bolts[0], tools)
    pairs = pairs_of(result, bolts, tools_of(own) if own else (), now.pairing)
    aside = all(bolt in current.aside for bolt in bolts)
    answers = _answers(current, values, aside)
    return Task(
        kind="bolts",
        key=f"{whole.id} {current.plan.name} {current.plan.share} {bolts} {now.last_strike}"
        f"{'' if now.pairing == LISTED else now.pairing}",
        title=title,
        middle=_heading(whole, current),
        right=f"pull {place} of {len(current.plan.steps)}",
        figures=_figures(whole, values, bolts, now),
        lines=(*_paired(pairs, bolts), *_lines(step, whole, current, now, values, rest, bolts)),
        answers=(*answers, *later),
        readings=readings_of(now, whole.id, values, current.plan.share, bolts[0]),
        marks=_marks(whole.id, current, bolts, rest[0] if rest else (), now),
        step=step,
        item=whole.id,
        joint=whole.id,
        noun=whole.noun,
        pass_=current.plan.name,
        place=place,
        bolts=bolts,
        torque=values.torque if values.set_torque is None else values.set_torque,
        pressure=values.pressure,
        shown=values.shown(now.system),
        pulled_with=tuple(serial or name for name, serial in pairs),
        pressures=_each(pairs, values),
        share=current.plan.share,
        finish=current.plan.finish,
        aside=aside,
    )


def _paired(pairs: tuple[tuple[str, str], ...], bolts: tuple[int, ...]) -> tuple[tuple[str, str], ...]:
    """Which tool is told for which fastener: it goes on record so."""
    said = ", ".join(f"{name} on {bolt}" for (name, _), bolt in zip(pairs, bolts, strict=False))
    return ((said, "strong"),) if said else ()


def _each(pairs: tuple[tuple[str, str], ...], values: Instructed) -> tuple[float, ...]:
    """The pressure of each fastener's own tool, where the tools differ."""
    by = dict(values.pressures)
    return tuple(by[name] for name, _ in pairs) if by and all(name in by for name, _ in pairs) else ()


def _answers(current: PassProgress, values: Instructed, aside: bool) -> tuple[Answer, ...]:
    ready = values.known and not values.out_of_reach
    if aside and not current.plan.finish:  # what it is mostly waiting for, in the place of Reading
        return (Answer("done", "Done", "enter", ready), Answer("concede", "Accept", "a", guarded=True))
    if current.plan.finish:
        able = not values.out_of_reach
        # Where Done was stands the answer that costs a round: a habit never says that nothing moved.
        return (Answer("moved", "Nut moved", "n", able), Answer("done", "Did not move", "d", able, guarded=True))
    return (Answer("done", "Done", "enter", ready), Answer("reading", "Reading", "r"))


def _run_down(ident: str, now: Now) -> list[tuple[str, str]]:
    """A tensioned nut is run down while the pressure holds, by hand, with its torque."""
    joint = now.joint(ident)
    tightening = joint.tightening if joint is not None else None
    if tightening is None or tightening.method != "hydraulic tensioner":
        return []
    torque = tightening.nut_torque
    told = "hand-tight" if torque is None else f"to {show(torque, 'torque', now.system)}"
    return [(f"pressure held: run each nut down by hand {told}, then release", "strong")]


def _lines(
    step: StepState,
    whole: JointPlan,
    current: PassProgress,
    now: Now,
    values: Instructed,
    rest: list[tuple[int, ...]],
    bolts: tuple[int, ...],
) -> tuple[tuple[str, str], ...]:
    lines: list[tuple[str, str]] = [(" ".join(map(str, bolts)), "strong")] if len(bolts) > 4 else []
    if values.torque is not None and (values.pressure is not None or values.set_torque is not None):
        lines.append((show(values.torque, "torque", now.system), "strong"))
    lines += [
        (f"{tool}: {show(pressure, 'pressure', now.system, values.gauge)}", "strong")
        for tool, pressure in values.pressures
    ]
    lines += nut_lines(values, now.system)
    lines += _run_down(whole.id, now)
    if current.plan.finish:
        lines.append(("Does the nut turn at all? One that moves makes another round.", "dim"))
    if values.why:
        lines.append((values.why, "caution"))
    if values.out_of_reach and values.torque is not None:
        lines.append((f"this pass wants {show(values.torque, 'torque', now.system)}", ""))
    if not values.known:
        lines.append(("DO NOT TIGHTEN: plan incomplete. Call the planner.", "missing"))
    if rest:
        coming = " + ".join(map(str, rest[0])) if len(rest[0]) <= 4 else f"{len(rest[0])} {whole.noun}s"
        lines.append((f"then {coming}     {len(rest)} to go", ""))
    else:
        lines.append(("the last of this pass in your hands", ""))
    if any(bolt in current.aside for bolt in bolts):
        why = next(current.aside[bolt].reason for bolt in bolts if bolt in current.aside)
        lines.insert(0, (f"DEFERRED: {why}", "near"))
    old = old_said(now, whole.id, current)
    lines += [(old, "near")] if old else []
    lines += _left_out(step, whole.noun)
    lines += _hold(step, current)
    own = now.set_up(whole.id, current.plan.name)
    if own is not None:
        was = f", {own.batch_before} BEFORE" if own.batch_before else ""
        style = "near" if was else "dim"
        lines.append((f"{tools_said(own.tool, own.serial)}   {own.lubricant}, batch {own.batch}{was}", style))
    for claim in now.others:
        if (claim.joint, claim.pass_) == (whole.id, current.plan.name):
            asleep = "" if claim.awake(now.at) else f", whose screen was last seen at {claim.seen:%H:%M}"
            lines.append((f"{TAKEN} {' + '.join(map(str, claim.bolts))} taken by {claim.crew}{asleep}", "accent"))
    return tuple(lines)


def _hold(step: StepState, current: PassProgress) -> tuple[tuple[str, str], ...]:
    """The hold point that follows, in the last pass of its step."""
    last = step.joint is not None and current.plan.name == step.joint.passes[-1].plan.name
    return ((f"{marks.HOLD} hold after this: {step.plan.hold}", "near"),) if step.plan.hold and last else ()


def _left_out(step: StepState, noun: str) -> tuple[tuple[str, str], ...]:
    """Studs no pass asks for any more, with who may change that."""
    left = step.joint.left_out if step.joint is not None else {}
    if not left:
        return ()
    said = " + ".join(map(str, left))
    return ((f"without {noun}{'s' if len(left) > 1 else ''} {said}, accepted as deferred; More, Bring back", "near"),)


def _held(now: Now, joint: str, pass_: str) -> frozenset[int]:
    return frozenset(bolt for c in now.others if (c.joint, c.pass_) == (joint, pass_) for bolt in c.bolts)


def _taken(
    step: StepState, whole: JointPlan, current: PassProgress, now: Now, later: tuple[Answer, ...], title: str
) -> Task:
    lines = [(f"Every {whole.noun} left in this pass is in another crew's hands:", "strong"), ("", "")]
    for claim in now.others:
        if (claim.joint, claim.pass_) == (whole.id, current.plan.name):
            seen = "" if claim.awake(now.at) else f", its screen was last seen at {claim.seen:%H:%M}"
            lines.append((f"{TAKEN} {' + '.join(map(str, claim.bolts))}  {claim.crew}{seen}", "accent"))
    lines += [("", ""), ("This screen goes on by itself when they are done.", "dim")]
    kind: Kind = "taken"
    return Task(
        kind=kind,
        key=f"taken {whole.id} {current.plan.name}",
        title=title,
        middle=_heading(whole, current),
        lines=tuple(lines),
        answers=(Answer("take-over", "Take over", "t"), *later),
        marks=_marks(whole.id, current, (), (), now),
        step=step,
        item=whole.id,
        joint=whole.id,
        noun=whole.noun,
        pass_=current.plan.name,
    )


def _marks(
    joint: str, current: PassProgress, here: tuple[int, ...], coming: tuple[int, ...], now: Now
) -> tuple[Mark, ...]:
    found: dict[int, tuple[str, str]] = dict.fromkeys(current.done, (marks.DONE, "done"))
    found |= dict.fromkeys(pulled_otherwise(now, joint, current), (OLD, "near"))
    found |= dict.fromkeys((*current.aside, *current.out), (marks.ASIDE, "near"))
    for claim in now.others:
        if claim.pass_ == current.plan.name:
            found |= {bolt: (TAKEN, "accent") for bolt in claim.bolts if bolt not in current.done}
    found |= dict.fromkeys(coming, (NEXT, "next"))
    found |= dict.fromkeys(here, (marks.NOW, "now"))
    return tuple(Mark(bolt, mark, style) for bolt, (mark, style) in found.items())


def readings_of(now: Now, joint: str, values: Instructed, share: float | None, bolt: int) -> tuple[Limits, ...]:
    """What can be read on a joint, with its limits for the size of this bolt.

    Stretch goes with load, so its limits go with the share of the pass. A torque or pressure as set is judged by what a
    torque tool may be off (ISO 6789: 4 %, from memory).
    """
    accepted = accepted_of(now.joint(joint), now.assessment.find("joint", joint), bolt).at(share)
    torque = values.set_torque if values.set_torque is not None else values.torque
    return (
        Limits("stretch", "length", *accepted.stretch, bolt=True),
        Limits("torque", "torque", _times(torque, 1 - TOOL), _times(torque, 1 + TOOL), bolt=True),
        Limits(
            "pressure",
            "pressure",
            _times(values.pressure, 1 - TOOL),
            _times(values.pressure, 1 + TOOL),
            unit=values.gauge or "",
        ),
        Limits("gap", "length", None, accepted.gap),
        Limits("breakaway torque", "torque", *accepted.torque, bolt=True),
        Limits("turn", "angle", *accepted.turn, bolt=True),
    )


def limits_of_stud(now: Now, task: Task, limits: Limits, bolt: int) -> Limits:
    """The same reading with the limits of another stud, which may be of another size."""
    whole = now.job.joint(task.joint)
    state = next((each for each in whole.passes if each.name == task.pass_), None) if whole else None
    if whole is None or state is None:
        return limits
    own = now.set_up(whole.id, task.pass_)
    result = now.assessment.find("joint", whole.id)
    values = instructed(now.joint(whole.id), result, state, bolt, own.tool.split(JOINED) if own else ())
    return next((e for e in readings_of(now, whole.id, values, task.share, bolt) if e.what == limits.what), limits)


def _times(value: float | None, by: float) -> float | None:
    return None if value is None else value * by


def gap_unread(now: Now, joint: str, step: str) -> float | None:
    """The greatest gap the plan accepts, m, where it gives one and none was read in this step."""
    found = now.joint(joint)
    most = found.acceptance.gap_max if found and found.acceptance else None
    read = any(isinstance(e, Measured) and (e.item, e.what, e.step) == (joint, "gap", step) for e in now.alive)
    return None if read else most


def to_measure(now: Now, joint: str, bolts: tuple[int, ...]) -> tuple[int, ...]:
    """Bolts of the plan's acceptance among these whose stretch has not been read at the full target."""
    found = now.joint(joint)
    wanted = found.acceptance.measured_bolts if found and found.acceptance else None
    whole = now.job.joint(joint)
    full = {each.name for each in whole.passes if each.share == 1.0} if whole else set()
    read = {
        e.bolt
        for e in now.alive
        if isinstance(e, Measured)
        and (e.item, e.what) == (joint, "stretch")
        and (e.pass_ in full or e.pass_[:5] == "round")
    }
    return tuple(bolt for bolt in wanted or () if bolt in bolts and bolt not in read)

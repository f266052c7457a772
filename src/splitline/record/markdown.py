"""The as-built record as Markdown, to read and print."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt, ItemAsBuilt, JointAsBuilt
from splitline.record.as_left import as_left, left_said
from splitline.record.closing import Shift, closed_items, missing, ranges, shifts, to_look_at
from splitline.record.deviations import Deviation
from splitline.record.entry import Entry, Measured, Tightened
from splitline.record.facts import lines, who_and_when, witness_said
from splitline.record.order import StepState
from splitline.units import KINDS, System, as_read, show


def markdown(built: AsBuilt, us: bool = False) -> str:
    """A record to read and print."""
    out = [f"# As built: {_cell(built.title)}", ""]
    if built.revision:
        out += [f"Plan revision {_cell(built.revision)}.", ""]
    seen = f" The greatest count this folder has seen is {built.seen}." if built.seen else ""
    copy = f" Copy number {built.copy}." if built.copy else ""
    out += [f"{built.count} entries, record code `{built.head}`.{copy}{seen}", ""]
    times = [built.made_at, *(step.done for step in built.steps if step.done)]
    zones = sorted({f"UTC{at.isoformat(timespec='seconds')[19:]}" for at in times})
    out += [
        f"Times are local ({', '.join(zones)}). What was set is what the plan told to set; readings were measured.",
        "",
    ]
    out += _bullets("The record does not stand as it was written", built.problems)
    out += _bullets("Closed or short", [f"{c.kind} {c.title or c.id}: {c.state}" for c in closed_items(built)])
    out += _bullets("To be looked at", [_counted(*row) for row in to_look_at(built)])
    out += _bullets("Missing before handover", missing(built) or ("nothing",))
    out += _bullets("The plan beside the record", built.beside)
    for joint in built.joints:
        out += _joint_lines(joint, us)
    for title, items in (
        ("Lifts", built.lifts), ("Fits", built.fits), ("Insertions", built.insertions), ("Clearances", built.clearances),
        ("Other readings", built.others),
    ):  # fmt: skip
        if items:
            out += [f"## {title}", ""]
            for item in items:
                out += _item_lines(item, us)
    out += _bullets("Order of work", [_step(state) for state in built.steps])
    out += _bullets("Time limits", [window.said for window in built.windows])
    out += _bullets("Stretches of work", [_shift(shift) for shift in shifts(built)])
    out += _bullets("Deviations", [_deviation(each) for each in built.deviations])
    out += _bullets(
        "Deferred bolts",
        [_aside(fact) for fact in built.facts if isinstance(fact, kinds.Aside) and not fact.struck_by],
    )
    out += _bullets("Corrections", [_struck(fact) for fact in built.facts if isinstance(fact, kinds.Struck)])
    notes = sorted(built.notes, key=lambda note: (note.done_at or built.made_at, note.number))
    out += _bullets("Remarks, by time", [f"{note.topic}: {note.text} ({_who(note)})" for note in notes])
    told = [
        f"{entry or '-'}. {what} ({who}){f', plan revision {revision}' if revision else ''}"
        for entry, revision, what, who in lines(built.facts, _system(us))
    ]
    out += _bullets("Every entry, and what follows from them", told)
    return "\n".join(out).rstrip() + "\n"


def _joint_lines(joint: JointAsBuilt, us: bool) -> list[str]:
    out = [f"## {_cell(joint.title or joint.id)}", ""]
    if not joint.bolts:
        return [*out, "Nothing is known of its bolts.", ""]
    heads = [f"pass {name}" if name[0].isdigit() else name for name in joint.passes]
    out.append("| bolt | " + " | ".join(heads) + " | readings | deferred |")
    out.append("| --- |" + " --- |" * (len(heads) + 2))
    for line in joint.bolts:
        pulls = [_pull_text(pull, us) for pull in line.pulls]
        readings = "; ".join(_reading_text(reading, us) for reading in line.readings)
        aside = "; ".join(f"{e.reason} (pass {e.pass_})" for e in line.aside)
        out.append("| " + " | ".join(map(_cell, [str(line.bolt), *pulls, readings, aside])) + " |")
    out.append("")
    for entry in joint.set_ups:
        due = f", calibrated until {entry.calibration_due}" if entry.calibration_due else ""
        out.append(
            f"- set-up of pass {entry.pass_}: {_cell(entry.lubricant)} batch {_cell(entry.batch or 'not given')}, "
            f"{_cell(entry.tool)} {_cell(entry.serial)}{due} ({_cell(_who(entry))})"
        )
    out += [f"- {_cell(_reading_text(reading, us))}" for reading in joint.readings]
    if said := left_said(as_left(joint), _system(us)):
        out.append(f"- as left: {_cell(said)}")
    if joint.progress.short:
        out.append(f"- SHORT: closed or to be closed without {_list(joint.progress.short)}")
    return [*out, ""]


def _pull_text(pull: Tightened | None, us: bool) -> str:
    if pull is None:
        return "not done"
    kinds = (("pressure", pull.pressure), ("torque", pull.torque))
    figures = [show(value, kind, _system(us)) for kind, value in kinds if value is not None]
    parts = [f"set {', '.join(figures)}"] if figures else []
    if pull.read is not None and pull.read_kind:
        parts.append(f"read {show(pull.read, pull.read_kind, _system(us))}")
    if pull.moved:
        parts.append("nut moved")
    return "; ".join([*parts, _who(pull)])


def _reading_text(reading: Measured, us: bool) -> str:
    value = reading.typed or show(reading.value, as_read(reading.quantity), _system(us))
    ends = [("at least", reading.low), ("at most", reading.high)]
    limits = ", ".join(f"{w} {show(end, as_read(reading.quantity), _system(us))}" for w, end in ends
                       if end is not None and reading.quantity in KINDS)  # fmt: skip
    said = f"{reading.verdict} ({limits})" if limits else reading.verdict
    return f"{reading.what} {reading.at}".strip() + f" {value}, {said} ({_who(reading)})"


def _item_lines(item: ItemAsBuilt, us: bool) -> list[str]:
    out = [f"### {_cell(item.title or item.id)}", ""]
    out += [f"- {_cell(_reading_text(reading, us))}" for reading in item.readings]
    out += [f"- {_cell(entry.act)} {_cell(entry.role)}: {_cell(_who(entry))}" for entry in item.signed]
    return [*out, ""] if len(out) > 2 else [*out, "Nothing recorded.", ""]


def _bullets(title: str, lines: Sequence[str]) -> list[str]:
    return [f"## {title}", "", *(f"- {_cell(line)}" for line in lines), ""] if lines else []


def _who(entry: Entry) -> str:
    at = f"{entry.done_at:%Y-%m-%d %H:%M}" if entry.done_at else ""
    by = entry.done_by if entry.entered_by in ("", entry.done_by) else f"{entry.done_by}, entered by {entry.entered_by}"
    return f"{at} {by}".strip()


def _counted(name: str, count: int, entries: tuple[int, ...]) -> str:
    return f"{name}: {count}" + (f" (entries {ranges(entries)})" if entries else "")


def _shift(shift: Shift) -> str:
    minutes = round(shift.gap.total_seconds() / 60) if shift.gap is not None else 0
    gap = f", after {minutes // 60}:{minutes % 60:02d} h without an entry" if minutes else ""
    span = f"{shift.first:%Y-%m-%d %H:%M} to {shift.last:%Y-%m-%d %H:%M}{gap}"
    return f"{span}: entries {ranges(shift.entries)}; {', '.join(shift.people)}"


def _step(state: StepState) -> str:
    witness = witness_said(state)
    point = f", witness {state.plan.witness}: {witness}" if witness else ""
    times = [f"{word} {at:%Y-%m-%d %H:%M}" for word, at in (("begun", state.started), ("done", state.done)) if at]
    when = f" ({', '.join(times)})" if times else ""
    return f"{state.plan.text or state.plan.id}: {state.state}{when}{_hold(state.hold)}{point}"


def _deviation(each: Deviation) -> str:
    text = "; ".join((each.text, *each.details))
    return f"{text}: {_accepted(each.accepted)}" if each.stops else text


def _aside(fact: kinds.Aside) -> str:
    bolts = _list(fact.bolts)
    return f"{fact.item} pass {fact.pass_}, bolt {bolts}: {fact.reason}; {fact.outcome} ({who_and_when(fact)})"


def _struck(fact: kinds.Struck) -> str:
    return f"entry {fact.strikes} struck: {fact.reason}. It said: {fact.said} ({who_and_when(fact)})"


def _hold(entry: Entry | None) -> str:
    return f", signed {_who(entry)}" if entry else ""


def _accepted(entry: Entry | None) -> str:
    return f"accepted {_who(entry)}: {getattr(entry, 'reason', '')}" if entry else "NOT ACCEPTED"


def _list(bolts: Sequence[int]) -> str:
    return ", ".join(str(bolt) for bolt in bolts)


def _system(us: bool) -> System:
    return "US" if us else "SI"


def _cell(text: str) -> str:
    """Text of people inside Markdown: no table breaks, no markup."""
    flat = " ".join(text.split())
    return "".join(f"\\{char}" if char in "|*_`<>[]\\#" else char for char in flat)

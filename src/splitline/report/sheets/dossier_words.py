"""Entries of the record in words, for the dossier."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from splitline.assess.gauge import gauge_said
from splitline.plan.model import Joint
from splitline.record.entry import (
    Accepted,
    Entry,
    Measured,
    Note,
    Planned,
    Recovered,
    SetAside,
    Signed,
    Tightened,
    WrongEntry,
    is_late,
)
from splitline.report.blocks import Cell, Strong, Table
from splitline.report.sheets import common
from splitline.report.sheets.joint import pass_words
from splitline.report.sheets.names import Names
from splitline.units import System, as_read, show

NOBODY = Names()
WHAT = "As-built dossier"


def who(entry: Entry) -> str:
    """Who did it, and who wrote it down where that was another."""
    by = entry.done_by
    return by if entry.entered_by in ("", by) else f"{by}, entered by {entry.entered_by}"


def by(entry: Entry) -> str:
    """Who did it, with who wrote it down afterwards."""
    late_ = ", written down afterwards" if is_late(entry) and entry.entered_by in ("", entry.done_by) else ""
    return f"{who(entry)}{late_}"


def instrument(entry: Measured) -> str:
    """What it was read with: name, serial, and until when it is calibrated."""
    name = " ".join(part for part in (entry.instrument, entry.serial) if part)
    until = f", calibrated until {entry.calibration_due.isoformat()}" if entry.calibration_due else ""
    return f"{name}{until}" if name else "instrument not given"


def when(entry: Entry) -> str:
    """When it was done, and when entered where that was later than the same day's work would be."""
    if entry.done_at is None:
        return ""
    text = f"{entry.done_at:%Y-%m-%d %H:%M}"
    return f"{text}, entered {entry.entered_at:%Y-%m-%d %H:%M}" if is_late(entry) else text


def span(entries: Iterable[Entry]) -> str:
    """From the first to the last of them."""
    times = sorted(entry.done_at for entry in entries if entry.done_at)
    if not times or times[0] == times[-1]:
        return f"{times[0]:%Y-%m-%d %H:%M}" if times else ""
    last = times[-1].strftime("%H:%M" if times[0].date() == times[-1].date() else "%Y-%m-%d %H:%M")
    return f"{times[0]:%Y-%m-%d %H:%M} to {last}"


def pulled(entry: Tightened, bolt: int, system: System, joint: Joint | None) -> str:
    """What the tool on a bolt was set to, in the unit of its gauge alone, and what was read beside it."""
    pressure = entry.pressure_of(bolt)
    if pressure is not None:
        text = gauge_said(pressure, joint, system)
    else:
        text = show(entry.torque, "torque", system) if entry.torque is not None else "done"
    if entry.read is not None and entry.read_kind:
        read = gauge_said(entry.read, joint, system) if entry.read_kind == "pressure" else ""
        text += f", read {read or show(entry.read, entry.read_kind, system)}"
    return ", ".join(part.partition(" (")[0] for part in text.split(", "))


def pull(entry: Tightened, system: System, joint: Joint | None = None) -> str:
    """What a bolt was pulled to, a pressure as the gauge of its joint shows it."""
    parts = []
    if entry.torque is not None:
        parts.append(show(entry.torque, "torque", system))
    if entry.pressure is not None:
        parts.append(gauge_said(entry.pressure, joint, system))
    if entry.read is not None and entry.read_kind == "pressure":
        parts.append(f"read {gauge_said(entry.read, joint, system)}")
    elif entry.read is not None and entry.read_kind == "torque":
        parts.append(f"read {show(entry.read, 'torque', system)}")
    parts += ["nut moved"] if entry.moved else []
    return ", ".join(parts) or "done"


def value(entry: Measured, system: System) -> str:
    """A reading as typed, with the unit its limits are in beside it where that is another."""
    plain = show(entry.value, as_read(entry.quantity), system)
    typed = entry.typed.strip()
    if not typed or " " not in plain:
        return typed or plain
    return typed if typed.endswith(plain.rpartition(" ")[2]) else f"{typed} ({plain})"


def limits(entry: Measured, system: System) -> Cell:
    """The limits it was judged by."""
    return (
        ""
        if entry.low is None and entry.high is None
        else common.band(entry.low, entry.high, as_read(entry.quantity), system)
    )


def verdict(entry: Measured) -> Cell:
    """Inside, outside, or not judged; outside stands out."""
    return Strong("▲ outside") if entry.verdict == "outside" else entry.verdict


def readings(
    entries: Sequence[Measured],
    system: System,
    title: str = "",
    of: str = "step",
    titles: Mapping[str, str] | None = None,
) -> Table:
    """Readings with the limits they were judged by, a row each.

    ``of``: what they were taken in, a step of mounting or a pass; ``titles``: of the items they are of, where several are.
    """
    rows = []
    for entry in entries:
        place = entry.at or (f"bolt {entry.bolt}" if entry.bolt is not None else "")
        what = f"{entry.what} ({of} {entry.pass_})" if entry.pass_ and entry.bolt is None else entry.what
        what = f"{titles.get(entry.item, entry.item)}: {what}" if titles is not None else what
        rows.append(
            (
                str(entry.number), what, place, Strong(value(entry, system)), limits(entry, system),
                verdict(entry), instrument(entry), who(entry), when(entry),
            )
        )  # fmt: skip
    head = ("Entry", "Reading", "Where", "Read", "Limits", "Verdict", "Instrument", "By", "When")
    return Table(head, tuple(rows), (0.5, 1.6, 1, 1.1, 1.6, 0.9, 1.1, 1.2, 1.6), (), title, small=True)


def bolts(numbers: tuple[int, ...]) -> str:
    """Bolt numbers."""
    return ", ".join(str(number) for number in numbers)


_SIGNED = {
    "start": "started", "done": "done", "trial": "trial lift: hung clear and was looked at", "hold": "hold point signed",
    "witness": "witnessed", "witness-absent": "witness called and not present:", "mounting": "mounting step",
    "set-up": "set-up", "count-in": "counted in", "count-out": "counted out", "part": "part used", "tag": "sling tag",
}  # fmt: skip


def signed(entry: Signed, own: bool = False, names: Names = NOBODY) -> str:
    """A signature in words; ``own``: among those of its item, whose name need not be said again."""
    word = _SIGNED.get(entry.act, entry.act)
    where = "" if own else names.title(entry.step or entry.joint)
    pass_ = f"pass {entry.pass_}" if entry.act == "set-up" and entry.pass_[:1].isdigit() else entry.pass_
    role = entry.role.removesuffix(".tag").replace("leg.", "leg ") if entry.act == "tag" else entry.role
    amount = f"{entry.count} of" if entry.act in ("count-in", "count-out", "part") and entry.count else ""
    said = " ".join(part for part in (word, amount, role, pass_, f"({where})" if where else "") if part)
    batch = f"batch {entry.batch}" if entry.act == "part" and entry.batch else ""
    cured = f"cured {entry.cure_date.isoformat()}" if entry.cure_date else ""
    seen = f"on: {entry.seen}" if entry.seen else ""
    told = "; ".join(part for part in (batch, cured, entry.statement, seen) if part)
    return f"{said}: {told}" if told else said


def act(entry: Entry | None, system: System, names: Names = NOBODY) -> str:
    """An entry in one sentence, as the struck list needs it."""
    if entry is None:
        return "an entry that cannot be read"
    if isinstance(entry, Tightened):
        said = pull(entry, system, names.joints.get(entry.joint))
        return f"{names.title(entry.joint)}, {pass_words(entry.pass_)}, bolt {bolts(entry.bolts)}: {said}"
    if isinstance(entry, Measured):
        place = f" bolt {entry.bolt}" if entry.bolt is not None else f" at {entry.at}" if entry.at else ""
        return f"{names.title(entry.item)}: {entry.what}{place} {value(entry, system)}"
    if isinstance(entry, Signed):
        return signed(entry, names=names)
    if isinstance(entry, SetAside):
        return (
            f"{names.title(entry.joint)}, {pass_words(entry.pass_)}, bolt {bolts(entry.bolts)} deferred: {entry.reason}"
        )
    if isinstance(entry, WrongEntry):
        return f"entry {entry.entry} struck: {entry.reason}"
    if isinstance(entry, Accepted):
        return f"{entry.stop} accepted: {entry.reason}"
    if isinstance(entry, Note):
        return f"{entry.topic}: {entry.text}"
    if isinstance(entry, Planned):
        return f"plan revision {entry.revision or 'not given'}"
    return f"{entry.size} bytes kept in {entry.kept_in}" if isinstance(entry, Recovered) else entry.kind

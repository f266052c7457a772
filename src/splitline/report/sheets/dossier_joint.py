"""One joint of the dossier: how it was left, what was planned for each pass, what each bolt got, by whom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from splitline.assess.gauge import gauge_said
from splitline.assess.result import ItemResult
from splitline.assess.stud_loads import TOLD, advice, sentence, stud_loads
from splitline.assess.tightening_list import order_list
from splitline.plan.model import Joint
from splitline.record.as_built import BoltLine, JointAsBuilt
from splitline.record.as_left import AsLeft, as_left, as_read, per_bolt
from splitline.record.closing import ranges
from splitline.record.entry import Measured, Signed, Tightened, is_late
from splitline.record.fact_kinds import StudValue
from splitline.record.from_plan import noun_of
from splitline.record.progress import PassProgress
from splitline.report.blocks import Beside, Block, Cell, Large, Para, Picture, Points, Sheet, Strong, Table, text_of
from splitline.report.pictures.band_chart import Charted, band_chart
from splitline.report.pictures.bolt_map import Looks, bolt_map
from splitline.report.sheets import common
from splitline.report.sheets import dossier_words as words
from splitline.report.sheets.common import Options
from splitline.report.sheets.joint import diameters, pass_words, settings
from splitline.units import System, show

SHARE = 0.43  # of the width that a map takes beside the set values
SMALL = 60  # bolts from which the map takes the whole width
LETTERED, NARROW = 52, 11  # letters that half a page's width takes, and a head needs
SIDE_BY_SIDE = 12  # bolts from which a narrow table stands in columns
CHARTED = 3  # bolts read from which there is a chart
BESIDE = {1: 4, 2: 3, 3: 2, 4: 2}  # columns a table of so many readings stands in
FEW = 3  # bolts with readings that need no table
HIGH = 32.0  # mm of a chart
COLUMNS = 7  # of one table of readings
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

Studs = Mapping[tuple[int, int], StudValue]  # by entry and bolt


def joint_as_built(
    joint: JointAsBuilt,
    plan: Joint | None,
    result: ItemResult | None,
    options: Options,
    studs: Studs,
    revision: str = "",
) -> Sheet:
    """The sheet of one joint as built; ``revision``: of the plan that stands, whose set values are told."""
    planned: list[Block] = []
    if plan is not None and result is not None:
        planned = [_plain(block, revision) for block in settings(plan, result, order_list(plan, result), options)]
    left = as_left(joint)
    blocks: list[Block] = []
    picture = _map(joint, left, plan, result, options)
    narrow = _narrow(plan, len(joint.bolts))
    wide = options.room if len(joint.bolts) > SMALL else (options.room - 4) * (1 - SHARE if narrow else 0.5)
    estimate, words_of_it = _in_every_stud(joint, plan, result, options, wide)
    charts = [*_chart(joint, options, wide), *estimate]
    if picture is not None and narrow:
        blocks.append(Beside((picture,), (*planned, *charts), SHARE))
    elif len(joint.bolts) > SMALL:
        blocks += [*([picture] if picture is not None else []), *planned, *charts]
    else:
        blocks += [*([picture] if picture is not None else []), *planned, *_in_pairs(charts)]
    blocks += words_of_it
    blocks.append(_passes(joint, studs))
    if not any(each.done or each.aside for each in joint.progress.passes):
        blocks.append(Para("No bolt of it is tightened.", "strong"))
    else:
        blocks += _bolts(joint, plan, options.system, studs)
    blocks += _readings(joint, options.system)
    if joint.readings:
        blocks.append(words.readings(joint.readings, options.system, "Other readings", "pass"))
    return Sheet("dossier", joint.id, joint.title or joint.id, tuple(blocks), "Joint, as built")


def _in_pairs(charts: Sequence[Block]) -> list[Block]:
    """Two beside one another."""
    pair = charts[:2]
    return [Beside((pair[0],), (pair[1],), 0.5), *charts[2:]] if len(pair) == 2 else list(pair)


def _narrow(plan: Joint | None, bolts: int) -> bool:
    """Whether the map stands beside the set values."""
    return plan is not None and plan.layout is not None and plan.layout.shape != "split-line" and bolts <= SMALL


def _held(text: str) -> str:
    """Each number with its unit on one line."""
    value, bracket, rest = text.partition(" (")
    return " (".join(part.replace(" ", "\u00a0") for part in (value, rest) if part) if bracket else text


def _plain(block: Block, revision: str) -> Block:
    """Set values in the size of the rest: nobody sets a tool by the dossier."""
    if not isinstance(block, Table):
        return block
    rows = tuple(
        tuple(Strong(_held(cell.text)) if isinstance(cell, Large) else cell for cell in row) for row in block.rows
    )
    title = f"{block.title}, plan revision {revision}" if revision and block.title else block.title
    return replace(block, rows=rows, small=True, title=title)


def _figures(left: AsLeft, plan: Joint | None, system: System) -> tuple[dict[int, str], str]:
    """Figure by bolt, and their unit once."""
    found, unit = {}, ""
    for bolt, value in left.values.items():
        text = gauge_said(value, plan, system) if left.quantity == "pressure" else show(value, left.quantity, system)
        found[bolt], _, unit = text.partition(" (")[0].rpartition(" ")
    return found, unit


def _map(
    joint: JointAsBuilt, left: AsLeft, plan: Joint | None, result: ItemResult | None, options: Options
) -> Picture | None:
    """Every bolt with what it was left at; the worst ringed, those short of the end crossed out."""
    if plan is None or result is None or not (left.values or left.short):
        return None
    narrow = _narrow(plan, len(joint.bolts))
    room = (options.room - 4) * SHARE if narrow else options.room
    values, unit = _figures(left, plan, options.system)
    looks = Looks(
        diameters(result, len(joint.bolts)), (), (), _middle(left, unit), options.system, values, left.worst, left.short
    )
    high = room + 4 if narrow else 72 if len(joint.bolts) <= SMALL else 150
    drawing = bolt_map(plan, looks, room, high, options.paper.zoom)
    if drawing is None:
        return None
    caption = [f"Seen from {plan.layout.seen_from}."] if plan.layout is not None and plan.layout.seen_from else []
    caption += [f"Under the number: {_what(left)}."] if left.values else []
    caption += [f"Ring: {left.why}."] if left.worst else ["All alike."] if left.read and left.values else []
    caption += [f"Cross: not pulled to the end ({ranges(left.short)})."] if left.short else []
    return Picture(drawing, " ".join(caption))


def _middle(left: AsLeft, unit: str) -> tuple[str, ...]:
    return ("as left", f"{left.what}, {unit}" if left.read else f"as set, {unit}") if left.values else ("as left",)


def _what(left: AsLeft) -> str:
    passes = ", ".join(pass_words(name) for name in left.passes)
    return f"{left.what} as read last, {passes}".rstrip(", ") if left.read else f"what it was set to last, {passes}"


def _chart(joint: JointAsBuilt, options: Options, wide: float) -> list[Block]:
    """Readings by bolt against their limits; where few bolts were read, those alone."""
    read = as_read(joint)
    if read is None or len(read.values) < CHARTED:
        return []
    few = 2 * len(read.values) <= len(read.bolts)
    points = [
        Charted(str(each.bolt), each.value, each.low, each.high, each.bolt in read.worst, each.outside)
        for each in read.bolts
        if each.value is not None or not few
    ]
    passes = ", ".join(pass_words(name) for name in read.passes)
    title = f"{read.what} by bolt, {passes}".rstrip(", ")
    drawing = band_chart(points, read.quantity, options.system, wide, HIGH, title, "bolt")
    if drawing is None:
        return []
    caption = ["Grey: inside the limits."] if any(p.low is not None or p.high is not None for p in points) else []
    caption += ["Triangle: outside."] if any(p.outside for p in points) else []
    caption += [f"Ring: {read.why}."] if read.worst and not any(p.outside for p in points) else []
    caption += ["Cross on the axis: not read."] if any(p.value is None for p in points) else []
    return [Picture(drawing, " ".join(caption))]


def _in_every_stud(
    joint: JointAsBuilt, plan: Joint | None, result: ItemResult | None, options: Options, wide: float
) -> tuple[list[Block], list[Block]]:
    """Preloads as estimated, each with its doubt, against need and yield; and what the estimate stands on."""
    if plan is None or result is None:
        return [], []
    found = stud_loads(result, plan, joint.counted)
    if found is None or found.planned:
        return [], []
    noun = noun_of(plan)
    points = [
        Charted(str(each.stud), each.load, found.need, found.limit, span=(each.low, each.high)) for each in found.studs
    ]
    drawing = band_chart(points, "force", options.system, wide, HIGH, "preload, estimated", noun)
    if drawing is None:
        return [], []
    low = sentence(found, noun, options.system)
    taken = "; ".join(f"{what} {value}" for what, value, _ in found.defaults)
    said = " ".join((f"{low[:1].upper()}{low[1:]}.", *advice(found, noun, options.system)))
    text = f"{TOLD[:1].upper()}{TOLD[1:]}: {said} Taken: {taken} (common practice, no published source)."
    return [Picture(drawing, f"{TOLD}. Grey: above need, below yield.")], [Para(text, "small")]


def _passes(joint: JointAsBuilt, studs: Studs) -> Table:
    rows: list[tuple[Cell, ...]] = []
    alike = len(_by_lubricant(joint.set_ups)) <= 1
    for each, closed in zip(joint.progress.passes, joint.closed, strict=True):
        state: Cell = "closed" if closed else Strong("open")
        if each.plan.name in joint.gone:
            state = Strong("counts for no pass of the plan that stands")
        elif closed and each.short:
            state = Strong(f"closed SHORT of {words.bolts(each.short)}")
        revisions = dict.fromkeys(
            fact.revision or "not given"
            for bolt, entry in each.done.items()
            if (fact := studs.get((entry.number, bolt))) is not None
        )
        count = f"{len(each.done)} of {len(each.plan.bolts)}"
        own = [entry for entry in joint.set_ups if entry.pass_ == each.plan.name]
        rows.append(
            (
                pass_words(each.plan.name), ", ".join(revisions), count, state, words.bolts(each.moved),
                *(() if alike else ("\n".join(_by_lubricant(own)),)), "\n".join(_tool(entry) for entry in own),
            )
        )  # fmt: skip
    lubricant = (() if alike else ("Lubricant, batch",), () if alike else (2.0,))
    head = (
        "Pass",
        "Rev.",
        "Bolts done",
        "State",
        "Nuts moved",
        *lubricant[0],
        "Tool, calibrated until; set up by",
    )
    widths = (0.85, 0.45, 0.95, 1.5, 0.75, *lubricant[1], 5.6)
    said = f"; {_by_lubricant(joint.set_ups)[0]}" if alike and joint.set_ups else ""
    return Table(head, tuple(rows), widths, title=f"Passes, as done{said}", small=True)


def _by_lubricant(entries: Sequence[Signed]) -> list[str]:
    return list(dict.fromkeys(f"{entry.lubricant}, batch {entry.batch or 'not given'}" for entry in entries))


def _tool(entry: Signed) -> str:
    until = entry.calibration_due.isoformat() if entry.calibration_due else "not given"
    return f"{f'{entry.tool} {entry.serial}'.strip()}, {until}; {words.who(entry)}, {words.when(entry)}"


@dataclass(frozen=True, slots=True)
class _Column:
    """One pass of the table of bolts: what is alike in the whole pass stands in its head, what differs in the cells."""

    each: PassProgress
    day: str
    time: str
    person: str
    late: bool

    @property
    def head(self) -> str:
        when = f"{self.day} {self.time}".strip()
        parts = (pass_words(self.each.plan.name), when, self.person)
        return ", ".join(part for part in parts if part) + (" *" if self.late else "")


def _bolts(joint: JointAsBuilt, plan: Joint | None, system: System, studs: Studs) -> list[Block]:
    columns = [_column(each) for each in joint.progress.passes if each.done or each.aside]
    people = dict.fromkeys(entry.done_by for each in columns if not each.person for entry in each.each.done.values())
    letters = dict(zip(people, LETTERS, strict=False)) if len(people) <= len(LETTERS) else {}
    places = [place for place, each in enumerate(joint.progress.passes) if each.done or each.aside]
    rows = tuple(
        (
            Strong(str(line.bolt)),
            *(
                _cell(line, place, column, plan, system, studs, letters)
                for place, column in zip(places, columns, strict=True)
            ),
        )
        for line in joint.bolts
    )
    widest = max((len(text_of(cell)) for row in rows for cell in row[1:]), default=0)
    beside = 2 if len(columns) * max(widest, NARROW) <= LETTERED and len(rows) > SIDE_BY_SIDE else 1
    head = ("Bolt", *(column.head for column in columns))
    widths = (0.5, *(2.0,) * len(columns))
    key = ", ".join(f"{letter} {name}" for name, letter in letters.items())
    title = f"Bolt by bolt; by {key}" if key else "Bolt by bolt"
    found: list[Block] = [Table(head, rows, widths, ("right",), title, beside, small=True)]
    late = sorted(_late(columns))
    notes = [f"* {text}." for text in late]
    notes += [text for column in columns for text in _pulled_with(column.each)]
    notes += [
        f"Bolt {words.bolts(entry.bolts)} deferred in {pass_words(entry.pass_)} by {words.who(entry)}, "
        f"{words.when(entry)}, entry {entry.number}: {entry.reason}"
        for entry in dict.fromkeys(entry for line in joint.bolts for entry in line.aside)
    ]
    return [*found, *([Points(tuple(notes))] if notes else [])]


def _column(each: PassProgress) -> _Column:
    own = list(each.done.values())
    times = [entry.done_at for entry in own if entry.done_at]
    return _Column(
        each,
        _alike([f"{at:%Y-%m-%d}" for at in times]),
        _alike([f"{at:%H:%M}" for at in times]) if len({at.date() for at in times}) == 1 else "",
        _alike([entry.done_by for entry in own]),
        bool(own) and all(_is_late(entry) for entry in own),
    )


def _alike(texts: Sequence[str]) -> str:
    return texts[0] if len(set(texts)) == 1 else ""


def _is_late(entry: Tightened) -> bool:
    return entry.entered_by not in ("", entry.done_by) or is_late(entry)


def _late(columns: Iterable[_Column]) -> list[str]:
    """Which pulls were written down afterwards, by whom and when; passes that are alike in one line."""
    found: dict[tuple[str, str], list[Tightened]] = {}
    bolts: dict[tuple[str, str], list[int]] = {}
    for column in columns:
        for bolt, entry in column.each.done.items():
            if _is_late(entry):
                key = (column.each.plan.name, entry.entered_by or entry.done_by)
                found.setdefault(key, []).append(entry)
                bolts.setdefault(key, []).append(bolt)
    alike: dict[tuple[str, str], list[str]] = {}
    for (pass_, person), own in bolts.items():
        alike.setdefault((person, ranges(own)), []).append(pass_)
    said = []
    for (person, which), passes in alike.items():
        times = sorted(e.entered_at for name in passes for e in found[name, person] if e.entered_at)
        span = f", {times[0]:%Y-%m-%d %H:%M} to {times[-1]:%Y-%m-%d %H:%M}" if times else ""
        said.append(f"{_names(passes)}, bolts {which}: written down afterwards by {person}{span}")
    return said


def _names(passes: Iterable[str]) -> str:
    return ", ".join(pass_words(name) for name in passes if name)


def _pulled_with(each: PassProgress) -> list[str]:
    """Which tool pulled which bolt, where several pulled at once."""
    found: dict[str, list[int]] = {}
    for bolt, entry in each.done.items():
        if entry.pulled_with:
            found.setdefault(entry.pulled_with[entry.bolts.index(bolt)], []).append(bolt)
    said = "; ".join(f"{serial} pulled {ranges(bolts)}" for serial, bolts in found.items())
    return [f"{pass_words(each.plan.name)}: {said}."] if said else []


def _cell(
    line: BoltLine,
    place: int,
    column: _Column,
    plan: Joint | None,
    system: System,
    studs: Studs,
    letters: Mapping[str, str],
) -> Cell:
    done, bolt = line.pulls[place], line.bolt
    if done is None:
        if bolt not in column.each.plan.bolts:
            return ""
        return Strong(
            "deferred" if bolt in column.each.aside else "left out" if bolt in column.each.out else "not done"
        )
    parts = [words.pulled(done, bolt, system, plan).replace(" ", "\u00a0")]
    at = done.done_at
    if at is not None and not column.time:
        parts.append(f"{at:%H:%M}" if column.day else f"{at:%Y-%m-%d} {at:%H:%M}")
    parts += [] if column.person else [letters.get(done.done_by, done.done_by)]
    parts += ["*"] if _is_late(done) and not column.late else []
    text = " ".join(parts)
    fact = studs.get((done.number, bolt))
    if fact is not None and fact.otherwise:
        return Strong(f"▲ {text}, told {fact.told}")
    return Strong(f"{text}, nut moved") if done.moved else text


def _readings(joint: JointAsBuilt, system: System) -> list[Block]:
    """Readings of single bolts: a column each kind and pass, a row each bolt; how they were taken under the table."""
    found = per_bolt(joint)
    keys = list(found)
    bolts = [line.bolt for line in joint.bolts if any(line.bolt in found[key] for key in keys)]
    if 0 < len(bolts) <= FEW:
        return [Points((*(_one_line(bolt, found, system) for bolt in bolts), *_taken(found)))]
    blocks: list[Block] = []
    for first in range(0, len(keys), COLUMNS):
        own = keys[first : first + COLUMNS]
        head = ("Bolt", *(_reading_head(key, found[key], system) for key in own))
        rows = tuple(
            (Strong(str(line.bolt)), *(_read(found[key].get(line.bolt, ()), found[key], system) for key in own))
            for line in joint.bolts
            if any(line.bolt in found[key] for key in own)
        )
        beside = BESIDE.get(len(own), 1) if len(rows) > SIDE_BY_SIDE else 1
        blocks.append(Table(head, rows, (0.6, *(1.4,) * len(own)), ("right",), "Readings by bolt", beside, small=True))
    return [*blocks, Points(tuple(_taken(found)))] if blocks else []


def _one_line(bolt: int, found: Mapping[tuple[str, str, str], Mapping[int, Sequence[Measured]]], system: System) -> str:
    """The readings of one bolt in words."""
    own = [
        f"{_reading_head(key, readings, system)}: {text_of(_read(readings[bolt], readings, system))}"
        for key, readings in found.items()
        if bolt in readings
    ]
    return f"bolt {bolt}: {'; '.join(own)}"


def _of_pass(key: tuple[str, str, str]) -> str:
    return f"{key[0]}, {pass_words(key[2])}" if key[2] else key[0]


def _limits(readings: Mapping[int, Sequence[Measured]]) -> tuple[float | None, float | None] | None:
    """The limits all were judged by; None where they differ."""
    every = {(r.low, r.high) for own in readings.values() for r in own}
    return every.pop() if len(every) == 1 else None


def _reading_head(key: tuple[str, str, str], readings: Mapping[int, Sequence[Measured]], system: System) -> str:
    limits = _limits(readings)
    if limits is None:
        return _of_pass(key)
    if limits == (None, None):
        return f"{_of_pass(key)}, not judged"
    band = common.band(*limits, key[1], system)
    return f"{_of_pass(key)}, {band if isinstance(band, str) else ''}".rstrip(", ")


def _read(own: Sequence[Measured], readings: Mapping[int, Sequence[Measured]], system: System) -> Cell:
    """The readings of one bolt, the last one last; with its own limits where they are not the whole column's."""
    alike = _limits(readings) is not None
    parts = []
    for each in own:
        text = words.value(each, system)
        band = words.limits(each, system)
        text += f" ({band})" if not alike and isinstance(band, str) and band else ""
        parts.append(f"▲ {text}" if each.verdict == "outside" else text)
    said = ", then ".join(parts)
    return Strong(said) if any(each.verdict == "outside" for each in own) else said


def _taken(found: Mapping[tuple[str, str, str], Mapping[int, Sequence[Measured]]]) -> list[str]:
    """With what, by whom and when they were taken; passes that are alike in one line."""
    groups: dict[tuple[str, str, str], dict[str, list[Measured]]] = {}
    for (what, _, pass_), readings in found.items():
        for own in readings.values():
            for each in own:
                key = (what, words.instrument(each), words.by(each))
                groups.setdefault(key, {}).setdefault(pass_, []).append(each)
    alike: dict[tuple[str, str, str, str], list[tuple[str, list[Measured]]]] = {}
    for (what, instrument, who), passes in groups.items():
        for pass_, own in passes.items():
            bolts = ranges(each.bolt for each in own if each.bolt is not None)
            alike.setdefault((what, instrument, who, bolts), []).append((pass_, own))
    return [
        f"{', '.join(part for part in (what, _names(name for name, _ in passes)) if part)}, bolts {bolts}: {instrument}, {who}, "
        f"{words.span([each for _, own in passes for each in own])}"
        for (what, instrument, who, bolts), passes in alike.items()
    ]

"""What was done, as lines: pure functions of the as-built record."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.record import fact_kinds as kinds
from splitline.record.as_built import AsBuilt, BoltLine, ItemAsBuilt, JointAsBuilt
from splitline.record.entry import Entry, Measured, Tightened
from splitline.record.export import plain
from splitline.record.struck import strikes
from splitline.ui import marks
from splitline.ui.draw.rows import Row, Seg, clean, fit, right, row_width, rule, width, wrap
from splitline.ui.widgets.lines import Line
from splitline.ui.work.entry_words import entry_said
from splitline.ui.work.values import tools_said
from splitline.units import System, as_read, show

_STATES = {"done": (marks.DONE, "done"), "now": (marks.NOW, "strong"), "open": (marks.OPEN, ""),
           "to sign": (marks.HOLD, "near"), "waits": (marks.OPEN, "dim")}  # fmt: skip


def sections(built: AsBuilt) -> list[tuple[str, str]]:
    """Key and title of each page."""
    found = [("summary", "Summary")]
    found += [(f"joint {joint.id}", joint.title or joint.id) for joint in built.joints]
    if any((built.lifts, built.fits, built.insertions, built.clearances, built.others)):
        found.append(("items", "Lifts, fits, clearances"))
    return [*found, ("deviations", "Deviations"), ("entries", "All entries")]


def page(built: AsBuilt, entries: Sequence[Entry], key: str, cells: int, system: System) -> list[Line]:
    """Lines of one page; a line about one entry carries its number as target."""
    if key == "summary":
        return _summary(built, cells)
    if key.startswith("joint "):
        joint = next((each for each in built.joints if f"joint {each.id}" == key), None)
        return _joint(joint, cells, system) if joint is not None else []
    if key == "items":
        return [
            line
            for item in (*built.lifts, *built.fits, *built.insertions, *built.clearances, *built.others)
            for line in _item(item, cells, system)
        ]
    if key == "deviations":
        return _deviations(built, cells)
    return _entries(entries, cells, _called(built))


def _text(text: str, style: str, cells: int, target: int | None = None) -> list[Line]:
    parts = wrap(text, cells, 12)
    return [Line(((part, style),), target if place == 0 else None) for place, part in enumerate(parts)]


def _after(head: Row, text: str, cells: int, style: str = "dim", target: int | None = None) -> list[Line]:
    """A line with a text after it; where it has no room there, it stands below, whole."""
    if row_width(head) + width(text) <= cells:
        return [Line((*head, (clean(text), style)), target)]
    below = [Line((("    ", ""), (part, style)), belongs=target) for part in wrap(text, max(cells - 4, 10), 12)]
    return [Line(head, target), *below]


def _summary(built: AsBuilt, cells: int) -> list[Line]:
    out: list[Line] = []
    for problem in built.problems:
        out += _text(f"{marks.shape('fails')} {problem}", "fails", cells)
    for line in built.beside:
        out += _text(f"{marks.shape('fails')} {line}", "near", cells)
    ok = not built.problems
    out.append(
        Line(
            (
                (
                    f"{'● every entry stands as it was written' if ok else '▲ the record was altered'}",
                    "ok" if ok else "fails",
                ),
            ),
            0,  # the cursor begins here, so that the page opens at its top
        )
    )
    out.append(Line(((f"{built.count} entries   record code ", "dim"), (built.head[: max(cells - 37, 12)], ""))))
    out.append(Line(rule(cells, "Order of work")))
    for state in built.steps:
        mark, style = _STATES[state.state]
        who = f"signed {state.hold.done_by}" if state.hold else state.why
        when = f"{state.done:%d %b %H:%M}" if state.done else ""
        name = clean(state.plan.text or state.plan.id)
        room = min(max(cells - 16, 10), 44)
        if width(name) > room:  # no title is cut: it has lines of its own
            first, *more = wrap(name, max(cells - 2, 10), 12)
            out += [Line(((f"{mark} ", style), (first, ""))), *(Line((("  ", ""), (line, ""))) for line in more)]
            out += _text(f"  {when}  {who}".rstrip(), "dim", cells) if when or who else []
            continue
        head = ((f"{mark} ", style), (fit(name, room), ""), (f" {when:<13}", "dim"))
        out += _after(head, who, cells)
    if built.windows:
        out.append(Line(rule(cells, "Time limits")))
        styles = {"broken": "fails", "running": "near", "kept": "ok"}
        for window in built.windows:
            out += _text(f"{marks.WINDOW} {window.said}", styles.get(window.phase, "dim"), cells)
    if built.notes:
        out.append(Line(rule(cells, "Notes")))
        for note in built.notes[-12:]:
            at = f"{note.done_at:%d %b %H:%M}" if note.done_at else ""
            out += _text(f"{at} {note.done_by}, {note.topic}: {note.text}", "", cells, note.number)
    return out


def _joint(joint: JointAsBuilt, cells: int, system: System) -> list[Line]:
    if not joint.bolts:
        return _text("Nothing is known of the bolts of this joint.", "missing", cells)
    out: list[Line] = []
    for entry in joint.set_ups:
        due = f", calibrated to {entry.calibration_due}" if entry.calibration_due else ""
        tools = tools_said(entry.tool, entry.serial)
        said = f"{entry.pass_}: {entry.lubricant}, batch {entry.batch}; {tools}{due}  {entry.done_by}"
        out += _text(said, "dim", cells, entry.number)
    each = max(min((cells - 6) // len(joint.passes) - 1, 26), 5)
    heads = [name if name[:1].isalpha() else f"pass {name}" for name in joint.passes]
    out.append(Line((("stud  ", "label"), *((fit(head, each + 1), "label") for head in heads))))
    for line in joint.bolts:
        out.append(Line(_pulls(line, each, system), next((p.number for p in reversed(line.pulls) if p), None)))
        for reading in line.readings:
            out.append(Line(_reading(reading, 6, system), reading.number))
        for aside in line.aside:
            out.append(
                Line(((f"      {marks.ASIDE} deferred in {aside.pass_}: {clean(aside.reason)}", "near"),), aside.number)
            )
    for reading in joint.readings:
        out.append(Line(_reading(reading, 0, system), reading.number))
    return out


def _pulls(line: BoltLine, each: int, system: System) -> Row:
    segs: list[Seg] = [(f"{line.bolt:>4}  ", "strong")]
    for pull in line.pulls:
        text, style = (_pull(pull, each, system), "moved" if pull.moved else "") if pull else (marks.OPEN, "dim")
        segs.append((fit(text, each + 1), "near" if style == "moved" else style))
    return tuple(segs)


def _pull(pull: Tightened, cells: int, system: System) -> str:
    at = f"{pull.done_at:%H:%M}" if pull.done_at else ""
    value = ""
    if pull.pressure is not None:
        value = show(pull.pressure, "pressure", system)
    elif pull.torque is not None:
        value = show(pull.torque, "torque", system)
    for text in (f"{at} {value} {clean(pull.done_by)}", f"{at} {clean(pull.done_by)}"):
        if width(text) <= cells:
            return text + (" moved" if pull.moved and width(text) + 6 <= cells else "")
    return at


def _reading(reading: Measured, indent: int, system: System) -> Row:
    value = reading.typed or show(reading.value, as_read(reading.quantity), system)
    style = {"inside": "ok", "outside": "fails"}.get(reading.verdict, "dim")
    mark = {"inside": "●", "outside": "▲"}.get(reading.verdict, "·")
    where = f" {reading.at}" if reading.at else ""
    return (
        (" " * indent, ""),
        (f"{mark} ", style),
        (clean(f"{reading.what}{where} {value}  {reading.verdict}  "), style),
        (clean(f"{reading.done_by} {reading.done_at:%d %b %H:%M}" if reading.done_at else reading.done_by), "dim"),
    )


def _item(item: ItemAsBuilt, cells: int, system: System) -> list[Line]:
    out = [Line(rule(cells, clean(item.title or item.id)))]
    for reading in item.readings:
        out.append(Line(_reading(reading, 0, system), reading.number))
    for entry in item.signed:
        at = f"{entry.done_at:%d %b %H:%M}" if entry.done_at else ""
        said = f"{entry.act} {entry.role} {entry.pass_}  {entry.statement}"
        out += _text(f"{marks.DONE} {' '.join(said.split())}  {entry.done_by} {at}", "", cells, entry.number)
    return out if len(out) > 1 else [*out, Line((("nothing recorded", "dim"),))]


def _deviations(built: AsBuilt, cells: int) -> list[Line]:
    called = _called(built)
    out: list[Line] = []
    for stop in built.deviations:
        accepted = stop.accepted
        word = f"accepted by {accepted.done_by}: {accepted.reason}" if accepted else "NOT ACCEPTED: the work is stopped"
        word = word if stop.stops else "stopped nothing"
        out += _text(f"▲ {stop.text}", "fails" if stop.open else "near", cells, stop.entry or None)
        for each in stop.details:
            out += _text(f"  {each}", "dim", cells)
        out += _text(f"  {word}", "fails" if stop.open else "dim", cells)
    for aside in built.set_aside:
        bolts = " + ".join(map(str, aside.bolts))
        out += _text(
            f"{marks.ASIDE} stud {bolts}, {called.get(aside.joint, aside.joint)} {aside.pass_}: {aside.reason}",
            "near",
            cells,
            aside.number,
        )
    saids = {fact.entry: fact.said for fact in built.facts if isinstance(fact, kinds.Struck)}
    for struck in built.wrong_entries:
        what = entry_said(struck.entry, titles=called) if struck.entry else ""
        said = f"{marks.PROBLEM} entry {struck.by.entry} struck ({what}): {struck.by.reason}  {struck.by.done_by}"
        out += _text(said, "", cells, struck.by.number)
        out += _text(f"  it said: {saids.get(struck.by.number, '')}", "dim", cells)
    for found in built.recovered:
        out += _text(f"· {found.text} ({found.kept_in})", "dim", cells, found.number)
    return out or _text("no deviations, no corrections, nothing deferred", "ok", cells)


def _called(built: AsBuilt) -> dict[str, str]:
    """Titles by id."""
    found = {joint.id: joint.title for joint in built.joints if joint.title}
    items = (*built.lifts, *built.fits, *built.insertions, *built.clearances)
    found |= {item.id: item.title for item in items if item.title}
    return found | {step.plan.id: step.plan.text for step in built.steps if step.plan.text}


def _entries(entries: Sequence[Entry], cells: int, called: dict[str, str]) -> list[Line]:
    gone = strikes(entries)
    out = []
    for entry in reversed(entries):
        at = f"{entry.done_at:%d %b %H:%M}" if entry.done_at else ""
        late = f", entered by {entry.entered_by}" if entry.entered_by not in ("", entry.done_by) else ""
        said = f"{entry.kind}: {entry_said(entry, titles=called)}" if entry.kind != "plan" else "plan stands"
        mark = f"{marks.PROBLEM} " if entry.number in gone else "  "
        head = ((right(str(entry.number), 6), "dim"), (f" {at}  {mark}", "dim"))
        style = "dim" if entry.number in gone else ""
        who = f"  {entry.done_by}{late}"
        if row_width(head) + width(said + who) <= cells:
            out.append(Line((*head, (clean(said), style), (clean(who), "dim")), entry.number))
        else:
            out += _after(head, f"{said}{who}", cells, style, entry.number)
    return out or [Line((("nothing recorded yet", "dim"),))]


def details(entry: Entry) -> list[tuple[str, str]]:
    """Every field of an entry, as lines."""
    skipped = {"text"} if entry.kind == "plan" else set()
    return [(f"{key}: {value}", "") for key, value in plain(entry).items() if key not in skipped]

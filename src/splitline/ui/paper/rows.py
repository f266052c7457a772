"""The table as lines of text: pure functions of the sheet and what stands in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from splitline.ui.draw.rows import Row, Seg, clean, fit, right, row_width, wrap
from splitline.ui.paper.table import COUNT, DONE, MOVED, Filled, Judged, PaperRow, PaperSheet, flaws, judge, unit_of
from splitline.ui.widgets.lines import Line
from splitline.ui.work.asks import limits_said
from splitline.units import System

COLUMNS = ("done", "value", "time", "by")
BELOW = ("time", "by")  # columns that go below the others where a screen is narrow
VALUE, TIME, BY = 14, 7, 11


@dataclass(slots=True)
class Look:
    """How the table is looked at: which reading its value column shows, where the cursor is, what is being typed."""

    what: str = ""
    column: str = "value"
    row: str = ""
    typing: str | None = None
    stored: dict[str, list[str]] = field(default_factory=dict)  # readings that went into the record, by row


def what_of(row: PaperRow, look: Look) -> str:
    """What the value column of this row takes; "" where nothing is read."""
    if row.words:
        return row.words
    return look.what if look.what in row.limits else next(iter(row.limits), "")


def _widths(sheet: PaperSheet, cells: int) -> tuple[int, int]:
    """Of the label and of the done column."""
    done = 8 if sheet.finish else 5
    if sheet.kind == "pass":
        return 10, done
    longest = max((len(row.label) for row in sheet.rows), default=8)
    return min(max(longest + 1, 8), max(cells - done - VALUE - TIME - BY - 16, 14)), done


def _narrow(sheet: PaperSheet, cells: int) -> bool:
    """Whether time and name have no room beside the value: they stand below it then."""
    return sum(_widths(sheet, cells)) + VALUE + TIME + BY > cells


def heads(sheet: PaperSheet, look: Look, cells: int, system: System) -> Row:
    """The line above the table."""
    label, done = _widths(sheet, cells)
    mixed = len({row_what for row in sheet.rows if (row_what := what_of(row, look))}) > 1
    unit = ""
    if not mixed:
        limits = next((row.limits[look.what] for row in sheet.rows if look.what in row.limits), None)
        unit = f" {unit_of(limits, system)}" if limits is not None else ""
    value = "value" if mixed else f"{look.what}{unit}"
    names = {"done": ("done", done), "value": (value, VALUE), "time": ("time", TIME), "by": ("by", BY)}
    segs: list[Seg] = [(fit("step stud" if sheet.kind == "pass" else "", label), "label")]
    for name, (text, wide) in names.items():
        if name in BELOW and _narrow(sheet, cells):
            continue
        segs.append((fit(text, wide - 1) + " ", "key" if name == look.column else "label"))
    return tuple(segs)


def lines(sheet: PaperSheet, filled: Filled, look: Look, cells: int, now: datetime, system: System) -> list[Line]:
    """A line a row; a remark that has no room in it stands below, whole."""
    wrong = flaws(sheet, filled, now, system)
    when = filled.who_when(sheet)
    out = []
    before = 0
    for row in sheet.rows:
        shown, below = _row(sheet, row, filled, look, cells, when[row.key], before, system)
        said = remark(row, filled, look, wrong.get(row.key, ""), system)
        if not below and row_width((*shown, *said)) <= cells:
            out.append(Line((*shown, *said), row.key))
        else:
            out.append(Line(shown, row.key))
            out += [Line((("      ", ""), *below), belongs=row.key)] if below else []
            out += [
                Line((("      ", ""), (part, style)), belongs=row.key)
                for text, style in said
                if text
                for part in wrap(text, max(cells - 6, 10), 4)
            ]
        before = row.place
    return out


def _row(
    sheet: PaperSheet,
    row: PaperRow,
    filled: Filled,
    look: Look,
    cells: int,
    when: tuple[datetime, str],
    before: int,
    system: System,
) -> tuple[Row, Row]:
    """The line, and what of it stands below."""
    label, done = _widths(sheet, cells)
    here = row.key == look.row
    tick = filled.ticks.get(row.key, "")
    given = tick or any(text for (key, _), text in filled.values.items() if key == row.key)
    style = "strong" if row.open or row.limits or row.words else "dim"
    if sheet.kind == "pass":
        step = str(row.place) if row.place != before else ""
        head: tuple[Seg, ...] = ((right(step, 4), "dim"), (right(row.label, 5) + " ", style))
    else:
        head = ((fit(clean(row.label), label - 1) + " ", style),)
    own_at = row.key in filled.times
    time = f"{when[0]:%H:%M}" + ("" if when[0].date() == filled.at.date() else "*") if given or own_at else ""
    by = when[1] if given or row.key in filled.names else ""
    cellular = {
        "done": (_tick(row, tick), done, "done" if tick or "done" in row.locked else "dim"),
        "value": _value(sheet, row, filled, look, system),
        "time": (time, TIME, "strong" if own_at else "dim"),
        "by": (clean(by), BY, "strong" if row.key in filled.names else "dim"),
    }
    segs: list[Seg] = list(head)
    below: list[Seg] = []
    for name, (text, wide, own) in cellular.items():
        at_cursor = here and name == look.column
        shown = f"{look.typing}▏" if at_cursor and look.typing is not None else text
        into = below if name in BELOW and _narrow(sheet, cells) else segs
        into += [(fit(shown, wide - 1), "now" if at_cursor else own), (" ", "")]
    return tuple(segs), tuple(below)


def _tick(row: PaperRow, tick: str) -> str:
    if tick == MOVED:
        return "✓ moved"
    if tick == DONE or row.locked.startswith("done"):
        return "✓"
    return "" if row.locked or not row.act else "·"


def _value(sheet: PaperSheet, row: PaperRow, filled: Filled, look: Look, system: System) -> tuple[str, int, str]:
    """What was typed; else, where the lines are read in different units, the unit that is waited for."""
    what = what_of(row, look)
    typed = filled.values.get((row.key, what), "") if what else ""
    if typed or not what or row.words or sheet.kind == "pass":
        return typed or ("" if what else "–"), VALUE, "strong" if typed else "dim"
    return right(unit_of(row.limits[what], system), VALUE - 2), VALUE, "dim"


def judged(row: PaperRow, filled: Filled, look: Look, system: System) -> Judged | None:
    """What is said of the value in the shown column."""
    what = what_of(row, look)
    text = filled.values.get((row.key, what), "")
    return judge(text, row.limits[what], system) if text and what in row.limits else None


def remark(row: PaperRow, filled: Filled, look: Look, wrong: str, system: System) -> Row:
    """The last column: what keeps the row out, how its value is judged, what was stored before."""
    if wrong:
        return ((f"✗ {clean(wrong)}", "problem"),)
    found = judged(row, filled, look, system)
    if found is not None:
        others = sum(1 for (key, what), text in filled.values.items() if key == row.key and text) - 1
        return ((found.said, found.style), (f"  +{others} more" if others else "", "dim"))
    before = look.stored.get(row.key)
    if before:
        return ((f"stored {'; '.join(before)}", "dim"),)
    if row.locked:
        return ((clean(row.locked), "dim" if row.locked.startswith(("done", "on its own")) else "near"),)
    other = [what for (key, what), text in filled.values.items() if key == row.key and text]
    return ((f"{', '.join(other)} given", "dim"),) if other else (("", ""),)


def about(row: PaperRow, look: Look, system: System) -> str:
    """The row under the cursor in full: what is wanted of it."""
    what = what_of(row, look)
    name = f"stud {row.label}" if row.bolt is not None else row.label
    if row.words:
        return f"{name}: a whole number" if row.words.startswith(COUNT) else f"{name}: as read on the tag"
    if what in row.limits:
        unit = unit_of(row.limits[what], system)
        said = name if name.endswith(what) else f"{name}: {what}"
        return f"{said}{f' in {unit}' if unit else ''}, {limits_said(row.limits[what], system)}"
    return f"{name}{': ' + row.locked if row.locked else ''}"

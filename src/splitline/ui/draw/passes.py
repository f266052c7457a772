"""What each pass leaves in each bolt: one bar a bolt, need and limit as rules across."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from splitline.ui.draw.rows import Row, Seg, fit, right

_PARTS = " ▁▂▃▄▅▆▇█"


@dataclass(frozen=True)
class Rule:
    """A line across the bars at a share of the target."""

    share: float
    word: str
    style: str


def pass_bars(
    shares: Sequence[float],
    width: int,
    height: int,
    *,
    rules: Sequence[Rule] = (),
    tools: Collection[int] = (),
    top: float = 1.2,
    title: str = "",
    facts: str = "",
) -> list[Row]:
    """Bars of preload as a share of the target, bolt 1 at the left.

    ``tools`` are the bolts under a tool now. Where bolts are more than columns, a column is the lowest of its bolts.
    """
    axis = 6
    room = max(width - axis - 1, 4)
    columns = _columns(len(shares), room)
    rows: list[Row] = [((fit(title, max(width - len(facts) - 1, 0)), "title"), (" ", ""), (facts, "strong"))]
    each = columns[0].cells if columns and all(c.first == c.last for c in columns) else 0
    staggered = 0 if each < 2 or height < 14 else 1 if each >= 4 else 2  # rows of figures under the bars
    bars = max(height - 4 - staggered, 3)
    near = [r.share * 1.05 for r in rules if r.share <= 1.5]  # a limit far above is said below the bars only
    top = max([top, *near, *(s * 1.05 for s in shares)])
    for line in range(bars):
        rows.append(_bar_row(shares, columns, rules, tools, top, bars, line, room))
    rows.append((("      ", ""), *_numbers(columns, tools, room)))
    for shift in range(staggered):
        wide = each * staggered
        line_said = "".join(fit(f"{100 * shares[c.first - 1]:.0f}", wide) for c in columns[shift::staggered])
        head = "   %  " if shift == 0 else "      "
        rows.append(((head + " " * (each * shift), "dim"), (fit(line_said.rstrip(), room - each * shift), "number")))
    said = [seg for r in rules for seg in ((f"   {r.word} ", r.style), (f"{100 * r.share:.0f} %", "dim"))]
    if columns and columns[0].last > columns[0].first:
        said.append((f"   each bar: the lowest of {columns[0].last} bolts", "dim"))
    rows.append(tuple(said))
    return rows


@dataclass(frozen=True)
class _Column:
    first: int
    last: int  # bolt numbers, last included
    cells: int


def _columns(bolts: int, room: int) -> list[_Column]:
    if bolts <= 0:
        return []
    if bolts <= room:
        cells = max(min(room // bolts, 5), 1)
        return [_Column(b, b, cells) for b in range(1, bolts + 1)]
    share = -(-bolts // room)
    return [_Column(b, min(b + share - 1, bolts), 1) for b in range(1, bolts + 1, share)]


def _bar_row(
    shares: Sequence[float],
    columns: Sequence[_Column],
    rules: Sequence[Rule],
    tools: Collection[int],
    top: float,
    bars: int,
    line: int,
    room: int,
) -> Row:
    high = top * (bars - line) / bars
    low = top * (bars - line - 1) / bars
    rule = next((r for r in rules if low < r.share <= high), None)
    tick = int(high * 5 + 1e-9) * 20  # every 20 %
    mark = f"{tick:4d}" if low * 100 < tick <= high * 100 + 1e-9 and (bars >= 10 or tick % 40 == 0) else "    "
    out: list[Seg] = [(f"{mark} ┤", "dim")]
    for column in columns:
        level = min(shares[column.first - 1 : column.last])
        filled = max(0.0, min(1.0, (level - low) / (high - low)))
        char = _PARTS[round(filled * 8)]
        style = "tool" if any(b in tools for b in range(column.first, column.last + 1)) else _level_style(level, rules)
        wide = max(column.cells - 1, 1)
        gap = " " * (column.cells - wide)
        if char == " " and rule is not None:
            out.append(("─" * column.cells, rule.style))
        else:
            out.append((char * wide, style))
            if gap:
                out.append(("─" * len(gap), rule.style) if rule is not None else (gap, ""))
    if rule is not None and sum(c.cells for c in columns) + len(rule.word) < room:
        out.append((f" {rule.word}", rule.style))  # where it has no room it still stands under the bars
    return tuple(out)


def _level_style(level: float, rules: Sequence[Rule]) -> str:
    need = next((r.share for r in rules if r.style == "need"), 0.0)
    limit = next((r.share for r in rules if r.style == "limit"), float("inf"))
    return "fails" if level > limit else "near" if level < need else "ok"


def _numbers(columns: Sequence[_Column], tools: Collection[int], room: int) -> list[Seg]:
    """Bolt numbers under the bars, as many as fit."""
    out: list[Seg] = []
    used = 0
    for number, column in enumerate(columns):
        text = str(column.first)
        start = number * column.cells
        wanted = column.first in tools or column.cells > len(text) or number % 5 == 0
        if not wanted or start < used or start + len(text) > room:
            continue
        out += [(" " * (start - used), ""), (text, "now" if column.first in tools else "dim"), (" ", "")]
        used = start + len(text) + 1
    return out


def step_row(steps: Sequence[Sequence[int]], now: int, cells: int) -> Row:
    """The order as a line: done, now, to come."""
    out: list[Seg] = []
    first = max(now - 6, 0)
    for number, step in enumerate(steps[first : first + 40], first):
        text = "+".join(map(str, step))
        style = "now" if number == now else "done" if number < now else "dim"
        out += [(right(text, len(text)), style), ("  ", "")]
    if first:
        out.insert(0, ("… ", "dim"))
    return tuple(out[: max(cells // 2, 4)])

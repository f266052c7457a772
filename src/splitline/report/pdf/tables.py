"""Tables of a sheet as rows that paint themselves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from splitline.report.blocks import Align, Blank, Cell, Large, Missing, Strong, Table, text_of
from splitline.report.pdf.pen import LEADING, POINT, Pen, words_of

PAD = 1.0
TALL = 6.6  # mm, a row that is written in by hand
LARGE = 13.0  # points of a set value: it is read at arm's length
NO_BREAK = "\u00a0"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table."""

    height: float
    paint: Callable[[float, float], None]


@dataclass(frozen=True, slots=True)
class Layout:
    """Widths and places of the columns, and how they are set."""

    widths: tuple[float, ...]
    align: tuple[Align, ...]
    size: float
    least: float

    @property
    def step(self) -> float:
        """From line to line."""
        return self.size * POINT * LEADING


def layout(pen: Pen, table: Table, room: float) -> Layout:
    """Columns of a table in ``room``; shares are widened where a word of the head would not fit its column."""
    size = 7.5 if table.small else 8.5
    shares = table.widths or (1.0,) * len(table.head)
    widths = [share / sum(shares) * room for share in shares]
    needs = [_widest(pen, table, column, size) for column in range(len(widths))]
    short = sum(max(need - width, 0.0) for need, width in zip(needs, widths, strict=True))
    spare = sum(max(width - need, 0.0) for need, width in zip(needs, widths, strict=True))
    if 0 < short <= spare:
        widths = [
            need if need > width else width - (width - need) * short / spare
            for need, width in zip(needs, widths, strict=True)
        ]
    align = tuple(table.align[n] if n < len(table.align) else "left" for n in range(len(widths)))
    return Layout(tuple(widths), align, size, TALL if table.tall else 0.0)


def _widest(pen: Pen, table: Table, column: int, size: float) -> float:
    """The longest word of a column with its padding: what it cannot do without."""
    found = max((pen.width(word, size, "bold") for word in words_of(table.head[column])), default=0.0)
    for row in table.rows[:400]:
        cell = row[column]
        font = "bold" if isinstance(cell, Strong | Missing) else "sans"
        for text, own in _texts(cell, size):
            found = max(found, *(pen.width(word, own, font) for word in words_of(text) if len(word) < 30), 0.0)
    return found + 2 * PAD + 0.2


def _texts(cell: Cell, size: float) -> list[tuple[str, float]]:
    """The cell's text with its size; a large value stands unbroken over what is in brackets."""
    if not isinstance(cell, Large):
        return [(text_of(cell), size)]
    value, bracket, rest = cell.text.partition(" (")
    large = [(value.replace(" ", NO_BREAK), LARGE)]
    return [*large, (f"({rest}".replace(" ", NO_BREAK), size)] if bracket else large


def table_rows(pen: Pen, table: Table, plan: Layout) -> tuple[Row | None, list[Row]]:
    """The head (None where no column has one) and the rows."""
    head = _row(pen, tuple(Strong(text) for text in table.head), plan, fill=0.88, least=0.0)
    return head if any(table.head) else None, [_row(pen, row, plan, None, plan.least) for row in table.rows]


def _row(pen: Pen, cells: Sequence[Cell], plan: Layout, fill: float | None, least: float) -> Row:
    fonts = ["bold" if isinstance(cell, Strong | Missing) else "sans" for cell in cells]
    lines: list[list[tuple[str, float]]] = [
        [("", plan.size)]
        if isinstance(cell, Missing)
        else [
            (line, size)
            for text, size in _texts(cell, plan.size)
            for line in pen.wrap(text, size, width - 2 * PAD, font)
        ]
        for cell, width, font in zip(cells, plan.widths, fonts, strict=True)
    ]
    high = max(least, max(_high(each) for each in lines) + 1.2)

    def paint(x: float, y: float) -> None:
        if fill is not None:
            pen.box(x, y, sum(plan.widths), high, 0, fill)
        for cell, own, width, align, font in zip(cells, lines, plan.widths, plan.align, fonts, strict=True):
            pen.box(x, y, width, high, 0.2, grey=0.35)
            if isinstance(cell, Missing):
                pen.box(x + 0.6, y + 0.6, width - 1.2, high - 1.2, 0.35)
                size = min(plan.size, 7.5, 7.5 * (width - 1.6) / pen.width("missing", 7.5, font))
                pen.text(x + width / 2, y + high / 2, "missing", size, font, "middle")
            elif isinstance(cell, Blank):
                pen.text(x + width - PAD, y + high - 1.4, cell.unit, 6, "sans", "right")
            else:
                _words(pen, own, x, y + (high - _high(own)) / 2, width, align, font)
            x += width

    return Row(high, paint)


def _high(lines: Sequence[tuple[str, float]]) -> float:
    return sum(size * POINT * LEADING for _, size in lines)


def _words(
    pen: Pen, lines: Sequence[tuple[str, float]], x: float, y: float, width: float, align: Align, font: str
) -> None:
    place = {"left": x + PAD, "right": x + width - PAD, "centre": x + width / 2}[align]
    anchor = {"left": "left", "right": "right", "centre": "middle"}[align]
    for line, size in lines:
        step = size * POINT * LEADING
        pen.text(place, y + step / 2, line, size, font, anchor)
        y += step


def columns(rows: Sequence[Row], count: int) -> list[Sequence[Row]]:
    """Rows dealt to ``count`` columns, running down each, as level as can be."""
    each = -(-len(rows) // count) or 1
    if len({row.height for row in rows}) <= 1:
        return [rows[at : at + each] for at in range(0, len(rows), each)]
    whole = sum(row.height for row in rows)
    found: list[list[Row]] = [[]]
    so_far = 0.0
    for row in rows:
        if so_far + row.height / 2 > whole * len(found) / count and found[-1] and len(found) < count:
            found.append([])
        found[-1].append(row)
        so_far += row.height
    return list(found)

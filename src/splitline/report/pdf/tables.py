"""Tables of a sheet as rows that paint themselves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from splitline.report.blocks import Align, Blank, Cell, Missing, Strong, Table, text_of
from splitline.report.pdf.pen import LEADING, POINT, Pen, words_of

PAD = 1.0
TALL = 6.6  # mm, a row that is written in by hand


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
        words = words_of(text_of(cell))
        found = max(found, *(pen.width(word, size, font) for word in words if len(word) < 30), 0.0)
    return found + 2 * PAD + 0.2


def table_rows(pen: Pen, table: Table, plan: Layout) -> tuple[Row | None, list[Row]]:
    """The head (None where no column has one) and the rows."""
    head = _row(pen, tuple(Strong(text) for text in table.head), plan, fill=0.88, least=0.0)
    return head if any(table.head) else None, [_row(pen, row, plan, None, plan.least) for row in table.rows]


def _row(pen: Pen, cells: Sequence[Cell], plan: Layout, fill: float | None, least: float) -> Row:
    fonts = ["bold" if isinstance(cell, Strong | Missing) else "sans" for cell in cells]
    lines = [
        [""] if isinstance(cell, Missing) else pen.wrap(text_of(cell), plan.size, width - 2 * PAD, font)
        for cell, width, font in zip(cells, plan.widths, fonts, strict=True)
    ]
    high = max(least, max(len(each) for each in lines) * plan.step + 1.2)

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
                _words(pen, own, x, y + (high - len(own) * plan.step) / 2, width, plan, align, font)
            x += width

    return Row(high, paint)


def _words(
    pen: Pen, lines: Sequence[str], x: float, y: float, width: float, plan: Layout, align: Align, font: str
) -> None:
    place = {"left": x + PAD, "right": x + width - PAD, "centre": x + width / 2}[align]
    anchor = {"left": "left", "right": "right", "centre": "middle"}[align]
    for number, line in enumerate(lines):
        pen.text(place, y + (number + 0.5) * plan.step, line, plan.size, font, anchor)


def columns(rows: Sequence[Row], count: int) -> list[Sequence[Row]]:
    """Rows dealt to ``count`` columns, running down each, as level as can be."""
    each = -(-len(rows) // count) or 1
    return [rows[at : at + each] for at in range(0, len(rows), each)]

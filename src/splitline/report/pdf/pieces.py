"""Blocks as pieces: each knows its height and how it is painted at a place. A piece is never split over pages."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from splitline.report.blocks import (
    Beside,
    Blank,
    Block,
    Cautions,
    Facts,
    Heading,
    Large,
    Missing,
    Para,
    Picture,
    Points,
    Signs,
    Strong,
    Table,
    Together,
    text_of,
)
from splitline.report.pdf.pen import LEADING, POINT, Pen
from splitline.report.pdf.tables import LARGE, Row, columns, layout, table_rows

Paint = Callable[[float, float], None]
SIZES = {"plain": 9.0, "strong": 10.0, "small": 7.5, "large": 13.0}
WRITE = 6.0  # mm of a fact that is written in by hand
FRAMED = 10  # cautions in one frame
GAP = 1.5  # between blocks
SHORT, SHORT_HEIGHT = 12, 80.0  # rows and mm of a table that is not split over pages


@dataclass(frozen=True, slots=True)
class Piece:
    """``paint(x, y)`` paints it with its upper left corner there. ``stay`` keeps it with the next piece."""

    height: float
    paint: Paint
    stay: bool = False
    head: Piece | None = None  # painted again where the piece begins a page
    gap: bool = False  # empty space, left out at the top of a page


@dataclass(frozen=True, slots=True)
class Spread:
    """Rows set in several columns side by side, as many as the page takes; the order runs down each column."""

    rows: tuple[Row, ...]
    make: Callable[[Sequence[Row]], Piece]
    row_height: float
    head_height: float
    columns: int

    @property
    def whole(self) -> float:
        """Height of all rows in one piece."""
        return self.make(self.rows).height


Part = Piece | Spread


def pieces(pen: Pen, blocks: Sequence[Block], room: float) -> Iterator[Part]:
    """Every block's pieces, with gaps between."""
    for number, block in enumerate(blocks):
        if number:
            yield Piece(GAP, lambda x, y: None, gap=True)
        yield from _of(pen, block, room)


def _of(pen: Pen, block: Block, room: float) -> Iterator[Part]:
    if isinstance(block, Heading):
        yield _heading(pen, block.text, room)
    elif isinstance(block, Para):
        yield from _para(pen, block, room)
    elif isinstance(block, Facts):
        yield from _facts(pen, block, room)
    elif isinstance(block, Table):
        yield from _table(pen, block, room)
    elif isinstance(block, Cautions):
        for at in range(0, len(block.texts), FRAMED):  # a long list goes on over the page's end
            yield _cautions(pen, block.texts[at : at + FRAMED], room)
    elif isinstance(block, Points):
        for text in block.texts:
            yield _point(pen, text, block.mark, room)
    elif isinstance(block, Signs):
        yield from _table(pen, _signs(block), room)
    elif isinstance(block, Picture):
        yield _picture(pen, block, room)
    elif isinstance(block, Together):
        yield from _together(pen, list(pieces(pen, block.blocks, room)))
    else:
        yield _beside(pen, block, room)


def _lines(pen: Pen, text: str, size: float, room: float, font: str) -> tuple[list[str], float]:
    return pen.wrap(text, size, room, font), size * POINT * LEADING


def _heading(pen: Pen, text: str, room: float) -> Piece:
    lines, step = _lines(pen, text, 11, room, "bold")

    def paint(x: float, y: float) -> None:
        for number, line in enumerate(lines):
            pen.text(x, y + 1.5 + (number + 0.5) * step, line, 11, "bold")
        end = y + 1.5 + len(lines) * step + 0.6
        pen.line(x, end, x + room, end, 0.3)

    return Piece(1.5 + len(lines) * step + 1.6, paint, stay=True)


def sheet_title(pen: Pen, text: str, room: float) -> Piece:
    """The title of a sheet that goes on below another."""
    lines, step = _lines(pen, text, 14, room, "bold")

    def paint(x: float, y: float) -> None:
        for number, line in enumerate(lines):
            pen.text(x, y + 4 + (number + 0.5) * step, line, 14, "bold")
        end = y + 4 + len(lines) * step + 0.8
        pen.line(x, end, x + room, end, 0.6)

    return Piece(4 + len(lines) * step + 3.0, paint)


def _para(pen: Pen, block: Para, room: float) -> Iterator[Piece]:
    size = SIZES[block.style]
    font = "bold" if block.style in ("strong", "large") else "sans"
    lines, step = _lines(pen, block.text, size, room, font)
    for number, line in enumerate(lines):

        def draw(x: float, y: float, line: str = line) -> None:
            pen.text(x, y + step / 2, line, size, font)

        yield Piece(step, draw, stay=number == 0 and len(lines) > 1)


def _facts(pen: Pen, block: Facts, room: float) -> Iterator[Piece]:
    size = SIZES["plain"]
    step = size * POINT * LEADING
    widest = max((pen.width(label, size) for label, _ in block.rows), default=0.0)
    left = min(widest + 3, room * 0.45)
    for label, value in block.rows:
        labels = pen.wrap(label, size, left - 2)
        own = LARGE if isinstance(value, Large) else size
        lead = own * POINT * LEADING
        values = pen.wrap(text_of(value), own, room - left, "bold" if isinstance(value, Strong) else "sans")
        high = max(max(len(labels) * step, len(values) * lead) + 0.5, WRITE if isinstance(value, Blank) else 0.0)

        def paint(
            x: float,
            y: float,
            labels: list[str] = labels,
            values: list[str] = values,
            value: object = value,
            high: float = high,
            own: float = own,
            lead: float = lead,
        ) -> None:
            for number, line in enumerate(labels):
                pen.text(x, y + (number + 0.5) * step, line, size)
            if isinstance(value, Missing):
                _frame(pen, x + left, y, min(room - left, 34), step)
                return
            if isinstance(value, Blank):
                _to_fill(pen, x + left, y, min(room - left, 34), high, value.unit)
                return
            for number, line in enumerate(values):
                pen.text(
                    x + left, y + (number + 0.5) * lead, line, own, "bold" if isinstance(value, Strong) else "sans"
                )

        yield Piece(high, paint)


def _to_fill(pen: Pen, x: float, y: float, w: float, h: float, unit: str) -> None:
    """A line to write on, its unit small at the end."""
    pen.line(x, y + h - 0.8, x + w, y + h - 0.8, 0.25)
    pen.text(x + w, y + h - 2.2, unit, 6, "sans", "right")


def _frame(pen: Pen, x: float, y: float, w: float, h: float) -> None:
    """The empty frame of a missing value."""
    pen.box(x, y + 0.3, w, h - 0.2, 0.35)
    pen.text(x + w / 2, y + h / 2, "missing", 7.5, "bold", "middle")


def _cautions(pen: Pen, texts: Sequence[str], room: float) -> Piece:
    size = 8.5
    step = size * POINT * LEADING
    wrapped = [pen.wrap(text, size, room - 11, "bold") for text in texts]
    high = sum(len(lines) for lines in wrapped) * step + 0.5 * len(wrapped) + 1.8

    def paint(x: float, y: float) -> None:
        pen.box(x, y, room, high, 0.7)
        pen.box(x, y, 5, high, 0, 0.0)
        at = y + 1.2
        for lines in wrapped:
            pen.text(x + 6.4, at + step / 2, "▲", size, "bold")
            for line in lines:
                pen.text(x + 10, at + step / 2, line, size, "bold")
                at += step
            at += 0.5

    return Piece(high + 0.5, paint)


def _point(pen: Pen, text: str, mark: str, room: float) -> Piece:
    size = SIZES["plain"]
    lines, step = _lines(pen, text, size, room - 5, "sans")

    def paint(x: float, y: float) -> None:
        pen.text(x + 0.5, y + step / 2, mark, size)
        for number, line in enumerate(lines):
            pen.text(x + 5, y + (number + 0.5) * step, line, size)

    return Piece(len(lines) * step + 0.6, paint)


def _signs(block: Signs) -> Table:
    rows = tuple((what, role, Blank(), Blank(), Blank()) for what, role in block.rows)
    return Table(("To sign", "By", "Name", "Date, time", "Signature"), rows, (4.4, 1.7, 1.9, 1.6, 1.9), tall=True)


def _picture(pen: Pen, block: Picture, room: float) -> Piece:
    step = SIZES["small"] * POINT * LEADING
    caption = pen.wrap(block.caption, SIZES["small"], room) if block.caption else []
    drawing = block.drawing

    def paint(x: float, y: float) -> None:
        pen.drawing(drawing, x + max(room - drawing.width, 0) / 2, y)
        for number, line in enumerate(caption):
            pen.text(x + room / 2, y + drawing.height + (number + 0.7) * step, line, SIZES["small"], "sans", "middle")

    return Piece(drawing.height + len(caption) * step + (1.0 if caption else 0.0), paint)


def _beside(pen: Pen, block: Beside, room: float) -> Piece:
    gap = 4.0
    left = (room - gap) * block.share
    sides = (
        (0.0, [_whole(part) for part in pieces(pen, block.left, left)]),
        (left + gap, [_whole(part) for part in pieces(pen, block.right, room - gap - left)]),
    )

    def paint(x: float, y: float) -> None:
        for shift, parts in sides:
            _one(parts).paint(x + shift, y)

    return Piece(max(_stack(parts) for _, parts in sides), paint)


def _whole(part: Part) -> Piece:
    """A part that is not split over pages."""
    return part.make(part.rows) if isinstance(part, Spread) else part


def _stack(parts: Sequence[Piece]) -> float:
    heads = {id(part.head): part.head.height for part in parts if part.head is not None}
    return sum(part.height for part in parts) + sum(heads.values())


def _table(pen: Pen, table: Table, room: float) -> Iterator[Part]:
    if table.title:
        yield _title(pen, table.title, room)
    if table.beside > 1:
        yield _spread(pen, table, room)
        return
    plan = layout(pen, table, room)
    head, rows = table_rows(pen, table, plan)
    top = Piece(head.height, head.paint) if head is not None else None
    parts = [Piece(row.height, row.paint, head=top) for row in rows]
    if len(rows) <= SHORT and _stack(parts) <= SHORT_HEIGHT:
        yield _one(parts)
    else:
        yield from parts


def _together(pen: Pen, parts: list[Part]) -> Iterator[Part]:
    """One piece of them all, where a page can hold it."""
    whole = [part for part in parts if isinstance(part, Piece)]
    if len(whole) == len(parts) and _stack(whole) <= pen.paper.height - 70:
        yield _one(whole)
    else:
        yield from parts


def _one(parts: Sequence[Piece]) -> Piece:
    """Pieces under one another as one."""

    def paint(x: float, y: float) -> None:
        head: Piece | None = None
        for part in parts:
            if part.head is not None and part.head is not head:
                part.head.paint(x, y)
                y += part.head.height
            head = part.head
            part.paint(x, y)
            y += part.height

    return Piece(_stack(parts), paint)


def _title(pen: Pen, text: str, room: float) -> Piece:
    lines, step = _lines(pen, text, 9.5, room, "bold")

    def paint(x: float, y: float) -> None:
        for number, line in enumerate(lines):
            pen.text(x, y + (number + 0.5) * step, line, 9.5, "bold")

    return Piece(len(lines) * step + 0.8, paint, stay=True)


def _spread(pen: Pen, table: Table, room: float) -> Spread:
    gap = 3.0
    own = (room - gap * (table.beside - 1)) / table.beside
    plan = layout(pen, table, own)
    head, rows = table_rows(pen, table, plan)
    high = max((row.height for row in rows), default=0.0)
    top = head.height if head is not None else 0.0

    def make(chosen: Sequence[Row]) -> Piece:
        groups = columns(chosen, table.beside)

        def paint(x: float, y: float) -> None:
            for number, group in enumerate(groups):
                at = y
                if head is not None:
                    head.paint(x + number * (own + gap), at)
                    at += top
                for row in group:
                    row.paint(x + number * (own + gap), at)
                    at += row.height

        return Piece(top + max((sum(row.height for row in group) for group in groups), default=0.0), paint)

    return Spread(tuple(rows), make, high, top, table.beside)

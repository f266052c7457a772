"""Sheets over pages: every sheet begins a page, a table's head comes again, each page has its heading and its foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from splitline.report.blocks import Bundle, Sheet
from splitline.report.pdf.paper import BOTTOM, LEFT, TOP, Paper
from splitline.report.pdf.pen import LEADING, POINT, Pen
from splitline.report.pdf.pieces import Paint, Part, Piece, Spread, pieces, sheet_title

FOOT = 6.3  # points
FIRST_ROWS = 3  # of a table stand under its title at least
FREE = 0.22  # of a page: what has to be free for a sheet that follows to begin on it
WHOLE = 0.6  # of a page: a table in several columns that takes less than this is kept in one piece


@dataclass(slots=True)
class Placed:
    """A piece at its place."""

    y: float
    height: float
    paint: Paint


@dataclass(slots=True)
class Page:
    """One page: what is placed on it, and the height its heading took."""

    sheet: Sheet
    top: float
    bottom: float
    continued: bool
    placed: list[Placed] = field(default_factory=list)


def pdf_bytes(bundle: Bundle, paper: Paper) -> bytes:
    """The whole print as a PDF file."""
    pen = Pen(paper, bundle.title)
    pages = flow(pen, bundle)
    for number, page in enumerate(pages, 1):
        pen.page()
        _head(pen, bundle, page)
        for placed in page.placed:
            placed.paint(LEFT, placed.y)
        _foot(pen, bundle, number, len(pages))
    return pen.save()


def flow(pen: Pen, bundle: Bundle) -> list[Page]:
    """Every piece on its page."""
    pages: list[Page] = []
    bottom = pen.paper.height - BOTTOM - _foot_height(pen, bundle)
    for sheet in bundle.sheets:
        _Flow(pen, bundle, sheet, bottom, pages).run()
    return pages


class _Flow:
    def __init__(self, pen: Pen, bundle: Bundle, sheet: Sheet, bottom: float, pages: list[Page]) -> None:
        self.pen, self.bundle, self.sheet, self.bottom, self.pages = pen, bundle, sheet, bottom, pages
        self.y = 0.0
        self.begun = False  # stands on a page already
        self.head: Piece | None = None

    def run(self) -> None:
        self._begin()
        parts = list(pieces(self.pen, self.sheet.blocks, self.pen.paper.room))
        for at, part in enumerate(parts):
            if isinstance(part, Spread):
                self._spread(part)
            else:
                self._piece(part, parts[at + 1 :])

    def _begin(self) -> None:
        """On a page of its own; a sheet that follows below the last one, where that leaves room."""
        last = self.pages[-1] if self.pages and self.sheet.follows else None
        used = max((placed.y + placed.height for placed in last.placed), default=self.bottom) if last else self.bottom
        if last is None or self.bottom - used < FREE * (self.bottom - last.top):
            self._page()
            return
        title = sheet_title(self.pen, self.sheet.title, self.pen.paper.room)
        self.y, self.begun = used, True
        self._put(title)

    def _page(self) -> None:
        continued = self.begun
        self.begun = True
        top = TOP + _head_height(self.pen, self.bundle, self.sheet, continued)
        self.pages.append(Page(self.sheet, top, self.bottom, continued))
        self.y, self.head = top, None

    @property
    def room(self) -> float:
        """Height of an empty page of this sheet."""
        return self.bottom - self.pages[-1].top

    @property
    def fresh(self) -> bool:
        return not self.pages[-1].placed

    def _piece(self, part: Piece, after: Sequence[Part]) -> None:
        if part.gap and self.fresh:
            return
        need = part.height + self._head_needed(part) + (_first_after(after, self.room) if part.stay else 0.0)
        if self.y + need > self.bottom and not self.fresh:
            self._page()
            if part.gap:
                return
        if part.head is not None and part.head is not self.head:
            self._put(part.head)
        self.head = part.head
        self._put(part)

    def _head_needed(self, part: Piece) -> float:
        return part.head.height if part.head is not None and part.head is not self.head else 0.0

    def _put(self, part: Piece) -> None:
        self.pages[-1].placed.append(Placed(self.y, part.height, part.paint))
        self.y += part.height

    def _spread(self, part: Spread) -> None:
        rows = list(part.rows)
        self.head = None
        if self.y + part.whole <= self.bottom + 1e-6:
            self._put(part.make(rows))
            return
        while rows:
            room = int((self.bottom - self.y - part.head_height + 1e-6) // max(part.row_height, 0.1))
            lines = -(-len(rows) // part.columns)
            torn = room < lines and part.head_height + lines * part.row_height < self.room * WHOLE
            if (room < min(3, lines) or torn) and not self.fresh:
                self._page()
                continue
            take = max(room, 1) * part.columns
            self._put(part.make(rows[:take]))
            rows = rows[take:]
            if rows:
                self._page()


def _first_after(parts: Sequence[Part], page: float) -> float:
    """Height of what has to stand on the same page as a heading; an order of tightening is not torn apart for a few rows."""
    needed, table, rows = 0.0, None, 0
    for part in parts[:6]:
        if isinstance(part, Spread):
            whole = needed + part.whole
            return whole if whole < page * WHOLE else needed + part.head_height + 3 * part.row_height
        if table is not None and part.head is not table:
            break
        needed += part.height + (part.head.height if part.head is not None and table is None else 0.0)
        table, rows = part.head, rows + (part.head is not None)
        if not part.gap and not part.stay and (table is None or rows == FIRST_ROWS):
            break
    return min(needed, 90.0)


def _head_height(pen: Pen, bundle: Bundle, sheet: Sheet, continued: bool) -> float:
    return sum(size * POINT * LEADING for _, size, _ in _head_lines(pen, bundle, sheet, continued)) + 3.0


def _head_lines(pen: Pen, bundle: Bundle, sheet: Sheet, continued: bool) -> list[tuple[str, float, str]]:
    room = pen.paper.room
    lines = [(line, 8.0, "bold") for line in pen.wrap(bundle.title, 8.0, room - 40, "bold")]
    if bundle.unready:
        lines += [(line, 10.0, "bold") for line in pen.wrap(f"▲ {bundle.unready}", 10.0, room - 30, "bold")]
    for text in bundle.under:
        lines += [(line, 7.5, "sans") for line in pen.wrap(text, 7.5, room - 40)]
    titles = pen.wrap(sheet.title, 14.0, room, "bold")
    if continued:  # a long title stands in full on the first page only
        whole = f"{sheet.title} (continued)"
        one = pen.width(whole, 14.0, "bold") <= room
        titles = [whole if one else f"{pen.wrap(sheet.title, 14.0, room - 40, 'bold')[0]} … (continued)"]
    lines += [(line, 14.0, "bold") for line in titles]
    brief = "   ".join(f"▲ {text}" for text in sheet.cautions if continued)  # the first page has them in full
    return lines + ([(line, 8.0, "bold") for line in pen.wrap(brief, 8.0, room, "bold")] if brief else [])


def _head(pen: Pen, bundle: Bundle, page: Page) -> None:
    room = pen.paper.room
    y = TOP
    pen.text(LEFT + room, TOP + 1.6, page.sheet.what, 9, "bold", "right")
    if page.sheet.item:
        size = min(8.0, 8.0 * 38 / max(pen.width(page.sheet.item, 8, "mono"), 1e-6))
        pen.text(LEFT + room, TOP + 5.4, page.sheet.item, size, "mono", "right")
    for line, size, font in _head_lines(pen, bundle, page.sheet, page.continued):
        step = size * POINT * LEADING
        pen.text(LEFT, y + step / 2, line, size, font)
        y += step
    pen.line(LEFT, y + 0.8, LEFT + room, y + 0.8, 0.6)


def _foot_lines(pen: Pen, bundle: Bundle) -> list[str]:
    return [line for text in bundle.foot for line in pen.wrap(text, FOOT, pen.paper.room - 24)]


def _foot_height(pen: Pen, bundle: Bundle) -> float:
    return len(_foot_lines(pen, bundle)) * FOOT * POINT * LEADING + 2.0


def _foot(pen: Pen, bundle: Bundle, number: int, count: int) -> None:
    paper: Paper = pen.paper
    step = FOOT * POINT * LEADING
    y = paper.height - BOTTOM - _foot_height(pen, bundle) + 1.0
    pen.line(LEFT, y, LEFT + paper.room, y, 0.3)
    pen.text(LEFT + paper.room, y + 2.4, f"page {number} of {count}", 8, "bold", "right")
    for line in _foot_lines(pen, bundle):
        pen.text(LEFT, y + 0.8 + step / 2, line, FOOT)
        y += step

"""The pen: text, lines and shapes on a PDF page in layout units (mm of A4, y down), enlarged to the paper."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from splitline.outlet import shown
from splitline.report.pdf.legible import covered, legible
from splitline.report.pdf.paper import Paper
from splitline.report.shapes import Circle, Drawing, Label, Line, Polygon

FONTS = Path(__file__).parent.parent / "fonts"
POINT = 25.4 / 72  # mm
LEADING = 1.25
_FILES = {"sans": "sans.ttf", "bold": "sans-bold.ttf", "mono": "mono.ttf"}


def words_of(text: str) -> list[str]:
    """Words a line may break between; a no-break space holds its neighbours together."""
    return [word for word in shown(text).replace("\n", " ").split(" ") if word]


class Pen:
    """Wraps the PDF library; nothing else in the project knows it."""

    def __init__(self, paper: Paper, title: str = "") -> None:
        from fpdf import FPDF

        self.paper = paper
        self.z = paper.zoom
        self.pdf: Any = FPDF(unit="mm", format=(paper.width_mm, paper.height_mm))
        self.pdf.set_auto_page_break(False)
        self.pdf.set_title(legible(title))
        self.pdf.set_creator("splitline")
        for name, file in _FILES.items():
            self.pdf.add_font(name, "", str(FONTS / file))
        fonts: dict[str, Any] = dict(self.pdf.fonts)
        self._fonts = fonts
        self._glyphs = {name: frozenset(fonts[name].cmap) for name in _FILES}
        self._advance: dict[tuple[str, str], float] = {}

    def page(self) -> None:
        """A new page."""
        self.pdf.add_page()

    def width(self, text: str, size: float, font: str = "sans") -> float:
        """Width of a text in layout units; ``size`` in points."""
        return self._em(text, font) * size * POINT

    def _em(self, text: str, font: str) -> float:
        found = self._advance.get((text, font))
        if found is None:
            pdf_font = self._fonts[font]
            found = sum(pdf_font.cw[ord(char)] for char in covered(shown(text), self._glyphs[font])) / 1000
            self._advance[text, font] = found
        return found

    def text(self, x: float, y: float, text: str, size: float, font: str = "sans", anchor: str = "left") -> None:
        """Text with its middle height at ``y``."""
        drawn = covered(legible(text), self._glyphs[font])
        if not drawn.strip():
            return
        if anchor != "left":
            wide = self.width(drawn, size, font)
            x -= wide / 2 if anchor == "middle" else wide
        self.pdf.set_font(font, "", size * self.z)
        self.pdf.text(x * self.z, (y + 0.36 * size * POINT) * self.z, drawn)

    def wrap(self, text: str, size: float, room: float, font: str = "sans") -> list[str]:
        """Lines no wider than ``room``; a word too long is broken, nothing is cut off."""
        lines: list[str] = []
        for part in shown(text).split("\n"):
            lines += self._wrapped(part, size, room, font)
        return lines

    def _wrapped(self, text: str, size: float, room: float, font: str) -> list[str]:
        most = room / (size * POINT)
        space = self._em(" ", font)
        lines: list[str] = []
        line, used = "", 0.0
        for word in words_of(text):
            wide = self._em(word, font)
            if line and used + space + wide <= most:
                line, used = f"{line} {word}", used + space + wide
                continue
            if line:
                lines.append(line)
            while wide > most and len(word) > 1:
                cut = self._fits(word, most, font)
                lines.append(word[:cut])
                word = word[cut:]
                wide = self._em(word, font)
            line, used = word, wide
        return [*lines, line]

    def _fits(self, word: str, most: float, font: str) -> int:
        used = 0.0
        for at, char in enumerate(word):
            used += self._em(char, font)
            if used > most:
                return max(at, 1)
        return len(word)

    def line(
        self, x0: float, y0: float, x1: float, y1: float, width: float = 0.2, dash: float = 0, grey: float = 0
    ) -> None:
        """A line."""
        self._stroke(width, dash, grey)
        self.pdf.line(x0 * self.z, y0 * self.z, x1 * self.z, y1 * self.z)

    def box(
        self, x: float, y: float, w: float, h: float, width: float = 0.2, fill: float | None = None, grey: float = 0
    ) -> None:
        """A rectangle; ``width`` 0: no outline."""
        self._stroke(width or 0.1, 0, grey)
        self._fill(fill)
        style = ("D" if width else "") + ("F" if fill is not None else "")
        if style:
            self.pdf.rect(x * self.z, y * self.z, w * self.z, h * self.z, style)

    def drawing(self, drawing: Drawing, x: float, y: float) -> None:
        """Shapes with the drawing's upper left corner at (x, y)."""
        for shape in drawing.shapes:
            if isinstance(shape, Line):
                self.line(x + shape.x0, y + shape.y0, x + shape.x1, y + shape.y1, shape.width, shape.dash, shape.grey)
            elif isinstance(shape, Circle):
                self._circle(shape, x, y)
            elif isinstance(shape, Polygon):
                self._polygon(shape, x, y)
            else:
                self._label(shape, x, y)
        self._stroke(0.2, 0, 0)

    def _circle(self, shape: Circle, x: float, y: float) -> None:
        self._stroke(shape.width, shape.dash, shape.grey)
        self._fill(shape.fill)
        self.pdf.circle(
            (x + shape.x) * self.z, (y + shape.y) * self.z, shape.r * self.z, "D" if shape.fill is None else "DF"
        )

    def _polygon(self, shape: Polygon, x: float, y: float) -> None:
        self._stroke(shape.width, shape.dash, shape.grey)
        self._fill(shape.fill)
        points = [((x + px) * self.z, (y + py) * self.z) for px, py in shape.points]
        self.pdf.polygon(points, style="D" if shape.fill is None else "DF")

    def _label(self, shape: Label, x: float, y: float) -> None:
        font = "bold" if shape.strong else "sans"
        if shape.clear:
            wide, high = self.width(shape.text, shape.size, font) + 0.8, shape.size * POINT * 1.05
            left = {"left": 0.4, "middle": wide / 2, "right": wide - 0.4}[shape.anchor]
            self.box(x + shape.x - left, y + shape.y - high / 2, wide, high, 0, 1.0)
        self.text(x + shape.x, y + shape.y, shape.text, shape.size, font, shape.anchor)

    def _stroke(self, width: float, dash: float, grey: float) -> None:
        self.pdf.set_line_width(width * self.z)
        self.pdf.set_dash_pattern(dash * self.z, dash * self.z if dash else 0)
        self.pdf.set_draw_color(round(255 * grey))

    def _fill(self, grey: float | None) -> None:
        if grey is not None:
            self.pdf.set_fill_color(round(255 * grey))

    def save(self) -> bytes:
        """The finished file."""
        return bytes(self.pdf.output())

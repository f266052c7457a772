"""Figures to read at arm's length: glyphs of full blocks, five rows high."""

from __future__ import annotations

ROWS = 5
SMALL = 3
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
# Each glyph five rows of points; a point becomes one or more cells.
_GLYPHS: dict[str, tuple[str, ...]] = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": (" # ", "## ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", " ##", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", " # ", " # "),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    ".": (" ", " ", " ", " ", "#"),
    ",": (" ", " ", " ", "#", "#"),
    ":": (" ", "#", " ", "#", " "),
    "-": ("  ", "  ", "##", "  ", "  "),
    "+": ("   ", " # ", "###", " # ", "   "),
    " ": (" ", " ", " ", " ", " "),
}

# Letters of the units on the pad, as high as its figures; kept apart so that words never turn into figures.
_LETTERS: dict[str, tuple[str, ...]] = {
    "a": ("   ", "## ", " ##", "# #", "###"),
    "b": ("#  ", "#  ", "## ", "# #", "## "),
    "c": ("   ", " ##", "#  ", "#  ", " ##"),
    "d": ("  #", "  #", " ##", "# #", " ##"),
    "e": ("   ", "###", "###", "#  ", "###"),
    "f": (" ##", "#  ", "###", "#  ", "#  "),
    "g": ("   ", "###", "###", "  #", "## "),
    "h": ("#  ", "#  ", "###", "# #", "# #"),
    "i": ("#", " ", "#", "#", "#"),
    "k": ("#  ", "#  ", "# #", "## ", "# #"),
    "l": ("#", "#", "#", "#", "#"),
    "m": ("     ", "#### ", "# # #", "# # #", "# # #"),
    "n": ("   ", "## ", "# #", "# #", "# #"),
    "o": ("   ", "###", "# #", "# #", "###"),
    "p": ("   ", "## ", "# #", "## ", "#  "),
    "r": ("   ", "###", "#  ", "#  ", "#  "),
    "s": ("   ", " ##", "## ", " ##", "## "),
    "t": ("#  ", "###", "#  ", "#  ", " ##"),
    "u": ("   ", "# #", "# #", "# #", "###"),
    "µ": ("   ", "# #", "# #", "###", "#  "),
    "C": ("###", "#  ", "#  ", "#  ", "###"),
    "F": ("###", "#  ", "## ", "#  ", "#  "),
    "J": ("  #", "  #", "  #", "# #", "###"),
    "K": ("# #", "# #", "## ", "# #", "# #"),
    "M": ("#   #", "## ##", "# # #", "#   #", "#   #"),
    "N": ("#   #", "##  #", "# # #", "#  ##", "#   #"),
    "P": ("###", "# #", "###", "#  ", "#  "),
    "V": ("# #", "# #", "# #", "# #", " # "),
    "°": ("##", "##", "  ", "  ", "  "),
    "%": ("# #", "  #", " # ", "#  ", "# #"),
    "/": ("  #", "  #", " # ", "#  ", "#  "),
    "·": (" ", " ", "#", " ", " "),
}


def unit_sign(char: str) -> tuple[str, ...]:
    """The points of one sign of a unit, ``ROWS`` rows; () where it is not known."""
    return _LETTERS.get(char, ())


def unit_rows(unit: str, room: int) -> list[str]:
    """A unit in letters ``ROWS`` high, at most ``room`` cells wide; [] where a letter is not known or it does not fit."""
    if not unit or not all(char in _LETTERS for char in unit):
        return []
    rows = ["  ".join(_LETTERS[char][row].replace("#", "█") for char in unit) for row in range(ROWS)]
    return rows if len(rows[0]) <= room else []


def small(text: str, room: int) -> list[str]:
    """The text in figures ``SMALL`` rows high, a point half a row: as wide as the smallest large ones; [] where it does not fit."""
    text = _plain(text)
    if not text or not known(text):
        return []
    points = [" ".join(_GLYPHS[char][row] for char in text) for row in range(ROWS)]
    points.append(" " * len(points[0]))
    if len(points[0]) > room:
        return []
    return [
        "".join(_HALVES[over != " ", under != " "] for over, under in zip(*points[row : row + 2], strict=True))
        for row in range(0, ROWS, 2)
    ]


def _plain(text: str) -> str:
    return text.replace("−", "-").replace("\u202f", " ").replace("\u00a0", " ")


def known(text: str) -> bool:
    """Whether every character has a glyph."""
    return all(char in _GLYPHS for char in text)


def figures(text: str, room: int, tall: int = 1) -> list[str]:
    """The text in large figures, at most ``room`` cells wide, as ``ROWS`` × ``tall`` lines; [] where it does not fit.

    A point of a glyph is ``tall`` rows high and twice as many cells wide, fewer cells where the room is short.
    """
    text = _plain(text)
    if not text or not known(text):
        return []
    for cells in range(2 * tall, 0, -1):
        gap = " " * min(max(cells - 1, 1), 3)
        rows = [
            gap.join("".join(point.replace("#", "█") * cells for point in _GLYPHS[char][row]) for char in text)
            for row in range(ROWS)
            for _ in range(tall)
        ]
        if len(rows[0]) <= room:
            return rows
    return []

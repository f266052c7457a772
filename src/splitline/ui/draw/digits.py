"""Figures to read at arm's length: glyphs of full blocks, five rows high."""

from __future__ import annotations

ROWS = 5
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


def known(text: str) -> bool:
    """Whether every character has a glyph."""
    return all(char in _GLYPHS for char in text)


def figures(text: str, room: int, most: int = 2) -> list[str]:
    """The text in large figures, at most ``room`` cells wide, as ``ROWS`` lines; [] where it does not fit.

    A point of a glyph is ``most`` cells wide, fewer where the room is short.
    """
    text = text.replace("−", "-").replace("\u202f", " ").replace("\u00a0", " ")
    if not text or not known(text):
        return []
    for cells in range(most, 0, -1):
        gap = " " * max(cells - 1, 1) if cells < 3 else "  "
        rows = [
            gap.join("".join(point.replace("#", "█") * cells for point in _GLYPHS[char][row]) for char in text)
            for row in range(ROWS)
        ]
        if len(rows[0]) <= room:
            return rows
    return []

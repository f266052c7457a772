"""Cautions as a strip under what they belong to: brief, several a line where they have room, never cut."""

from __future__ import annotations

from collections.abc import Iterable

from splitline.ui.draw.rows import Row, clean, signed, width

MARK = "!"
_LONG = 50  # lines one caution may take: all it needs


def strip_of(briefs: Iterable[str], cells: int) -> list[Row]:
    """Rows with each brief behind its mark; one that is wider than a row is wrapped."""
    out: list[Row] = []
    line: Row = ()
    used = 0
    for brief in map(clean, briefs):
        need = width(brief) + 2
        if used and used + 2 + need <= cells:
            line, used = (*line, ("  ", ""), (f"{MARK} {brief}", "caution")), used + 2 + need
            continue
        if used:
            out.append(line)
        line, used = ((f"{MARK} {brief}", "caution"),), need
        if need > cells:
            out += whole_of((brief,), cells)
            line, used = (), 0
    return [*out, line] if used else out


def whole_of(texts: Iterable[str], cells: int) -> list[Row]:
    """Each text in full, from a row of its own."""
    return [row for text in texts for row in signed(MARK, clean(text), "caution", cells, _LONG)]

"""Rows of styled text: what every drawing and card is made of.

A segment is (text, style name); a row is a tuple of segments. Widths are cells as a terminal counts them: an umlaut is
one, a wide character two, a combining one none. Characters that would move the cursor are replaced.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence

Seg = tuple[str, str]
Row = tuple[Seg, ...]

_MOVES = {"\t": " ", "\n": " ", "\r": " "}


def clean(text: str) -> str:
    """Text that stays on its line: control and direction characters replaced."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        _MOVES.get(c) or ("·" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn") else c) for c in text
    )


def width(text: str) -> int:
    """Cells the text takes."""
    if text.isascii():
        return len(text)
    return sum(_cells(c) for c in text)


def _cells(char: str) -> int:
    if char.isascii():
        return 1
    if unicodedata.combining(char) or unicodedata.category(char) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(char) in ("W", "F") else 1


def fit(text: str, cells: int, end: str = "…") -> str:
    """The text in exactly ``cells`` cells, cut with ``end`` or padded with blanks."""
    if cells <= 0:
        return ""
    own = width(text)
    if own <= cells:
        return text + " " * (cells - own)
    kept, used = [], 0
    for char in text:
        step = _cells(char)
        if used + step > cells - width(end):
            break
        kept.append(char)
        used += step
    return "".join(kept) + end + " " * (cells - used - width(end))


def right(text: str, cells: int) -> str:
    """The text set to the right in ``cells`` cells."""
    own = width(text)
    return " " * (cells - own) + text if own <= cells else fit(text, cells)


def row_width(row: Iterable[Seg]) -> int:
    return sum(width(text) for text, _ in row)


def fit_row(row: Sequence[Seg], cells: int) -> Row:
    """The row in exactly ``cells`` cells."""
    out: list[Seg] = []
    left = cells
    for text, style in row:
        own = width(text)
        if own > left:
            if left > 0:
                out.append((fit(text, left), style))
            left = 0
            break
        out.append((text, style))
        left -= own
    if left > 0:
        out.append((" " * left, ""))
    return tuple(out)


def beside(left: Sequence[Row], right_rows: Sequence[Row], left_cells: int, gap: int = 2) -> list[Row]:
    """Two blocks side by side, the left one ``left_cells`` wide."""
    out = []
    for i in range(max(len(left), len(right_rows))):
        a = fit_row(left[i] if i < len(left) else (), left_cells)
        b = right_rows[i] if i < len(right_rows) else ()
        out.append((*a, (" " * gap, ""), *b))
    return out


def wrap(text: str, cells: int, most: int = 50) -> list[str]:
    """The text on lines of at most ``cells`` cells, broken at blanks where there are any."""
    cells = max(cells, 1)
    lines: list[str] = []
    for paragraph in text.splitlines() or [""]:
        line = ""
        for word in clean(paragraph).split(" "):
            while width(word) > cells:
                if line:
                    lines.append(line)
                    line = ""
                head = _head(word, cells)
                lines.append(head)
                word = word[len(head) :]
            joined = f"{line} {word}" if line else word
            if width(joined) > cells:
                lines.append(line)
                line = word
            else:
                line = joined
        lines.append(line)
        if len(lines) > most:
            return [*lines[: most - 1], "…"]
    return lines


def signed(sign: str, text: str, style: str, cells: int, most: int = 50) -> list[Row]:
    """Lines of a text with a sign before the first one, the others set in under it."""
    if not sign or not text:
        return [((line, style),) for line in (wrap(text, cells, most) if text else [""])]
    first, *rest = wrap(text, cells - 2, most)
    return [((f"{sign} {first}", style),), *(((f"  {line}", style),) for line in rest)]


def _head(word: str, cells: int) -> str:
    used = 0
    for at, char in enumerate(word):
        used += _cells(char)
        if used > cells:
            return word[: max(at, 1)]
    return word


def rule(cells: int, title: str = "", style: str = "rule") -> Row:
    """A thin rule, with a title set into its start."""
    if not title:
        return (("─" * cells, style),)
    title = fit(title, min(width(title), max(cells - 3, 1)))
    return (("─ ", style), (title, "head"), (" " + "─" * max(cells - 3 - width(title), 0), style))


def counted(n: int, thing: str) -> str:
    """1 mistake, 2 mistakes."""
    return f"{n} {thing}" if n == 1 else f"{n} {thing}s"

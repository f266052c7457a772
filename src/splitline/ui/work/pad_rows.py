"""What stands over or beside the keys of a number pad: what is asked, its limits, the number, what is said of it.

Each part has the same rows whatever is typed: no key moves under the finger.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui import marks
from splitline.ui.draw.digits import ROWS, figures, unit_rows
from splitline.ui.draw.letters import ROWS as LETTER_ROWS
from splitline.ui.draw.letters import letters
from splitline.ui.draw.rows import Row, signed

SAID = 2  # rows for what is said in words
MOST = 3  # lines of capitals
_BLANK: Row = ((" ", ""),)


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of the number typed so far: in words, and in one word from afar."""

    text: str = ""
    style: str = ""
    word: str = ""


def echo(typed: str, unit: str, cells: int) -> list[Row]:
    """The number in large figures, its unit as high behind it."""
    behind = unit_rows(unit, cells // 2)
    large = figures(typed, cells - len(behind[0]) - 5) if behind else []
    if behind and (large or not typed):
        large = large or [""] * ROWS
    else:
        behind = [""] * (ROWS - 1) + [unit]
        large = figures(typed, cells - len(unit) - 5) or [""] * (ROWS - 1) + [typed]
    return [
        ((f"  {row}", "strong"), (f"   {own}" if own else "", "accent" if len(behind[0]) else "strong"))
        for row, own in zip(large, behind, strict=True)
    ]


def pad_rows(
    title: str,
    lines: Sequence[tuple[str, str]],
    shown: Sequence[Row],
    said: Said,
    cells: int,
    rows: int,
    judged: bool,
) -> list[Row]:
    """All of it for a room of ``cells`` × ``rows``; ``judged``: there are limits, so a word from afar may come.

    The limits grow first, then that word, then the question, as long as everything else has its place.
    """
    head = _small(title, "title", cells)
    body = [_small(text, style, cells) for text, style in lines]
    blank = [_BLANK] * SAID
    words = signed(marks.sign(said.text, said.style), said.text, said.style, cells, SAID) if said.text else []
    below = [*words, *blank[len(words) :]]
    spare = rows - sum(map(len, (head, *body, shown, below))) - 1
    for place, (text, style) in enumerate(lines):
        if style == "strong":
            body[place], spare = _grown(text, style, body[place], cells, spare)
    verdict: list[Row] = []
    if judged and spare >= LETTER_ROWS:
        drawn = letters(said.word, cells - 2, 1) or [" "] * LETTER_ROWS
        verdict = [((f"  {row}", said.style),) for row in drawn]
        spare -= LETTER_ROWS
    head, spare = _grown(title, "title", head, cells, spare)
    out: list[Row] = []
    for part in (head, *body, list(shown), verdict):
        out += part
        if part and spare > 0:
            out.append(_BLANK)
            spare -= 1
    return [*out, *below]


def _small(text: str, style: str, cells: int) -> list[Row]:
    return signed(marks.sign(text, style), text, style, cells, 12)


def _grown(text: str, style: str, small: list[Row], cells: int, spare: int) -> tuple[list[Row], int]:
    """The text in capitals where there is room, and the rows that are left."""
    lines = min((spare + len(small)) // LETTER_ROWS, MOST)
    drawn = letters(text, cells, lines) if lines > 0 else []
    if not drawn:
        return small, spare
    return [((row, style),) for row in drawn], spare + len(small) - len(drawn)

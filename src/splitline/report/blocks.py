"""What a sheet is made of: frozen blocks that every writer (PDF, Markdown, CSV) reads. No layout, no units, no plan.

A value that is not there is :data:`MISSING`: an empty frame with the word, never a zero. A place to write in is a
:class:`Blank`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from splitline.report.shapes import Drawing

Align = Literal["left", "right", "centre"]
Style = Literal["plain", "strong", "small", "large"]


@dataclass(frozen=True, slots=True)
class Blank:
    """An empty place to write in; ``unit`` stands small at its end."""

    unit: str = ""


@dataclass(frozen=True, slots=True)
class Missing:
    """A value nobody gave: printed as an empty frame with the word ``missing``."""


@dataclass(frozen=True, slots=True)
class Strong:
    """Text that stands out."""

    text: str


@dataclass(frozen=True, slots=True)
class Large(Strong):
    """A value that is set on a tool: the largest thing of its row. What stands in brackets behind it is printed small."""


MISSING = Missing()
Cell = str | Strong | Blank | Missing


def row(*cells: Cell) -> tuple[Cell, ...]:
    """One row of a table."""
    return cells


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading within a sheet; it stays with what follows."""

    text: str


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph."""

    text: str
    style: Style = "plain"


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels with their values, two columns."""

    rows: tuple[tuple[str, Cell], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head. ``widths`` are shares (equal if empty); ``beside`` sets the table in that many columns side by side.

    ``tall`` makes rows high enough to write in by hand.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[float, ...] = ()
    align: tuple[Align, ...] = ()
    title: str = ""
    beside: int = 1
    tall: bool = False
    small: bool = False


@dataclass(frozen=True, slots=True)
class Cautions:
    """Ways to be hurt, in a frame that stands out without colour."""

    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Points:
    """Short lines with a mark before each."""

    texts: tuple[str, ...]
    mark: str = "·"


@dataclass(frozen=True, slots=True)
class Signs:
    """A table to sign: what is signed, by which role, name, date and time, signature."""

    rows: tuple[tuple[str, str], ...]  # what, role


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with the words under it."""

    drawing: Drawing
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Beside:
    """Blocks left and right of one another; never split over pages."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    share: float = 0.5  # of the width, to the left


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that stay on one page where a page can hold them."""

    blocks: tuple[Block, ...]


Block = Heading | Para | Facts | Table | Cautions | Points | Signs | Picture | Beside | Together


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: begins on a page of its own, unless it ``follows``, and runs on over as many as it needs."""

    kind: str  # "joint", "why", "lift", ...
    item: str  # id, "" for the whole plan
    title: str
    blocks: tuple[Block, ...]
    what: str = ""  # what kind of sheet this is, in words
    follows: bool = False  # goes on below the sheet before it where enough of the page is free
    cautions: tuple[str, ...] = ()  # brief, at the head of every further page: sheets are taken apart on the job


@dataclass(frozen=True, slots=True)
class Bundle:
    """All sheets of one print with what stands on each page."""

    title: str
    sheets: tuple[Sheet, ...]
    under: tuple[str, ...] = field(default=())  # above every page's heading: machine, tag, order
    foot: tuple[str, ...] = field(default=())  # on every page: drawings, revision, digest, record
    unready: str = ""  # on every page, so that nobody can miss it: why this is not for work


def blocks_of(sheet: Sheet) -> Iterator[Block]:
    """Every block, those set beside one another too."""
    stack = list(reversed(sheet.blocks))
    while stack:
        block = stack.pop()
        yield block
        if isinstance(block, Beside):
            stack += reversed((*block.left, *block.right))
        elif isinstance(block, Together):
            stack += reversed(block.blocks)


def text_of(cell: Cell) -> str:
    """The cell as plain text; a blank is empty, a missing value is said."""
    if isinstance(cell, Missing):
        return "missing"
    if isinstance(cell, Blank):
        return ""
    return cell.text if isinstance(cell, Strong) else cell

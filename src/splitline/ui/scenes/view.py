"""What a drawing is to the screen that shows it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from splitline.ui.draw.rows import Row


@dataclass(frozen=True)
class View:
    """One drawing: a letter, a title, and rows for a size and a frame; ``frames`` more than 1 can be played.

    ``prepare`` is what takes longer than a blink: it runs beside the screen once, then the drawing is asked again.
    """

    key: str
    title: str
    draw: Callable[[int, int, int], Sequence[Row]]
    frames: int = 1
    start: int = 0
    why: str = ""
    prepare: Callable[[], object] | None = None

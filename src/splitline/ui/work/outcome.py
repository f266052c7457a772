"""What became of an act that was refused or broke down, as the record has it: never as the program supposes."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import SplitlineError
from splitline.ui.work.desk import Desk


@dataclass(frozen=True, slots=True)
class Told:
    """A sheet that stays until somebody has seen it."""

    title: str
    lines: tuple[tuple[str, str], ...]


def told(desk: Desk, mark: tuple[int, int], error: Exception) -> Told:
    """What stands in the record since ``mark`` by this desk, and why it went no further."""
    refused = isinstance(error, SplitlineError)
    why = str(error) if refused else f"A fault of this program ({type(error).__name__}: {error})."
    try:
        stored = desk.stored_since(mark)
    except SplitlineError as unread:
        lines = ((why, "strong"), (f"Whether it was stored cannot be told: {unread}", "fails"))
        return Told("LOOK INTO THE RECORD", lines)
    if stored:
        said = tuple(
            (f"stored: entry {each.number}, {each.kind}, {each.done_by} {each.done_at:%H:%M}", "ok")
            for each in stored
            if each.done_at is not None
        )
        return Told("STORED, BUT NOT ALL OF IT" if refused else "STORED, THEN A FAULT", (*said, (why, "strong")))
    return Told("NOT STORED", ((why, "strong"),) if refused else ((why, "strong"), ("Nothing was stored.", "strong")))

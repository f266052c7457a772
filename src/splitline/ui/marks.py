"""State by shape and word; colour is only added."""

from __future__ import annotations

from typing import Final

VERDICTS: Final = ("fails", "missing", "on-site", "near", "ok")  # worst first
# As a planner works through them: what only the job can settle comes last.
LOOK_AT: Final = ("fails", "missing", "near", "on-site", "ok")

_SHAPES: Final = {"ok": "●", "near": "◐", "fails": "▲", "missing": "○", "on-site": "◌"}
_WORDS: Final = {"ok": "ok", "near": "near limit", "fails": "fails", "missing": "missing", "on-site": "on-site"}

OPEN: Final = "·"
NOW: Final = "▸"
DONE: Final = "✓"
WAITS: Final = "‖"
HOLD: Final = "H"  # as inspection plans print them
WITNESS: Final = "W"
WINDOW: Final = "◷"
ASIDE: Final = "⊘"
PROBLEM: Final = "✗"
UNSAVED: Final = "✎"

# Before a line of words: what its colour says is said by a sign as well.
_SIGNS: Final = {"fails": "▲", "missing": "○", "on-site": "◌", "caution": "!", "near": "!"}


def sign(text: str, style: str) -> str:
    """The sign of a line in a style that means something, where the line does not begin with one of its own."""
    return _SIGNS.get(style, "") if text[:1].isalnum() or text[:1] in "“'(" else ""


def shape(verdict: str) -> str:
    """The mark of a verdict; a blank for none."""
    return _SHAPES.get(verdict, " ")


def word(verdict: str) -> str:
    """The verdict as it is said on a card."""
    return _WORDS.get(verdict, "not assessed yet")


def style(verdict: str) -> str:
    """Name of the style a verdict is drawn in."""
    return verdict if verdict in _SHAPES else "dim"

"""The number an item bears on screens and paper: 14 the fourteenth step, J2 the second joint, L3 the third lift."""

from __future__ import annotations

from typing import Final

LETTERS: Final = {
    "step": "",
    "joint": "J",
    "lift": "L",
    "fit": "F",
    "insertion": "I",
    "clearance": "C",
    "window": "T",  # a time limit
    "item": "P",  # a part
}


def number_of(kind: str, index: int) -> str:
    """The number of the item at ``index`` (from 0) of its kind, "" for a kind that is not numbered."""
    return f"{LETTERS[kind]}{index + 1}" if kind in LETTERS else ""

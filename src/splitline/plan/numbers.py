"""What an item bears on screens and paper: its number (14 a step, J2 a joint, L3 a lift), and the bolts of a joint by size."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from splitline.plan.model.joint import Joint

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


def bolts_by_size(joint: Joint) -> str:
    """How many bolts there are of which thread, "12 × M30, 4 × M36"; "" while the plan does not say a thread."""
    main = joint.bolting.thread if joint.bolting is not None else None
    count = joint.layout.count if joint.layout is not None else None
    other: dict[str, int] = {}
    for size in joint.size:
        other[size.bolting.thread or main or "?"] = other.get(size.bolting.thread or main or "?", 0) + len(size.bolts)
    if main is None:
        return ""
    rest = None if count is None else count - sum(other.values()) + other.pop(main, 0)
    sizes = [(main, rest)] if rest is None or rest > 0 else []
    sizes += list(other.items())
    return ", ".join(f"{'?' if number is None else number} × {thread}" for thread, number in sizes)

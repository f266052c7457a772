"""How much work a call does, counted and not timed: calls of Python functions, the same on every machine."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any


def calls(todo: Callable[[], Any]) -> int:
    """Number of Python function calls ``todo`` makes."""
    count = 0

    def seen(_frame: Any, event: str, _arg: Any) -> None:
        nonlocal count
        count += event == "call"

    before = sys.getprofile()
    sys.setprofile(seen)
    try:
        todo()
    finally:
        sys.setprofile(before)
    return count

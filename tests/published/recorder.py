"""Watches the published checks: each value held against ``pytest.approx`` becomes one row of docs/verification.md.

The checks themselves stay plain. While a test of this folder runs, ``pytest.approx`` gives its usual object, of a class
that also notes what it was compared with, where, and with which tolerance.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True)
class Seen:
    """One value against one published value, as the test compared them."""

    test: str
    case: int
    file: str
    line: int
    place: int
    of: int
    published: float
    ours: float
    tolerance: float
    factor: float


class Watch:
    """Collects what the running test compares."""

    def __init__(self) -> None:
        self.rows: list[Seen] = []
        self._real = pytest.approx

    @contextmanager
    def during(self, test: str, case: int) -> Iterator[None]:
        def approx(expected: Any, *args: Any, **kwargs: Any) -> Any:
            made = self._real(expected, *args, **kwargs)
            watch, plain = self, type(made)

            class Noted(plain):  # type: ignore[misc, valid-type]
                def __eq__(self, actual: Any) -> bool:
                    watch.note(test, case, made, actual)
                    return bool(plain.__eq__(made, actual))

            Noted.__name__ = plain.__name__
            made.__class__ = Noted
            return made

        pytest.approx = approx
        try:
            yield
        finally:
            pytest.approx = self._real

    def note(self, test: str, case: int, made: Any, actual: Any) -> None:
        frame = _caller()
        pairs = list(_pairs(made.expected, actual))
        for place, (published, ours) in enumerate(pairs):
            tolerance = float(made._approx_scalar(published).tolerance)
            self.rows.append(
                Seen(
                    test, case, Path(frame.f_code.co_filename).name, frame.f_lineno, place, len(pairs),
                    float(published), float(ours), tolerance, factor_at(frame, place),
                )
            )  # fmt: skip


def _pairs(expected: Any, actual: Any) -> Iterator[tuple[Any, Any]]:
    """Scalars side by side, however deep the lists."""
    if hasattr(expected, "tolist"):
        expected = expected.tolist()
    if hasattr(actual, "tolist"):
        actual = actual.tolist()
    if isinstance(expected, dict):
        for key in expected:
            yield from _pairs(expected[key], actual[key])
    elif isinstance(expected, list | tuple):
        for one, other in zip(expected, actual, strict=True):
            yield from _pairs(one, other)
    elif isinstance(expected, int | float) and isinstance(actual, int | float):
        yield expected, actual


def _caller() -> FrameType:
    frame = sys._getframe(1)
    while frame.f_back is not None:
        path = Path(frame.f_code.co_filename)
        if path.parent == HERE and path.name.startswith("test_"):
            return frame
        frame = frame.f_back
    return frame


def factor_at(frame: FrameType, place: int) -> float:
    """The unit factor written behind the published value (``57.99 * MM2``), 1 where none stands."""
    from tests.published.reading import compared

    path = Path(frame.f_code.co_filename)
    found = compared(path, frame.f_lineno) if path.parent == HERE else None
    factor = found.factor(place) if found is not None else None
    if factor is None:
        return 1.0
    known = {**frame.f_globals, **frame.f_locals}
    try:
        value = eval(compile(factor, "<unit>", "eval"), known)  # names of the test file only
    except Exception:
        return 1.0
    return float(value) if isinstance(value, int | float) else 1.0

"""Garbage is collected while nobody touches: a collection in the middle of a tap took longer than the tap.

What stands once the first instruction is on the glass, modules, plan, assessment, stays to the end and is set apart;
from then on a collection looks only at what screens leave behind.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable

YOUNG, MIDDLE, OLD = 20_000, 20, 50  # allocations, collections, collections: a bound for whoever never stops touching
STILL = 1.5  # s without a touch
EVERY = 20.0  # s between two collections
SETTLED = 4.0  # s after which all that stays is there


class Tidy:
    """``touched`` with every touch, ``look`` now and then."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._touch = self._last = clock()
        self._settled = False

    def begin(self) -> None:
        """Leave off collecting in the middle of things."""
        gc.set_threshold(YOUNG, MIDDLE, OLD)

    def touched(self) -> None:
        self._touch = self._clock()

    def look(self) -> bool:
        """Collect, if it is time and nobody would wait for it. Whether it did."""
        now = self._clock()
        if now - self._touch < STILL or now - self._last < (EVERY if self._settled else SETTLED):
            return False
        self._last = now
        gc.collect()
        if not self._settled:
            self._settled = True
            gc.freeze()
        return True

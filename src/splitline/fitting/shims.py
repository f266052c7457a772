"""Shims out of a set: which of them together make the thickness that is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from splitline.errors import InputError
from splitline.fitting.guard import ordered, positive

MOST = 4  # shims in one pack; more are springy (common practice, no published source)


def pack(thicknesses: Sequence[float], low: float, high: float, wanted: float) -> tuple[float, ...] | None:
    """The fewest shims (m, thick first) of which each is there once that sum to ``low`` .. ``high``, nearest ``wanted``.

    None where no pack of up to ``MOST`` lands inside. Exhaustive: sets of at most 40 shims.
    """
    ordered(low, high, "shim limits")
    if len(thicknesses) > 40:
        raise InputError(f"a shim set has at most 40 shims here, {len(thicknesses)} are given")
    for thickness in thicknesses:
        positive(thickness, "shim")
    slack = 1e-9
    for count in range(1, MOST + 1):
        fits = [each for each in combinations(thicknesses, count) if low - slack <= sum(each) <= high + slack]
        if fits:
            best = min(fits, key=lambda each: (round(abs(sum(each) - wanted), 9), tuple(sorted(each, reverse=True))))
            return tuple(sorted(best, reverse=True))
    return None

"""How far apart things done one after another should lie: the order of the starts within one quarter of a circle."""

from __future__ import annotations

from math import gcd

# Published legacy pattern of the cross order; 7 (28 bolts) from memory.
_LEGACY: dict[int, tuple[int, ...]] = {7: (1, 4, 6, 2, 5, 7, 3)}


def spaced(count: int) -> tuple[int, ...]:
    """Numbers 1 to ``count`` so that each lies far from those just before it.

    A number with factor p is taken as p interleaved parts (8: 1 5 3 7 2 6 4 8); a prime is walked by the stride nearest
    to 0.382 of it (golden section: the largest gap stays smallest). Gives the published legacy starts of the cross
    order for 2, 3, 4, 5, 6 and 8; 7 is tabulated.
    """
    if count in _LEGACY:
        return _LEGACY[count]
    if count <= 2:
        return tuple(range(1, count + 1))
    factor = next((p for p in range(2, count) if count % p == 0), count)
    if factor == count:
        return _stride(count)
    part = count // factor
    return tuple(start + part * (step - 1) for start in spaced(part) for step in spaced(factor))


def _stride(prime: int) -> tuple[int, ...]:
    wanted = 0.381966 * prime
    stride = min((s for s in range(1, prime) if gcd(s, prime) == 1), key=lambda s: (abs(s - wanted), s))
    return tuple(1 + (step * stride) % prime for step in range(prime))

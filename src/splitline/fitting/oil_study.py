"""What oil asks of a fit with seals at its ends, found with axisymmetric finite elements: pressure, and stress beside Lamé's.

The study is a test of its own (``tests/fitting/test_oil_study.py``): both parts of steel, the shaft half a hub longer at each
end, oil over the middle 85 % of the length (the worst of the seals studied, 85 to 100 %), the hub's ends free.
"""

from __future__ import annotations

from collections.abc import Sequence

from splitline.fitting.interference import Pair, worst_hub, worst_shaft
from splitline.fitting.mounting import EXPANSION_HIGH

LEAST_RATIO = EXPANSION_HIGH  # never counted with less: what shorter and thicker hubs with a solid shaft need
OUTSIDE_RATIO = 2.0  # beyond the shapes studied; the worst of them came to 1.97
CHORD = 0.02  # what straight lines between the shapes studied may be short of

# Oil pressure over contact pressure at which the seal lines part: by shaft bore/d, hub outer/d, length/d.
_BORES = (0.0, 0.6)
_OUTERS = (1.4, 1.6, 1.8, 2.2, 3.0)
_LENGTHS = (0.6, 0.9, 1.2, 1.6, 2.0)
_RATIO = (
    (
        (1.371, 1.558, 1.740, 1.885, 1.958),
        (1.364, 1.474, 1.625, 1.792, 1.893),
        (1.378, 1.450, 1.561, 1.719, 1.834),
        (1.409, 1.458, 1.523, 1.634, 1.744),
        (1.443, 1.494, 1.539, 1.602, 1.671),
    ),
    (
        (1.450, 1.618, 1.777, 1.903, 1.966),
        (1.460, 1.560, 1.692, 1.835, 1.918),
        (1.482, 1.549, 1.649, 1.783, 1.876),
        (1.518, 1.566, 1.628, 1.726, 1.814),
        (1.555, 1.603, 1.650, 1.710, 1.767),
    ),
)

# Greatest von Mises stress under the oil over Lamé's: bending of a thin hub between its seals, axial stress of the shaft.
HUB_OVER_LAME = 1.07
SOLID_SHAFT_OVER_LAME = 1.26
HOLLOW_SHAFT_OVER_LAME = 1.12


def studied(pair: Pair) -> bool:
    """Whether the shape lies within the study: D/d 1.4 to 3, L/d to 2, shaft bore to 0.6 d (shorter hubs need less)."""
    d = pair.diameter * (1 + 1e-9)
    return (
        _OUTERS[0] * pair.diameter <= pair.hub_outer * (1 + 1e-9)
        and pair.hub_outer <= _OUTERS[-1] * d
        and pair.length <= _LENGTHS[-1] * d
        and pair.shaft_bore <= _BORES[-1] * d
    )


def opening_ratio(pair: Pair) -> float:
    """Oil pressure over greatest contact pressure that parts the fit at its seals; straight between the shapes studied.

    Never less than ``LEAST_RATIO``; ``OUTSIDE_RATIO`` beyond the study, where the maker's figure has to govern.
    """
    if not studied(pair):
        return OUTSIDE_RATIO
    d = pair.diameter
    bore = _between(_BORES, pair.shaft_bore / d)
    outer = _between(_OUTERS, pair.hub_outer / d)
    length = _between(_LENGTHS, pair.length / d)
    found = sum(
        wb * wo * wl * _RATIO[ib][io][il] for ib, wb in bore for io, wo in outer for il, wl in length
    )  # fmt: skip
    return max(LEAST_RATIO, found + CHORD)


def hub_under_oil(pair: Pair, pressure: float) -> float:
    """Greatest von Mises stress (Pa) of the hub under oil (Pa): Lamé with the study's margin (D/d 1.25 and more)."""
    return HUB_OVER_LAME * worst_hub(pair, pressure)


def shaft_under_oil(pair: Pair, pressure: float) -> float:
    """Greatest von Mises stress (Pa) of the shaft under oil (Pa): Lamé with the study's margin."""
    return (HOLLOW_SHAFT_OVER_LAME if pair.shaft_bore else SOLID_SHAFT_OVER_LAME) * worst_shaft(pair, pressure)


def _between(places: Sequence[float], at: float) -> tuple[tuple[int, float], tuple[int, float]]:
    """The two places around a value with their weights; a value outside counts as the end."""
    at = min(max(at, places[0]), places[-1])
    upper = next(i for i, place in enumerate(places) if i and at <= place)
    share = (at - places[upper - 1]) / (places[upper] - places[upper - 1])
    return (upper - 1, 1 - share), (upper, share)

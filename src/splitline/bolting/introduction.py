"""Where the outside load enters a bolted joint: the load introduction factor n of VDI 2230-1.

The bolt feels n·Φ of an outside force, the faces lose (1 − n·Φ) of it. n = 1: the force acts right under head and nut; n = 0: in
the plane of the faces. A small n is the unsafe end for separation, a large one for the bolt.
"""

from __future__ import annotations

from dataclasses import dataclass

from splitline.errors import InputError

SOURCE = "VDI 2230-1:2003, table 5.2/1 (not checked against the standard's text)"

# Greatest n of the joint types: the load at the bolt (a_k/h = 0) and a connecting body of no length (l_A/h = 0). With both it
# falls to a few hundredths, so the least is 0 until n itself is given.
TYPES: dict[str, tuple[float, float]] = {
    "SV1": (0.0, 0.70),
    "SV2": (0.0, 0.57),
    "SV3": (0.0, 0.44),
    "SV4": (0.0, 0.42),
    "SV5": (0.0, 0.30),
    "SV6": (0.0, 0.15),
}


@dataclass(frozen=True, slots=True)
class Introduction:
    """n as a band: ``low`` counts where the faces may part, ``high`` where the bolt may be overloaded."""

    low: float
    high: float
    source: str


UNKNOWN = Introduction(0.0, 1.0, "not given: no relief of the faces (n = 0), all of it in the bolt (n = 1)")


def introduction(given: float | str | None) -> Introduction:
    """n of a joint: a number, a joint type SV1 to SV6, or the safe end of each check where nothing is given.

    InputError for another word or a number outside 0 to 1.
    """
    if given is None:
        return UNKNOWN
    if isinstance(given, str):
        if given not in TYPES:
            raise InputError(f'"{given}" is not a joint type: {", ".join(TYPES)}, or a number from 0 to 1')
        return Introduction(*TYPES[given], f"joint type {given}: {SOURCE}")
    if not 0.0 <= given <= 1.0:
        raise InputError(f"load introduction is a number from 0 to 1, got {given:g}")
    return Introduction(given, given, "plan")

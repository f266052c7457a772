"""What a lifting supervisor looks at before the hook goes up, short enough for a small screen."""

from __future__ import annotations

from math import degrees
from typing import Any

from splitline.assess.lift_told import rolled_words, tilt_words
from splitline.assess.result import Check, ItemResult
from splitline.ui import marks
from splitline.units import System

Lines = list[tuple[str, str]]


def lift_facts(result: ItemResult, system: System, hangs: bool = True) -> Lines:
    """Weakest part, flattest leg both ways, tilt against what is allowed, what to trim with: (text, style).

    ``hangs``: False for a load that is turned on the way, where the tilt it hangs at says nothing.
    """
    out: Lines = []
    for key, title in (("leg_capacity", "weakest part"), ("crane_usage", "crane")):
        check = _worst(result, key)
        if check is not None and check.usage is not None:
            name = f"Leg {check.leg}, {check.part}" if check.leg is not None and check.part else ""
            out.append(_line(check, title, f"{check.usage:.0%} used" + (f": {name}" if name else "")))
    flattest = _worst(result, "leg_angle")
    if flattest is not None and flattest.demand is not None and flattest.limit is not None:
        # "at least": what is needed stands as the demand, what is there as the limit
        need, there = degrees(flattest.demand), degrees(flattest.limit)
        said = (
            f"{there:.0f}° to the horizontal, {90 - there:.0f}° to the vertical; at least {need:.0f}° to the horizontal"
        )
        out.append(_line(flattest, "flattest leg", said))
    return out + (_tilt(result, system) if hangs else []) + _trim(result)


def _tilt(result: ItemResult, system: System) -> Lines:
    """As hung, over the doubts, and what is allowed: of the axis where a spigot waits."""
    results: Any = result.results
    now, worst = (
        results.get("axis_tilt", results.get("tilt")),
        results.get("axis_tilt_worst", results.get("tilt_worst")),
    )
    if now is None:
        return []
    said = f"{tilt_words(now, system)} as hung"
    if worst is not None:
        said += f", up to {tilt_words(worst, system)} with tolerances"
    level = _worst(result, "tilt")
    slope = results.get("pick_line_tilt")
    said += rolled_words(slope, system) if slope is not None else ""
    allowed = results.get("spigot_tilt")
    if allowed is not None:
        said += f"; the spigot allows {tilt_words(allowed, system)}"
    elif level is not None and level.limit is not None:
        said += f"; allowed {tilt_words(level.limit, system)}"
    check = next((c for c in result.checks if c.key in ("spigot_trim", "tilt_trim")), level)
    return [_line(check, "tilt", said)]


def _trim(result: ItemResult) -> Lines:
    """Advice on the adjusters, and where half a step is too much."""
    out: Lines = [(said, "") for said in result.lift.levelling]
    trim = next((c for c in result.checks if c.key in ("spigot_trim", "tilt_trim")), None)
    if trim is not None:
        how = result.lift.trimming or trim.note
        out.insert(0, (f"{marks.shape(trim.verdict)} {how}", trim.verdict))
    return out


def _worst(result: ItemResult, key: str) -> Check | None:
    found = [check for check in result.checks if check.key == key]
    return max(found, key=lambda c: (-marks.VERDICTS.index(c.verdict), c.usage or 0.0), default=None)


def _line(check: Check | None, title: str, said: str) -> tuple[str, str]:
    verdict = check.verdict if check is not None else ""
    return f"{marks.shape(verdict)} {title}: {said}", "" if verdict == "ok" else marks.style(verdict)

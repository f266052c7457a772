"""A load that is upended: what the lifting supervisor needs beside the facts of a plain lift."""

from __future__ import annotations

from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model.lift import Tail
from splitline.ui.work.now import Now
from splitline.units import System, show

Lines = list[tuple[str, str]]

# Common practice, no published source.
TAUT = "Trial lift first: slings taut, tail still on its pivot, hold, look at pivot, lugs, slings and hook."
_TRIAL = (
    ("Slings taut, the tail still on its pivot, hold. Nobody near or under it.", "caution"),
    ("Look: pivot blocked, pull along the lugs, slings in their seats, hook over the head, brake holds.", "strong"),
)


def tail_of(now: Now | None, item: str) -> Tail | None:
    """The second support of a lift that turns its load."""
    lifts = now.assessment.plan.lifts if now is not None else ()
    return next((lift.tail for lift in lifts if lift.id == item), None)


def turns(result: ItemResult | None) -> bool:
    """Whether the load of this lift is upended."""
    return result is not None and any(caution.code.startswith("upending") for caution in result.cautions)


def trial_words(tail: Tail | None) -> tuple[tuple[str, str], ...]:
    """What is done and looked at in the trial lift of a load on a pivot; nothing where it hangs clear."""
    return _TRIAL if tail is not None and tail.kind != "hook" else ()


def turning_lines(result: ItemResult, system: System) -> Lines:
    """How hook and tail share the load on the way, and where the tail lets go or the centre passes over it."""
    results: Any = result.results
    head, tail = results.get("upend_head"), results.get("upend_tail")
    if not head or not tail:
        return []
    ways = [
        f"{name} {show(max(values[0], 0.0), 'force', system)} to {show(max(values[-1], 0.0), 'force', system)}"
        for name, values in (("hook", head), ("tail", tail))
    ]
    out: Lines = [(f"as it turns, load alone: {', '.join(ways)}", "strong")]
    most = [results.get(f"upend_{name}_design") for name in ("head", "tail")]
    if all(most):
        said = ", ".join(
            f"{name} {show(max(values), 'force', system)}" for name, values in zip(("hook", "tail"), most, strict=True)
        )
        out.append((f"at most, margin, dynamics and tolerances in it, rigging not: {said}", "strong"))
    for key, said in (
        ("upend_runaway", "the centre passes over the tail at"),
        ("upend_runaway_early", "with tolerances it passes over from"),
        ("upend_slack", "the tail goes slack at"),
    ):
        angle = results.get(key)
        if angle is not None:
            out.append((f"{said} {show(angle, 'angle', system)}", "near"))
    return out


def hook_band(results: Any) -> tuple[float | None, float | None]:
    """Band of a load cell at the hook anywhere on the way, N: least and greatest head load, within the mass's margin."""
    low, high = results.get("upend_head_low"), results.get("upend_head_high")
    factor, weight, still = (results.get(key) for key in ("mass_factor", "weight", "still_load"))
    if not low or not high or factor is None or weight is None or still is None:
        return None, None
    rigging = still - weight
    return max(min(low), 0.0) * (2.0 - factor) + rigging, max(high) * factor + rigging

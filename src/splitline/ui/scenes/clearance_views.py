"""The drawing of a clearance: where it is measured, and its values on a scale between its limits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from splitline.assess.clearance_reading import LEFT, MEASURED
from splitline.assess.result import ItemResult
from splitline.plan.model import Clearance
from splitline.record.judged import counted, judged
from splitline.ui.card.facts import Picture
from splitline.ui.draw.clearance import Gauge, Point, gauge, gauge_range, round_ticks
from splitline.ui.draw.places import float_place, gap_place, pads_place, probe_place
from splitline.ui.draw.rows import Row, wrap
from splitline.ui.scenes.view import View
from splitline.units import System, from_si, show, split

_WORDS = {
    "measure": "a gap or place measured",
    "float-split": "total float, stop to stop with the thrust shoes out, and the rotor's place in it",
    "shim": "a float set by shims",
    "tilting-pad": "a tilting-pad bearing's clearance, from the lift of the journal",
    "probe": "a probe's gap, from its voltage",
}


def clearance_views(clearance: Clearance, result: ItemResult | None, system: System) -> tuple[View, ...]:
    """Scale and place; none while there is neither a limit nor a value."""
    found = clearance_gauge(clearance, result, system)
    if found is None:
        return ()

    def draw(width: int, height: int, frame: int) -> list[Row]:
        scale = gauge(_ticked(found, clearance, system, width), width, _ends(found))
        said = [f"Limits from {clearance.source}."] if clearance.source else []
        said += list(result.notes) if result is not None else []
        sketch = "The sketch shows where; its gaps are drawn far too wide."
        lines = [line for note in (*said, sketch) for line in wrap(note, width - 2, 3)]
        room = height - len(scale) - len(lines) - 2
        head: list[Row] = [((f" {_WORDS[clearance.kind]}", "head"),)]
        place = _place(clearance, result, system)(width, min(room, 22)) if room >= 6 else []
        if not place:
            lines = lines[: -len(wrap(sketch, width - 2, 3))]
        return [*head, *scale, *place, (), *(((f" {line}", "dim"),) for line in lines)][:height]

    return (View("s", "scale and place", draw, why="value"),)


def clearance_card(clearance: Clearance, result: ItemResult | None, system: System) -> Picture | None:
    """The scale beside the results; the place where there is room for it."""
    found = clearance_gauge(clearance, result, system)
    if found is None:
        return None

    def draw(width: int, height: int) -> list[Row]:
        rows = gauge(_ticked(found, clearance, system, width), width, _ends(found))
        return rows[:height]

    return draw


def clearance_gauge(clearance: Clearance, result: ItemResult | None, system: System) -> Gauge | None:
    """Limits and values as clearances; a tilting pad's lifts and a probe's volts are turned into them."""
    results: Any = result.results if result is not None else {}
    found, left = _values(clearance, results)
    if clearance.low is None and clearance.high is None and found is None and left is None:
        return None
    points = []
    for value, word, mark, style in (
        (found, "as found", "▽", "near"),
        (clearance.wanted if clearance.kind == "shim" else None, "wanted", "◇", "accent"),
        (left, LEFT if found is not None else MEASURED, "▲", "strong"),
    ):
        if value is not None:
            points.append(
                Point(value, f"{word} {_said(value, system)}{_outside(clearance, value, system)}", mark, style)
            )
    others = ("", "")
    if clearance.kind == "tilting-pad":
        others = _pair(results, "lift", "length", "lift", system)
    if clearance.kind == "probe":
        others = _pair(results, "probe_voltage", "voltage", "", system)
    low, high = clearance.low, clearance.high
    both = "" if clearance.diametral is None else " on diameter" if clearance.diametral else " on radius"
    return Gauge(
        low, high,
        f"least {_said(low, system)}{both}" if low is not None else "",
        f"greatest {_said(high, system)}{both}" if high is not None else "",
        points, (), *others,
    )  # fmt: skip


def _values(clearance: Clearance, results: Any) -> tuple[float | None, float | None]:
    """As found and as left, as clearances."""
    found, left = clearance.as_found, clearance.as_left
    if clearance.kind == "tilting-pad":
        factor = results.get("lift_factor")
        scale = 1.0 if clearance.diametral else 2.0
        if not factor:
            return None, None
        return (
            None if found is None else found / factor / scale,
            None if left is None else left / factor / scale,
        )
    if clearance.kind == "probe":
        gap = results.get("probe_gap")
        return None, float(gap) if isinstance(gap, int | float) else None
    if found is None and left is None and isinstance(results.get("value", results.get("total_float")), int | float):
        left = float(results.get("value", results.get("total_float")))
    return found, left


def _pair(results: Any, key: str, kind: str, word: str, system: System) -> tuple[str, str]:
    both = [results.get(f"{key}_{end}") for end in ("low", "high")]
    said = [f"{word} {show(v, kind, system)}".strip() if isinstance(v, int | float) else "" for v in both]
    return said[0], said[1]


def _said(value: float, system: System) -> str:
    return show(value, "size", system)


def _outside(clearance: Clearance, value: float, system: System) -> str:
    """How far a value lies outside its limits, in words."""
    low, high = clearance.low, clearance.high
    verdict, value = judged(value, low, high, "length"), counted(value, low, high, "length")
    if verdict == "not judged":
        return ""
    if verdict == "inside":
        return ", within"
    if low is not None and value < low:
        return f", {_said(low - value, system)} too little"
    return f", {_said(value - (high or 0.0), system)} too much"


def _ends(found: Gauge) -> tuple[float, float]:
    return gauge_range(found.low, found.high, [p.value for p in found.points])


def _ticked(found: Gauge, clearance: Clearance, system: System, width: int) -> Gauge:
    """The scale with round figures in the unit shown."""
    start, end = _ends(found)
    unit = split(1.0, "length", system)[1]
    per = from_si(1.0, "length", unit)
    places = round_ticks(start * per, end * per, max(width // 12, 2))
    return replace(found, ticks=[(place / per, f"{place:.6g}") for place in places], unit=unit)


def _place(clearance: Clearance, result: ItemResult | None, system: System) -> Callable[[int, int], list[Row]]:
    results: Any = result.results if result is not None else {}
    band = " to ".join(_said(v, system) for v in (clearance.low, clearance.high) if v is not None)
    if clearance.kind == "tilting-pad" and clearance.pads:
        pads, between = clearance.pads, bool(clearance.between_pads)
        lift = " to ".join(show(results[k], "length", system) for k in ("lift_low", "lift_high") if k in results)
        labels = {
            "gap": f"clearance {band}",
            "way": f"lift {'between two pads' if between else 'onto a pad'}",
            "lift": f"     {lift}" if lift else "",
        }
        return lambda w, h: pads_place(pads, between, labels, w, h)
    if clearance.kind == "probe":
        volts = show(results["probe_voltage"], "voltage", system) if "probe_voltage" in results else ""
        return lambda w, h: probe_place({"gap": f"gap {band}", "volts": volts}, w, h)
    if clearance.kind == "float-split":
        return _float(clearance, results, system, band)
    if clearance.kind == "shim":
        where = f"shim {_said(clearance.shim, system)}" if clearance.shim is not None else "shim"
        if clearance.side:
            where += f", {clearance.side}"
        said: Row = ((f" {where}; float in the shoes {band}", "strong"),)
        return lambda w, h: [*float_place(0.5, {}, w, h - 1, shim=True), said]
    if clearance.low is not None and clearance.low < 0:
        return lambda w, h: []  # a place to either side of a wanted one: the scale is the picture
    return lambda w, h: gap_place({"gap": band}, w, h)


def _float(clearance: Clearance, results: Any, system: System, band: str) -> Callable[[int, int], list[Row]]:
    """The collar in its float, with what is left to both stops once the float is measured."""
    share = 0.5 if clearance.split is None else clearance.split
    active, inactive = results.get("active_side"), results.get("inactive_side")
    labels = {
        "active": f"active {100 * share:.0f} %",
        "inactive": f"inactive {100 * (1 - share):.0f} %",
        "collar": "collar",
    }
    if clearance.offset is not None:
        labels |= {"active": f"half + {_said(clearance.offset, system)}", "inactive": "the rest"}
    if isinstance(active, int | float) and isinstance(inactive, int | float):
        share = min(max(active / max(active + inactive, 1e-12), 0.0), 1.0)
        labels |= {"active": f"active {_said(active, system)}", "inactive": f"inactive {_said(inactive, system)}"}
    return lambda w, h: float_place(share, labels, w, h)

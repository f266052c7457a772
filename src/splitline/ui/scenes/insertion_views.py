"""The drawing of an insertion: the bundle stroke by stroke, with the force it should take."""

from __future__ import annotations

from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model import Insertion
from splitline.ui.card.facts import Picture
from splitline.ui.draw.insertion import Way, insertion_way
from splitline.ui.draw.rows import Row, wrap
from splitline.ui.scenes.view import View
from splitline.units import System, show


def insertion_views(insertion: Insertion, result: ItemResult | None, system: System) -> tuple[View, ...]:
    """The way in; none while the distance is not given."""
    way = insertion_scene(insertion, result, system)
    if way is None:
        return ()
    strokes = _strokes(way)
    notes = _notes(insertion, way, system)

    def draw(width: int, height: int, frame: int) -> list[Row]:
        said = (
            notes
            if height >= 28
            else ["Along the way to one scale; the casing's mouth and the O-rings' places are assumed."]
        )
        lines = [line for note in said for line in wrap(note, width - 2, 3)] if height >= 18 else []
        rows = insertion_way(
            way, frame * way.distance / strokes if not way.stroke else frame * way.stroke,
            _labels(insertion, result, way, system, frame), width, height - len(lines),
        )  # fmt: skip
        return [*rows, *(((f" {line}", "dim"),) for line in lines)]

    return (View("s", "way in", draw, strokes + 1, why="push_force_high"),)


def insertion_card(insertion: Insertion, result: ItemResult | None, system: System) -> Picture | None:
    """The side view beside the results, half way in."""
    way = insertion_scene(insertion, None, system)
    return None if way is None else lambda w, h: insertion_way(way, way.distance / 2, {}, w, h)


def insertion_scene(insertion: Insertion, result: ItemResult | None, system: System) -> Way | None:
    if not insertion.distance:
        return None
    results: Any = result.results if result is not None else {}
    length = insertion.length or max(insertion.distance, *(insertion.supports or (0.0,)))
    log = tuple((force, bool(verdict.stop)) for force, verdict in (result.insertion.log if result is not None else ()))
    return Way(
        length=length,
        high=insertion.seal_diameter or 0.6 * length,
        distance=insertion.distance,
        stroke=insertion.jack_stroke or 0.0,
        centre=insertion.centre,
        supports=insertion.supports or (),
        seals=min(insertion.seals or 0, 12),
        tips_after=results.get("overhang_travel"),
        forces=_forces(results, system),
        log=log,
    )


def _strokes(way: Way) -> int:
    return max(min(-int(-way.distance / way.stroke // 1), 400), 1) if way.stroke else 8


def _forces(results: Any, system: System) -> list[tuple[float, str, str]]:
    """Forces with their jack pressures, as they are said beside the curve."""
    found = []
    for key, word, style, pressure in (
        ("stop_force", "STOP", "limit", "stop_pressure"),
        ("push_force_high", "most", "need", "jack_pressure"),
        ("push_force_free", "most before seals", "dim", ""),
        ("push_force_low", "least", "need", ""),
    ):
        force = results.get(key)
        if isinstance(force, int | float) and force > 0:
            at = results.get(pressure) if pressure else None
            tail = f" = {show(at, 'pressure', system)}" if isinstance(at, int | float) else ""
            found.append((float(force), f"{word} {show(force, 'force', system)}{tail}", style))
    return found


def _labels(insertion: Insertion, result: ItemResult | None, way: Way, system: System, frame: int) -> dict[str, str]:
    results: Any = result.results if result is not None else {}

    def said(value: float, kind: str = "length") -> str:
        return show(value, kind, system)

    travel = min(frame * way.stroke if way.stroke else frame * way.distance / _strokes(way), way.distance)
    mass = f"{said(insertion.mass, 'mass')}, " if insertion.mass else ""
    labels = {
        "bundle": f"{mass}{said(way.length)}" if insertion.length else mass.rstrip(", "),
        "casing": "casing",
        "travel": f"{said(travel)} in",
        "stop": f"lands at {said(way.distance)}" if travel < 0.8 * way.distance else "",
        "title": f" stroke {frame} of {_strokes(way)}" if way.stroke else "",
    }
    if way.centre is not None:
        labels["centre"] = f"centre {said(way.centre)} from the front"
    if way.stroke:
        count = f"{insertion.jacks} jacks" if (insertion.jacks or 1) > 1 else "jack"
        labels["jack"] = f"{count}, stroke {said(way.stroke)}"
    for name, key in (("front", "track_front"), ("rear", "track_rear")):
        if isinstance(results.get(key), int | float):
            labels[name] = said(results[key], "force")
    return labels


def _notes(insertion: Insertion, way: Way, system: System) -> list[str]:
    """What the drawing takes for granted, and what to look at on the way."""
    taken = ["the mouth of the casing stands where the bundle ends flush with it"]
    if not insertion.length:
        taken.append("the bundle is drawn as long as it travels")
    if way.seals:
        taken.append(f"{way.seals} O-rings are spaced evenly: their places are not in the plan")
    if insertion.track_slope:
        rise = "rises" if insertion.track_slope > 0 else "falls"
        taken.append(f"the track {rise} {show(abs(insertion.track_slope), 'angle', system)} towards the casing")
    notes = ["Lengths along the way to one scale; " + "; ".join(taken) + "."]
    if way.tips_after is not None:
        tips = show(way.tips_after, "length", system)
        notes.append(
            f"If the supports stand still, the centre passes the front one {tips} in: the front must have landed by then."
        )
    return notes

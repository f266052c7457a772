"""Lifts for the tests, written as in a plan."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import Any

from splitline.assess.context import Context, Observed
from splitline.assess.lift import assess_lift
from splitline.assess.result import Check, ItemResult
from splitline.library.store import Library
from splitline.plan.model import Lift

TODAY = dt.date(2026, 11, 25)
LIBRARY = Library.load()
TONNE = 9806.65
LUGS = [(1.5, 1.0, 0.0), (-1.5, 1.0, 0.0), (-1.5, -1.0, 0.0), (1.5, -1.0, 0.0)]


def point(place: Sequence[float]) -> list[str]:
    return [f"{value!r} m" for value in place]


def legs(picks: Sequence[Sequence[float]], lengths: Sequence[float | None], **fields: Any) -> list[dict[str, Any]]:
    """Legs with the same rigging on every pick."""
    found = []
    for pick, length in zip(picks, lengths, strict=True):
        leg = {"pick": point(pick), **fields}
        found.append(leg if length is None else leg | {"length": f"{length!r} m"})
    return found


def lift(mass: float, centre: Sequence[float] | str, given: list[dict[str, Any]], **fields: Any) -> dict[str, Any]:
    at = centre if isinstance(centre, str) else point(centre)
    part = {"name": "load", "mass": f"{mass!r} kg", "at": at}
    return {"id": "lift", "title": "Lift", "mass_margin": 0.0, "dynamic": 1.0, "part": [part], "leg": given} | fields


def assessed(given: dict[str, Any], observed: dict[tuple[str, str], Any] | None = None) -> ItemResult:
    return assess_lift(Lift.model_validate(given), Context(LIBRARY, TODAY, Observed(observed or {})))


def check(result: ItemResult, key: str, title: str = "") -> Check:
    """The one check of a key (and words of its title)."""
    found = [c for c in result.checks if c.key == key and title.lower() in c.title.lower()]
    assert len(found) == 1, [(c.key, c.title, c.verdict) for c in result.checks]
    return found[0]


def verdicts(result: ItemResult) -> dict[str, str]:
    return {c.key: c.verdict for c in result.checks}

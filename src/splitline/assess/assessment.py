"""assess(plan, library, today, observed): every item of a plan, each assessed alone and cached on its own content."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from splitline.assess.cautions import of_step
from splitline.assess.context import NOTHING, Context, Observed
from splitline.assess.result import Caution, Check, ItemResult, Verdict, worst
from splitline.assess.schedule import Once, same_for_all
from splitline.library.store import Library
from splitline.plan.model import AnyItem, Plan
from splitline.units import System

# Kind of item -> (module, function). Modules are imported when the first such item is assessed. Those of the last three
# look at the whole plan.
_ALONE = {"joint": "joint", "lift": "lift", "fit": "fit", "insertion": "insertion", "clearance": "clearance"}
_IN_PLAN = {"window": "window", "item": "item", "step": "step"}
_KEPT = 2000  # results kept; an evening of edits on a large plan
_cache: dict[tuple[Any, ...], ItemResult] = {}


@dataclass(frozen=True)
class Assessment:
    """A plan and what came out of it."""

    plan: Plan
    items: tuple[ItemResult, ...]
    library_version: str
    today: dt.date

    @property
    def verdict(self) -> Verdict:
        return worst(item.verdict for item in self.items)

    def of_kind(self, kind: str) -> tuple[ItemResult, ...]:
        return tuple(item for item in self.items if item.kind == kind)

    def find(self, kind: str, ident: str) -> ItemResult | None:
        return next((item for item in self.items if item.kind == kind and item.id == ident), None)

    def checks(self) -> Iterator[tuple[ItemResult, Check]]:
        for item in self.items:
            for check in item.checks:
                yield item, check

    def cautions(self, step: str, act: str | None = None) -> tuple[Caution, ...]:
        """The cautions of an act in a step of the order of work, the planner's own first: whoever tells the act asks this.

        ``act``: "set-up", "bolts", "stopped", the name of a mounting step, or "" for plain work; None: of all its acts.
        """
        written = next((each for each in self.plan.steps if each.id == step), None)
        target = written.target if written is not None else None
        item = self.find(*target) if target is not None else None
        return of_step(self.find("step", step), item, act, bool(written is not None and written.test))

    def counts(self) -> dict[Verdict, int]:
        """How many checks stand at each verdict."""
        found: dict[Verdict, int] = {"ok": 0, "near": 0, "fails": 0, "missing": 0, "on-site": 0}
        for _, check in self.checks():
            found[check.verdict] += 1
        return found


def assess(
    plan: Plan, library: Library, today: dt.date, observed: Observed | None = None, system: System | None = None
) -> Assessment:
    """Assess every item. No side effects; an item assessed before under the same conditions is taken from the cache.

    ``system``: the units of notes, defaults and cautions, as the plan says unless given; numbers are SI in both.
    """
    ctx = Context(library, today, observed or NOTHING, system or ("US" if plan.us else "SI"))
    whole = same_for_all(plan)
    items = tuple(_assessed(kind, item, plan, ctx, whole) for kind, item in plan)
    return Assessment(plan, items, library.version, today)


def _assessed(kind: str, item: AnyItem, plan: Plan, ctx: Context, whole: Once) -> ItemResult:
    key = (
        kind,
        item,
        whole if kind in _IN_PLAN else None,
        ctx.library.version,
        ctx.today,
        ctx.system,
        ctx.observed.about(item.id),
    )
    found = _cache.get(key)
    if found is None:
        found = _assessor(kind)(item, plan, ctx) if kind in _IN_PLAN else _assessor(kind)(item, ctx)
        if len(_cache) >= _KEPT:
            _cache.clear()
        _cache[key] = found
    return found


def alone(kind: str, ctx: Context) -> Callable[[AnyItem], ItemResult] | None:
    """What assesses an item of this kind again and again under the same conditions; None for a kind that looks at others."""
    if kind not in _ALONE:
        return None
    function = _assessor(kind)
    return lambda item: function(item, ctx)


def _assessor(kind: str) -> Callable[..., ItemResult]:
    name = _ALONE.get(kind) or _IN_PLAN[kind]
    function: Callable[..., ItemResult] = getattr(import_module(f"splitline.assess.{name}"), f"assess_{name}")
    return function

"""The plan: frozen data in SI, one declaration per field."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from splitline.plan.declare import Table
from splitline.plan.model.fit import Fit
from splitline.plan.model.joint import Joint
from splitline.plan.model.lift import Lift
from splitline.plan.model.others import Clearance, Insertion, Item, PlanInfo, Step, Window

FORMAT = 1
# Kinds of item by the name of their table in the file, in the order they stand on screen.
KINDS: dict[str, type[Table]] = {
    "joint": Joint,
    "lift": Lift,
    "fit": Fit,
    "insertion": Insertion,
    "clearance": Clearance,
    "window": Window,
    "item": Item,
    "step": Step,
}
AnyItem = Joint | Lift | Fit | Insertion | Clearance | Window | Item | Step


@dataclass(frozen=True)
class Plan:
    """Everything of a plan that reads cleanly."""

    info: PlanInfo
    joints: tuple[Joint, ...] = ()
    lifts: tuple[Lift, ...] = ()
    fits: tuple[Fit, ...] = ()
    insertions: tuple[Insertion, ...] = ()
    clearances: tuple[Clearance, ...] = ()
    windows: tuple[Window, ...] = ()
    items: tuple[Item, ...] = ()
    steps: tuple[Step, ...] = ()

    def of_kind(self, kind: str) -> tuple[AnyItem, ...]:
        """Items of one kind ("joint", "lift", ...)."""
        items: tuple[AnyItem, ...] = getattr(self, kind + "s")
        return items

    def find(self, kind: str, ident: str) -> AnyItem | None:
        return next((item for item in self.of_kind(kind) if item.id == ident), None)

    def __iter__(self) -> Iterator[tuple[str, AnyItem]]:
        for kind in KINDS:
            for item in self.of_kind(kind):
                yield kind, item

    @property
    def us(self) -> bool:
        """Whether results are shown in US units."""
        return self.info.display == "US"


__all__ = [
    "FORMAT",
    "KINDS",
    "AnyItem",
    "Clearance",
    "Fit",
    "Insertion",
    "Item",
    "Joint",
    "Lift",
    "Plan",
    "PlanInfo",
    "Step",
    "Window",
]

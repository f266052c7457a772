"""A joint as drawn: places, numbers, order and predicted loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model import Joint
from splitline.plan.numbers import bolts_by_size
from splitline.plan.places import bolt_places
from splitline.ui.draw.bolt_map import Mark, Place, bolt_map
from splitline.ui.draw.rows import Row
from splitline.units import System


@dataclass(frozen=True)
class JointScene:
    """What every drawing of a joint starts from."""

    joint: Joint
    result: ItemResult | None
    system: System
    places: tuple[Place, ...]

    @property
    def numbers(self) -> range:
        return range(1, len(self.places) + 1)

    @property
    def steps(self) -> tuple[tuple[int, ...], ...]:
        """Steps of one pass, tools together; empty while the order is not known."""
        found = self.value("order_steps")
        return tuple(tuple(int(b) for b in step) for step in found) if found else ()

    def value(self, key: str) -> Any:
        return self.result.results.get(key) if self.result is not None else None

    @property
    def centre(self) -> tuple[str, ...]:
        """Lines written into the middle of the map."""
        bolting, layout = self.joint.bolting, self.joint.layout
        kind = {"stud": "studs", "through-stud": "studs", "bolt": "bolts"}.get(bolting.kind if bolting else "", "bolts")
        lines = [bolts_by_size(self.joint) or f"{len(self.places)} {kind}"]
        if layout is not None and layout.shape == "circle":
            lines.append("numbered " + (layout.numbering or "clockwise"))
        if layout is not None and layout.seen_from:
            lines.append(layout.seen_from)
        return tuple(lines)

    def marks(self) -> dict[int, Mark]:
        """Bolts of another size stand out by a mark."""
        return {bolt: ("◇", "head") for size in self.joint.size for bolt in size.bolts}

    def card(self, width: int, height: int) -> list[Row] | None:
        """The small map beside the results."""
        trace = self.steps[:2] if len(self.places) <= 60 else ()
        return bolt_map(self.places, self.numbers, self.marks(), width, height, trace=trace, centre=self.centre[:1])


def joint_scene(item: Any, result: ItemResult | None, system: System) -> JointScene | None:
    places = bolt_places(item)
    return JointScene(item, result, system, places) if len(places) >= 3 else None

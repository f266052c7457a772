"""A joint as drawn: places, numbers, order and predicted loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from splitline.assess.result import ItemResult
from splitline.plan.model import Joint
from splitline.plan.numbers import bolts_by_size
from splitline.ui.draw.bolt_map import Mark, Place, bolt_map, circle_places, line_places
from splitline.ui.draw.rows import Row


@dataclass(frozen=True)
class JointScene:
    """What every drawing of a joint starts from."""

    joint: Joint
    result: ItemResult | None
    system: str
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


def joint_places(joint: Joint) -> tuple[Place, ...]:
    """Places of the bolts as drawn, y up, in m; empty while the layout does not say."""
    layout = joint.layout
    if layout is None:
        return ()
    if layout.shape == "circle" and layout.bolts:
        clockwise = (layout.numbering or "clockwise") == "clockwise"
        return tuple(circle_places(layout.bolts, layout.diameter or 1.0, layout.first_at or 0.0, clockwise))
    if layout.shape == "split-line" and layout.side_a:
        side_b = layout.side_a if layout.side_b is None else layout.side_b
        span = max(*layout.side_a, *side_b) - min(*layout.side_a, *side_b)
        return tuple(line_places(layout.side_a, side_b, layout.half_width or span / 4))
    return layout.points or ()


def joint_scene(item: Any, result: ItemResult | None, system: str) -> JointScene | None:
    places = joint_places(item)
    return JointScene(item, result, system, places) if len(places) >= 3 else None

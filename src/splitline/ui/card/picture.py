"""The small drawing of a card, chosen by kind of item."""

from __future__ import annotations

from typing import Any

from splitline.ui.card.facts import Picture
from splitline.ui.draw.fit_section import fit_section
from splitline.ui.scenes.clearance_views import clearance_card
from splitline.ui.scenes.fit_views import fit_part
from splitline.ui.scenes.insertion_views import insertion_card
from splitline.ui.scenes.joint import joint_scene
from splitline.ui.scenes.lift_views import lift_card
from splitline.ui.session import Session


def picture_of(session: Session, kind: str, index: int) -> Picture | None:
    """A drawing for a size in cells, or None where there is nothing to draw."""
    if kind == "plan":
        return None
    item: Any = session.draft.item(kind, index)
    if item is None:
        return None
    result = session.result(kind, index)
    if kind == "joint":
        scene = joint_scene(item, result, session.system)
        return scene.card if scene is not None else None
    if kind == "fit":
        from dataclasses import replace

        part = fit_part(item, None, session.system)
        return None if part is None else lambda w, h: fit_section(replace(part, pressures=(), said=()), {}, w, h)
    if kind == "lift":
        return lift_card(item, result)
    if kind == "insertion":
        return insertion_card(item, result, session.system)
    if kind == "clearance":
        return clearance_card(item, result, session.system)
    return None

"""The small drawing of a card, chosen by kind of item."""

from __future__ import annotations

from splitline.ui.card.facts import Picture
from splitline.ui.draw.rows import Row
from splitline.ui.session import Session


def picture_of(session: Session, kind: str, index: int) -> Picture | None:
    """A drawing for a size in cells, or None where there is nothing to draw."""
    if kind == "plan":
        return None
    item = session.draft.item(kind, index)
    if item is None:
        return None
    if kind == "joint":
        from splitline.ui.scenes.joint import joint_scene

        scene = joint_scene(item, session.result(kind, index), session.system)
        return scene.card if scene is not None else None
    return None


def rows_or_none(rows: list[Row]) -> list[Row] | None:
    return rows or None

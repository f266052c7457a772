"""Paper sizes. Everything is laid out in mm of an A4-like sheet; ``zoom`` enlarges it to the paper."""

from __future__ import annotations

from dataclasses import dataclass

A3_ZOOM = 1.25  # larger type for a wall or a bench, and half as much again on a page as on A4


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size in mm, and what a layout on it may use."""

    name: str
    width_mm: float
    height_mm: float
    zoom: float = 1.0

    @property
    def width(self) -> float:
        """Width in layout units."""
        return self.width_mm / self.zoom

    @property
    def height(self) -> float:
        """Height in layout units."""
        return self.height_mm / self.zoom

    @property
    def room(self) -> float:
        """Width between the margins, in layout units."""
        return self.width - LEFT - RIGHT


LEFT, RIGHT, TOP, BOTTOM = 16.0, 12.0, 10.0, 8.0  # left wider: sheets are filed
PAPERS = {
    paper.name: paper
    for paper in (Paper("A4", 210, 297), Paper("A3", 297, 420, A3_ZOOM), Paper("Letter", 215.9, 279.4))
}

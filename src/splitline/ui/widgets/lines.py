"""A pane of lines drawn from a pure function, with a cursor that stops at the lines one can act on."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from splitline.ui.draw.rows import Row, fit_row
from splitline.ui.glass import glass_of
from splitline.ui.theme import ink

GUTTER = 1  # the cursor's mark stands in front of every line


@dataclass(frozen=True, slots=True)
class Line:
    """One line. ``target`` says what it stands for; lines without one are passed over by the cursor.

    A tap on a line that only ``belongs`` to a target acts on that target's line: one entry of several rows for a glove.
    """

    row: Row
    target: Hashable = None
    belongs: Hashable = None


Builder = Callable[[int], Sequence[Line]]


def for_gloves(lines: Sequence[Line], least: int) -> list[Line]:
    """The lines with every entry at least ``least`` rows high; what is added above and below belongs to the entry."""
    out: list[Line] = []
    place = 0
    while place < len(lines):
        end = place + 1
        target = lines[place].target
        while target is not None and end < len(lines) and lines[end].target is None and lines[end].belongs == target:
            end += 1
        wanting = max(least - (end - place), 0) if target is not None else 0
        blank = Line((), belongs=target)
        out += [*[blank] * (wanting // 2), *lines[place:end], *[blank] * (wanting - wanting // 2)]
        place = end
    return out


def nothing(width: int) -> Sequence[Line]:
    return ()


class LineView(ScrollView, can_focus=True, inherit_bindings=False):
    """Lines from ``build(width)``. Arrows move, Enter or a second tap chooses.

    With ``glove`` entries are as high as a glove needs on this glass, and so wide is the bar that scrolls them.
    """

    DEFAULT_CSS = """
    LineView { height: 1fr; scrollbar-size-vertical: 1; overflow-x: hidden; scrollbar-gutter: stable; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        ("up", "move(-1)", "Up"),
        ("down", "move(1)", "Down"),
        ("pageup", "page(-1)", "Page up"),
        ("pagedown", "page(1)", "Page down"),
        ("home", "edge(-1)", "First"),
        ("end", "edge(1)", "Last"),
        ("enter", "choose", "Choose"),
    ]

    class Moved(Message):
        """The cursor stands on another line."""

        def __init__(self, view: LineView, target: Hashable) -> None:
            super().__init__()
            self.view = view
            self.target = target

        @property
        def control(self) -> LineView:
            return self.view

    class Chosen(Moved):
        """Enter, or a second tap on the line under the cursor."""

    def __init__(
        self, *, id: str | None = None, classes: str | None = None, cursor: bool = True, glove: bool = False
    ) -> None:
        super().__init__(id=id, classes=classes)
        self._glove = glove
        self._build: Builder = nothing
        self._lines: Sequence[Line] = ()
        self._width = 0
        self._height = 0
        self._at = -1
        self._again = False  # the press was on the line under the cursor
        self._wanted: Hashable = None  # where to stand once there are lines
        self._with_cursor = cursor
        self.driven = False  # keys of another widget move its cursor

    # what is shown

    def show(self, build: Builder, *, keep: bool = True) -> None:
        """Take a new builder; with ``keep`` the cursor stays on its target."""
        self._build = build
        self.rebuild(keep=keep)

    def rebuild(self, *, keep: bool = True) -> None:
        """Draw the lines anew for the present width."""
        if self.content_width <= 0:
            return
        lines, width = self._laid_out()
        before = self._wanted if self._wanted is not None else self.target if keep else None
        self._wanted = None
        index = self._at
        self._width = width
        self._height = self.size.height
        self._lines = lines
        self.virtual_size = Size(width + GUTTER, len(self._lines))
        places = [i for i, line in enumerate(self._lines) if line.target is not None]
        same = next((i for i in places if self._lines[i].target == before), None) if before is not None else None
        if same is not None:
            self._at = same
        elif keep and places and index >= 0:
            self._at = min(places, key=lambda i: abs(i - index))
        else:
            self._at = places[0] if places else -1
        if not keep:
            self.scroll_to(y=0, animate=False)
        self.refresh()

    def _laid_out(self) -> tuple[Sequence[Line], int]:
        """The lines and the width they are for: a bar for gloves takes its room only where there is something to scroll."""
        glass = glass_of(self.app)
        if not (self._glove and glass.cell[1]):
            return self._build(self.content_width), self.content_width
        bare = self.content_width + self.styles.scrollbar_size_vertical
        lines, bar = for_gloves(self._build(bare), glass.glove_rows()), 0
        if len(lines) > self.size.height:
            bar = min(glass.glove_cells(), bare // 3)
            lines = for_gloves(self._build(bare - bar), glass.glove_rows())
        if self.styles.scrollbar_size_vertical != bar:
            self.styles.scrollbar_size_vertical = bar
        return lines, bare - bar

    @property
    def content_width(self) -> int:
        """Cells a line has."""
        return max(self.scrollable_content_region.width - GUTTER, 0)

    @property
    def target(self) -> Hashable:
        """What the line under the cursor stands for."""
        return self._lines[self._at].target if 0 <= self._at < len(self._lines) else None

    @property
    def lines(self) -> Sequence[Line]:
        return self._lines

    def on_resize(self, event: events.Resize) -> None:
        if (self.content_width, self.size.height) != (self._width, self._height):
            self.rebuild()
        self.call_after_refresh(self.reveal)

    # the cursor

    def put_cursor(self, target: Hashable, *, say: bool = True) -> bool:
        """Stand on the line of ``target``; False when there is none. Before the first drawing it is kept for it."""
        if self._width <= 0:
            self._wanted = target
            return True
        place = next((i for i, line in enumerate(self._lines) if line.target == target), None)
        if place is None:
            return False
        self._stand(place, say=say)
        return True

    def _stand(self, index: int, *, say: bool = True) -> None:
        changed = index != self._at
        self._at = index
        self.reveal()
        self.refresh()
        if changed and say:
            self.post_message(self.Moved(self, self.target))

    def reveal(self) -> None:
        """Scroll the line under the cursor into sight, with what stands above the first one."""
        if self._at < 0:
            return
        first = next((i for i, line in enumerate(self._lines) if line.target is not None), 0)
        height = self.scrollable_content_region.height
        around = 2 if height > 8 else 0  # lines of company above and below
        top = 0 if self._at == first and self._at < height - 1 else max(self._at - around, 0)
        last = self._at
        while last + 1 < len(self._lines) and self._lines[last + 1].belongs == self.target:
            last += 1
        foot = min(max(self._at + around, last if last - self._at < height else 0), len(self._lines) - 1)
        self.scroll_to_region(Region(0, top, 1, foot - top + 1), animate=False, immediate=True)

    def bring_up(self) -> None:
        """Scroll the line under the cursor to the top, so that what belongs to it is seen."""
        if self._at >= 0:
            self.scroll_to(y=self._at, animate=False, immediate=True)

    def action_move(self, by: int) -> None:
        places = [i for i, line in enumerate(self._lines) if line.target is not None]
        if not places:
            self.scroll_relative(y=by, animate=False)
            return
        later = [i for i in places if i > self._at] if by > 0 else [i for i in places if i < self._at]
        if later:
            self._stand(later[0] if by > 0 else later[-1])
        else:
            self.scroll_relative(y=by, animate=False)

    def action_page(self, by: int) -> None:
        height = max(self.scrollable_content_region.height - 1, 1)
        places = [i for i, line in enumerate(self._lines) if line.target is not None]
        if not places:
            self.scroll_relative(y=by * height, animate=False)
            return
        wanted = self._at + by * height
        self._stand(min(places, key=lambda i: abs(i - wanted)))

    def action_edge(self, by: int) -> None:
        places = [i for i, line in enumerate(self._lines) if line.target is not None]
        if places:
            self._stand(places[0] if by < 0 else places[-1])
        self.scroll_to(y=0 if by < 0 else self.max_scroll_y, animate=False)

    def action_choose(self) -> None:
        if self.target is not None:
            self.post_message(self.Chosen(self, self.target))

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """The line is taken at the press: taking the keys may change the room before the release."""
        line = self._line_of(int(event.y + self.scroll_offset.y))
        there = line is not None
        self._again = there and line == self._at
        if line is not None and not self._again:
            self._stand(line)

    def _line_of(self, place: int) -> int | None:
        """The line that a tap on ``place`` means."""
        if not 0 <= place < len(self._lines):
            return None
        tapped = self._lines[place]
        if tapped.target is not None or tapped.belongs is None:
            return place if tapped.target is not None else None
        return next((i for i, line in enumerate(self._lines) if line.target == tapped.belongs), None)

    def on_click(self, event: events.Click) -> None:
        if self._again:
            self._again = False
            self.action_choose()

    def on_focus(self) -> None:
        self.refresh()

    def on_blur(self) -> None:
        self.refresh()

    # the letter overlay

    def place_of(self, target: Hashable) -> Region | None:
        """Where the line of ``target`` stands in the pane, for an editor laid over it."""
        index = next((i for i, line in enumerate(self._lines) if line.target == target), None)
        if index is None:
            return None
        return Region(GUTTER, index - int(self.scroll_offset.y), self._width, 1)

    # drawing

    def render_line(self, y: int) -> Strip:
        theme = self.app.theme
        index = y + int(self.scroll_offset.y)
        width = self.scrollable_content_region.width
        if not 0 <= index < len(self._lines):
            return Strip.blank(width, ink(theme, ""))
        line = self._lines[index]
        own = line.target is not None or (self._glove and line.belongs is not None)
        here = self._with_cursor and own and self._line_of(index) == self._at
        active = self.has_focus or self.driven
        ground = ("cursor" if active else "rest") if here else ""
        mark = "▌" if here and active else "▏" if here else " "
        segments = [Segment(mark, ink(theme, "accent", ground))]
        row: Row = fit_row(line.row, max(width - GUTTER, 0))
        segments += [Segment(text, self._style(theme, style, ground)) for text, style in row]
        return Strip(segments).crop(0, width)

    @staticmethod
    def _style(theme: str, name: str, ground: str) -> Style:
        return ink(theme, name, ground)

"""Figures a glove types are read before they are stored: every digit differs in every size, as the pad shows it."""

from __future__ import annotations

import itertools

import pytest
from textual.app import App, ComposeResult
from textual.widgets import Static

from splitline.ui.draw.digits import figures, small
from splitline.ui.theme import NIGHT, themes
from splitline.ui.work.asking import Words
from splitline.ui.work.pad import PadScreen

SIGNS = "0123456789.-"


class Pads(App[None]):
    def __init__(self) -> None:
        super().__init__()
        for theme in themes():
            self.register_theme(theme)
        self.theme = NIGHT

    def compose(self) -> ComposeResult:
        yield Static()


def echo(pad: PadScreen) -> tuple[str, ...]:
    """What the pad shows of the number, cell by cell."""
    words = pad.query_one("#typed", Words)
    lines = ["".join(segment.text for segment in words.render_line(y)) for y in range(words.size.height)]
    return tuple(line for line in lines if "█" in line)


@pytest.mark.parametrize("size", [(40, 24), (48, 50), (80, 24), (80, 40), (100, 32), (160, 50)])
async def test_the_pad_tells_every_digit_from_every_other_at_every_size(size: tuple[int, int]) -> None:
    app = Pads()
    async with app.run_test(size=size) as pilot:
        pad = PadScreen("Gap", units=("mm",))
        app.push_screen(pad)
        await pilot.pause()
        for length in (1, 4, 8):  # the longer the number, the smaller its figures
            shown: dict[str, tuple[str, ...]] = {}
            for sign in "0123456789":
                pad.typed = (sign * length) if length == 1 else "1" * (length - 1) + sign
                pad._show()
                await pilot.pause()
                shown[sign] = echo(pad)
                assert shown[sign] or length > 1, f"{sign} is not drawn large"
            for one, other in itertools.combinations(shown, 2):
                if shown[one] and shown[other]:
                    assert _apart(shown[one], shown[other]) >= 1, (one, other)


def _apart(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    return sum(a != b for left, right in zip(one, other, strict=True) for a, b in itertools.zip_longest(left, right))


@pytest.mark.parametrize("tall", [1, 2, 3])
@pytest.mark.parametrize("room", [3, 6, 9, 40, 120])
def test_every_sign_is_drawn_apart_from_every_other(room: int, tall: int) -> None:
    for drawn in (
        {sign: tuple(figures(sign, room, tall)) for sign in SIGNS},
        {sign: tuple(small(sign, room)) for sign in SIGNS},
    ):
        alike = [(a, b) for a, b in itertools.combinations(SIGNS, 2) if drawn[a] == drawn[b] and drawn[a]]
        assert alike == []

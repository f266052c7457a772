"""Both themes can be read: in the sun, in a dim hall, on every ground. Contrast as WCAG 2.1 defines it (1.4.3: 4.5 to 1)."""

from __future__ import annotations

import pytest

from splitline.ui.theme import INKS, Inks, ink, style_names

WORDS = ("text", "strong", "dim", "accent", "ok", "near", "fails", "missing", "onsite")


def _light(colour: str) -> float:
    """Relative luminance, WCAG 2.1."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, bright = sorted((_light(one), _light(other)))
    return (bright + 0.05) / (dark + 0.05)


def test_contrast_of_black_on_white_is_twenty_one() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("ground", ["ground", "sheet", "chip", "cursor", "rest"])
@pytest.mark.parametrize("inks", INKS.values(), ids=INKS.keys())
def test_every_word_can_be_read_on_every_ground(inks: Inks, ground: str) -> None:
    poor = {word: contrast(getattr(inks, word), getattr(inks, ground)) for word in WORDS}
    assert {word: round(found, 2) for word, found in poor.items() if found < 4.5} == {}


@pytest.mark.parametrize("inks", INKS.values(), ids=INKS.keys())
def test_the_instruction_stands_out_most(inks: Inks) -> None:
    assert contrast(inks.strong, inks.ground) >= 12
    assert all(contrast(inks.strong, inks.ground) > contrast(getattr(inks, word), inks.ground) for word in WORDS[2:])


def test_now_and_coming_differ_without_colour() -> None:
    theme = next(iter(INKS))
    shapes = {name: (ink(theme, name).reverse, ink(theme, name).underline) for name in ("now", "coming", "done", "")}
    assert len({shapes["now"], shapes["coming"], shapes[""]}) == 3
    assert {"now", "coming"} <= style_names()

"""Every sign a screen or a sheet may show is drawn by the font that is shipped for it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "splitline"
SCREENS = ("ui", "serve", "record", "assess", "library", "plan")
SHEETS = ("report", "assess", "library", "record")
# Read by the program, never shown: white space that is read as a blank, and what people type for other signs.
UNSEEN = {*map(chr, range(0x20)), "\x7f", "\ufeff", "\u00a0", "\u202f", *map(chr, range(0xD800, 0xE000))}
UNSEEN |= set("＝＋－＠﹢﹣﹦﹫⁺⁻⁼₊₋₌")  # what a spreadsheet may take for a sign of a formula: only ever looked for


def shown(*rooms: str) -> set[str]:
    """Signs of all texts in these rooms; what only a docstring says is left out."""
    found: set[str] = set()
    for path in (path for room in rooms for path in (SOURCE / room).rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        docs = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
                found |= set(node.value)
    for path in (path for room in rooms for path in (SOURCE / room).rglob("*.toml")):
        found |= set(path.read_text("utf-8"))
    return found - UNSEEN


def drawn_by(font: Path) -> set[str]:
    ttlib = pytest.importorskip("fontTools.ttLib")
    return set(map(chr, ttlib.TTFont(font).getBestCmap()))


def test_the_tablets_font_draws_every_sign_of_the_screens() -> None:
    assert shown(*SCREENS) - drawn_by(SOURCE / "serve" / "page" / "mono.ttf") == set()


@pytest.mark.parametrize("name", ["mono.ttf", "sans.ttf", "sans-bold.ttf"])
def test_the_sheets_fonts_draw_every_sign_of_the_sheets(name: str) -> None:
    assert shown(*SHEETS) - drawn_by(SOURCE / "report" / "fonts" / name) == set()


def test_a_common_terminal_font_draws_every_sign_of_the_screens() -> None:
    """The shipped font is a part of a common one (FONT.md) with one hourglass of our own; no screen may lean on that one."""
    assert "⧗" not in shown("ui", "assess", "record")

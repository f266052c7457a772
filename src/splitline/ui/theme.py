"""Two themes of our own, paper and night, and the styles that drawn text is made of.

Drawings and cards name styles ("dim", "near"); a palette turns a name into a colour at the moment of drawing, so one
picture serves both themes. With NO_COLOR the terminal layer greys everything: every state also has a shape and a word.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from textual.theme import Theme

if TYPE_CHECKING:
    from rich.style import Style

NIGHT = "splitline-night"
PAPER = "splitline-paper"


@dataclass(frozen=True)
class Inks:
    """Colours of one theme."""

    ground: str
    sheet: str  # a pane's ground
    text: str
    strong: str
    dim: str
    rule: str
    accent: str
    ok: str
    near: str
    fails: str
    missing: str
    onsite: str
    cursor: str  # ground of the line under the cursor in the pane that has the keys
    rest: str  # the same in a pane that has not
    chip: str  # ground of a key or tag


_NIGHT = Inks(
    ground="#14171a", sheet="#14171a", text="#d5d3cb", strong="#f4f1e8", dim="#a0a4a4", rule="#3a4044",
    accent="#7db8c9", ok="#8dbf8b", near="#dcb45a", fails="#f08674", missing="#c3a3ea", onsite="#86b6e6",
    cursor="#2c3a42", rest="#20262a", chip="#2a3136",
)  # fmt: skip
_PAPER = Inks(
    ground="#f7f5ef", sheet="#f7f5ef", text="#24282b", strong="#0c0e10", dim="#5a6063", rule="#c6c2b6",
    accent="#0f5a73", ok="#27683a", near="#7d5700", fails="#a72c1a", missing="#63399b", onsite="#1c579c",
    cursor="#d3e2e6", rest="#ebe8df", chip="#e3dfd4",
)  # fmt: skip
INKS = {NIGHT: _NIGHT, PAPER: _PAPER}


def _theme(name: str, inks: Inks, dark: bool) -> Theme:
    return Theme(
        name=name,
        primary=inks.accent,
        secondary=inks.dim,
        accent=inks.accent,
        warning=inks.near,
        error=inks.fails,
        success=inks.ok,
        foreground=inks.text,
        background=inks.ground,
        surface=inks.ground,
        panel=inks.chip,
        dark=dark,
        variables={
            "rule": inks.rule,
            "dim": inks.dim,
            "chip": inks.chip,
            "onsite": inks.onsite,
            "missing": inks.missing,
            "input-cursor-background": inks.accent,
            "input-cursor-foreground": inks.ground,
            "input-selection-background": inks.cursor,
            "scrollbar": inks.rule,
            "scrollbar-background": inks.ground,
            "scrollbar-hover": inks.dim,
            "scrollbar-background-hover": inks.ground,
            "scrollbar-active": inks.accent,
            "scrollbar-background-active": inks.ground,
            "scrollbar-corner-color": inks.ground,
        },
    )


def themes() -> tuple[Theme, Theme]:
    """Night (dark) and paper (light)."""
    return _theme(NIGHT, _NIGHT, True), _theme(PAPER, _PAPER, False)


# Style name -> (ink, attributes). A name ending in a ground is combined by the line view, not here.
_STYLES: dict[str, tuple[str, str]] = {
    "": ("text", ""),
    "text": ("text", ""),
    "strong": ("strong", "bold"),
    "title": ("strong", "bold"),
    "dim": ("dim", ""),
    "rule": ("rule", ""),
    "label": ("dim", ""),
    "value": ("text", ""),
    "number": ("strong", ""),
    "unit": ("text", ""),
    "accent": ("accent", ""),
    "key": ("accent", "bold"),
    "head": ("accent", ""),
    "ok": ("ok", ""),
    "near": ("near", ""),
    "fails": ("fails", "bold"),
    "missing": ("missing", ""),
    "on-site": ("onsite", ""),
    "default": ("dim", "italic"),
    "problem": ("fails", ""),
    "caution": ("near", ""),
    "now": ("strong", "bold reverse"),
    "next": ("accent", "bold"),
    "coming": ("accent", "bold underline"),
    "done": ("ok", ""),
    "trace": ("rule", ""),
    "tool": ("accent", "bold"),
    "load": ("near", ""),
    "limit": ("fails", ""),
    "need": ("accent", ""),
    "tag": ("near", "bold reverse"),
    "danger": ("fails", "bold reverse"),
}


@cache
def ink(theme: str, name: str, ground: str = "") -> Style:
    """The style called ``name`` in a theme, on one of its grounds ("", "cursor", "rest", "chip")."""
    from rich.style import Style

    inks = INKS.get(theme, _NIGHT)
    colour, attributes = _STYLES.get(name, _STYLES[""])
    words = attributes.split()
    return Style(
        color=getattr(inks, colour),
        bgcolor=getattr(inks, ground or "ground"),
        bold="bold" in words or None,
        italic="italic" in words or None,
        reverse="reverse" in words or None,
        underline="underline" in words or None,
    )


def style_names() -> frozenset[str]:
    """Every name a drawing may use; a test holds the drawings to it."""
    return frozenset(_STYLES)

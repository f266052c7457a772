"""Text of people made printable: one line, right-to-left names in reading order, characters the font has."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache

from splitline.outlet import shown

_JOINS_BOTH = ["isolated", "final", "initial", "medial"]
INSTEAD = "▯"  # a character the fonts do not have


@lru_cache(maxsize=4096)
def legible(text: str) -> str:
    """The text in the order it is drawn from left to right; control and direction signs as what they are."""
    flat = "".join(" " if char.isspace() else char for char in shown(unicodedata.normalize("NFC", text)))
    flat = "".join(char for char in flat if unicodedata.category(char) != "Cf")  # joiners: the letters take their form
    if all(ord(char) < 0x590 or ord(char) >= 0x900 for char in flat):
        return flat
    return _visual(_shaped(flat))


def covered(text: str, glyphs: frozenset[int]) -> str:
    """The text with a frame for every character the font lacks."""
    if text.isascii() or all(ord(char) in glyphs for char in text):
        return text
    return "".join(char if ord(char) in glyphs else INSTEAD for char in text)


def _visual(text: str) -> str:
    """Left-to-right order of drawing, by the Unicode bidirectional algorithm."""
    from fpdf.bidi import BidiParagraph

    return str(BidiParagraph(text=text).get_reordered_string())


@cache
def _forms() -> dict[str, dict[str, str]]:
    """Letter -> form -> presentation character, from the decompositions of the Arabic presentation forms."""
    found: dict[str, dict[str, str]] = {}
    for code in (*range(0xFB50, 0xFC00), *range(0xFE70, 0xFEFD)):
        parts = unicodedata.decomposition(chr(code)).split()
        if len(parts) == 2 and parts[0].startswith("<"):
            form = parts[0].strip("<>")
            if form in _JOINS_BOTH:
                found.setdefault(chr(int(parts[1], 16)), {})[form] = chr(code)
    return found


def _shaped(text: str) -> str:
    """Arabic letters in the form their neighbours ask for."""
    forms = _forms()
    joins = [char in forms for char in text]
    out = []
    for at, char in enumerate(text):
        own = forms.get(char)
        if own is None:
            out.append(char)
            continue
        before = at > 0 and joins[at - 1] and "initial" in forms[text[at - 1]]
        after = at + 1 < len(text) and joins[at + 1] and "final" in forms[text[at + 1]] and "initial" in own
        form = "medial" if before and after else "final" if before else "initial" if after else "isolated"
        out.append(own.get(form) or own.get("isolated") or char)
    return "".join(out)

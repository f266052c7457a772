"""A picture of the screen as SVG that leans on nothing outside itself."""

from __future__ import annotations

import re


def without_links(svg: str) -> str:
    """The same picture in the reader's own monospace font: Textual's names fonts of others, one of them on the net."""
    svg = re.sub(r"@font-face\s*\{.*?\}\s*", "", svg, flags=re.S)
    svg = re.sub(r"<circle [^>]*/>\s*", "", svg)  # three dots of somebody's window
    svg = re.sub(r"font-family: [^;]*;", "font-family: monospace;", svg)
    return re.sub(r"<!--.*?-->\s*", "", svg, flags=re.S).replace("https://", "")

"""Reads the examples out of the pages: commands and, below them, lines their output must hold."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
FENCE = re.compile(r"^```(\w+)\n(.*?)^```$", re.M | re.S)
COMMAND = re.compile(r"^(?:\.venv/bin/)?splitline\b(.*)$")


@dataclass(frozen=True, slots=True)
class Example:
    """Commands of one block, and what they must print."""

    page: str
    commands: tuple[tuple[str, ...], ...]
    printed: tuple[str, ...]


def examples(page: Path) -> list[Example]:
    """Every block of commands with the block of text that follows it, in the order of the page."""
    found: list[Example] = []
    for kind, body in FENCE.findall(page.read_text("utf-8")):
        if kind == "sh":
            words = [COMMAND.match(line) for line in body.splitlines()]
            commands = tuple(tuple(shlex.split(word.group(1))) for word in words if word)
            found.append(Example(page.name, commands, ()))
        elif kind == "text" and found:
            last = found.pop()
            lines = tuple(squeezed(line) for line in body.splitlines() if line.strip() not in ("", "..."))
            found.append(Example(last.page, last.commands, last.printed + lines))
    return found


def plans(page: Path) -> list[str]:
    """Every TOML example of a page."""
    return [body for kind, body in FENCE.findall(page.read_text("utf-8")) if kind == "toml"]


def squeezed(text: str) -> str:
    """Text with each run of spaces and line ends as one space: print wraps where the terminal is narrow."""
    return " ".join(text.split())

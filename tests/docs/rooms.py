"""The table of physics files in ``docs/api.md``, made from their docstrings: ``python -m tests.docs.rooms`` writes it."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from tests.docs.reading import DOCS, ROOT

PAGE = DOCS / "api.md"
ROOMS = ("bolting", "tightening", "lifting", "fitting")
MADE = re.compile(r"(<!-- rooms: [^>]*-->\n).*?(<!-- end of rooms -->)", re.S)


def subject(path: Path) -> str:
    """The first line of a file's docstring, without its stop."""
    words = ast.get_docstring(ast.parse(path.read_text("utf-8"))) or ""
    return words.splitlines()[0].rstrip(".").replace("|", "\\|") if words else ""


def page(text: str) -> str:
    """The page with the table as the program stands."""
    lines = ["| file | subject |", "| --- | --- |"]
    for room in ROOMS:
        for path in sorted((ROOT / "src" / "splitline" / room).glob("*.py")):
            if path.stem != "__init__":
                lines.append(f"| `splitline.{room}.{path.stem}` | {subject(path)} |")
    return MADE.sub(lambda found: found.group(1) + "\n" + "\n".join(lines) + "\n\n" + found.group(2), text)


def main() -> None:
    PAGE.write_text(page(PAGE.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()

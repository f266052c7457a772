"""On which line each value of a plan file stands. Built only when there is something to report."""

from __future__ import annotations

from bisect import bisect_right

from splitline.plan.edits import Path
from splitline.plan.scan import Places, scan, value_end


def lines_of(text: str) -> dict[Path, int]:
    """Path to line number (from 1) for every table, key, and entry of a list in a valid TOML text."""
    starts = [0]
    while (end := text.find("\n", starts[-1])) >= 0:
        starts.append(end + 1)
    lines: dict[Path, int] = {}
    places, table = Places(), ()  # type: tuple[Places, Path]

    def mark(path: Path, at: int) -> None:
        lines.setdefault(path, bisect_right(starts, at))

    for line in scan(text):
        if line.form == "heading":
            table = places.heading(line)
            for length in range(1, len(table) + 1):
                lines.setdefault(table[:length], line.number)
        elif line.form == "pair":
            path = table
            for key in line.keys:
                path = (*path, key)
                lines.setdefault(path, line.number)
            value_end(text, line.value[0], path, mark)
    return lines

"""One mistake in a plan: where it stands, in the person's words, and what to do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from splitline.errors import PlanError
from splitline.plan.edits import Path, get


@dataclass(frozen=True, slots=True)
class Problem:
    """A mistake. ``where`` names the place: ``joint "discharge-head" › bolting › clamp_length``."""

    path: Path
    message: str
    line: int | None = None
    where: str = ""

    def __str__(self) -> str:
        line = f"line {self.line}: " if self.line else ""
        return f"{line}{self.where}: {self.message}" if self.where else f"{line}{self.message}"


def where(tree: Any, path: Path) -> str:
    """The place in words; entries of a list by id or name, else by number from 1."""
    words: list[str] = []
    for depth, step in enumerate(path):
        if isinstance(step, str):
            words.append(step)
            continue
        entry = get(tree, path[: depth + 1], None)
        name = (entry.get("id") or entry.get("name")) if isinstance(entry, dict) else None
        name = " ".join(name.split()) if isinstance(name, str) else ""
        label = f'"{name}"' if 0 < len(name) <= 64 else str(step + 1)
        if words:
            words[-1] += f" {label}" if isinstance(entry, dict) else f" entry {label}"
    return " › ".join(words)


class PlanFileError(PlanError):
    """A plan that cannot be read at all; ``problems`` holds what was found, each with its line."""

    def __init__(self, said: str, problems: tuple[Problem, ...] = ()) -> None:
        super().__init__("\n".join([said, *(f"  {problem}" for problem in problems)]))
        self.problems = problems

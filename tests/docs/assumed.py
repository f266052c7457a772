"""The page of what is assumed where a plan is silent, from the declarations: ``python -m tests.docs.assumed`` writes it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from splitline.plan.declare import Table
from splitline.plan.fields import Declared, fields_of
from splitline.plan.model import KINDS

PAGE = Path(__file__).parents[2] / "docs" / "method.md"
BEGIN, END = "<!-- assumed -->\n", "<!-- end of assumed -->"


def declared() -> Iterator[tuple[str, Declared]]:
    """Every field with a default that errs on a side, by its path."""
    for kind, table in KINDS.items():
        yield from _below(kind, table)


def _below(path: str, table: type[Table]) -> Iterator[tuple[str, Declared]]:
    for field in fields_of(table).values():
        if field.errs:
            yield f"{path}.{field.name}", field
        if field.model is not None:
            yield from _below(f"{path}.{field.name}", field.model)


def rows() -> str:
    """One line a default."""
    out = ["", "| field | taken where nothing is given | errs |", "| --- | --- | --- |"]
    out += [f"| `{path}` | {field.default_said} | {field.errs} |" for path, field in declared()]
    return "\n".join(out) + "\n\n"


def page(text: str) -> str:
    """The page with its table as the declarations have it."""
    before, _, rest = text.partition(BEGIN)
    return before + BEGIN + rows() + END + rest.partition(END)[2]


def main() -> None:
    PAGE.write_text(page(PAGE.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()

"""Nothing is decided by reading prose: no title, note or basis is searched, compared or taken apart in the source."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from tests.test_house import FILES, SRC

PROSE = {"title", "note", "basis", "notes"}
SEARCHES = {
    "startswith",
    "endswith",
    "partition",
    "rpartition",
    "split",
    "removeprefix",
    "removesuffix",
    "find",
    "index",
}
PLAIN = {"casefold", "lower", "upper", "strip", "capitalize"}  # still the same prose
# A line that may stay, with the reason.
MAY = {
    "ui/card/overview.py": "only words: the item's title is not said twice in one line",
    "report/markdown.py": "only words: the sheet's title is not said twice in one line",
    "report/text.py": "only words: line ends in a title are taken out",
    "ui/paper/items.py": "a reading is told by its title in the record: it is its name there",
    "ui/work/tasks_fit.py": "a reading is told by its title in the record: it is its name there",
}


def prose(node: ast.expr) -> bool:
    """Whether an expression is a text meant for a person."""
    while isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in PLAIN:
        node = node.func.value
    return isinstance(node, ast.Attribute) and node.attr in PROSE


def decided(tree: ast.AST) -> Iterator[int]:
    """Lines on which prose is compared, searched or taken apart."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            ends = [node.left, *node.comparators]
            empty = any(isinstance(end, ast.Constant) and end.value in ("", None) for end in ends)
            if not empty and any(prose(end) for end in ends):
                yield node.lineno
        elif (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Attribute)
            and node.func.attr in SEARCHES
            and prose(node.func.value)
        ):
            yield node.lineno


def test_no_decision_reads_prose() -> None:
    """Decide by a field, not by a text meant for a person: lists every place that does not."""
    found = {str(path.relative_to(SRC)): list(decided(ast.parse(path.read_text("utf-8")))) for path in FILES}
    assert {name: lines for name, lines in found.items() if lines and name not in MAY} == {}


def test_the_search_sees_what_it_should() -> None:
    seen = ["'test' in case.title", "check.title.startswith('Leg')", "a.note == b.note", "x.title.casefold() in t"]
    assert all(list(decided(ast.parse(line))) for line in seen)
    fine = ["check.note != ''", "check.key == 'x'", "show(check.title)"]
    assert not any(list(decided(ast.parse(line))) for line in fine)

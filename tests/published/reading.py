"""Reads the published checks as text: what an assertion compares, in which unit, and which source stands beside it."""

from __future__ import annotations

import ast
import io
import re
import tokenize
from dataclasses import dataclass
from functools import cache
from math import log10
from pathlib import Path

UNITS = {
    "MM": "mm", "MM2": "mm²", "INCH": "in", "INCH2": "in²", "LBF": "lbf", "PSI": "psi", "KSI": "ksi", "MPSI": "Mpsi",
    "LBF_IN": "lbf·in", "FT_LBF": "lbf·ft", "MLBF_IN": "Mlbf/in", "TONNE": "t", "POUND": "lbf", "SHORT_TON": "short ton",
    "RPM": "rpm", "DEG": "deg", "DEGREE": "deg", "INCH ** 2": "in²", "LBF * INCH": "lbf·in", "LBF / INCH": "lbf/in",
}  # fmt: skip
WRAPPERS = {"math.degrees", "degrees"}


@dataclass(frozen=True)
class Compared:
    """The two sides of one assertion."""

    left: ast.expr
    right: ast.expr
    names: dict[str, ast.expr]

    def factor(self, place: int) -> ast.Expression | None:
        node = _factor(_element(self.right, place))
        return None if node is None else ast.Expression(node)

    def unit(self, place: int) -> str:
        """The unit's sign, from the name behind the published value."""
        node = _factor(_element(self.right, place))
        if node is not None:
            text = ast.unparse(node)
            if text in UNITS:
                return UNITS[text]
            if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
                return f"×10^{round(log10(node.value))}"
            return ""
        left = self._left(place)
        if isinstance(left, ast.Call) and ast.unparse(left.func) in WRAPPERS:
            return "deg"
        if isinstance(left, ast.BinOp) and isinstance(left.op, ast.Div):
            return UNITS.get(ast.unparse(left.right), "")
        return ""

    def _left(self, place: int) -> ast.expr:
        left = self.left
        if isinstance(left, ast.Name) and left.id in self.names:
            left = self.names[left.id]
        return _element(left, place)

    def what(self, place: int) -> str:
        """Our side in a few words."""
        return _words(self._left(place))


def _element(node: ast.expr, place: int) -> ast.expr:
    if isinstance(node, ast.ListComp):
        return node.elt
    if isinstance(node, ast.Tuple | ast.List) and place < len(node.elts):
        return node.elts[place]
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult) and isinstance(node.left, ast.List | ast.Tuple):
        return node.left.elts[0]
    return node


def _factor(node: ast.expr) -> ast.expr | None:
    """The factor behind a product that is a unit's name, a power or product of such, or a power of ten."""
    if isinstance(node, ast.UnaryOp):
        return _factor(node.operand)
    if not (isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult)):
        return None
    text = ast.unparse(node.right)
    if text in UNITS or (isinstance(node.right, ast.Constant) and re.fullmatch(r"1e-?\d+|1000000(\.0)?", text)):
        inner = _factor(node.left)
        if inner is not None and not isinstance(inner, ast.Constant):
            return ast.BinOp(inner, ast.Mult(), node.right)
        return ast.fix_missing_locations(node.right)
    if isinstance(node.right, ast.Constant) and isinstance(node.right.value, float):
        exponent = f"{node.right.value:e}"
        if exponent.startswith("1.000000"):
            return node.right
    return None


def _words(node: ast.expr) -> str:
    if isinstance(node, ast.UnaryOp):
        return _words(node.operand)
    if isinstance(node, ast.Attribute):
        base = node.value
        if isinstance(base, ast.Call) and isinstance(base.func, ast.Name) and base.func.id.startswith("worst"):
            return _spaced(base.func.id)
        return _spaced(node.attr)
    if isinstance(node, ast.Call):
        name = ast.unparse(node.func)
        if name in WRAPPERS or name in {"tuple", "list", "abs", "float"}:
            return _words(node.args[0])
        return _spaced(name.split(".")[-1])
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Div) and ast.unparse(node.right) in UNITS:
        return _words(node.left)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult) and ast.unparse(node.right) in {"1000.0", "100"}:
        return _words(node.left)
    if isinstance(node, ast.Subscript):
        if isinstance(node.slice, ast.Constant) and isinstance(node.slice.value, str):
            return _spaced(node.slice.value)
        return _words(node.value)
    if isinstance(node, ast.ListComp):
        return _words(node.elt)
    text = ast.unparse(node)
    if len(text) <= 36:
        return text
    calls = [one for one in ast.walk(node) if isinstance(one, ast.Call | ast.Attribute) and not _maths(one)]
    return _words(calls[0]) if calls else text[:36] + "..."


def _maths(node: ast.expr) -> bool:
    return ast.unparse(node).startswith(("math.", "sin(", "cos(", "tan(", "pi", "sqrt(", "log("))


def _spaced(name: str) -> str:
    return name.replace("_", " ")


class Source:
    """One test file: its assertions and the source of each of its tests."""

    def __init__(self, path: Path) -> None:
        text = path.read_text("utf-8")
        self.tree = ast.parse(text)
        self.title = (ast.get_docstring(self.tree) or path.stem).split("\n")[0].rstrip(".")
        self.about = " ".join((ast.get_docstring(self.tree) or "").split())
        self.lines = text.splitlines()
        self.comments = {
            token.start[0]: (token.string.lstrip("# ").strip(), self.lines[token.start[0] - 1].lstrip().startswith("#"))
            for token in tokenize.generate_tokens(io.StringIO(text).readline)
            if token.type == tokenize.COMMENT and not re.match(r"#\s*(fmt|type|noqa)", token.string)
        }
        self.tests = {one.name: one for one in self.tree.body if isinstance(one, ast.FunctionDef)}
        self.constants = {
            target.id: one.value
            for one in self.tree.body
            if isinstance(one, ast.Assign)
            for target in one.targets
            if isinstance(target, ast.Name)
        }

    def compared(self, line: int) -> Compared | None:
        for test in ast.walk(self.tree):
            if not isinstance(test, ast.FunctionDef):
                continue
            names: dict[str, ast.expr] = {}
            for node in ast.walk(test):
                if isinstance(node, ast.Assign) and len(node.targets) == 1 and isinstance(node.targets[0], ast.Name):
                    names[node.targets[0].id] = node.value
            for node in ast.walk(test):
                if isinstance(node, ast.Assert) and node.lineno <= line <= (node.end_lineno or node.lineno):
                    for one in ast.walk(node.test):
                        if isinstance(one, ast.Compare) and _is_approx(one.comparators[0]):
                            right = one.comparators[0]
                            assert isinstance(right, ast.Call)
                            return Compared(one.left, right.args[0], names)
                        if isinstance(one, ast.Compare) and _is_approx(one.left):
                            assert isinstance(one.left, ast.Call)
                            return Compared(one.comparators[0], one.left.args[0], names)
        return None

    def source(self, test: str, case: int) -> str:
        """What stands beside the case, the test, above it, or at the head of the file: the nearest one."""
        node = self.tests[test]
        own = " ".join((ast.get_docstring(node) or "").split())
        first = min([one.lineno for one in node.decorator_list] + [node.lineno])
        above = self._above_constant(node) or self._above(first)
        return (
            self._beside_case(node, case)
            or (f"{above}: {own}" if own and above else own)
            or self._inside(node)
            or above
            or self._message(node)
            or self.about
        )

    def _beside_case(self, node: ast.FunctionDef, case: int) -> str:
        for mark in node.decorator_list:
            if isinstance(mark, ast.Call) and "parametrize" in ast.unparse(mark.func):
                elements = list(self._elements(mark.args[1]))
                if case < len(elements):
                    first, row = elements[case]
                    for line in range(row, first - 1, -1):
                        if line in self.comments:
                            return self._block(line)
        return ""

    def _elements(self, node: ast.expr) -> list[tuple[int, int]]:
        """(first line that may hold its comment, its own line) of every case."""
        if isinstance(node, ast.Name) and node.id in self.constants:
            value = self.constants[node.id]
            above = value.lineno - 1 if value.lineno - 1 in self.comments else value.lineno
            return [(above, line) for _, line in self._elements(value)]
        if isinstance(node, ast.List | ast.Tuple):
            found: list[tuple[int, int]] = []
            for one in node.elts:
                found += self._elements(one.value) if isinstance(one, ast.Starred) else [(node.lineno, one.lineno)]
            return found
        return []

    def _block(self, last: int) -> str:
        """The comment that ends on this line, with the lines of comment straight above it."""
        first = last
        if self.comments[last][1]:
            while first - 1 in self.comments and self.comments[first - 1][1]:
                first -= 1
        text = " ".join(self.comments[line][0] for line in range(first, last + 1))
        return self._named(text)

    def _named(self, text: str) -> str:
        head = re.match(r"[A-Z][A-Z0-9_]+", text)
        if head and head.group() in self.constants:
            value = self.constants[head.group()]
            if isinstance(value, ast.Constant) and isinstance(value.value, str):
                return value.value + text[head.end() :]
        return text

    def _inside(self, node: ast.FunctionDef) -> str:
        for line in range(node.lineno, (node.end_lineno or node.lineno) + 1):
            if line in self.comments and self.comments[line][1]:
                last = line
                while last + 1 in self.comments:
                    last += 1
                return self._block(last)
        return ""

    def _above(self, line: int) -> str:
        return self._block(line - 1) if line - 1 in self.comments else ""

    def _above_constant(self, node: ast.FunctionDef) -> str:
        """The comment above a table of cases that is named in the decorator."""
        for mark in node.decorator_list:
            for one in ast.walk(mark):
                if isinstance(one, ast.Name) and one.id in self.constants:
                    return self._above(self.constants[one.id].lineno)
        return ""

    def _message(self, node: ast.FunctionDef) -> str:
        for one in ast.walk(node):
            if isinstance(one, ast.Assert) and isinstance(one.msg, ast.Name) and one.msg.id in self.constants:
                return self._named(one.msg.id)
        return ""


def _is_approx(node: ast.expr) -> bool:
    return isinstance(node, ast.Call) and ast.unparse(node.func).endswith("approx")


@cache
def reading(path: Path) -> Source:
    return Source(path)


def compared(path: Path, line: int) -> Compared | None:
    return reading(path).compared(line)

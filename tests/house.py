"""Figures of the house, for anyone who wants to know whether it is growing crooked: ``python -m tests.house [--where]``.

Nothing here is a rule; ``tests/test_house.py`` holds those. ``--where`` names the places behind each figure.
"""

from __future__ import annotations

import argparse
import ast
import io
import tokenize
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

SRC = Path(__file__).parents[1] / "src" / "splitline"
SMALL = 100  # lines


@dataclass(frozen=True)
class File:
    """One file of the source."""

    path: Path

    @cached_property
    def text(self) -> str:
        return self.path.read_text("utf-8")

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text)

    @property
    def name(self) -> str:
        """``assess/joint.py``."""
        return self.path.relative_to(SRC).as_posix()

    @property
    def module(self) -> str:
        """``splitline.assess.joint``."""
        parts = ["splitline", *self.path.relative_to(SRC).with_suffix("").parts]
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    @property
    def room(self) -> str:
        return self.path.relative_to(SRC).parts[0].removesuffix(".py")

    @cached_property
    def lines(self) -> int:
        return len(self.text.splitlines())

    @cached_property
    def code(self) -> int:
        """Lines that hold more than words, comments and space."""
        skipped = {
            tokenize.COMMENT,
            tokenize.NL,
            tokenize.NEWLINE,
            tokenize.INDENT,
            tokenize.DEDENT,
            tokenize.ENDMARKER,
        }
        held: set[int] = set()
        for token in tokenize.generate_tokens(io.StringIO(self.text).readline):
            if token.type not in skipped:
                held |= set(range(token.start[0], token.end[0] + 1))
        for node in ast.walk(self.tree):
            if (
                isinstance(node, ast.Expr)
                and isinstance(node.value, ast.Constant)
                and isinstance(node.value.value, str)
            ):
                held -= set(range(node.lineno, (node.end_lineno or node.lineno) + 1))
        return len(held)

    def imports(self, inside: bool) -> Iterator[tuple[int, str]]:
        """(line, module or name) of imports of Splitline at the top, or inside functions; never those for types only."""
        yield from _imports(self.tree, inside, False)


def _imports(node: ast.AST, wanted_inside: bool, inside: bool) -> Iterator[tuple[int, str]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
            continue
        if isinstance(child, ast.ImportFrom | ast.Import) and inside == wanted_inside:
            if isinstance(child, ast.ImportFrom):
                yield from ((child.lineno, f"{child.module}.{alias.name}") for alias in child.names)
            else:
                yield from ((child.lineno, alias.name) for alias in child.names)
        yield from _imports(child, wanted_inside, inside or isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef))


def files() -> list[File]:
    return [File(path) for path in sorted(SRC.rglob("*.py"))]


def module_of(name: str, known: dict[str, File]) -> str | None:
    """The file an imported name comes from."""
    return name if name in known else name.rpartition(".")[0] if name.rpartition(".")[0] in known else None


def graph(all_files: list[File], inside: bool) -> dict[str, set[str]]:
    """Module -> modules it imports; ``inside``: those imported in functions as well."""
    known = {file.module: file for file in all_files}
    out: dict[str, set[str]] = {}
    for file in all_files:
        names = [name for _, name in (*file.imports(False), *(file.imports(True) if inside else ()))]
        found = {module for name in names if (module := module_of(name, known)) is not None}
        out[file.module] = found - {file.module}
    return out


def circles(edges: dict[str, set[str]]) -> list[list[str]]:
    """Groups of modules that import each other, by Tarjan's strongly connected components."""
    number: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    out: list[list[str]] = []

    def visit(node: str) -> None:
        number[node] = low[node] = len(number)
        stack.append(node)
        for other in sorted(edges.get(node, ())):
            if other not in number:
                visit(other)
                low[node] = min(low[node], low[other])
            elif other in stack:
                low[node] = min(low[node], number[other])
        if low[node] == number[node]:
            group = stack[stack.index(node) :]
            del stack[stack.index(node) :]
            if len(group) > 1:
                out.append(sorted(group))

    for node in sorted(edges):
        if node not in number:
            visit(node)
    return out


def fragments(all_files: list[File]) -> list[File]:
    """Files under ``SMALL`` lines that one other file of their own folder imports, and nobody else."""
    users: dict[str, set[str]] = {}
    for importer, found in graph(all_files, inside=True).items():
        for module in found:
            users.setdefault(module, set()).add(importer)
    return [
        file for file in all_files
        if file.lines < SMALL
        and file.path.name != "__init__.py"
        and len(own := users.get(file.module, set())) == 1
        and next(iter(own)).rpartition(".")[0] == file.module.rpartition(".")[0]
    ]  # fmt: skip


def places(all_files: list[File], wanted: str, room: str = "") -> list[str]:
    """``file:line`` of each comparison with None or attribute of a name, by what ``ast`` sees; of a comment by its text."""
    out = []
    for file in all_files:
        if room and file.room != room:
            continue
        if wanted == "type: ignore":
            tokens = tokenize.generate_tokens(io.StringIO(file.text).readline)
            out += [
                f"{file.name}:{t.start[0]}"
                for t in tokens
                if t.type == tokenize.COMMENT and t.string.startswith("# type: ignore")
            ]
            continue
        for node in ast.walk(file.tree):
            none = (
                isinstance(node, ast.Compare)
                and isinstance(node.ops[0], ast.Is | ast.IsNot)
                and isinstance(node.comparators[0], ast.Constant)
                and node.comparators[0].value is None
            )
            if (wanted == "is None" and none) or (isinstance(node, ast.Attribute) and node.attr == wanted):
                out.append(f"{file.name}:{node.lineno}")
    return out


def unreached(all_files: list[File]) -> list[str]:
    """``file:line name`` of what the physics rooms and the library define and no line of the source reads by that name."""
    nodes = [node for file in all_files for node in ast.walk(file.tree)]
    read = {node.id for node in nodes if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)}
    read |= {node.attr for node in nodes if isinstance(node, ast.Attribute)}
    read |= {node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    out = []
    for file in all_files:
        if file.room not in ("bolting", "tightening", "lifting", "fitting", "library"):
            continue
        inner = [each for node in file.tree.body if isinstance(node, ast.ClassDef) for each in node.body]
        for node in [*file.tree.body, *inner]:
            names = [node.name] if isinstance(node, ast.FunctionDef | ast.ClassDef) else []
            if isinstance(node, ast.Assign):
                names = [each.id for each in node.targets if isinstance(each, ast.Name)]
            out += [f"{file.name}:{node.lineno} {n}" for n in names if n not in read and not n.startswith("__")]
    return out


def figures(all_files: list[File]) -> dict[str, tuple[int, list[str]]]:
    """What is counted: figure -> (count, places)."""
    longest = max(all_files, key=lambda file: file.lines)
    inside = [f"{file.name}:{line} {name}" for file in all_files for line, name in file.imports(True)]
    own = [each for each in inside if " splitline" in each]
    rings = circles(graph(all_files, inside=False))
    late = circles(graph(all_files, inside=True))
    small = fragments(all_files)
    return {
        "lines": (sum(file.lines for file in all_files), []),
        "lines of code": (sum(file.code for file in all_files), []),
        "files": (len(all_files), []),
        "files of assess": (sum(file.room == "assess" for file in all_files), []),
        "lines of assess": (sum(file.lines for file in all_files if file.room == "assess"), []),
        f"longest file ({longest.name})": (longest.lines, []),
        "imports inside functions": (len({each.split()[0] for each in inside}), inside),
        "of these, of Splitline itself": (len({each.split()[0] for each in own}), own),
        "import circles": (len(rings), [" - ".join(ring) for ring in rings]),
        "circles with imports inside functions": (len(late), [" - ".join(ring) for ring in late]),
        "uses of .extra": (len(found := places(all_files, "extra")), found),
        "is (not) None in assess": (len(found := places(all_files, "is None", "assess")), found),
        "physics that nothing reaches": (len(found := unreached(all_files)), found),
        "type: ignore": (len(found := places(all_files, "type: ignore")), found),
        f"files under {SMALL} lines with one importer next door": (len(small), [file.name for file in small]),
    }


def main() -> None:
    """Print them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--where", action="store_true", help="name the places behind each figure")
    where = parser.parse_args().where
    for name, (count, found) in figures(files()).items():
        print(f"{count:7d}  {name}")
        if where:
            print(*(f"           {each}" for each in found), sep="\n")


if __name__ == "__main__":
    main()

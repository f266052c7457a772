"""Does a wrong formula fail a test? Seeded mutants of assess and the physics, run on demand.

``python -m tests.mutants`` makes 80 of them (``--seed``, ``--count``), one at a time in a copy of the source, and runs the tests
that are for the mutated room, the nearest first, until one fails. ``--part 1/4`` takes a quarter of them; ``--list`` only names
them; ``--only 12,40`` takes those. Some minutes a part. A mutant that survives is printed with its line before and after; those
looked at and found equal in effect stand in ``equal_mutants.toml`` with the reason.

A mutant swaps one operator (+ -, * /, ** *), turns one comparison round, or changes one constant by a tenth (a whole number by
one), in code that computes: not in words, errors, indices, annotations or imports.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

ROOT = Path(__file__).parents[1]
SRC = ROOT / "src" / "splitline"
PHYSICS = ("bolting", "tightening", "lifting", "fitting")
PATIENCE = 240.0  # s for one ring of tests; a mutant that hangs it is killed

OPERATORS: dict[type[ast.operator], ast.operator] = {
    ast.Add: ast.Sub(), ast.Sub: ast.Add(), ast.Mult: ast.Div(), ast.Div: ast.Mult(), ast.Pow: ast.Mult(),
}  # fmt: skip
COMPARISONS: dict[type[ast.cmpop], ast.cmpop] = {
    ast.Lt: ast.GtE(), ast.LtE: ast.Gt(), ast.Gt: ast.LtE(), ast.GtE: ast.Lt(), ast.Eq: ast.NotEq(), ast.NotEq: ast.Eq(),
}  # fmt: skip

# Room or file -> tests that are for it, the nearest first. A path may hold stars.
TESTS: dict[str, tuple[str, ...]] = {
    "bolting": ("bolting", "published", "assess/test_joint*", "assess", "tellers"),
    "tightening": ("tightening", "published", "assess/test_tightening*", "assess"),
    "lifting": ("lifting", "published/test_lifting*", "assess/test_lift*", "assess", "tellers"),
    "fitting": ("fitting", "published/test_fit*", "assess/test_fit*", "assess/test_insertion*", "assess"),
    "assess/joint": ("assess/test_joint*", "published/test_joint*", "assess", "tellers", "report/test_joint_sheet.py"),
    "assess/settings": ("tellers", "assess", "bolting"),
    "assess/tightening": ("assess/test_tightening*", "assess", "tellers"),
    "assess/tightening_list": (
        "commands/test_order.py",
        "assess/test_tightening*",
        "report/test_joint_sheet.py",
        "assess",
    ),
    "assess/lift": ("assess/test_lift*", "assess", "tellers"),
    "assess/step": ("assess/test_step*", "assess/test_window*", "ui/test_work_tests.py", "assess"),
    "assess/fit": ("assess/test_fit*", "published/test_fit*", "assess", "tellers"),
    "assess/insertion": ("assess/test_insertion*", "assess"),
    "assess/clearance": ("assess/test_clearance*", "assess"),
    "assess": ("assess", "tellers", "commands/test_check_broken.py", "docs/test_method.py"),
}

# ``file: line before => after`` of mutants that change nothing anybody could be told, with the reason.
EQUAL: dict[str, str] = {
    each["change"]: each["why"]
    for each in tomllib.loads((ROOT / "tests" / "equal_mutants.toml").read_text("utf-8"))["mutant"]
}


@dataclass(frozen=True)
class Mutant:
    """One change of one file."""

    path: Path
    source: bytes  # of the whole file
    line: int
    column: int
    end: tuple[int, int]
    new: str

    @property
    def name(self) -> str:
        return self.path.relative_to(SRC).as_posix()

    @property
    def text(self) -> str:
        """The file with the change in it."""
        lines = self.source.splitlines(keepends=True)
        start = sum(map(len, lines[: self.line - 1])) + self.column
        end = sum(map(len, lines[: self.end[0] - 1])) + self.end[1]
        whole = b"".join(lines)
        return (whole[:start] + self.new.encode() + whole[end:]).decode()

    @property
    def told(self) -> str:
        """``file: before => after``, the same as long as the line is."""
        before = self.source.splitlines()[self.line - 1 : self.end[0]]
        old = b"\n".join(before)
        last = len(b"\n".join(before[:-1])) + 1 if len(before) > 1 else 0
        new = old[: self.column] + self.new.encode() + old[last + self.end[1] :]
        return f"{self.name}: {' '.join(old.decode().split())} => {' '.join(new.decode().split())}"


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Every mutant a file has, in its order."""
    source = path.read_bytes()
    for node in _computing(ast.parse(source)):
        new: ast.expr | None = None
        if isinstance(node, ast.BinOp) and type(node.op) in OPERATORS:
            new = ast.BinOp(node.left, OPERATORS[type(node.op)], node.right)
        elif isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARISONS:
            new = ast.Compare(node.left, [COMPARISONS[type(node.ops[0])], *node.ops[1:]], node.comparators)
        elif isinstance(node, ast.Constant) and isinstance(node.value, float) and node.value != 0:
            new = ast.Constant(float(f"{node.value * 1.1:.12g}"))
        elif isinstance(node, ast.Constant) and type(node.value) is int and node.value != 0:
            new = ast.Constant(node.value + 1)
        if new is not None:
            assert node.end_lineno is not None
            assert node.end_col_offset is not None
            text = f"({ast.unparse(new)})"
            yield Mutant(path, source, node.lineno, node.col_offset, (node.end_lineno, node.end_col_offset), text)


def _computing(node: ast.AST) -> Iterator[ast.expr]:
    """Expressions that compute, words and errors left out."""
    for field, value in ast.iter_fields(node):
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or isinstance(
                child, ast.Raise | ast.JoinedStr | ast.Import | ast.ImportFrom
            ):
                continue
            if field in ("annotation", "returns", "slice", "decorator_list", "keywords"):
                if field == "keywords" and isinstance(child, ast.keyword):
                    yield from _computing(child)
                continue
            if isinstance(child, ast.BinOp) and _is_words(child):
                continue
            if isinstance(child, ast.expr):
                yield child
            yield from _computing(child)


def _is_words(node: ast.BinOp) -> bool:
    """Texts or rows put together, not numbers."""
    parts = (node.left, node.right)
    return any(
        isinstance(part, ast.JoinedStr | ast.List | ast.Tuple | ast.ListComp)
        or (isinstance(part, ast.Constant) and isinstance(part.value, str))
        for part in parts
    )


def chosen(seed: int, count: int) -> list[Mutant]:
    """Half in assess, half in the physics; every mutant as likely as another of its half."""
    halves: list[list[Mutant]] = [[], []]
    for path in sorted(SRC.rglob("*.py")):
        room = path.relative_to(SRC).parts[0]
        if room == "assess" or room in PHYSICS:
            halves[room in PHYSICS] += mutants_of(path)
    rng = random.Random(seed)
    found = [each for half in halves for each in rng.sample(half, min(count // 2, len(half)))]
    rng.shuffle(found)
    return found


def rings_of(name: str) -> Iterator[list[str]]:
    """Test files for a source file in rings, the nearest first, each file once."""
    rule = max((each for each in TESTS if name.startswith(each)), key=len)
    known: set[Path] = set()
    for pattern in TESTS[rule]:
        found: list[Path] = []
        for path in sorted((ROOT / "tests").glob(pattern)):
            found += sorted(path.glob("test_*.py")) if path.is_dir() else [path]
        if new := [path for path in found if path not in known]:
            known |= set(new)
            yield list(map(str, new))


def killed(mutant: Mutant, copy: Path) -> bool:
    """Whether a test fails, or hangs, by it. ``copy``: a folder with a copy of the source."""
    target = copy / "splitline" / mutant.name
    target.write_text(mutant.text, "utf-8")
    _forget(target)
    try:
        return any(map(partial(_fails, copy), rings_of(mutant.name)))
    finally:
        target.write_bytes(mutant.source)
        _forget(target)


def _fails(copy: Path, tests: list[str]) -> bool:
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    env = os.environ | {"PYTHONPATH": str(copy), "OPENBLAS_NUM_THREADS": "1"}
    try:
        run = subprocess.run(
            command,
            cwd=ROOT,
            env=env,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=PATIENCE,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return True
    return run.returncode != 0


def _forget(source: Path) -> None:
    """Bytecode is told apart by whole seconds and sizes only."""
    for path in source.parent.glob(f"__pycache__/{source.stem}.*.pyc"):
        path.unlink()


def main() -> None:
    """Run the part asked for and print what survived."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=80)
    parser.add_argument("--part", default="1/1", metavar="N/OF")
    parser.add_argument("--only", default="", metavar="N,N,...")
    parser.add_argument("--list", action="store_true")
    args = parser.parse_args()
    part, parts = map(int, args.part.split("/"))
    every = list(enumerate(chosen(args.seed, args.count), 1))
    mine = [(n, each) for n, each in every if n % parts == part % parts]
    if args.only:
        wanted = {int(number) for number in args.only.split(",")}
        mine = [(n, each) for n, each in every if n in wanted]
    if args.list:
        print(*(f"{n:3d}  {each.name}:{each.line}  {each.told.partition(': ')[2]}" for n, each in mine), sep="\n")
        return
    counts = {"killed": 0, "equal": 0, "SURVIVED": 0}
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        shutil.copytree(SRC, copy / "splitline", ignore=shutil.ignore_patterns("__pycache__"))
        for number, mutant in mine:
            end = "equal" if mutant.told in EQUAL else "killed" if killed(mutant, copy) else "SURVIVED"
            counts[end] += 1
            print(f"{number:3d} {end:<8}  {mutant.name}:{mutant.line}  {mutant.told.partition(': ')[2]}", flush=True)
    print(", ".join(f"{count} {end}" for end, count in counts.items()))


if __name__ == "__main__":
    main()

"""The house stands as drawn: who may import whom, what starting loads, and no file that has outgrown its subject."""

from __future__ import annotations

import ast
import functools
import subprocess
import sys
from pathlib import Path

import pytest

from tests import house

SRC = Path(__file__).parents[1] / "src" / "splitline"
# Floors from the ground up; a room may import rooms of its own or a lower floor.
FLOORS = [
    {"errors", "unit_factors", "unit_registry", "whole_file"},
    {"units", "outlet", "output_file", "toml_bounds"},
    {"library"},
    {"bolting", "tightening", "lifting", "fitting"},
    {"plan"},
    {"record"},
    {"assess"},
    {"report", "ui"},
    {"serve"},
    {"commands"},
    {"cli"},
    {"__main__", "__init__"},  # the public names, each fetched when it is asked for
]
PHYSICS = FLOORS[3]
LEVEL = {room: level for level, rooms in enumerate(FLOORS) for room in rooms}
FILES = sorted(SRC.rglob("*.py"))
LONGEST = 500  # lines of a file: one subject in 150 to 500


def room_of(path: Path) -> str:
    part = path.relative_to(SRC).parts[0]
    return part.removesuffix(".py")


@functools.cache
def imports_of(path: Path) -> frozenset[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return frozenset(found)


def goes_down(own: str, name: str) -> bool:
    """Whether a file of room ``own`` may import ``name``."""
    other = name.split(".")[1] if name.startswith("splitline.") else own
    if other == own or other not in LEVEL:
        return True
    return LEVEL[other] < LEVEL[own] and not (own in PHYSICS and other in PHYSICS)


def test_rooms_import_downwards_only() -> None:
    assert goes_down("assess", "splitline.bolting.thread")
    assert not goes_down("bolting", "splitline.assess.joint")
    assert not goes_down("bolting", "splitline.lifting.hang")
    offenders = [
        f"{path.relative_to(SRC)} imports {name}"
        for path in FILES
        for name in imports_of(path)
        if not goes_down(room_of(path), name)
    ]
    assert offenders == []


def test_physics_is_pure() -> None:
    outside = {
        "pint",
        "pathlib",
        "tomllib",
        "pydantic",
        "textual",
        "rich",
        "splitline.units",
        "splitline.library",
        "os",
        "io",
    }
    offenders = [(str(p.relative_to(SRC)), outside & imports_of(p)) for p in FILES if room_of(p) in PHYSICS]
    assert [each for each in offenders if each[1]] == []


def test_pint_lives_in_one_file() -> None:
    users = {str(p.relative_to(SRC)) for p in FILES if "pint" in {n.split(".")[0] for n in imports_of(p)}}
    assert users == {"unit_registry.py"}


def test_files_keep_to_one_subject() -> None:
    lengths = {str(path.relative_to(SRC)): len(path.read_text("utf-8").splitlines()) for path in FILES}
    assert {name: length for name, length in lengths.items() if length > LONGEST} == {}


def loaded_by(code: str) -> set[str]:
    run = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print('\\n'.join(sys.modules))"],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    return {line.split(".")[0] for line in run.stdout.splitlines()}


def test_the_command_line_starts_light() -> None:
    loaded = loaded_by("import splitline.cli")
    assert not loaded & {"numpy", "pint", "pydantic", "textual", "rich", "tomlkit", "fpdf", "aiohttp"}


def test_a_check_loads_no_screen_and_no_printer() -> None:
    loaded = loaded_by("from splitline.cli import main; main(['check', 'plans/k410-closeup.toml', '--json'])")
    assert "numpy" in loaded
    assert not loaded & {"textual", "fpdf", "tomlkit", "aiohttp", "pint"}


HEAVY = {
    "textual",
    "rich",
    "fpdf",
    "tomlkit",
    "aiohttp",
    "segno",
    "jinja2",
    "PIL",
    "fontTools",
    "asyncio",
    "multiprocessing",
}


@pytest.mark.parametrize("command", [["check"], ["check", "--json"], ["order"], ["kit"]], ids=" ".join)
def test_what_prints_text_loads_nothing_heavy(command: list[str]) -> None:
    name, *options = command
    item = ["discharge-head"] if name == "order" else []
    arguments = [name, "plans/k410-closeup.toml", *item, *options]
    assert not loaded_by(f"from splitline.cli import main; main({arguments!r})") & HEAVY


def test_reading_a_plan_needs_no_numpy() -> None:
    """Numbers are converted without arrays; numpy comes with the physics."""
    loaded = loaded_by("import splitline.plan.read, splitline.library.store, splitline.assess.assessment")
    assert not loaded & (HEAVY | {"numpy", "pint"})


def test_no_files_import_each_other() -> None:
    """At the top, that is; ``python -m tests.house --where`` names the circles that close inside functions."""
    assert house.circles({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}) == [["a", "b", "c"]]
    assert house.circles(house.graph(house.files(), inside=False)) == []


def test_the_figures_of_the_house_count_what_they_say(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(house, "SRC", tmp_path)
    (tmp_path / "assess").mkdir()
    (tmp_path / "assess" / "one.py").write_text(
        '"""Words."""\nfrom splitline.assess.two import b\n\n# none: type: ignore\nX = b.extra is None  # type: ignore[attr]\n'
    )
    (tmp_path / "assess" / "two.py").write_text(
        "def b():\n    import os\n    from splitline.assess import one\n    one.x\n"
    )
    found = {name.partition(" (")[0]: count for name, (count, _) in house.figures(house.files()).items()}
    assert found["lines"] == 9
    assert found["lines of code"] == 6
    assert (found["files"], found["longest file"]) == (2, 5)
    assert (found["imports inside functions"], found["of these, of Splitline itself"]) == (2, 1)
    assert (found["import circles"], found["circles with imports inside functions"]) == (0, 1)
    assert (found["uses of .extra"], found["type: ignore"]) == (1, 1)
    assert found["files under 100 lines with one importer next door"] == 2

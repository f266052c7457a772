"""Words the program does not say, and names it does not carry."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "splitline"


def told() -> dict[str, str]:
    """Every text the program may show: its strings without docstrings, and its data."""
    found: dict[str, str] = {}
    for path in SOURCE.rglob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        docs = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        texts = [
            n.value
            for n in ast.walk(tree)
            if isinstance(n, ast.Constant) and isinstance(n.value, str) and id(n) not in docs
        ]
        found[str(path.relative_to(ROOT))] = "\n".join(texts)
    for path in SOURCE.rglob("*.toml"):
        found[str(path.relative_to(ROOT))] = path.read_text("utf-8")
    return found


def pages() -> dict[str, str]:
    """Read by people: the guides and the demo plans."""
    paths = [*(ROOT / "docs").glob("*.md"), *(ROOT / "plans").glob("*.toml"), ROOT / "README.md"]
    return {path.name: path.read_text("utf-8") for path in paths}


def test_what_was_not_looked_up_is_said_in_plain_words() -> None:
    """The verification page tells which and why, and says "from memory" there."""
    shown = {**told(), **pages()}
    assert [
        name
        for name, text in shown.items()
        if "from memory" in text and name not in ("verification.md", "method.md", "api.md")
    ] == []


def test_no_font_or_alloy_of_others_is_named() -> None:
    fonts = re.compile("|".join(("Roboto", "Deja" + "Vu", "Fira", "Menlo", "Consolas", "Mo" + "nel")), re.IGNORECASE)
    shown = {**told(), **pages()}
    shown |= {path.name: path.read_text("utf-8") for path in (ROOT / "docs").glob("*.svg")}
    page = SOURCE / "serve" / "page"
    shown |= {path.name: path.read_text("utf-8") for path in page.iterdir() if path.suffix in (".js", ".css", ".html")}
    assert {name: fonts.findall(text) for name, text in shown.items() if fonts.search(text)} == {}


def test_every_notice_of_the_fonts_stands_beside_them() -> None:
    for folder, holders in (("report/fonts", ("Bitstream", "Tavmjong Bah")), ("serve/page", ("Bitstream",))):
        notice = (SOURCE / folder / "FONT.md").read_text("utf-8")
        assert all(re.search(rf"Copyright \(c\) 20\d\d by {holder}", notice) for holder in holders)


def test_the_licence_goes_with_the_package() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    assert "docs/LICENSE.md" in project["project"]["license-files"]
    assert all((ROOT / name).is_file() for name in project["project"]["license-files"])
    assert "docs" in project["tool"]["hatch"]["build"]["targets"]["sdist"]["include"]
    assert "Splitline contributors" in (ROOT / "docs" / "LICENSE.md").read_text("utf-8")

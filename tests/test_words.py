"""Words the program does not say, and names it does not carry."""

from __future__ import annotations

import ast
import re
import tomllib
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "splitline"


def told(between: str = "\n") -> dict[str, str]:
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
        found[str(path.relative_to(ROOT))] = between.join(texts)
    for path in SOURCE.rglob("*.toml"):
        found[str(path.relative_to(ROOT))] = path.read_text("utf-8")
    return found


def pages() -> dict[str, str]:
    """Read by people: the guides and the demo plans."""
    paths = [*(ROOT / "docs").glob("*.md"), *(ROOT / "plans").glob("*.toml"), ROOT / "README.md"]
    return {path.name: path.read_text("utf-8") for path in paths}


# One thing, one word: what was said otherwise once, by the word that stands for it now. Searched in every text the program may
# show and in every page and plan a person reads; names of the code, of the plan file and of the record are not texts.
ONE_WORD = {
    "interference": r"\boverlap(?!ping| each| another)\b(?<!they overlap)",
    "time limit": r"times to keep|\btime windows?\b",
    "upend": r"\bturn(?:ed|ing|s)?(?: it| them)? up\b(?<!counts up)",
    "centre of gravity": r"centre of mass|center of (?:mass|gravity)",
    "tolerance": r"radius of doubt|\bover the doubts?\b|tilt within the doubts?|\bdoubt (?:of|about) the centre|\bcentre's doubt\b",
    "check round": r"finishing[ -]rounds?",
    "large end": r"(?:thick|big|wide) end\b",
    "push-in": r"\bpush(?:ed|es)?(?: it)?[ -]up\b",
    "pressure lost, pressure restored": r"\bholds? broken\b|\bram holds again\b|\bhold begins anew\b",
    "again": r"\banew\b",
    "record code": r"entries, head\b|\bcheck ?marks? of the record\b|; head \b",
    "DO NOT TIGHTEN: plan incomplete": r"[Nn]ot to be tightened",
    "needs attention": r"^to look at$",
    "1st percentile, chance under, chance over": r"\b1 in 100\b|\bbelow need\b|^over yield$",
    "alternatives": r"\bother ways\b",
    "leave without storing": r"\bforget it\b(?<!never forget it)",
    "light and dark": r"paper and night|day and night",
    "undo, undone": r"takes? (?:the last change|changes|any change) back|u (?:takes|brings) (?:it|that) back",
    "deferred": r"\bset[ -]aside\b",
    "correction": r"\bwrong entr(?:y|ies)\b",
    "job log": r"[Ww]ritten down on the job",
}
# What is no text for a person, or stays: names kept by records of before, and what a pattern takes for another thing.
STAYS = {
    "src/splitline/record/entry.py": {"hold broken", "set-aside"},  # as records of 0.1 say it
    "src/splitline/ui/work/holds.py": {"hold begins anew", "anew"},  # as records of 0.1 say it
    "src/splitline/record/fact_kinds.py": {"set aside", "wrong entry"},  # kinds of facts: names of the JSON
    "src/splitline/record/facts.py": {"set aside"},  # key of an acceptance in the record
    "src/splitline/record/progress.py": {"set aside"},  # key of an acceptance in the record
    "CHANGELOG.md": {"wrong entry", "set aside"},  # says what a word was called before
}


@cache
def each_text() -> dict[str, list[str]]:
    """The texts of :func:`told` and :func:`pages`, one by one; pages without what they quote from the file or the program."""
    found = {name: text.split(JOINT) for name, text in told(JOINT).items()}
    for name, text in pages().items():
        prose = re.sub(r"```.*?```|`[^`]*`", "", text, flags=re.DOTALL) if name.endswith(".md") else text
        found[name] = [" ".join(prose.split())]
    return found


JOINT = "\0"


@pytest.mark.parametrize("word", ONE_WORD)
def test_no_thing_has_two_words(word: str) -> None:
    """Lists every place that says it otherwise than ``word``."""
    pattern = re.compile(ONE_WORD[word], re.IGNORECASE)
    places = {
        name: [text[max(found.start() - 30, 0) : found.end() + 30] for text in texts for found in pattern.finditer(text)
               if found.group().casefold() not in STAYS.get(name, ())]
        for name, texts in each_text().items()
    }  # fmt: skip
    assert {name: found for name, found in places.items() if found} == {}


def test_columns_of_sheets_are_named_by_nouns() -> None:
    """Action, result, duration, reading, item, reason: no "Says", "Do", "Takes", "Read", "What", "Why"."""
    banned = {"Says", "Do", "Takes", "Read", "What", "Why", "Window"}
    heads: dict[str, set[str]] = {}
    for path in (SOURCE / "report" / "sheets").glob("[!d]*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, (ast.Tuple, ast.List)):
                texts = {each.value for each in node.elts if isinstance(each, ast.Constant)}
                heads.setdefault(path.name, set()).update(texts & banned)
    assert {name: found for name, found in heads.items() if found} == {}


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

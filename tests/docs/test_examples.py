"""Every command shown in the guides and in README runs, and prints what the page says it prints."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from splitline.cli import main
from splitline.commands import COMMANDS
from splitline.plan.read import read_text
from splitline.ui.actions import commands_of
from splitline.ui.work import flows, reasons
from tests.docs.keys import MARKS, PLANNER, page
from tests.docs.reading import DOCS, ROOT, examples, plans, squeezed
from tests.docs.shift import worked

GUIDES = (DOCS / "planner.md", DOCS / "fitter.md", ROOT / "README.md")
SCREENS = ("serve",)  # waits for tablets: its options are read, it is not started


def run(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> str:
    """Run one command; its output squeezed. Exit 0 or 1: answered, or answered that something fails."""
    try:
        code = main(list(words))
    except SystemExit as end:
        code = end.code  # type: ignore[assignment]
    out = capsys.readouterr()
    assert code in (0, 1), f"splitline {' '.join(words)}\n{out.err}"
    return squeezed(out.out)


@pytest.mark.parametrize("guide", GUIDES, ids=lambda path: path.name)
def test_the_commands_of_a_page_print_what_it_says(
    guide: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(ROOT / "plans", tmp_path / "plans")
    if guide.name == "fitter.md":
        worked(Path(shutil.copy(ROOT / "plans" / "k410-closeup.toml", tmp_path)))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "200")  # a narrow terminal wraps lines round their figure at the right
    ran = 0
    for example in examples(guide):
        printed = ""
        for words in example.commands:
            if words and words[0] in COMMANDS and words[0] not in SCREENS:
                printed += " " + run(words, capsys)
                ran += 1
        for line in example.printed:
            assert line in printed, f"{guide.name}: {line}\nin\n{printed[:3000]}"
    assert ran >= 3


def test_guides_assert_a_number_each() -> None:
    for guide in GUIDES[:2]:
        assert sum(bool(re.search(r"\d", line)) for one in examples(guide) for line in one.printed) >= 3, guide.name


def test_the_plan_examples_read() -> None:
    for guide in GUIDES[:2]:
        for text in plans(guide):
            whole = text if "[plan]" in text else f'format = 1\n[plan]\ntitle = "Example"\n{text}'
            draft = read_text(whole)
            unknown = [p.message for p in draft.problems if "head-cover" not in p.message]
            assert unknown == [], guide.name


def test_the_keys_are_those_of_the_program() -> None:
    for guide in MARKS:
        assert page(guide, guide.read_text("utf-8")) == guide.read_text("utf-8"), "run: python -m tests.docs.keys"
    text = PLANNER.read_text("utf-8")
    printed = {command.printed for place in ("plan", "view") for command in commands_of(place)}
    said = set(re.findall(r"`([a-z+\-/?<>])`", text.split("<!-- end of keys -->")[1]))
    assert said <= printed


def test_pages_link_to_what_is_there() -> None:
    for guide in (*GUIDES, *sorted(DOCS.glob("*.md"))):
        for link in re.findall(r"\]\(([^)#]+)\)", guide.read_text("utf-8")):
            assert "://" not in link, f"{guide.name}: {link}"
            assert (guide.parent / link).exists(), f"{guide.name}: {link}"


def test_the_figure_of_the_spigot() -> None:
    assert "0.30 mm on 60 mm is 2.5 mm/m" in squeezed((DOCS / "planner.md").read_text("utf-8"))
    assert 1000 * 0.5 * 0.30 / 60 == pytest.approx(2.5)  # noqa: SIM300


def test_json_of_the_first_example_is_that_of_the_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "barrel-head-cover", "cover.toml"]) == 0
    capsys.readouterr()
    assert main(["check", "cover.toml", "--json"]) == 0
    results = json.loads(capsys.readouterr().out)["joints"][0]["results"]
    assert results["torque"] == pytest.approx(3482, abs=0.5)
    assert results["preload"] == pytest.approx(553.2e3, abs=50)


def test_what_the_fitter_guide_finds_under_more_is_there() -> None:
    source = Path(str(flows.__file__)).read_text("utf-8")
    text = squeezed((DOCS / "fitter.md").read_text("utf-8"))
    named = re.findall(r"\*\*More\*\*, \*\*([^*]+)\*\*", text)
    assert {"Defer", "From paper", "Witness"} <= set(named)
    for label in named:
        assert f'"{label}"' in source, label
    assert all(
        usual[0] == "DANGER: make safe first" for usual in (reasons.STOPPED, reasons.STOPPED_LIFT, reasons.STOPPED_FIT)
    )

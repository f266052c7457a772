"""Starting plans: whole, without a mistake, every value marked as an example."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import PlanError
from splitline.plan.read import open_plan, read_text
from splitline.plan.scan import scan
from splitline.plan.start import start_plan
from splitline.plan.starting import TEMPLATES, starting_text


@pytest.mark.parametrize("template", TEMPLATES)
def test_no_mistakes_in_it(template: str) -> None:
    draft = read_text(starting_text(template))
    assert draft.problems == ()
    assert len(draft.plan.steps) >= 3
    assert len(draft.plan.joints) + len(draft.plan.lifts) >= 1


@pytest.mark.parametrize("template", TEMPLATES)
def test_every_quantity_is_marked_as_an_example(template: str) -> None:
    text = starting_text(template)
    for line in scan(text):
        row = text[line.start : line.end]
        value = text[line.value[0] : line.value[1]]
        if line.form == "pair" and any(c.isdigit() for c in value) and line.keys != ("format",):
            structural = line.keys[0] in (
                "passes",
                "finish_rounds",
                "quantity",
                "spare",
                "from",
                "tag",
                "source",
                "text",
            )
            assert "# example" in row or structural, row
    assert 'Every value with "example" behind it is invented' in text


def test_written_once_and_never_over_a_file(tmp_path: Path) -> None:
    path = tmp_path / "k-201.toml"
    draft = start_plan("single-lift", path)
    assert path.read_text("utf-8") == starting_text("single-lift")
    assert open_plan(path).tree == draft.tree
    with pytest.raises(PlanError, match="is already there"):
        start_plan("single-lift", path)
    (tmp_path / "folder.toml").mkdir()
    with pytest.raises(PlanError, match="already there"):
        start_plan("single-lift", tmp_path / "folder.toml")


def test_refused_with_what_to_write(tmp_path: Path) -> None:
    with pytest.raises(PlanError, match='did you mean "single-lift"'):
        start_plan("singlelift", tmp_path / "x.toml")
    with pytest.raises(PlanError, match="there are: barrel-head-cover, split-casing, single-lift"):
        start_plan("zzz", tmp_path / "x.toml")
    with pytest.raises(PlanError, match=r"ends in \.toml"):
        start_plan("single-lift", tmp_path / "x.txt")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("template", TEMPLATES)
def test_only_what_is_entered_on_the_job_is_open(template: str) -> None:
    """Example values are sensible ones: nothing fails or is missing, only tool, tag and bag are read on the job."""
    from datetime import date

    from splitline.assess.assessment import assess
    from splitline.library.store import Library

    found = assess(read_text(starting_text(template)).plan, Library.load(), date(2027, 1, 4))
    assert found.verdict == "on-site"

"""docs/plan-file.md says what the declarations say."""

from __future__ import annotations

import re
from pathlib import Path

from splitline.plan.describe import plan_file_page
from splitline.plan.fields import every_field
from splitline.plan.read import read_text

PAGE = Path(__file__).parents[2] / "docs" / "plan-file.md"


def test_the_page_is_in_step() -> None:
    said = "run: python -m splitline.plan.describe docs/plan-file.md"
    assert PAGE.read_text("utf-8") == plan_file_page(), said


def test_the_plan_in_it_reads_without_a_mistake() -> None:
    example = re.search(r"```toml\n(.*?)```", PAGE.read_text("utf-8"), re.S)
    assert example is not None
    draft = read_text(example.group(1))
    assert draft.problems == ()
    assert draft.plan.joints[0].layout is not None
    assert draft.plan.joints[0].layout.count == 24


def test_every_key_and_heading_stands_in_it() -> None:
    page = plan_file_page()
    for path, field in every_field():
        assert (
            f"`[[{'.'.join(map(str, path))}]]`"
            if field.is_list
            else f"`[{'.'.join(map(str, path))}]`"
            if field.is_table
            else f"| `{field.name}` |"
        ) in page
        assert field.words

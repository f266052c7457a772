"""A new plan file from a starting plan."""

from __future__ import annotations

import difflib
from pathlib import Path

from splitline.errors import PlanError
from splitline.plan.draft import Draft, Origin
from splitline.plan.read import read_text
from splitline.plan.save import free_for_a_new_plan, save_as
from splitline.plan.starting import TEMPLATES, starting_text


def start_plan(template: str, path: Path) -> Draft:
    """Write a starting plan to a new file. PlanError: unknown template, a file already there, a folder that is not."""
    if template not in TEMPLATES:
        near = difflib.get_close_matches(template, TEMPLATES, 1)
        hint = f'did you mean "{near[0]}"?' if near else f"there are: {', '.join(TEMPLATES)}"
        raise PlanError(f'no starting plan is called "{template}"; {hint}')
    free_for_a_new_plan(path)
    draft = read_text(starting_text(template), path)
    return save_as(Draft(draft.tree, Origin(None, None, draft.text, draft.tree), draft.names), path)

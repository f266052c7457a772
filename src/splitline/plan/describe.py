"""The page about the plan file, written from the declarations: ``python -m splitline.plan.describe docs/plan-file.md``."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from splitline.library.store import SAME
from splitline.plan.declare import Table
from splitline.plan.fields import Declared, fields_of
from splitline.plan.leaf import Dim
from splitline.plan.model import KINDS, PlanInfo
from splitline.plan.toml_text import heading_text
from splitline.units import KINDS as QUANTITIES

_INTRO = """\
# The plan file

<!-- Written from the declarations by `python -m splitline.plan.describe docs/plan-file.md`; a test keeps it in step. -->

A plan is one TOML file that a person can read and write. This is a whole plan:

```toml
format = 1

[plan]
title = "Head cover close-up"

[[joint]]
id = "head-cover"
title = "Head cover to casing"

[joint.bolting]
thread = "M48x3"
grade = "ASTM A193 B7"
kind = "stud"
clamp_length = "268 mm"

[joint.friction]
lubricant = "molybdenum disulfide paste"

[joint.layout]
shape = "circle"
bolts = 24
diameter = "1180 mm"

[joint.target]
bolt_stress = "345 MPa"

[[step]]
id = "pull-down"
text = "Pull down the head cover"
joint = "head-cover"
hold = "supervisor"
```

`splitline new barrel-head-cover FILE` writes a longer one to start from, `splitline check FILE` reads it and prints every
check, `splitline schema -o splitline-plan.schema.json` gives an editor what it needs to complete keys (first line of the
plan: `#:schema splitline-plan.schema.json`).

## How it is read

- A **value with a dimension** is a text with its unit: `"268 mm"`, `"1 1/2 in"`, `"165 bar"`. Points for
  decimals, nothing between thousands. A bare number is a mistake, and so is a unit of another kind: a torque
  is not an energy, a gauge pressure not an absolute one, a temperature not a temperature difference, and
  `ton` says neither 1000 kg nor 2000 lb.
- **Counts, shares and factors** are bare numbers. Dates are written without quotes: `2027-03-01`.
- **Ids** are lower-case letters, digits and hyphens, each used once in the plan.
- An **unknown key** is a mistake; the nearest known one is named. All mistakes are reported together, each
  with its line and place, as in `line 12: joint "head-cover" › bolting › clamp_length: ...`, and `splitline
  check` then ends with exit code 2. The screens open such a plan, show the mistakes and let them be mended.
- Only what is marked **required** must be there. Whatever else a check needs and does not find is `missing`
  or `on-site` in that check, or a default that is printed with its basis.
- Names of threads, grades, lubricants, slings and so on come from the library, and from a site's own
  `library.toml` beside the plan.

## How it is written

- Only what was edited changes: comments, order, line ends and the way a value was typed stay. A comment block
  directly above a heading belongs to that table and goes where it goes; a comment with blank lines around it
  stays where it is.
- The file is replaced as a whole or not at all; the one before it stays as `NAME.toml.bak`. If somebody else
  has changed it since it was opened, nothing is written and the difference is shown. Unsaved work is kept in
  `NAME.recovery`.
- A file that cannot be read is never written over.

## Units

| kind | as in | units |
| --- | --- | --- |
"""


def plan_file_page() -> str:
    """The whole page in Markdown."""
    return "".join(_page())


def _page() -> Iterator[str]:
    yield _INTRO
    for kind in QUANTITIES.values():
        units = [*kind.units, *(QUANTITIES["mass"].units if kind.name == "capacity" else ())]
        yield f"| {kind.words} | `{kind.example}` | {' '.join(f'`{unit}`' for unit in units)} |\n"
    yield "\n## Tables\n\n"
    yield "`needed by` names the results and checks that say `missing` or `on-site` without it.\n"
    yield from _table(("plan",), PlanInfo, False)
    for kind_name, model in KINDS.items():
        yield from _table((kind_name,), model, True)


def _table(path: tuple[str, ...], model: type[Table], is_list: bool) -> Iterator[str]:
    heading = heading_text(path, is_list, "")
    yield f"\n{'#' * min(2 + len(path), 5)} `{heading}`\n\n{(model.__doc__ or '').strip().splitlines()[0]}\n\n"
    fields = fields_of(model)
    own = [field for field in fields.values() if not field.is_table]
    if own:
        yield "| key | what | written | default, usual range | needed by |\n| --- | --- | --- | --- | --- |\n"
        yield from map(_row, own)
    for field in fields.values():
        if field.model is not None:
            yield from _table((*path, field.name), field.model, field.is_list)


def _row(field: Declared) -> str:
    said = []
    if field.default_said:
        said.append(f"default: {field.default_said}")
    if field.usual:
        said.append(f"usual: {field.usual}")
    if field.source:
        said.append(f"({field.source})")
    words = f"**required** — {field.words}" if field.required else field.words
    needed = " ".join(f"`{key}`" for key in field.needed_by)
    return f"| `{field.name}` | {_cell(words)} | {_cell(_written(field))} | {_cell('; '.join(said))} | {needed} |\n"


def _written(field: Declared) -> str:
    if field.choices:
        return " ".join(f"`{choice}`" if choice.isdigit() else f'`"{choice}"`' for choice in field.choices)
    if field.library:
        return f"a name of the library's `{SAME.get(field.library, field.library)}`"
    if isinstance(field.leaf, Dim):
        return f"{QUANTITIES[field.leaf.kind].words}, `{field.example}`"
    kinds = {"text": "text", "number": "number", "count": "whole number", "yes/no": "`true` or `false`"}
    return kinds.get(field.kind, f"`{field.example}`")


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(plan_file_page(), "utf-8")

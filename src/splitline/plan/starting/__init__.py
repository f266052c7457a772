"""Starting plans: whole plans whose values are marked as examples to replace."""

from __future__ import annotations

from importlib.resources import files

# Template -> one line of help.
TEMPLATES: dict[str, str] = {
    "barrel-head-cover": "a head cover on a circle of large studs: bolting, cases, tool, order of work",
    "split-casing": "an upper half casing: split line, zones, four-leg lift, sealing compound window",
    "single-lift": "one load on one hook with four legs and a crane",
}


def starting_text(template: str) -> str:
    """The text of a starting plan. KeyError for an unknown name."""
    if template not in TEMPLATES:
        raise KeyError(template)
    return files(__package__).joinpath(f"{template}.toml").read_text("utf-8")

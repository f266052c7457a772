"""Older formats of the plan file, brought to the present one in memory; the file changes only when it is saved."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from splitline.plan.edits import Tree
from splitline.plan.model import FORMAT

Step = Callable[[Tree], Tree]
# Format -> what turns a plan of it into the next format. A step gives a new tree and leaves the old one alone.
STEPS: Mapping[int, Step] = {}


def migrated(tree: Tree, steps: Mapping[int, Step] = STEPS, newest: int = FORMAT) -> Tree:
    """The tree in the newest format; the same object when there is nothing to do."""
    version = tree.get("format")
    while isinstance(version, int) and not isinstance(version, bool) and version < newest and version in steps:
        tree = {**steps[version](tree), "format": version + 1}
        version += 1
    return tree


# Gaskets that once carried a trademark for the alloy: the rest of the name tells them.
_ALLOY = re.compile(
    r"(spiral wound,? stainless(?: or |/)|(?:flat metal jacketed|solid flat), )m\w{3}l\b", re.IGNORECASE
)


def plain_lists(tree: Tree) -> Tree:
    """What a file may say in two ways, in one: a lone ``[joint.tightening.tool]`` is a list of one, and a gasket's alloy
    goes by the standard's name."""
    joints = tree.get("joint")
    if not isinstance(joints, list):
        return tree
    changed = [_with_alloy_named(_with_tool_list(joint)) for joint in joints]
    return {**tree, "joint": changed} if any(a is not b for a, b in zip(joints, changed, strict=True)) else tree


def _with_tool_list(joint: Any) -> Any:
    tightening = joint.get("tightening") if isinstance(joint, dict) else None
    if not isinstance(tightening, dict) or not isinstance(tightening.get("tool"), dict):
        return joint
    return {**joint, "tightening": {**tightening, "tool": [tightening["tool"]]}}


def _with_alloy_named(joint: Any) -> Any:
    load = joint.get("load") if isinstance(joint, dict) else None
    gasket = load.get("gasket") if isinstance(load, dict) else None
    if not isinstance(load, dict) or not isinstance(gasket, str):
        return joint
    named = _ALLOY.sub(r"\1nickel-copper alloy 400", gasket)
    return joint if named == gasket else {**joint, "load": {**load, "gasket": named}}

"""Older formats of the plan file, brought to the present one in memory; the file changes only when it is saved."""

from __future__ import annotations

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


def plain_lists(tree: Tree) -> Tree:
    """One tool may stand in single brackets, ``[joint.tightening.tool]``: in memory it is a list of one."""
    joints = tree.get("joint")
    if not isinstance(joints, list):
        return tree
    changed = [_with_tool_list(joint) for joint in joints]
    return {**tree, "joint": changed} if any(a is not b for a, b in zip(joints, changed, strict=True)) else tree


def _with_tool_list(joint: Any) -> Any:
    tightening = joint.get("tightening") if isinstance(joint, dict) else None
    if not isinstance(tightening, dict) or not isinstance(tightening.get("tool"), dict):
        return joint
    return {**joint, "tightening": {**tightening, "tool": [tightening["tool"]]}}

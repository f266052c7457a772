"""Older formats: changed in memory, written only when saved."""

from __future__ import annotations

from splitline.plan.edits import Tree
from splitline.plan.migrate import migrated, plain_lists
from splitline.plan.splice import parses_to, splice


def renamed(tree: Tree) -> Tree:
    joints = [{("target" if key == "goal" else key): value for key, value in joint.items()} for joint in tree["joint"]]
    return {**tree, "joint": joints}


def test_a_step_is_applied_in_memory_and_its_text_keeps_the_comments() -> None:
    text = 'format = 1 # old\n[plan]\ntitle = "x"\n# the cover\n[[joint]]\nid = "a"\n# its goal\n[joint.goal]\npreload = "1 kN"\n'
    old: Tree = {"format": 1, "plan": {"title": "x"}, "joint": [{"id": "a", "goal": {"preload": "1 kN"}}]}
    new = migrated(old, {1: renamed}, newest=2)
    assert new["format"] == 2
    assert new["joint"][0] == {"id": "a", "target": {"preload": "1 kN"}}
    assert old["format"] == 1
    assert "goal" in old["joint"][0]
    after = splice(text, old, new)
    assert parses_to(after, new)
    assert "format = 2 # old" in after
    assert "# the cover\n[[joint]]" in after


def test_several_steps_one_after_another_and_none_for_the_present_format() -> None:
    count = {n: (lambda tree, n=n: {**tree, "seen": [*tree.get("seen", ()), n]}) for n in (1, 2, 3)}
    assert migrated({"format": 1}, count, newest=4)["seen"] == [1, 2, 3]
    tree: Tree = {"format": 1}
    assert migrated(tree) is tree
    assert migrated({"format": True}, count, newest=4) == {"format": True}


def test_one_tool_in_single_brackets_is_a_list_of_one() -> None:
    tree: Tree = {"joint": [{"tightening": {"tool": {"name": "w"}}}, {"tightening": 3}, 7]}
    assert plain_lists(tree)["joint"][0] == {"tightening": {"tool": [{"name": "w"}]}}
    assert plain_lists(tree)["joint"][1:] == tree["joint"][1:]
    assert plain_lists({"joint": 3}) == {"joint": 3}

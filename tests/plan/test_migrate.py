"""Older formats: changed in memory, written only when saved."""

from __future__ import annotations

from splitline.library.store import Library
from splitline.plan.edits import Tree
from splitline.plan.migrate import migrated, plain_lists
from splitline.plan.read import read_text
from splitline.plan.splice import parses_to, splice

LIBRARY = Library.load()


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


def test_a_gasket_once_called_by_a_trademark_still_opens() -> None:
    """ASTM B127 alloy UNS N04400 by its plain name; the file keeps its words until somebody changes them."""
    trademark = "mo" + "nel"
    for before, after in {
        f"spiral wound, stainless or {trademark.title()}": "spiral wound, stainless or nickel-copper alloy 400",
        f"Spiral wound stainless/{trademark}": "Spiral wound stainless/nickel-copper alloy 400",
        f"flat metal jacketed, {trademark}": "flat metal jacketed, nickel-copper alloy 400",
        f"solid flat, {trademark.upper()} or 4 to 6 % Cr": "solid flat, nickel-copper alloy 400 or 4 to 6 % Cr",
    }.items():
        text = f'format = 1\n[plan]\ntitle = "x"\n[[joint]]\nid = "a"\n[joint.load]\nseal = "gasket"\ngasket = "{before}"\n'
        draft = read_text(text)
        assert draft.get(("joint", 0, "load", "gasket")) == after
        assert not draft.changed
        assert not [p for p in draft.problems if p.path[-1:] == ("gasket",)]
        LIBRARY.find("gaskets", after)
        assert parses_to(text, draft.tree)

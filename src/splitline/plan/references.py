"""What holds between items: ids unique, references that exist, steps in an order their needs allow."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import Any

from splitline.plan.edits import Path, Tree
from splitline.plan.model import KINDS

Found = Iterator[tuple[Path, str]]
POINTS_AT = ("joint", "lift", "fit", "insertion", "clearance")


def between_items(tree: Tree) -> list[tuple[Path, str]]:
    """Every mistake between items of a plan as typed; items may have mistakes of their own."""
    ids = _ids(tree)
    return [*_twice(tree), *_steps(tree, ids), *_windows(tree, ids), *_used_in(tree, ids)]


def _items(tree: Tree, kind: str) -> Iterator[tuple[int, dict[str, Any]]]:
    entries = tree.get(kind)
    if isinstance(entries, list):
        yield from ((number, entry) for number, entry in enumerate(entries) if isinstance(entry, dict))


def _ids(tree: Tree) -> dict[str, list[str]]:
    """Ids by kind of item."""
    return {
        kind: [entry["id"] for _, entry in _items(tree, kind) if isinstance(entry.get("id"), str)] for kind in KINDS
    }


def _twice(tree: Tree) -> Found:
    seen: dict[str, str] = {}
    for kind in KINDS:
        for number, entry in _items(tree, kind):
            name = entry.get("id")
            if not isinstance(name, str):
                continue
            if name in seen:
                yield (kind, number, "id"), f'"{name}" is already the id of a {seen[name]}; ids are unique in a plan'
            else:
                seen[name] = kind


def _lacking(name: str, known: list[str], kind: str) -> str:
    near = difflib.get_close_matches(name, known, 1)
    hint = (
        f'did you mean "{near[0]}"?' if near else f"there is {_listed(known)}" if known else f"the plan has no {kind}"
    )
    return f'no {kind} has the id "{name}"; {hint}'


def _listed(names: list[str]) -> str:
    return ", ".join(f'"{n}"' for n in names[:6]) + (", ..." if len(names) > 6 else "")


def _steps(tree: Tree, ids: dict[str, list[str]]) -> Found:
    joints = {entry.get("id"): entry for _, entry in _items(tree, "joint") if isinstance(entry.get("id"), str)}
    for number, step in _items(tree, "step"):
        for kind in POINTS_AT:
            name = step.get(kind)
            if isinstance(name, str) and name not in ids[kind]:
                yield ("step", number, kind), _lacking(name, ids[kind], kind)
        joint = step.get("joint")
        if isinstance(joint, str) and joint in joints:
            yield from _within_joint(("step", number), step, joints[joint])
    yield from _needs(tree, ids["step"])


def _within_joint(path: Path, step: dict[str, Any], joint: dict[str, Any]) -> Found:
    """Passes and bolts a step names must be there in its joint."""
    planned = _table(joint, "tightening").get("passes")
    count = len(planned) if isinstance(planned, list) else 3
    passes = step.get("passes")
    if isinstance(passes, list):
        beyond = [p for p in passes if isinstance(p, int) and not isinstance(p, bool) and p > count]
        if beyond:
            said = ", ".join(map(str, beyond))
            yield (*path, "passes"), f'pass {said} does not exist: joint "{joint["id"]}" has {count}'
    layout = _table(joint, "layout")
    bolts, there = step.get("bolts"), _bolt_count(layout)
    if isinstance(bolts, list) and there is not None:
        beyond = [b for b in bolts if isinstance(b, int) and b > there]
        if beyond:
            said = ", ".join(map(str, beyond))
            yield (*path, "bolts"), f'bolt {said} does not exist: joint "{joint["id"]}" has {there}'


def _table(entry: dict[str, Any], name: str) -> dict[str, Any]:
    found = entry.get(name)
    return found if isinstance(found, dict) else {}


def _bolt_count(layout: dict[str, Any]) -> int | None:
    if layout.get("shape") == "circle":
        bolts = layout.get("bolts")
        return bolts if isinstance(bolts, int) else None
    if layout.get("shape") == "points":
        points = layout.get("points")
        return len(points) if isinstance(points, list) else None
    side_a, side_b = layout.get("side_a"), layout.get("side_b", layout.get("side_a"))
    return len(side_a) + len(side_b) if isinstance(side_a, list) and isinstance(side_b, list) else None


def _needs(tree: Tree, ids: list[str]) -> Found:
    """Needs that exist, stand earlier in the list and go in no circle."""
    place = {name: n for n, name in reversed(list(enumerate(ids)))}
    wanted: dict[str, list[str]] = {}
    for _, step in _items(tree, "step"):
        needs = step.get("needs")
        if isinstance(step.get("id"), str) and isinstance(needs, list):
            wanted.setdefault(step["id"], [need for need in needs if isinstance(need, str)])
    for number, step in _items(tree, "step"):
        name = str(step.get("id"))
        path: Path = ("step", number, "needs")
        for need in wanted.get(name, ()):
            if need not in place:
                yield path, _lacking(need, ids, "step")
            elif need == name:
                yield path, f'step "{name}" needs itself'
            elif place[need] > place[name]:
                circle = _way(wanted, need, name)
                if circle is not None:
                    yield path, f"steps need one another in a circle: {' needs '.join((name, *circle))}"
                else:
                    yield path, f'needs "{need}", which stands later in the order of work: move one of the two'


def _way(wanted: dict[str, list[str]], start: str, goal: str) -> tuple[str, ...] | None:
    """Steps from ``start`` to ``goal`` along their needs, or None."""
    open_ends: list[tuple[str, ...]] = [(start,)]
    seen = {start}
    while open_ends:
        way = open_ends.pop()
        if way[-1] == goal:
            return way
        for need in wanted.get(way[-1], ()):
            if need not in seen:
                seen.add(need)
                open_ends.append((*way, need))
    return None


def _windows(tree: Tree, ids: dict[str, list[str]]) -> Found:
    for number, window in _items(tree, "window"):
        moments = []
        for end in ("from", "to"):
            moment = window.get(end)
            if not isinstance(moment, str):
                continue
            step, dot, when = moment.rpartition(".")
            if not dot or when not in ("start", "done"):
                continue  # said by the window itself
            if step not in ids["step"]:
                yield ("window", number, end), _lacking(step, ids["step"], "step")
            else:
                moments.append((ids["step"].index(step), when == "done"))
        if len(moments) == 2 and moments[0] >= moments[1]:
            yield ("window", number, "to"), "does not come after from in the order of work"


def _used_in(tree: Tree, ids: dict[str, list[str]]) -> Found:
    known = [name for kind, names in ids.items() if kind not in ("item", "window") for name in names]
    for number, item in _items(tree, "item"):
        used = item.get("used_in")
        for name in [used] if isinstance(used, str) else used if isinstance(used, list) else ():
            if isinstance(name, str) and name not in known:
                near = difflib.get_close_matches(name, known, 1)
                hint = f'; did you mean "{near[0]}"?' if near else ""
                yield ("item", number, "used_in"), f'nothing in the plan has the id "{name}"{hint}'

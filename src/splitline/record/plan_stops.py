"""Stops of a plan that changed under the work: a new one for an item, a step or a time limit that was begun under the old.

Begun is what was pulled, set aside, read, started, done, mounted, tagged or counted under the plan before. A set-up, a witness
point and a reading as found come before the work: whoever goes on sees the new plan first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from splitline.record.compare import differences, order_change
from splitline.record.entry import ABSENT, AS_FOUND, WITNESS, Entry, Measured, Planned, SetAside, Signed, Tightened
from splitline.toml_bounds import bounded

TARGETS = ("joint", "lift", "fit", "insertion", "clearance")
BEFORE_WORK = ("set-up", WITNESS, ABSENT)
COUNTS = ("count-in", "count-out", "part")  # their role is the counted item


@dataclass(frozen=True, slots=True)
class Changed:
    """One item of the work that a new plan changed after it was begun."""

    key: str
    text: str
    item: str  # "": everything stops
    entry: int  # the new plan
    details: tuple[str, ...]  # the values, old and new


@dataclass(frozen=True, slots=True)
class _Shape:
    """What a plan's steps and windows hang on, by id."""

    targets: Mapping[str, str]  # step -> the item it works on
    starts: Mapping[str, str]  # window -> the step or item its time begins at


def plan_changes(alive: tuple[Entry, ...]) -> list[Changed]:
    """Every change of the plan under work that was begun, and every new order of its steps."""
    if sum(isinstance(entry, Planned) for entry in alive) < 2:
        return []
    found: list[Changed] = []
    begun: set[str] = set()
    before: Planned | None = None
    work = False
    for entry in alive:
        if isinstance(entry, Planned):
            if before is not None:
                found += _changed(before, entry, begun)
                found += _reordered(before, entry) if work else []
            before = entry
        else:
            work = work or isinstance(entry, Tightened | Signed)
            begun |= _touched(entry, _shape(before.text) if before is not None else _NO_SHAPE)
    return found


def _touched(entry: Entry, shape: _Shape) -> set[str]:
    """Ids of what an entry begins."""
    ids: set[str] = set()
    if isinstance(entry, Tightened | SetAside):
        ids = {entry.joint}
    elif isinstance(entry, Measured) and entry.what != AS_FOUND:
        ids = {entry.item, entry.step}
    elif isinstance(entry, Signed) and entry.act not in BEFORE_WORK:
        ids = {entry.step, entry.joint, entry.role if entry.act in COUNTS else ""}
    return (ids | {shape.targets.get(ident, "") for ident in ids}) - {""}


def _changed(before: Planned, after: Planned, begun: set[str]) -> list[Changed]:
    shape, new = _shape(before.text), dict(after.items)
    remaining = {name.partition(" ")[2] for name in new}
    parts: dict[tuple[str, bool], list[str]] = {}  # what stops, whether it is gone -> items of the plan behind it
    for name, digest in before.items:
        kind, _, ident = name.partition(" ")
        start = shape.starts.get(ident, "") if kind == "window" else ""
        if new.get(name) == digest or not (ident in begun or start in begun):
            continue
        gone = name not in new
        target = shape.targets.get(ident, "") if kind == "step" else ""
        stops = target if target and target in remaining and not gone else ident
        parts.setdefault((stops, gone), []).append(name)
    said = differences(before.text, after.text)
    found = []
    for (ident, gone), names in parts.items():
        details = tuple(
            each.said if name.partition(" ")[2] == ident else f"{name}: {each.said}"
            for name in names
            for each in said
            if each.item == name
        )
        what = "it is no longer in the plan, though" if gone else "the plan was changed after"
        text = f"{ident}: {what} work on it began (entry {after.number})"
        everything = gone or names[0].startswith("window ")  # no instruction comes that it could be accepted at
        key = f"plan changed, {ident}, entry {after.number}"
        found.append(Changed(key, text, "" if everything else ident, after.number, details))
    return sorted(found, key=lambda each: each.text)


def _reordered(before: Planned, after: Planned) -> list[Changed]:
    """Steps in another order than when work began: what comes first is no longer what was agreed."""
    said = order_change((name for name, _ in before.items), (name for name, _ in after.items), "step")
    if not said:
        return []
    text = f"the plan was changed after work began (entry {after.number}): {said}"
    return [Changed(f"plan changed, order of steps, entry {after.number}", text, "", after.number, ())]


_NO_SHAPE = _Shape({}, {})


@lru_cache(maxsize=32)
def _shape(text: str) -> _Shape:
    try:
        plan = bounded(text)
    except ValueError:
        return _NO_SHAPE
    targets = {str(step["id"]): str(step[kind]) for step in _rows(plan.get("step")) for kind in TARGETS if kind in step}
    starts = {str(each["id"]): str(each.get("from", "")).partition(".")[0] for each in _rows(plan.get("window"))}
    return _Shape(targets, starts)


def _rows(value: object) -> Iterable[dict[str, object]]:
    return [each for each in value if isinstance(each, dict) and "id" in each] if isinstance(value, list) else []

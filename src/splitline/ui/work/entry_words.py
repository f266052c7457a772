"""One entry of the record on a line: items and steps by their titles, ids only where nothing has one."""

from __future__ import annotations

from collections.abc import Mapping

from splitline.record.entry import ABSENT, Accepted, Entry, SetAside, Signed, Tightened
from splitline.ui.work.acts import bolts_said
from splitline.ui.work.values import tools_said

LONGEST = 60
_ACTS = {"hold": "signed", "witness": "witnessed", ABSENT: "witness absent", "trial": "trial lift", "start": "started"}
_COUNTED = {"count-in": "counted in", "count-out": "counted out", "part": "used"}
_NONE: Mapping[str, str] = {}


def entry_said(entry: Entry, noun: str = "stud", titles: Mapping[str, str] = _NONE) -> str:
    """One entry on a line."""

    def called(ident: str) -> str:
        return titles.get(ident, ident)

    if isinstance(entry, Tightened):
        return f"{bolts_said(entry.bolts, noun)}, {called(entry.joint)} {entry.pass_}"
    if isinstance(entry, SetAside):
        return f"deferred {bolts_said(entry.bolts, noun)}, {called(entry.joint)} {entry.pass_}"
    if isinstance(entry, Signed) and entry.act == "set-up":
        return f"set-up {entry.pass_}: {entry.lubricant}, {tools_said(entry.tool, entry.serial)}"
    if isinstance(entry, Signed) and entry.act in _COUNTED:
        batch = f", batch {entry.batch}" if entry.batch else ""
        return f"{_COUNTED[entry.act]} {entry.count}, {called(entry.role)}{batch}"
    if isinstance(entry, Signed) and entry.act == "tag":
        return f"tag {entry.statement}, {entry.role.removesuffix('.tag').replace('leg.', 'leg ')}"
    if isinstance(entry, Signed):
        return f"{_ACTS.get(entry.act, entry.act)} {called(entry.step or entry.joint)} {entry.pass_}".strip()
    if isinstance(entry, Accepted):
        return f"accepted: {entry.reason}"[:LONGEST]
    words = getattr(entry, "what", "") or getattr(entry, "topic", "") or entry.kind
    extra = getattr(entry, "typed", "") or getattr(entry, "text", "")
    item = called(getattr(entry, "item", ""))
    return f"{words} {extra}{f', {item}' if item else ''}".strip()[:LONGEST]

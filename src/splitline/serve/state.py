"""What outlives a server: the links of one plan or folder, and where each tablet was. Kept for this user only.

A restarted server answers to the same links, so that tablets in the hall come back by themselves. A state folder that
cannot be written costs only that. A tablet may have a link of its own, by name: it alone can be withdrawn.
"""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from splitline.errors import SplitlineError
from splitline.whole_file import write_whole

LONGEST = 40  # signs of a tablet's name


@dataclass(frozen=True)
class State:
    """Link tokens and the folder of the tablets' places."""

    work_token: str
    view_token: str
    places: Path
    cookie: str = "splitline"  # its name: this target's own, or two servers on one host evict each other's tablets
    tablets: dict[str, str] = field(
        default_factory=dict
    )  # tokens of the tablets that have a link of their own, by name
    links: Path | None = None  # the file of the tokens, read again by a running server; None where none can be kept


def state_of(target: Path, new_links: bool = False, tablets: Sequence[str] = ()) -> State:
    """The state kept for ``target``; fresh links the first time and when asked, also for ``tablets`` not yet known.

    SplitlineError: a name no tablet can have.
    """
    names = tuple(dict.fromkeys(_name(each) for each in tablets))
    folder = _folder(target)
    try:
        return _kept(folder, new_links, names)
    except OSError:
        own = {name: _token() for name in names}
        return State(_token(), _token(), Path(tempfile.mkdtemp(prefix="splitline-")), _cookie(folder), own)


def withdraw(target: Path, tablet: str) -> None:
    """End the own link of one tablet; a running server closes it within seconds. SplitlineError: no such tablet."""
    folder = _folder(target)
    found = tokens(folder / "links.json")
    own = found[2] if found is not None else {}
    if found is None or tablet not in own:
        known = ", ".join(f'"{name}"' for name in sorted(own)) or "none"
        raise SplitlineError(
            f'no tablet "{tablet}" has a link of its own to {target} (those that have: {known}); '
            "whoever came in by the link for all is only kept out by --new-links"
        )
    left = {name: token for name, token in own.items() if name != tablet}
    try:
        _write(folder / "links.json", found[0], found[1], left)
    except OSError as error:
        raise SplitlineError(f"the link was not withdrawn: {error.strerror or error}") from error


def tokens(links: Path) -> tuple[str, str, dict[str, str]] | None:
    """Work, view and the tablets' own tokens of a file of links; None where it is spoilt or not there."""
    try:
        kept: Any = json.loads(links.read_text("utf-8"))
        work, view, own = kept["work"], kept["view"], kept.get("tablets", {})
        every = [work, view, *own.values()]
    except (FileNotFoundError, ValueError, TypeError, KeyError, AttributeError):
        return None
    sound = all(isinstance(token, str) and len(token) >= 24 for token in every) and len(set(every)) == len(every)
    return (work, view, dict(own)) if sound else None


def _name(text: str) -> str:
    name = " ".join(text.split())
    if not name or len(name) > LONGEST or not name.isprintable():
        raise SplitlineError(f"a tablet's name is 1 to {LONGEST} printable signs, not {text!r}")
    return name


def _folder(target: Path) -> Path:
    base = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(base) / "splitline" / "serve" / hashlib.sha256(str(target.resolve()).encode()).hexdigest()[:16]


def _cookie(folder: Path) -> str:
    return f"splitline-{folder.name}"


def _token() -> str:
    return secrets.token_urlsafe(24)


def _kept(folder: Path, new_links: bool, names: Sequence[str]) -> State:
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    folder.chmod(0o700)
    places = folder / "places"
    places.mkdir(exist_ok=True)
    links = folder / "links.json"
    found = tokens(links)
    if new_links or found is None:
        known = found[2] if found is not None else {}
        found = (_token(), _token(), {name: _token() for name in known})
    work, view, own = found
    own |= {name: _token() for name in names if name not in own}
    if tokens(links) != (work, view, own):
        _write(links, work, view, own)
    return State(work, view, places, _cookie(folder), own, links)


def _write(links: Path, work: str, view: str, own: dict[str, str]) -> None:
    """The whole file at once, readable for its owner only."""
    kept = json.dumps({"work": work, "view": view, "tablets": own})
    write_whole(links, kept.encode(), mode=0o600, sync=False)

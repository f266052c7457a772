"""What outlives a server: the links of one plan or folder, and where each tablet was. Kept for this user only.

A restarted server answers to the same links, so that tablets in the hall come back by themselves. A state folder that
cannot be written costs only that.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import secrets
import tempfile
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class State:
    """Link tokens and the folder of the tablets' places."""

    work_token: str
    view_token: str
    places: Path
    cookie: str = "splitline"  # its name: this target's own, or two servers on one host evict each other's tablets


def state_of(target: Path, new_links: bool = False) -> State:
    """The state kept for ``target``; fresh links the first time and when asked."""
    base = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    folder = Path(base) / "splitline" / "serve" / hashlib.sha256(str(target.resolve()).encode()).hexdigest()[:16]
    try:
        return _kept(folder, new_links)
    except OSError:
        return State(*_fresh(), Path(tempfile.mkdtemp(prefix="splitline-")), f"splitline-{folder.name}")


def _fresh() -> tuple[str, str]:
    return secrets.token_urlsafe(24), secrets.token_urlsafe(24)


def _kept(folder: Path, new_links: bool) -> State:
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    folder.chmod(0o700)
    places = folder / "places"
    places.mkdir(exist_ok=True)
    links = folder / "links.json"
    if not new_links:
        with contextlib.suppress(FileNotFoundError, ValueError, TypeError, KeyError):
            kept = json.loads(links.read_text("utf-8"))
            work, view = kept["work"], kept["view"]
            if all(isinstance(token, str) and len(token) >= 24 for token in (work, view)) and work != view:
                return State(work, view, places, f"splitline-{folder.name}")
    work, view = _fresh()
    beside = folder / f"links.{os.getpid()}"
    with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w", encoding="utf-8") as file:
        json.dump({"work": work, "view": view}, file)
    beside.replace(links)
    return State(work, view, places, f"splitline-{folder.name}")

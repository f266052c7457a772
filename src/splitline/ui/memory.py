"""What the screens remember between runs: recent plans and the theme. Losing it loses nothing."""

from __future__ import annotations

import contextlib
import json
import os
from pathlib import Path
from typing import Any

from splitline.whole_file import write_whole

_KEPT = 12


def _file() -> Path:
    base = os.environ.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(base) / "splitline" / "screen.json"


def _load() -> dict[str, Any]:
    try:
        found = json.loads(_file().read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _store(changes: dict[str, Any]) -> None:
    with contextlib.suppress(OSError):
        path = _file()
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps({**_load(), **changes}, ensure_ascii=False).encode(), sync=False)


def recent() -> tuple[Path, ...]:
    """Plans opened last, newest first, those that still exist."""
    names = _load().get("recent", [])
    return tuple(Path(n) for n in names if isinstance(n, str) and Path(n).is_file()) if isinstance(names, list) else ()


def opened(plan: Path) -> None:
    """Remember that a plan was opened."""
    name = str(plan.resolve())
    _store({"recent": [name, *(str(p) for p in recent() if str(p) != name)][:_KEPT]})


def theme() -> str:
    """The theme chosen last, or nothing."""
    name = _load().get("theme", "")
    return name if isinstance(name, str) else ""


def chose_theme(name: str) -> None:
    _store({"theme": name})

"""Who works at this screen, remembered across a lost link: the tablet's server gives each tablet a name and a file.

Without a server (a terminal) there is neither: every start asks anew.
"""

from __future__ import annotations

import contextlib
import json
import os
import platform
from pathlib import Path

from splitline.whole_file import write_whole

CLIENT = "SPLITLINE_CLIENT"  # the tablet, the same after a reconnect
PLACE = "SPLITLINE_PLACE"  # a file of that tablet's own


def client() -> str:
    """Name of this tablet; "" on a terminal."""
    return os.environ.get(CLIENT, "")


def device() -> str:
    """What an entry is made at: this machine by its name, and the tablet on it."""
    machine, tablet = platform.node() or "this machine", client()
    return f"tablet {tablet[:6]} at {machine}" if tablet else machine


def remembered(plan: Path) -> str:
    """The person who last worked on this plan at this tablet; "" if nobody or not known."""
    try:
        found = json.loads(Path(os.environ[PLACE]).read_text("utf-8"))
        return str(found["person"]) if found["plan"] == str(plan.resolve()) else ""
    except (KeyError, OSError, ValueError, TypeError):
        return ""


def remember(plan: Path, person: str) -> None:
    """Keep it for a reconnect; "" forgets."""
    if PLACE in os.environ:
        with contextlib.suppress(OSError):  # then a reconnect asks again
            kept = json.dumps({"plan": str(plan.resolve()), "person": person})
            write_whole(Path(os.environ[PLACE]), kept.encode(), sync=False)

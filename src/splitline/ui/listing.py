"""What the list of plans says of one file: read, assessed, and how far the record is. Runs beside the screen."""

from __future__ import annotations

from pathlib import Path

from splitline.errors import SplitlineError
from splitline.ui.screens.plans import Entry


def entry_of(path: Path) -> Entry:
    """One line of the list; whatever is wrong with the file is said in it."""
    try:
        return _read(path)
    except SplitlineError as error:
        return Entry(path, unread=str(error).splitlines()[0])
    except Exception as error:  # one bad file never hurts its neighbours
        return Entry(path, unread=f"{type(error).__name__}: {error}"[:200])


def _read(path: Path) -> Entry:
    from splitline.ui.session import Session

    session = Session.open(path)
    info = session.draft.tree.get("plan")
    info = info if isinstance(info, dict) else {}
    _, outcome = session.compute()
    counts = tuple(outcome.counts().items())
    return Entry(
        path,
        title=str(info.get("title", "")),
        revision=str(info.get("revision", "")),
        verdict=outcome.verdict or "",
        counts=counts if any(n for _, n in counts) else (),
        problems=len(session.draft.problems),
        progress=outcome.standing.words,
    )

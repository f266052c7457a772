"""What the list of plans says of one file: read, assessed, and how far the record is. Runs beside the screen."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from splitline.errors import SplitlineError


@dataclass(frozen=True, slots=True)
class Entry:
    """One plan of the list, as far as it is known."""

    path: Path
    title: str = ""
    revision: str = ""
    verdict: str = ""
    counts: tuple[tuple[str, int], ...] = ()
    problems: int = 0
    progress: str = ""
    unread: str = ""  # why it cannot be read
    recent: bool = False


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

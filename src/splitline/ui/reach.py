"""What a screen may reach: a fixed set of plans where it is served, and nothing to write by a link to look at."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

NOT_SERVED = "That plan is not served to this tablet. Ask whoever started the server."
LOOKS_ONLY = "This link is to look at: nothing is written by it."


@dataclass(frozen=True)
class Reach:
    """``target``: the plan or folder of this screen. ``served``: on a tablet. ``view_only``: by a link to look at."""

    target: Path
    served: bool = False
    view_only: bool = False

    def opens(self, path: Path) -> bool:
        """Whether this plan may be opened here: on a tablet the one served, or one lying in the folder served."""
        if not self.served:
            return True
        target, found = self.target.resolve(), Path(path).resolve()
        return found == target or (target.is_dir() and found.parent == target)

    @property
    def makes(self) -> bool:
        """Whether a new plan may be made: never beside a plan that is served alone."""
        return not self.view_only and (not self.served or self.target.is_dir())

    @property
    def keeps(self) -> bool:
        """Whether the choice of a theme and the list of recent plans are kept on this machine."""
        return not self.view_only

    @property
    def pictures(self) -> bool:
        """Whether a picture of the screen may be written: into a folder of the server's, so never from a tablet."""
        return not self.served and not self.view_only

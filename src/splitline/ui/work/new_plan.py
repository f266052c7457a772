"""A plan that is new to the record: put into it before anything is done by it, a changed one after a look at what changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from splitline.errors import SplitlineError
from splitline.record.entry import Planned
from splitline.ui.work.choice import Choice, ChoiceScreen

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


async def stand_plan(screen: WorkScreen) -> bool:
    """Whether the work goes on; False: somebody would rather not go by the new plan."""
    desk = screen.desk
    try:
        before = any(isinstance(entry, Planned) for entry in desk.journal.refresh().entries)
        changes = desk.changes()
        if before and changes:
            lines = [
                (f"{word}: {', '.join(names)}", "strong")
                for word, names in (
                    ("changed", changes.changed),
                    ("added", changes.added),
                    ("removed", changes.removed),
                )
                if names
            ]
            new = Choice("go", "Go on by the new plan")
            if await screen.ask(ChoiceScreen("The plan was changed since", [new], lines)) is None:
                return False
        desk.stand_plan()
    except SplitlineError as error:
        screen.say_here(str(error), "fails")
    return True

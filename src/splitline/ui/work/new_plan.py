"""A plan that is new to the record: put into it before anything is done by it, a changed one after a look at what changed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from splitline.errors import SplitlineError
from splitline.record.compare import Difference, differences
from splitline.record.entry import Planned
from splitline.record.plans import standing
from splitline.ui.work.choice import Choice, ChoiceScreen

if TYPE_CHECKING:
    from splitline.ui.work.screen import WorkScreen


MOST = 6  # values told on one sheet


def named(item: str, titles: Mapping[str, str]) -> str:
    """``joint discharge-head`` by its title; the plan's own values as they are."""
    kind, _, ident = item.partition(" ")
    return f"{kind} {titles.get(ident, ident)}".strip()


def told(found: tuple[Difference, ...], titles: Mapping[str, str]) -> list[tuple[str, str]]:
    """Old and new of each value, as lines; how many more there are."""
    lines = [(f"{named(each.item, titles)}: {each.said if each.place else each.whole}", "") for each in found[:MOST]]
    more = len(found) - MOST
    return lines + ([(f"and {more} more values; the record holds both plans whole", "dim")] if more > 0 else [])


async def stand_plan(screen: WorkScreen) -> bool:
    """Whether the work goes on; False: somebody would rather not go by the new plan."""
    desk = screen.desk
    try:
        before = any(isinstance(entry, Planned) for entry in desk.journal.refresh().entries)
        changes = desk.changes()
        if before and changes:
            lines = [
                (f"{word}: {', '.join(named(each, desk.titles) for each in names)}", "strong")
                for word, names in (
                    ("changed", changes.changed),
                    ("added", changes.added),
                    ("removed", changes.removed),
                    ("moved", changes.moved),
                )
                if names
            ]
            stands = standing(desk.journal.record.entries)
            lines += told(differences(stands.text if stands else "", desk.text), desk.titles)
            new = Choice("go", "Go on by the new plan")
            if await screen.ask(ChoiceScreen("The plan was changed since", [new], lines)) is None:
                return False
        desk.stand_plan()
    except SplitlineError as error:
        screen.say_here(str(error), "fails")
    return True

"""How far the work is, from the record beside the plan; read only."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from splitline.errors import RecordError
from splitline.record.from_plan import job_of
from splitline.record.journal import Journal
from splitline.record.order import step_states
from splitline.record.paths import beside
from splitline.record.struck import live

if TYPE_CHECKING:
    from splitline.assess.result import ItemResult
    from splitline.plan.model import Plan
    from splitline.record.entry import Entry


@dataclass(frozen=True, slots=True)
class Standing:
    """Ids of steps done, the step that is on, how many there are; ``said`` when the record cannot be read."""

    done: frozenset[str] = frozenset()
    now: str = ""
    steps: int = 0
    begun: bool = False
    said: str = ""
    altered: str = ""  # in words, when the record does not stand as it was written

    @property
    def words(self) -> str:
        if self.said:
            return "record cannot be read"
        if self.altered:
            return "▲ record altered or cut"
        return f"{len(self.done)} of {self.steps} steps done" if self.begun else "not begun"


def entries_beside(path: Path | None) -> tuple[Entry, ...]:
    """Entries that count of the record beside a plan; none where there is no record, or it cannot be read."""
    if path is None or not beside(path).record.is_file():
        return ()
    try:
        return live(Journal(path).refresh().entries)
    except (RecordError, OSError):
        return ()


def standing_of(path: Path, plan: Plan, results: Mapping[tuple[str, str], ItemResult]) -> Standing:
    """Where the work of a plan stands; nothing is imported or read while there is no record."""
    if not path.with_name(f"{path.name.removesuffix('.toml')}.record.toml").is_file():
        return Standing(steps=len(plan.steps))
    orders = {
        ident: result.results.get("order_steps", ()) for (kind, ident), result in results.items() if kind == "joint"
    }
    try:
        record = Journal(path).refresh()
        states = step_states(job_of(plan, orders), record.entries)
    except (RecordError, OSError) as error:
        return Standing(steps=len(plan.steps), said=str(error))
    done = frozenset(state.plan.id for state in states if state.state == "done")
    now = next((state.plan.id for state in states if state.state in ("now", "to sign")), "")
    wrong = next((problem.text for problem in record.problems), "")
    return Standing(done, now, len(states), begun=True, altered=wrong)

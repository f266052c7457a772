"""Everything a task is chosen from, at one moment."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from splitline.assess.assessment import Assessment
from splitline.plan.model import Joint
from splitline.record.claims import Claim
from splitline.record.clock import ClockChange
from splitline.record.entry import Entry, Signed
from splitline.record.job import Job
from splitline.record.journal import Record
from splitline.record.order import StepState
from splitline.record.stops import Stop
from splitline.record.tools import taken, taken_said
from splitline.record.windows import WindowState
from splitline.ui.work.task import LISTED, Pairing
from splitline.units import System


@dataclass(frozen=True, slots=True)
class Now:
    """Plan, record and claims as one screen sees them."""

    job: Job
    assessment: Assessment
    record: Record
    alive: tuple[Entry, ...]
    states: tuple[StepState, ...]
    stops: tuple[Stop, ...]  # open ones
    windows: tuple[WindowState, ...]
    at: datetime
    person: str
    others: tuple[Claim, ...]
    mine: Claim | None
    chosen: str = ""  # step picked by hand; "": the first that can be worked on
    view_only: bool = False
    pairing: Pairing = LISTED  # how this crew's tools sit on the fasteners of one step
    problems: tuple[str, ...] = ()  # mistakes of the plan; items with one are left out
    planned: Assessment | None = None  # the plan assessed without anything entered on the job
    trouble: str = ""  # why nothing can be stored here
    clock: tuple[ClockChange, ...] = ()  # where the wall clock was set, up to this moment

    @property
    def system(self) -> System:
        """Units of the plan."""
        return "US" if self.assessment.plan.us else "SI"

    def joint(self, ident: str) -> Joint | None:
        """A joint as planned."""
        found = self.assessment.plan.find("joint", ident)
        return found if isinstance(found, Joint) else None

    @property
    def last_strike(self) -> int:
        """Number of the latest wrong entry: what was struck is instructed anew, as another instruction."""
        return max((e.number for e in self.record.entries if e.kind == "wrong-entry"), default=0)

    def set_up(self, joint: str, pass_: str, anybody: bool = False) -> Signed | None:
        """The set-up of this pass by this person, void where another crew has a tool of it by now; or by anybody."""
        found = None
        for entry in self.alive:
            if isinstance(entry, Signed) and entry.act == "set-up" and (entry.joint, entry.pass_) == (joint, pass_):
                if anybody and found is None:
                    return entry
                if entry.crew == self.person:
                    found = entry
        return None if found is not None and taken(self.alive, found) is not None else found

    def lost_tool(self, joint: str, pass_: str) -> str:
        """Which tool of this person's set-up another crew has taken over, in words; "" where none."""
        own = [
            e
            for e in self.alive
            if isinstance(e, Signed) and (e.act, e.joint, e.pass_, e.crew) == ("set-up", joint, pass_, self.person)
        ]
        later = taken(self.alive, own[-1]) if own else None
        return taken_said(own[-1], later) if later is not None else ""

    def said(self, stop: Stop) -> str:
        """A stop in words, the item by its title: its id says little to who did not write the plan."""
        result = next((each for each in self.assessment.items if each.id == stop.item and each.title), None)
        title = result.title if result is not None else stop.item
        head = f"{stop.item}: "
        return f"{title}: {stop.text.removeprefix(head)}" if stop.text.startswith(head) and stop.item else stop.text

    def step(self) -> StepState | None:
        """The step being worked on."""
        picked = next((s for s in self.states if s.plan.id == self.chosen and s.state != "done"), None)
        if picked is not None:
            return picked
        return next((s for s in self.states if s.state in ("to sign", "now", "open")), None)

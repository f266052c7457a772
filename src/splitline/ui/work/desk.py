"""The fitter's desk: plan, record and claims of one screen, and what the person at it does. No screens in here."""

from __future__ import annotations

import contextlib
import uuid
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from splitline.assess.assessment import Assessment
from splitline.assess.context import NOTHING
from splitline.assess.each_alone import Assessor, assessed, unassessed
from splitline.errors import RecordError
from splitline.plan.model import Joint
from splitline.plan.read import open_plan
from splitline.record.claims import Claim, Claims
from splitline.record.clock import Clock, ClockChange, Machine, clock_changes, wall
from splitline.record.compare import Changes
from splitline.record.danger import check_free
from splitline.record.entry import JOINED, Accepted, Entry
from splitline.record.from_plan import job_of
from splitline.record.job import Job, JointPlan, PassPlan, part_of
from splitline.record.journal import Check, Journal, Record
from splitline.record.order import StepState, moments, step_states
from splitline.record.people import People
from splitline.record.pins import people_of
from splitline.record.plans import changed_since, put_plan, saved
from splitline.record.progress import PassProgress, joint_progress
from splitline.record.stops import open_stops
from splitline.record.struck import live
from splitline.record.windows import window_state
from splitline.ui.work import seat
from splitline.ui.work.instruments import Instrument
from splitline.ui.work.now import Now
from splitline.ui.work.observed import observed_of
from splitline.ui.work.task import LISTED, Pairing, Task
from splitline.ui.work.tasks import task_now
from splitline.ui.work.values import instructed

PATIENCE = 0.9  # s a tap waits for another writer before it says so: nobody stands before a frozen screen
AT_ONCE = 0.3  # s that taking bolts in hand waits, which the screen does by itself and tries again
RENEW = 2.0  # s between signs of life to the other screens


@dataclass(frozen=True, slots=True)
class After:
    """What is entered from a paper sheet: when and by whom it was really done."""

    at: datetime
    by: str


class Desk:
    """One screen's view of plan and record. ``refresh`` reads, the acts in ``acts`` write."""

    def __init__(
        self,
        path: Path,
        clock: Clock = wall,
        assessor: Assessor = assessed,
        view_only: bool = False,
        client: str = "",
        tick: Machine | None = None,
    ) -> None:
        self.path = Path(path)
        self.clock = clock
        self.view_only = view_only
        self.tablet = seat.client()
        self.client = client or f"{self.tablet}/{uuid.uuid4().hex}"
        self.journal = Journal(self.path, clock, patience=PATIENCE, tick=tick, device=seat.device())
        self.person = ""
        self.chosen = ""  # step picked by hand
        self.after: After | None = None  # entering from paper
        self.instruments: dict[tuple[str, str], Instrument] = {}  # by person and kind of reading, in this sitting
        self.roles: dict[str, str] = {}  # as whom a person accepted in this sitting
        self.pairing: Pairing = LISTED  # how this crew's tools sit on the fasteners of one step
        self._assessor = assessor
        self._claims: Claims | None = None
        self._mine: Claim | None = None
        self._stamp: object = None
        self._plan_stamp: object = None
        self._plan_due = False  # the plan could not be stored yet: a full disk, a record that was altered
        self._claims_seen: tuple[object, object] = (None, ())
        self._renewed: datetime | None = None
        self._uids: dict[str, str] = {}
        self._tried: list[str] = []  # uids given to the record, in order
        self.text = ""
        self.problems: tuple[str, ...] = ()
        self.job = Job()
        self.assessment: Assessment
        self.planned: Assessment
        self.load()

    # plan

    def load(self) -> None:
        """Read and assess the plan. PlanError, RecordError: it cannot be read at all."""
        self._plan_stamp = _stamp(self.path)  # what cannot be read is tried again when it changes
        draft = open_plan(self.path)
        self.text = draft.text
        alive = live(self.journal.refresh().entries)
        self._observed = observed_of(draft.plan, alive)
        self.assessment = self._assessor(draft.plan, self.path.parent, self._observed)
        self.planned = self._assessor(draft.plan, self.path.parent, NOTHING)
        faults = tuple(f"{problem.where}: {problem.message}" for problem in draft.problems)
        self.problems = faults + unassessed(self.assessment)
        orders = {item.id: item.results.get("order_steps", ()) for item in self.assessment.of_kind("joint")}
        self.job = job_of(draft.plan, orders)

    @property
    def crew(self) -> tuple[str, ...]:
        """Names to pick from."""
        return tuple(self.assessment.plan.info.crew or ())

    def take_seat(self, person: str) -> None:
        """The person at this screen from now on; their claims go with their name."""
        self.leave_seat()
        self.person = person
        self._claims = Claims(self.path, person, self.client, self.clock, AT_ONCE)
        if self.tablet and not self.view_only:
            self._go_on()

    def _go_on(self) -> None:
        """A tablet that lost its link goes on with its own studs, though its old program may not have ended yet."""
        assert self._claims is not None
        own = (c for c in self._claims.read() if c.crew == self.person and c.client.startswith(f"{self.tablet}/"))
        left = next((claim for claim in own if claim.client != self.client), None)
        if left is not None:
            with contextlib.suppress(RecordError):  # another screen of this crew was quicker
                self.take_over(left)

    def leave_seat(self) -> None:
        """Give back what this screen holds."""
        if self._claims is not None and self._mine is not None:
            with contextlib.suppress(RecordError):  # held by another program: the claim runs out by itself
                self._claims.release()
        self._mine = None

    @property
    def people(self) -> People:
        """Who is who beside this plan."""
        return people_of(self.path.parent)

    @property
    def titles(self) -> dict[str, str]:
        """What the ids of the plan are called."""
        return {each.id: each.title for each in self.assessment.plan.items} | self.job.titles

    def noun(self, joint: str) -> str:
        """What the fasteners of a joint are called."""
        found = self.job.joint(joint)
        return found.noun if found is not None else "stud"

    def changes(self) -> Changes:
        """What the plan file changes against the plan in the record."""
        return changed_since(self.journal.record.entries, self.text)

    def stand_plan(self) -> bool:
        """Put the plan into the record if it is new there. True if it was."""
        info = self.assessment.plan.info
        self._plan_due = True
        made = put_plan(
            self.journal,
            self.text,
            self.person,
            info.title,
            info.revision or "",
            saved(self.path, info.prepared_by or ""),
        )

        self._plan_due = False
        return made is not None

    # reading

    def changed(self) -> bool:
        """Whether files changed since the last ``refresh``; cheap, for a poll."""
        return self._files() != self._stamp

    def plan_changed(self) -> bool:
        """Whether the plan file changed since it was read."""
        return _stamp(self.path) != self._plan_stamp

    def _files(self) -> object:
        paths = self.journal.paths
        claims = _stamp(paths.claims)
        if claims != self._claims_seen[0]:  # a mere sign of life of another screen is no change
            rows = Claims(self.path, "", "", self.clock).read()
            self._claims_seen = claims, tuple((row.joint, row.pass_, row.bolts, row.crew, row.client) for row in rows)
        return (*(_stamp(path) for path in (self.path, paths.record, paths.head)), self._claims_seen[1])

    def refresh(self) -> Now:
        """Everything as it stands; takes the next bolts in hand where this screen holds none."""
        now = self._look()
        if self.person and not self.view_only:
            trouble = ""
            try:
                self._take_bolts(now)
                self._sign_of_life()
            except RecordError as error:
                trouble = str(error)
            now = self._with_claims(now, trouble)
        self._stamp = self._files()
        return now

    def task(self) -> tuple[Now, Task]:
        """The instruction of this moment."""
        now = self.refresh()
        return now, task_now(now)

    @property
    def hand(self) -> str:
        """Whose hands an act is: the person at the screen, or the one on the paper sheet."""
        return self.after.by if self.after else self.person

    def moment(self) -> datetime:
        """The time that is judged by: now, or when it was done where a paper sheet is entered."""
        return self.after.at if self.after else self.clock()

    def _look(self) -> Now:
        record = self.journal.refresh()
        at = self.moment()
        alive = live(record.entries)
        self._observe(alive)
        states = step_states(self.job, alive)
        reached = moments(states)
        since = self.clock_changes(record)
        stops = open_stops(self.job, record, at, clock=since)
        return Now(
            job=self.job,
            assessment=self.assessment,
            record=record,
            alive=alive,
            states=states,
            stops=stops,
            windows=tuple(window_state(window, reached, at, record.entries, since) for window in self.job.windows),
            at=at,
            person=self.person,
            others=self._claims.others() if self._claims else (),
            mine=self._mine,
            chosen=self.chosen,
            view_only=self.view_only,
            pairing=self.pairing,
            problems=self.problems,
            planned=self.planned,
            clock=since,
        )

    def clock_changes(self, record: Record) -> tuple[ClockChange, ...]:
        """Where the wall clock was set; what is entered from paper was done when its sheet says, whatever it shows now."""
        return clock_changes(record.entries, None if self.after else self.moment(), self.journal.tick())

    def _observe(self, alive: tuple[Entry, ...]) -> None:
        """Assess anew where a reading changed what the assessment may look at; unchanged items come from its cache."""
        found = observed_of(self.assessment.plan, alive, self.assessment)
        if found != self._observed:
            self._observed = found
            self.assessment = self._assessor(self.assessment.plan, self.path.parent, found)

    def _with_claims(self, now: Now, trouble: str) -> Now:
        assert self._claims is not None
        return replace(now, others=self._claims.others(), mine=self._mine, trouble=trouble)

    # claims

    def _wanted(self, now: Now) -> tuple[JointPlan, StepState] | None:
        """The joint whose bolts this screen should hold: its step is workable, set up, not stopped."""
        step = now.step()
        if step is None or not step.workable or step.plan.kind != "joint" or step.joint is None:
            return None
        joint, current = now.job.joint(step.plan.item), step.joint.current
        if joint is None or current is None or now.set_up(joint.id, current.plan.name) is None:
            return None
        if any(stop.item in ("", joint.id) for stop in now.stops):
            return None
        return joint, step

    def _take_bolts(self, now: Now) -> None:
        assert self._claims is not None
        wanted = self._wanted(now)
        if wanted is None:
            self.leave_seat()
            return
        joint, step = wanted
        assert step.joint is not None
        assert step.joint.current is not None
        mine, current = self._mine, step.joint.current
        if mine is not None and (mine.joint, mine.pass_) == (joint.id, current.plan.name):
            still = any(claim.client == self.client for claim in self._claims.read())
            open_ = any(set(mine.bolts) <= set(left) for _, left in current.steps())
            fits = len(mine.bolts) <= self._at_once(now, joint, current.plan, mine.bolts)
            if still and open_ and fits and not self._set_aside(mine, current):
                return
        part = part_of(joint, step.plan.passes, step.plan.bolts)
        self._mine = self._claims.choose(lambda others: self._pick(now, joint, part, others))

    def _set_aside(self, mine: Claim, current: PassProgress) -> bool:
        """Whether what is in hand was set aside and others are to be done before it comes up again."""
        assert self._claims is not None
        if not set(mine.bolts) <= set(current.aside):
            return False
        place = (mine.joint, mine.pass_)
        held = frozenset(b for c in self._claims.others() if (c.joint, c.pass_) == place for b in c.bolts)
        return any(not set(left) <= set(current.aside) for _, left in current.steps(held))

    def _pick(
        self, now: Now, joint: JointPlan, part: JointPlan, others: tuple[Claim, ...]
    ) -> tuple[str, str, tuple[int, ...]] | None:
        """Under the lock: the first step of the pass, by the record as it stands, that nobody has in hand."""
        current = joint_progress(part, self.journal.refresh().entries).current
        if current is None:
            return None
        name = current.plan.name
        held = frozenset(bolt for c in others if (c.joint, c.pass_) == (joint.id, name) for bolt in c.bolts)
        steps = current.steps(held)
        if not steps:
            return None
        bolts = self._alike(joint, current.plan, steps[0][1])
        return joint.id, name, bolts[: self._at_once(now, joint, current.plan, bolts)]

    def _at_once(self, now: Now, joint: JointPlan, plan: PassPlan, bolts: tuple[int, ...]) -> int:
        """How many bolts of a step are told at once: as many as this crew has tools for, of those the plan joins.

        The heads of a tensioner hang on one pump and are pulled together.
        """
        found = self.assessment.plan.find("joint", joint.id)
        how = found.tightening if isinstance(found, Joint) else None
        setting = now.set_up(joint.id, plan.name)
        if how is None or how.tools_together is None or how.method == "hydraulic tensioner" or setting is None:
            return len(bolts)
        result, tools = self.assessment.find("joint", joint.id), setting.tool.split(JOINED)
        if result is not None and result.settings is not None:
            tools = list(result.settings.in_hand(bolts[0], tools))
        return max(len(tools), 1)

    def _alike(self, joint: JointPlan, plan: PassPlan, bolts: tuple[int, ...]) -> tuple[int, ...]:
        """The bolts of a step that are pulled to the same value as its first; others come on their own."""
        result = self.assessment.find("joint", joint.id)
        found = self.assessment.plan.find("joint", joint.id)
        written = found if isinstance(found, Joint) else None
        first = instructed(written, result, plan, bolts[0])
        return tuple(bolt for bolt in bolts if instructed(written, result, plan, bolt) == first)

    def life_due(self) -> bool:
        """Whether the other screens should hear from this one again."""
        late = self._renewed is None or (self.clock() - self._renewed).total_seconds() >= RENEW
        return self._mine is not None and late

    def _sign_of_life(self) -> None:
        if self._claims is not None and self.life_due():
            self._claims.renew()
            self._renewed = self.clock()

    def elsewhere(self) -> Claim | None:
        """What the same person has in hand on another screen that is awake."""
        if self._claims is None:
            return None
        return next((claim for claim in self._claims.others() if claim.crew == self.person), None)

    def take_over(self, claim: Claim) -> None:
        """Take bolts out of another crew's hands, on purpose."""
        assert self._claims is not None
        self._claims.take_over(claim)
        self._mine = next((c for c in self._claims.read() if c.client == self.client), None)

    # writing

    def uid(self, key: str) -> str:
        """The uid of an instruction: the same for every tap on it."""
        return self._uids.setdefault(key, uuid.uuid4().hex)

    def mark(self) -> tuple[int, int]:
        """A moment to look back to with ``stored_since``."""
        return len(self._tried), self.journal.record.count

    def stored_since(self, mark: tuple[int, int]) -> tuple[Entry, ...]:
        """What this desk put into the record since, as the record has it: an act that broke off may have been stored.

        RecordError: the record cannot be read.
        """
        tried, count = mark
        own = set(self._tried[tried:])
        return tuple(e for e in self.journal.refresh().entries if e.number > count and e.uid in own)

    def store(self, entry: Entry, check: Check | None = None) -> Entry:
        """Append, unless this is a view-only screen."""
        if self.view_only:
            raise RecordError("this is a view-only screen; nothing was stored")
        self._tried.append(entry.uid)
        if self._plan_due and not isinstance(entry, Accepted):  # no act stands before the plan it was done by
            self.stand_plan()

        def both(record: Record) -> None:
            check_free(record.entries, entry)
            if check is not None:
                check(record)

        return self.journal.append(entry, both)


def _stamp(path: Path) -> tuple[int, int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_ino, found.st_size, found.st_mtime_ns

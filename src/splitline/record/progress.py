"""Where a joint stands: a strict machine over its passes.

A bolt is open in a pass until an entry tightens it there. A pass is open until every bolt of it is done; the next
one opens only then. A bolt set aside keeps its pass open, unless a named person accepts that it stays so; it then is
out of every later pass too, until a named person brings it back: its passes open again from the one it was set aside
in. A correction opens its bolts, and so their pass, again. Check rounds go on until no nut moves.

A plan may change its passes while the work runs, and passes have numbers for names: a pull counts for its pass only if it
was made at the share of the target the pass now asks, or higher. A bolt whose own pull falls short of that is done all the
same where another pull of it, under whatever name, reached the share.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from splitline.errors import RecordError
from splitline.record.entry import Accepted, Entry, SetAside, Tightened
from splitline.record.job import JointPlan, PassPlan
from splitline.record.journal import Record
from splitline.record.struck import live

ROUNDING = 1e-6  # of a share, in what was written and read again


@dataclass(frozen=True, slots=True)
class PassProgress:
    """One pass. Maps give the entry behind each bolt."""

    plan: PassPlan
    done: Mapping[int, Tightened]
    aside: Mapping[int, SetAside]  # not tightened since
    conceded: frozenset[int]  # set aside, and accepted as such
    out: Mapping[int, SetAside] = field(
        default_factory=dict
    )  # accepted as set aside in another pass, and not brought back

    low: Mapping[int, Tightened] = field(default_factory=dict)  # pulled under its name at less than it asks: still open

    @property
    def open(self) -> tuple[int, ...]:
        """Bolts that keep the pass open, in its order."""
        return tuple(bolt for bolt in self.plan.bolts if self._open(bolt))

    @property
    def short(self) -> tuple[int, ...]:
        """Bolts the pass is closed without."""
        return tuple(bolt for bolt in self.plan.bolts if bolt not in self.done and not self._open(bolt))

    def _open(self, bolt: int) -> bool:
        return bolt not in self.done and bolt not in self.conceded and bolt not in self.out

    @property
    def closed(self) -> bool:
        """Every bolt done, or conceded by a named person."""
        return not self.open

    @property
    def moved(self) -> tuple[int, ...]:
        """Bolts whose nut moved."""
        return tuple(bolt for bolt, entry in self.done.items() if entry.moved)

    @property
    def last(self) -> Tightened | None:
        """The latest entry of the pass."""
        return max(self.done.values(), key=lambda entry: entry.number, default=None)

    @property
    def started_at(self) -> datetime | None:
        """When its first bolt was done."""
        return min((entry.done_at for entry in self.done.values() if entry.done_at), default=None)

    def steps(self, taken: frozenset[int] = frozenset()) -> tuple[tuple[int, tuple[int, ...]], ...]:
        """Steps still to do as (place from 1, bolts left), those set aside last; none with a bolt of ``taken``."""
        fresh, later = [], []
        for place, bolts in enumerate(self.plan.steps, 1):
            left = tuple(bolt for bolt in bolts if self._open(bolt))
            if not left or taken.intersection(left):
                continue
            ready = tuple(bolt for bolt in left if bolt not in self.aside)
            if ready:
                fresh.append((place, ready))
            else:
                later.append((place, left))
        return (*fresh, *later)


@dataclass(frozen=True, slots=True)
class JointProgress:
    """All passes of a joint, rounds added for moving nuts included."""

    joint: str
    passes: tuple[PassProgress, ...]
    still_moving: tuple[int, ...]  # nuts that moved in the last round allowed
    left_out: Mapping[int, SetAside] = field(default_factory=dict)  # accepted as set aside, and not brought back

    @property
    def current(self) -> PassProgress | None:
        """The pass that is open; None when all are closed."""
        return next((each for each in self.passes if not each.closed), None)

    @property
    def closed(self) -> bool:
        """All passes closed; a joint without passes (nothing known of its bolts) never is."""
        return bool(self.passes) and self.current is None

    @property
    def short(self) -> tuple[int, ...]:
        """Bolts that are not pulled to the end: what a closed joint is closed without."""
        pulls = [each for each in self.passes if not each.plan.finish] or self.passes
        return pulls[-1].short if pulls else ()

    def named(self, name: str) -> PassProgress | None:
        """The pass of this name."""
        return next((each for each in self.passes if each.plan.name == name), None)


def concession(entry: int) -> str:
    """Key under which a person accepts that bolts set aside by this entry stay as they are in that pass."""
    return f"set aside, entry {entry}"


def brought_back(entry: int) -> str:
    """Key under which a person brings bolts set aside by this entry back into the instruction."""
    return f"brought back, entry {entry}"


def joint_progress(joint: JointPlan, entries: Iterable[Entry]) -> JointProgress:
    """Fold the entries over the joint's passes."""
    pulls: dict[str, dict[int, list[Tightened]]] = {}
    aside: dict[str, dict[int, SetAside]] = {}
    accepted: set[str] = set()
    pulled: dict[int, int] = {}  # last entry of each bolt, whatever the pass
    for entry in live(entries):
        if isinstance(entry, Tightened) and entry.joint == joint.id:
            for bolt in entry.bolts:
                pulls.setdefault(entry.pass_, {}).setdefault(bolt, []).append(entry)
                aside.get(entry.pass_, {}).pop(bolt, None)
                pulled[bolt] = entry.number
        elif isinstance(entry, SetAside) and entry.joint == joint.id:
            for bolt in entry.bolts:
                aside.setdefault(entry.pass_, {})[bolt] = entry
        elif isinstance(entry, Accepted):
            accepted.add(entry.stop)
    aside = {
        name: {bolt: entry for bolt, entry in own.items() if brought_back(entry.number) not in accepted}
        for name, own in aside.items()
    }
    # One pulled in a later pass all the same, as older records have it, is in the instruction again.
    out = {
        bolt: entry
        for own in aside.values()
        for bolt, entry in own.items()
        if concession(entry.number) in accepted and pulled.get(bolt, 0) < entry.number
    }

    def one(plan: PassPlan) -> PassProgress:
        bolts = set(plan.bolts)
        own = _done(plan, pulls)
        left = {b: e for b, e in aside.get(plan.name, {}).items() if b in bolts and b not in own}
        conceded = frozenset(bolt for bolt, entry in left.items() if concession(entry.number) in accepted)
        others = {b: e for b, e in out.items() if b in bolts and b not in own and b not in conceded}
        low = {bolt: found[-1] for bolt, found in pulls.get(plan.name, {}).items() if bolt in bolts and bolt not in own}
        return PassProgress(plan, own, left, conceded, others, low)

    passes = [one(plan) for plan in joint.passes]
    rounds = sum(each.plan.finish for each in passes)
    allowed = max(joint.max_rounds, rounds)
    while passes and passes[-1].plan.finish and passes[-1].closed and passes[-1].moved and rounds < allowed:
        rounds += 1
        passes.append(one(PassPlan(f"round {rounds}", passes[-1].plan.steps, passes[-1].plan.share, True)))
    last = passes[-1] if passes else None
    moving = last.moved if last is not None and last.plan.finish and last.closed else ()
    every = {bolt for each in joint.passes for bolt in each.bolts}
    left = {bolt: entry for bolt, entry in sorted(out.items()) if bolt in every}
    return JointProgress(joint.id, tuple(passes), moving, left)


def _done(plan: PassPlan, pulls: Mapping[str, Mapping[int, list[Tightened]]]) -> dict[int, Tightened]:
    """The pull that counts for each bolt of a pass."""
    found: dict[int, Tightened] = {}
    for bolt, own in pulls.get(plan.name, {}).items():
        if bolt not in plan.bolts:
            continue
        others = [] if plan.finish else [e for each in pulls.values() for e in each.get(bolt, ()) if e not in own]
        counts = next((entry for entry in (*own, *others) if _reaches(entry, plan)), None)
        if counts is not None:
            found[bolt] = counts
    return found


def _reaches(entry: Tightened, plan: PassPlan) -> bool:
    """Whether a pull was made at what the pass asks; a record or plan that tells no share is taken by its pass alone."""
    return entry.share is None or plan.share is None or entry.share >= plan.share * (1 - ROUNDING)


def check_bolts(joint: JointPlan, record: Record, entry: Tightened | SetAside) -> None:
    """RecordError unless every bolt of the entry is open in the pass that is open now."""
    state = joint_progress(joint, record.entries)
    named = state.named(entry.pass_)
    if named is None:
        raise RecordError(f"{joint.id} has no pass {entry.pass_}; nothing was stored")
    if len(set(entry.bolts)) != len(entry.bolts):
        raise RecordError(f"pass {entry.pass_}: a {joint.noun} is named twice; nothing was stored")
    for bolt in entry.bolts:
        if bolt not in named.plan.bolts:
            raise RecordError(f"pass {entry.pass_} of {joint.id} has no {joint.noun} {bolt} here; nothing was stored")
        before = named.done.get(bolt)
        if before is not None:
            raise RecordError(
                f"{joint.noun} {bolt} is done in pass {entry.pass_} already: entry {before.number}, {before.done_by}, "
                f"{before.done_at:%H:%M}; nothing was stored"
            )
        if bolt in named.conceded:
            raise RecordError(f"{joint.noun} {bolt} was accepted as deferred in pass {entry.pass_}; nothing was stored")
        if bolt in named.out:
            raise RecordError(
                f"{joint.noun} {bolt} was deferred and accepted as such: it is out of every pass until a named person "
                "brings it back; nothing was stored"
            )
    current = state.current
    if current is None or current.plan.name != entry.pass_:
        now = f"pass {current.plan.name} is open" if current else "all its passes are closed"
        raise RecordError(f"pass {entry.pass_} of {joint.id} is not open: {now}; nothing was stored")

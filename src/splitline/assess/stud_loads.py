"""What is in every stud now, by the record: set values pulled, readings taken, and what follows for the work.

It advises. It never argues a crew out of the planned passes, nor out of check rounds until no nut moves: those close gaps
that no model of the joint knows. Preloads are those right after tightening, the moment that ``needed_preload`` speaks of.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import erfc, sqrt
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from splitline.assess.recorded import own_tools
from splitline.assess.result import ItemResult
from splitline.assess.tightening import Predicted
from splitline.assess.tightening_play import need_of
from splitline.errors import InputError
from splitline.plan.model.joint import Joint
from splitline.record.entry import Entry, Measured, Tightened
from splitline.tightening.estimate import SURPRISE, Doubts, Estimate, Next, Pull, Read, trial_of
from splitline.units import System, show

Array = NDArray[np.float64]
Advice = Literal["go on", "enough", "measure", "pull", "round"]

PRACTICE = "common practice, no published source"
CONFIDENCE = 0.95
TOOL = 0.02  # one standard deviation: half of what ISO 6789 lets a torque tool be off (4 %, from memory)
MODEL = 0.3  # share of each predicted loss to another pull that the model may be wrong by
# One standard deviation of a reading: a length of the gauge, and a share of the load it stands for.
GAUGE = 10e-6  # m
SHARE = {"length": 0.03, "angle": 0.15, "force": 0.03, "torque": 0.10, "pressure": 0.03}
TOLD = "preload right after tightening, 5th to 95th percentile"
NEXT = 0.03  # error of the reading that the next studs to measure are chosen for
DISAGREE = (
    "Readings and model disagree as a whole: no chance is told. Look at the gauge's zero and at stiffness, set values and "
    "friction of the plan before anything here is leaned on."
)
FEW = 6  # studs named one by one


@dataclass(frozen=True, slots=True)
class StudNow:
    """One stud. Preloads in N; ``read`` says whether a reading of its own was taken."""

    stud: int
    load: float
    low: float  # 5th percentile
    high: float  # 95th
    below_need: float | None  # chance; None: the need is not known
    read: bool


@dataclass(frozen=True, slots=True)
class Asked:
    """A reading the model cannot explain: entry, stud, and by how many standard deviations. Not taken."""

    entry: int
    stud: int
    apart: float


@dataclass(frozen=True, slots=True)
class StudLoads:
    """A joint's studs as far as the record goes. ``studs``: those pulled; ``prior``: no reading has been taken.

    ``after``: the chance once what is advised is done.
    """

    studs: tuple[StudNow, ...]
    planned: bool  # nothing is pulled yet: as it would be after all planned passes
    prior: bool
    need: float | None
    limit: float | None  # axial load at which a stud of the main size yields while torsion lasts
    chance: float | None  # that every stud of the main size is above need and below the limit
    confidence: float
    advice: Advice
    next: tuple[Next, ...] = ()  # one, two and six studs to measure
    set_to: tuple[tuple[int, float], ...] = ()  # studs and the share of the target to pull them to
    after: float | None = None
    asked: tuple[Asked, ...] = ()
    disagree: bool = False  # readings and model as a whole: no chance is told
    notes: tuple[str, ...] = ()
    defaults: tuple[tuple[str, str, str], ...] = field(default=())  # what, value, basis

    @property
    def lowest(self) -> StudNow:
        """The stud most likely below need; where the need is not known, that of the lowest 5th percentile."""
        return max(self.studs, key=lambda each: (each.below_need or 0.0, -each.low))


def stud_loads(result: ItemResult, joint: Joint, entries: Iterable[Entry] = ()) -> StudLoads | None:
    """The estimate from the entries that count, in their order; as planned where no stud is pulled yet.

    None where the joint's tightening is not predicted.
    """
    found = result.joint.predicted
    mine = [each for each in entries if _concerns(each, joint.id)]
    if found is None or result.settings is None:
        return None
    begun = any(isinstance(each, Tightened) for each in mine)
    return _Now(result, joint, found, mine if begun else None).told()


def estimated(result: ItemResult, joint: Joint, entries: Sequence[Entry]) -> StudLoads | None:
    """The same, kept until another entry of the joint counts: screens ask it at every picture."""
    mine = tuple(each for each in entries if _concerns(each, joint.id))
    key = (id(result), mine[-1].uid if mine else "", len(mine))
    if joint.id not in _kept or _kept[joint.id][0] != key or _kept[joint.id][1] is not result:
        _kept[joint.id] = (key, result, stud_loads(result, joint, mine))
    return _kept[joint.id][2]


_kept: dict[str, tuple[tuple[int, str, int], ItemResult, StudLoads | None]] = {}


def _concerns(entry: Entry, joint: str) -> bool:
    if isinstance(entry, Tightened):
        return entry.joint == joint
    return isinstance(entry, Measured) and entry.item == joint and entry.bolt is not None


class _Now:
    """The estimate of one joint; ``entries`` None: all passes as planned."""

    def __init__(self, result: ItemResult, joint: Joint, found: Predicted, entries: Sequence[Entry] | None) -> None:
        self.result, self.joint, self.found, self.entries = result, joint, found, entries or ()
        self.planned = entries is None
        self.notes: list[str] = []
        self.asked: list[Asked] = []
        self.read: set[int] = set()  # studs with a reading that was taken
        self.taken = 0
        made_up = result.joint.made_up
        self.stiffness = made_up.per_bolt("bolt_stiffness") if made_up is not None else None
        self.relaxation = (made_up.relaxation if made_up is not None else None) or 0.0
        self.shares = {one.name: float(one.loads[0]) / found.targets[0] for one in found.passes}
        self.through: set[int] = set()  # studs that have had every planned pass, the rounds included
        names = dict.fromkeys(name for each in self.entries if isinstance(each, Tightened) for name in _tools(each))
        self.estimate = Estimate(found.model, _doubts(found, len(names)), tuple(names))
        self._followed()
        for one in found.passes if self.planned else ():
            for step in one.steps:
                self.estimate.pull(Pull(tuple(step), tuple(float(one.loads[bolt - 1]) for bolt in step)))
            self.through = set(found.main)

    def _followed(self) -> None:
        for entry in self.entries:
            try:
                if isinstance(entry, Tightened):
                    self._pulled(entry)
                elif isinstance(entry, Measured):
                    self._measured(entry)
            except InputError as error:
                self.notes.append(f"Entry {entry.number} is left out: {error}.")

    def _pulled(self, entry: Tightened) -> None:
        studs = tuple(bolt for bolt in entry.bolts if bolt <= self.estimate.joint.bolts)
        share = entry.share or self.shares.get(entry.pass_)
        if share is None or not studs:
            self.notes.append(f"Entry {entry.number} is left out: it says no share of the target.")
            return
        loads = tuple(self._set(entry, stud, share) for stud in studs)
        self.estimate.pull(Pull(studs, loads, tuple(_tools(entry, stud)[0] for stud in studs)))
        planned = [one.name for one in self.found.passes]
        if entry.pass_ not in planned[:-1]:  # the last one, or a round beyond the plan
            self.through.update(studs)

    def _set(self, entry: Tightened, stud: int, share: float) -> float:
        """The load a pull was set for: the target's share, as much more or less as was really set against what is told."""
        assert self.result.settings is not None
        told = self.result.settings.of_bolt(stud, share, _tools(entry, stud)[0])
        own = entry.pressures[entry.bolts.index(stud)] if entry.pressures else entry.pressure
        was = own if told.by == "pressure" else entry.torque if told.by == "torque" else None
        whole = self.found.targets[stud - 1] * share
        return whole * was / told.value if was and told.value else whole

    def _measured(self, entry: Measured) -> None:
        assert entry.bolt is not None
        if not 1 <= entry.bolt <= self.estimate.joint.bolts or not self.estimate.tightened[entry.bolt - 1]:
            return
        load = self._load_of(entry)
        if load is None:
            return
        # What embedding has taken by the time of the reading is anything between nothing and all of it.
        lost = self.relaxation
        load /= 1 - lost / 2
        error = np.hypot(SHARE[entry.quantity] * load, lost * load / np.sqrt(12))
        if entry.quantity == "length" and self.stiffness is not None:
            error = np.hypot(error, self.stiffness[entry.bolt - 1] * GAUGE)
        read = Read(entry.bolt, load, float(error), by_friction=entry.quantity == "torque")
        apart = self.estimate.surprise(read)
        if abs(apart) > SURPRISE:
            self.asked.append(Asked(entry.number, entry.bolt, apart))
            return
        self.estimate.read(read)
        self.read.add(entry.bolt)
        self.taken += 1

    def _load_of(self, entry: Measured) -> float | None:
        """The load a reading stands for, N; None for one that tells none (a gap, a torque or pressure as set)."""
        stud = entry.bolt or 0
        target = self.found.targets[stud - 1]
        assert self.result.settings is not None
        if entry.quantity == "force":
            return entry.value
        if entry.what == "stretch" and self.stiffness is not None:
            return self.stiffness[stud - 1] * entry.value
        if entry.what == "breakaway torque":
            torque = self.result.settings.of_bolt(stud, 1.0).torque
            return target * entry.value / torque if torque else None
        if entry.what == "turn":
            turn = self.result.settings.sizes[self.result.settings.size_of(stud)].turn
            snug = self.found.schedule.snug * target
            return snug + (target - snug) * entry.value / turn if turn else None
        return None

    @property
    def disagree(self) -> bool:
        """As many readings cannot be explained as can: it is the model that is in doubt, not the readings."""
        return len(self.asked) > 1 and len(self.asked) >= self.taken

    # what it comes to

    def told(self) -> StudLoads | None:
        """The estimate in words' reach."""
        need, limit = need_of(self.result), self.found.limit
        estimate = self.estimate
        low, high = estimate.band()
        loads, deviation, pulled = estimate.loads, estimate.deviation, estimate.tightened
        drawn = estimate.drawn()
        known = need if not self.disagree else None

        def stud_now(at: int) -> StudNow:
            mean, doubt = float(loads[at]), float(deviation[at])
            below = None if known is None or at + 1 not in self.found.main else _below(known, mean, doubt)
            return StudNow(at + 1, mean, float(low[at]), float(high[at]), below, at + 1 in self.read)

        studs = tuple(stud_now(at) for at in map(int, np.flatnonzero(pulled)))
        if not studs:
            return None
        confidence = (self.joint.tightening.confidence if self.joint.tightening is not None else None) or CONFIDENCE
        chance = self._chance(drawn, need, limit)
        if self.disagree:
            chance = None
            self.notes.append(DISAGREE)
        whole = set(self.found.main) <= self.through
        base = StudLoads(studs, self.planned, not self.read, need, limit, chance, confidence, "go on")
        lowest = base.lowest.stud
        asked = tuple(estimate.measure_next(NEXT, lowest, count) for count in (1, 2, 6) if count <= len(studs))
        sizes = len(self.found.main) < estimate.joint.bolts
        advice, set_to, after = self._advice(whole, chance, confidence, need, limit, studs)
        return replace(
            base,
            advice=advice,
            next=asked,
            set_to=set_to,
            after=after,
            asked=tuple(self.asked),
            disagree=self.disagree,
            notes=(*self.notes, *_limits_of_it(need, limit, sizes)),
            defaults=_defaults(self.joint, len(estimate.tools)),
        )

    def _chance(self, drawn: Array, need: float | None, limit: float | None) -> float | None:
        if need is None:
            return None
        rows = drawn[:, [bolt - 1 for bolt in self.found.main]]
        inside = (rows >= need) & (rows <= (np.inf if limit is None else limit))
        return float(inside.all(axis=1).mean())

    def _advice(
        self,
        whole: bool,
        chance: float | None,
        confidence: float,
        need: float | None,
        limit: float | None,
        studs: Sequence[StudNow],
    ) -> tuple[Advice, tuple[tuple[int, float], ...], float | None]:
        """Go on while a planned pass is open; then enough, a pull of named studs, another round, or a look at what is there."""
        if self.planned or not whole or chance is None or need is None:
            return "go on", (), None
        if chance >= confidence:
            return "enough", (), chance
        weak = [each.stud for each in studs if each.below_need is not None and each.below_need > (1 - confidence) / 2]
        ways: list[tuple[float, Advice, tuple[tuple[int, float], ...]]] = []
        if weak and len(weak) <= FEW:
            pulls, shares = self._lifted(weak)
            ways.append((self._after(pulls, need, limit), "pull", shares))
        ways.append((self._after(self._round(), need, limit), "round", ()))
        after, advice, set_to = max(ways, key=lambda way: (round(way[0], 3), way[1] == "pull"))
        if after < chance + 0.02:  # no pull helps: the doubt itself is what is left
            return "measure", (), None
        return advice, set_to, after

    def _lifted(self, studs: Sequence[int]) -> tuple[list[Pull], tuple[tuple[int, float], ...]]:
        """Each weak stud to its target by the best guess of its own friction, in the order of the plan."""
        factors, _ = self.estimate.factors
        order = [bolt for step in self.found.steps for bolt in step if bolt in studs]
        shares = [(bolt, min(1 / (1 + float(factors[bolt - 1])), 1.2)) for bolt in order]
        first = self.estimate.tools[:1]
        return [Pull((b,), (share * self.found.targets[b - 1],), first) for b, share in shares], tuple(shares)

    def _round(self) -> list[Pull]:
        first = self.estimate.tools[:1]
        return [
            Pull(tuple(step), tuple(self.found.targets[bolt - 1] for bolt in step), first) for step in self.found.steps
        ]

    def _after(self, pulls: Sequence[Pull], need: float, limit: float | None) -> float:
        drawn = trial_of(self.estimate, pulls).drawn()
        return self._chance(drawn, need, limit) or 0.0


def _tools(entry: Tightened, stud: int | None = None) -> tuple[str, ...]:
    """Names of the tools of a pull, or of the one on a stud as far as it is known."""
    if stud is None:
        return tuple(name for bolt in entry.bolts for name in own_tools(entry, bolt)[:1]) or ("",)
    return own_tools(entry, stud)[:1] or ("",)


def _doubts(found: Predicted, tools: int) -> Doubts:
    """The plan's scatter, split: with several tools each has an error of its own, which one alone has in common with all."""
    sigma, common = found.scatter / 2, found.schedule.common
    tool = min(TOOL, sigma * common**0.5) if tools > 1 else 0.0
    rest = sigma**2 - tool**2
    return Doubts(rest**0.5, (common * sigma**2 - tool**2) / rest if rest > 0 else 0.0, tool, MODEL)


def _below(need: float, load: float, deviation: float) -> float:
    """Chance that a normal load is below the need."""
    return erfc((load - need) / (deviation * sqrt(2))) / 2 if deviation > 0 else float(load < need)


def _limits_of_it(need: float | None, limit: float | None, sizes: bool) -> tuple[str, ...]:
    out = ["Advice: planned passes are done, and rounds go on until no nut moves, whatever stands here."]
    if need is None:
        out.append("What the studs need is not known: no load case was assessed.")
    if limit is None:
        out.append("The load at which a stud yields is not known: chances count the need alone.")
    if sizes:
        out.append("Studs of other sizes than the main one are followed, and not in the chance.")
    return tuple(out)


def _defaults(joint: Joint, tools: int) -> tuple[tuple[str, str, str], ...]:
    out = [
        ("model of the joint", f"±{MODEL:.0%} of each loss to another pull", PRACTICE),
        ("readings", "stretch 0.01 mm and 3 %, load 3 %, breakaway torque 10 %, turn 15 %", PRACTICE),
    ]
    if joint.tightening is None or joint.tightening.confidence is None:
        out.insert(0, ("tightening.confidence", f"{CONFIDENCE:g}", PRACTICE))
    if tools > 1:
        out.append(("each tool", f"±{TOOL:.0%}", "half of ISO 6789's 4 %, not checked against its text"))
    return tuple(out)


def chance_text(chance: float) -> str:
    """A chance as it is said, never surer than the model."""
    if chance > 0.99:
        return "over 99 %"
    return "under 1 %" if chance < 0.01 else f"{100 * chance:.0f} %"


def sentence(found: StudLoads, noun: str, system: System) -> str:
    """The lowest stud in one sentence, for a fitter."""
    low = found.lowest
    how = "as planned" if found.planned else "by set values alone" if found.prior else "by set values and readings"
    if found.disagree:
        return "what is in the studs is in doubt: readings and model disagree"
    if low.below_need is None:
        return f"lowest {noun} {low.stud}: {show(low.low, 'force', system)} to {show(low.high, 'force', system)}, {how}"
    return f"lowest {noun} {low.stud}: {chance_text(1 - low.below_need)} likely above need, {how}"


def advice(found: StudLoads, noun: str, system: System) -> tuple[str, ...]:
    """What follows, in sentences: the chance, what would help, which studs to measure, what is asked about."""
    out = []
    if found.chance is not None:
        bounds = "above need and below yield" if found.limit is not None else "above need"
        out.append(
            f"Chance that every {noun} is {bounds}: {chance_text(found.chance)} (wanted {100 * found.confidence:g} %)."
        )
    after = "" if found.after is None else f" That would bring the chance to {chance_text(found.after)}."
    if found.advice == "enough":
        out.append("Enough by this estimate, once no nut moves.")
    elif found.advice == "pull":
        named = ", ".join(f"{stud} to {100 * share:.0f} % of the target" for stud, share in found.set_to)
        out.append(f"Ask the planner about pulling {noun}s again: {named}.{after}")
    elif found.advice == "round":
        out.append(f"Another round at 100 % helps.{after}")
    elif found.advice == "measure":
        out.append("Another pull would not help: measure.")
    if found.next and not found.planned:
        words = [
            f"{' + '.join(map(str, each.studs))} (doubt of {each.lowest}: ±{show(each.before, 'force', system)} to "
            f"±{show(each.after, 'force', system)})"
            for each in found.next
        ]
        out.append(f"To measure next: {'; or '.join(words)}.")
    if len(found.asked) > FEW:
        worst = max(found.asked, key=lambda each: abs(each.apart))
        out.append(
            f"{len(found.asked)} readings are NOT counted: they lie up to {abs(worst.apart):.0f} standard deviations from what can "
            f"be explained (entry {worst.entry}, {noun} {worst.stud}). Ask: slip, galling, soft washers, gaps, a wrong zero?"
        )
        return (*out, *found.notes)
    out += [
        f"Entry {each.entry}, {noun} {each.stud}: {abs(each.apart):.0f} standard deviations "
        f"{'above' if each.apart > 0 else 'below'} what can be explained, so it is NOT counted. "
        "Ask: slip, galling, a soft washer, a gap, a wrong zero?"
        for each in found.asked
    ]
    return (*out, *found.notes)

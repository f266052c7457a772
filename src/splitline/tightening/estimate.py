"""What is in every stud now: preloads with their doubt, followed pull by pull and mended by readings.

The state is Gaussian in load, not in its logarithm: what studs take from one another adds in newtons, a pull of known torque
gives ``set · (1 + u)`` with u normal (the scatter of the method), and readings are of loads or stretches. While no stud goes
slack the answer is then exact; with slack studs or gaps it is linearised along the path really pulled.

A stud's factor u is one for the whole job: a part common to all studs (one lubricant, one batch), a part of the tool, and
the stud's own. What a pull does to the other studs is known to a share only (``Doubts.model``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.joint import Elastic, Joint, Measured
from splitline.tightening.together import REACHED
from splitline.tightening.unilateral import Unilateral

Array = NDArray[np.float64]

SURPRISE = 3.0  # standard deviations past which a reading is asked about, not taken


@dataclass(frozen=True, slots=True)
class Doubts:
    """Relative standard deviations of what a pull gives, and of what it takes from others.

    ``pull``: of a pull's load, all parts but the tool's; ``common``: share of that variance common to all studs; ``tool``:
    of a tool's own error; ``model``: share of each predicted change of another stud. InputError out of range.
    """

    pull: float
    common: float
    tool: float = 0.0
    model: float = 0.0

    def __post_init__(self) -> None:
        if not (0 <= self.pull < 0.5 and 0 <= self.common <= 1 and 0 <= self.tool < 0.5 and 0 <= self.model <= 1):
            raise InputError(
                "doubts of a pull and a tool are shares below 0.5; the common share and the model's 0 to 1"
            )


@dataclass(frozen=True, slots=True)
class Pull:
    """Studs (from 1) pulled together, the load each was set to (N), and the tool on each; one for all where one is named."""

    studs: tuple[int, ...]
    loads: tuple[float, ...]
    tools: tuple[str, ...] = ("",)

    def tool_of(self, place: int) -> str:
        """The tool on the stud named at ``place``, from 0."""
        return self.tools[place] if len(self.tools) > 1 else self.tools[0]


@dataclass(frozen=True, slots=True)
class Read:
    """One reading told as a load: stud (from 1), N as read, its standard deviation (N).

    ``by_friction``: found through the friction of the thread, as a breakaway torque is: a stud whose friction is low shows
    less than it holds, by the same share as its pull gave more.
    """

    stud: int
    load: float
    error: float
    by_friction: bool = False


@dataclass(frozen=True, slots=True)
class Next:
    """Studs (from 1) to measure, and the standard deviation (N) of the lowest stud before and after."""

    studs: tuple[int, ...]
    lowest: int
    before: float
    after: float


class Estimate:
    """Preloads of a joint's studs while it is worked on. Moves on by ``pull`` and ``read``; ``copy`` before a trial."""

    def __init__(self, joint: Joint, doubts: Doubts, tools: Sequence[str] = ()) -> None:
        self.joint, self.doubts = joint, doubts
        self.tools = tuple(dict.fromkeys(tools)) or ("",)
        count = joint.bolts
        self._state = _start(joint)
        # Order of the state: position of each nut, factor of each stud, error of the model at each stud, error of each tool.
        self._count = count
        self._mean = np.zeros(3 * count + len(self.tools))
        self._cov = np.zeros((len(self._mean), len(self._mean)))
        own = doubts.pull**2
        factors = slice(count, 2 * count)
        self._cov[factors, factors] = own * doubts.common + own * (1 - doubts.common) * np.eye(count)
        for number in range(len(self.tools)):
            self._cov[3 * count + number, 3 * count + number] = doubts.tool**2
        self._kept: tuple[Array, Array] | None = None

    def copy(self) -> Estimate:
        """The same, to be moved on apart."""
        twin = object.__new__(Estimate)
        twin.joint, twin.doubts, twin.tools, twin._count = self.joint, self.doubts, self.tools, self._count
        twin._state = self._state.copy()
        twin._mean, twin._cov, twin._kept = self._mean.copy(), self._cov.copy(), None
        return twin

    # what is known

    @property
    def loads(self) -> Array:
        """Expected preload of every stud right after tightening, N; 0 of one not tightened."""
        return self._told()[0]

    @property
    def covariance(self) -> Array:
        """Of the preloads, N²."""
        return self._told()[1]

    @property
    def deviation(self) -> Array:
        """Standard deviation of every stud's preload, N."""
        found: Array = np.sqrt(np.maximum(np.diag(self.covariance), 0.0))
        return found

    @property
    def tightened(self) -> NDArray[np.bool_]:
        """Studs pulled at least once."""
        return self._state.tightened

    @property
    def factors(self) -> tuple[Array, Array]:
        """Each stud's factor less one (0.05: a pull gave 5 % more than set), and its standard deviation."""
        at = slice(self._count, 2 * self._count)
        return self._mean[at].copy(), np.sqrt(np.maximum(np.diag(self._cov)[at], 0.0))

    def band(self, z: float = 1.6449) -> tuple[Array, Array]:
        """Preloads ``z`` standard deviations below (not under 0) and above the expected; 1.6449: 5th to 95th percentile."""
        return np.maximum(self.loads - z * self.deviation, 0.0), self.loads + z * self.deviation

    def drawn(self, draws: int = 4000, seed: int = 20240611) -> Array:
        """Preloads drawn together (draws × studs), N: for chances over all studs."""
        root = _root(self.covariance)
        normal = np.random.default_rng(seed).standard_normal((draws, root.shape[1]))
        loads: Array = self.loads + normal @ root.T
        return loads

    def chance_within(self, need: Array | float, limit: Array | float, of: Sequence[int] | None = None) -> float:
        """Chance that every stud (or those of ``of``, from 1) holds at least ``need`` and at most ``limit``, N."""
        chosen = np.arange(self._count) if of is None else np.asarray(of) - 1
        loads = self.drawn()[:, chosen]
        low, high = (
            np.broadcast_to(np.asarray(bound, dtype=np.float64), (self._count,))[chosen] for bound in (need, limit)
        )
        return float(((loads >= low) & (loads <= high)).all(axis=1).mean())

    # what happens

    def pull(self, pull: Pull) -> tuple[int, ...]:
        """Tighten studs together to their set loads; returns those (from 1) whose nuts moved by the best estimate.

        InputError for a stud that is not of this joint, one named twice, a load not above 0, or an unknown tool.
        """
        rows = self._checked(pull)
        tools = [3 * self._count + self.tools.index(pull.tool_of(place)) for place in range(len(rows))]
        wanted = np.asarray(pull.loads, dtype=np.float64)
        factor = 1 + self._mean[[self._count + row for row in rows]] + self._mean[tools]
        before = self._state.loads() if self.doubts.model else None
        moved = self._state.pull(tuple(rows), wanted * factor)
        self._kept = None
        if not moved:
            return ()
        self._transition(moved, {row: (float(load), at) for row, load, at in zip(rows, wanted, tools, strict=True)})
        if before is not None:
            self._blur(before, moved)
        return tuple(row + 1 for row in moved)

    def surprise(self, read: Read) -> float:
        """How many standard deviations a reading lies from what is expected of it (its own error counted)."""
        _, expected, spread = self._looked_at(read)
        return (read.load - expected) / spread

    def read(self, read: Read) -> None:
        """Take a reading. InputError for an error not above 0, a negative load, or a stud not of this joint or not pulled."""
        row, expected, spread = self._looked_at(read)
        gain = self._cov @ row / spread**2
        self._mean += gain * (read.load - expected)
        self._cov -= np.outer(gain, gain) * spread**2
        self._cov = (self._cov + self._cov.T) / 2
        self._state.moved_to(self._mean[: self._count])
        self._kept = None

    def measure_next(self, error: float, lowest: int, count: int = 1, of: Sequence[int] | None = None) -> Next:
        """The studs whose readings (standard deviation ``error`` as a share of load) would say most about stud ``lowest``.

        One after the other, each the best beside those before it. ``of``: studs that can be measured; default: all pulled.
        """
        if error <= 0 or not 1 <= lowest <= self._count:
            raise InputError("a reading needs an error above 0, and the lowest stud is one of the joint's")
        cov, at = self.covariance.copy(), lowest - 1
        able = np.flatnonzero(self.tightened) if of is None else np.asarray(of) - 1
        before, found = sqrt(max(float(cov[at, at]), 0.0)), []
        noise = (error * np.maximum(self.loads, 1.0)) ** 2
        for _ in range(min(count, len(able))):
            falls = cov[at, able] ** 2 / (np.diag(cov)[able] + noise[able])
            best = int(able[int(np.argmax(falls))])
            column = cov[:, best].copy()
            cov -= np.outer(column, column) / (cov[best, best] + noise[best])
            found.append(best + 1)
            able = able[able != best]
        return Next(tuple(found), lowest, before, sqrt(max(float(cov[at, at]), 0.0)))

    # inside

    def _checked(self, pull: Pull) -> list[int]:
        rows = [stud - 1 for stud in pull.studs]
        if not rows or len(set(rows)) != len(rows) or min(rows) < 0 or max(rows) >= self._count:
            raise InputError(f"studs {', '.join(map(str, pull.studs))} are not studs 1 to {self._count}, each once")
        if len(pull.loads) != len(rows) or not all(np.isfinite(load) and load > 0 for load in pull.loads):
            raise InputError("every stud pulled needs a set load above 0")
        if len(pull.tools) not in (1, len(rows)):
            raise InputError(
                f"{len(rows)} studs pulled together have one tool, or a tool each; {len(pull.tools)} are named"
            )
        for tool in pull.tools:
            if tool not in self.tools:
                raise InputError(
                    f'"{tool}" is none of the tools {", ".join(each or "of no name" for each in self.tools)}'
                )
        return rows

    def _transition(self, moved: tuple[int, ...], wanted: dict[int, tuple[float, int]]) -> None:
        """x becomes x + G·(set·(1 + u + tool) − load held): exact while nobody goes slack, along the path otherwise."""
        count, at = self._count, list(moved)
        lacking = np.zeros((len(at), len(self._mean)))
        lacking[:, :count] = -self._state.to_loads[at]
        for row, stud in enumerate(at):
            load, tool = wanted[stud]
            lacking[row, count + stud] = lacking[row, tool] = load
        gain = self._state.gain(moved)
        anew = [2 * count + stud for stud in at]  # a pull sets the load: what the model had wrong there is over
        self._cov[anew, :] = 0.0
        self._cov[:, anew] = 0.0
        self._mean[anew] = 0.0
        self._cov[:count] += gain @ (lacking @ self._cov)
        self._cov[:, :count] += (self._cov @ lacking.T) @ gain.T
        self._mean[:count] = self._state.position[:count]

    def _blur(self, before: Array, moved: tuple[int, ...]) -> None:
        """What the pull did to the others is known to a share."""
        change = self._state.loads() - before
        change[list(moved)] = 0.0
        at = 2 * self._count + np.arange(self._count)
        self._cov[at, at] += (self.doubts.model * change) ** 2

    def _told(self) -> tuple[Array, Array]:
        if self._kept is None:
            count = self._count
            inverse = self._state.to_loads
            positions, model = slice(0, count), slice(2 * count, 3 * count)
            left = inverse @ self._cov[positions, positions] @ inverse.T
            across = inverse @ self._cov[positions, model]
            cov = left + across + across.T + self._cov[model, model]
            live = self._state.holding
            cov[~live, :] = 0.0
            cov[:, ~live] = 0.0
            loads = np.where(live, np.maximum(self._state.loads() + self._mean[model], 0.0), 0.0)
            self._kept = loads, cov
        return self._kept

    def _looked_at(self, read: Read) -> tuple[Array, float, float]:
        """Row of the state a reading looks at, what it is expected to say, and with what standard deviation."""
        at, count = read.stud - 1, self._count
        if not 0 <= at < count or not self.tightened[at]:
            raise InputError(f"stud {read.stud} has not been tightened: a reading of it says nothing yet")
        if not (np.isfinite(read.load) and read.load >= 0):
            raise InputError(f"stud {read.stud}: a reading cannot be a load below 0; look at its sign and its zero")
        if not (np.isfinite(read.error) and read.error > 0):
            raise InputError("a reading needs an error above 0")
        row = np.zeros(len(self._mean))
        row[:count] = self._state.to_loads[at]
        row[2 * count + at] = 1.0
        expected = float(self.loads[at])
        if read.by_friction:
            # T/(K·d) = F/(1 + u): a slippery stud was pulled higher and comes loose at less.
            factor = 1 + float(self._mean[count + at])
            row /= factor
            row[count + at] -= expected / factor**2
            expected /= factor
        variance = float(row @ self._cov @ row) + read.error**2
        return row, expected, sqrt(variance)


class _State(Protocol):
    """Where the joint stands by the best estimate: the positions of its nuts, or loads in their place."""

    def copy(self) -> _State: ...
    def loads(self) -> Array: ...
    def pull(self, rows: tuple[int, ...], loads: Array) -> tuple[int, ...]: ...
    def gain(self, moved: tuple[int, ...]) -> Array: ...
    def moved_to(self, positions: Array) -> None: ...

    @property
    def position(self) -> Array: ...
    @property
    def to_loads(self) -> Array: ...
    @property
    def tightened(self) -> NDArray[np.bool_]: ...
    @property
    def holding(self) -> NDArray[np.bool_]: ...


class _OneSided:
    """Studs and faces as forces that only pull or push; the state is the position of each nut, m."""

    def __init__(self, state: Unilateral, count: int) -> None:
        self.state, self.count = state, count

    def copy(self) -> _OneSided:
        return _OneSided(self.state.copy(), self.count)

    def loads(self) -> Array:
        return self.state.force[: self.count].copy()

    @property
    def position(self) -> Array:
        return self.state.position

    @property
    def to_loads(self) -> Array:
        """Change of each stud's load per change of each nut's position, faces as they touch now, N/m."""
        return self.state.inverse[: self.count, : self.count]

    @property
    def tightened(self) -> NDArray[np.bool_]:
        return self.state.taking_part[: self.count].copy()

    @property
    def holding(self) -> NDArray[np.bool_]:
        return self.state.active[: self.count].copy()

    def pull(self, rows: tuple[int, ...], loads: Array) -> tuple[int, ...]:
        return self.state.pull(rows, loads)

    def gain(self, moved: tuple[int, ...]) -> Array:
        """Only the nuts moved change their places: so far that their studs have what they lacked."""
        at = list(moved)
        answer = np.zeros((self.count, len(at)))
        answer[at] = np.linalg.inv(self.to_loads[np.ix_(at, at)])
        return answer

    def moved_to(self, positions: Array) -> None:
        self.state.stand(positions)


class _ByCoefficients:
    """Measured coefficients: the loads themselves are the state, N; below 0 by what a slack stud lacks."""

    def __init__(self, joint: Measured) -> None:
        self.joint = joint
        self._loads: Array = np.zeros(joint.bolts)
        self._same = np.eye(joint.bolts)
        self._tightened = np.zeros(joint.bolts, dtype=bool)

    @property
    def position(self) -> Array:
        return self._loads

    @property
    def to_loads(self) -> Array:
        return self._same

    @property
    def tightened(self) -> NDArray[np.bool_]:
        return self._tightened.copy()

    def copy(self) -> _ByCoefficients:
        twin = _ByCoefficients(self.joint)
        twin._loads, twin._tightened = self._loads.copy(), self._tightened.copy()
        return twin

    def loads(self) -> Array:
        found: Array = np.where(self._tightened, np.maximum(self._loads, 0.0), 0.0)
        return found

    @property
    def holding(self) -> NDArray[np.bool_]:
        return self._tightened & (self._loads > 0)

    def pull(self, rows: tuple[int, ...], loads: Array) -> tuple[int, ...]:
        held = np.maximum(self._loads[list(rows)], 0.0)
        short = [at for at, row in enumerate(rows) if not self._tightened[row] or held[at] < loads[at] * REACHED]
        if not short:
            return ()
        moved = tuple(rows[at] for at in short)
        self._tightened[list(moved)] = True
        change = self.gain(moved) @ (loads[short] - held[short])
        self._loads = self._loads + change
        self._loads[list(moved)] = loads[short]
        return moved

    def gain(self, moved: tuple[int, ...]) -> Array:
        at = list(moved)
        columns = self.joint.coefficients[:, at]
        answer: Array = np.array(np.linalg.solve(columns[at].T, columns.T).T, dtype=np.float64)
        answer[~self._tightened] = 0.0
        return answer

    def moved_to(self, positions: Array) -> None:
        self._loads = positions.copy()


def _start(joint: Joint) -> _State:
    if isinstance(joint, Measured):
        return _ByCoefficients(joint)
    if isinstance(joint, Elastic):
        return _OneSided(joint.one_sided((), np.zeros(joint.bolts)), joint.bolts)
    return _OneSided(joint.start(), joint.bolts)


def _root(cov: Array) -> Array:
    """R with R·Rᵀ = cov, also where it has lost rank."""
    values, vectors = np.linalg.eigh(cov)
    root: Array = vectors * np.sqrt(np.maximum(values, 0.0))
    return root


def trial_of(estimate: Estimate, pulls: Sequence[Pull]) -> Estimate:
    """What more pulls would leave, from here on; the estimate itself stays."""
    twin = estimate.copy()
    for each in pulls:
        twin.pull(each)
    return twin

"""What each step and each pass leaves in every bolt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from splitline.errors import InputError
from splitline.tightening.gains import Gains, Pulled
from splitline.tightening.joint import Elastic, Gapped, Joint, Measured
from splitline.tightening.order import flat
from splitline.tightening.passes import Pass
from splitline.tightening.together import pull_together
from splitline.tightening.unilateral import Unilateral

Array = NDArray[np.float64]

_SLACK = 1e-9  # share of the step's load below zero that counts as slack


@dataclass(frozen=True, slots=True, eq=False)
class Prediction:
    """Preloads (N) after every step (steps × bolts) and pass (passes × bolts), right after it, before relaxation.

    ``moved``: per step, the bolts (from 1) whose nuts moved; ``slack``: whether any tightened bolt was ever slack;
    ``gains``: the linear answers used, None where the one-sided problem had to be solved.
    """

    after_step: Array
    after_pass: Array
    moved: tuple[tuple[int, ...], ...]
    slack: bool
    gains: Gains | None = field(repr=False)
    state: Hand = field(repr=False)  # at the end; copy it before it is moved on
    kept: tuple[int, Hand] | None = field(default=None, repr=False)  # the state after so many passes, where asked for

    @property
    def final(self) -> Array:
        """Preload of every bolt at the end."""
        last: Array = self.after_pass[-1]
        return last

    def after(self, passes: int) -> Hand | None:
        """The state after so many of the passes, to be moved on; None where it is not known."""
        if self.kept is not None and self.kept[0] == passes:
            return self.kept[1].copy()
        if self.gains is None or self.slack or not passes:
            return None
        hand = self.state.copy()
        hand.force = self.after_pass[passes - 1].copy()
        return hand


def spread(loads: Array, targets: Array | None = None) -> float:
    """(max − min)/mean of preloads, of their shares of ``targets`` where these differ; 0 for no load at all."""
    shares = loads if targets is None else loads / targets
    mean = float(shares.mean())
    return float(shares.max() - shares.min()) / mean if mean > 0 else 0.0


def predict(joint: Joint, passes: Sequence[Pass], keep: int = 0) -> Prediction:
    """Tighten the joint as planned and return what is left in each bolt. ``keep``: passes after which the state is kept.

    The bolts of a step end at their loads together; a wrench never slackens a nut. With no slack bolt a step costs
    O(bolts) after one factorisation; from the first slack bolt on, the one-sided problem is solved exactly. InputError
    when a pass does not tighten each bolt once.
    """
    check_passes(passes, joint.bolts)
    return carried_out(Hand(joint, tuple(bolt - 1 for bolt in flat(passes[0].steps))), passes, keep)


def go_on(prediction: Prediction, passes: Sequence[Pass]) -> Prediction:
    """The passes that follow a prediction; states and moved nuts are those of ``passes`` alone."""
    check_passes(passes, prediction.state.joint.bolts)
    return carried_out(prediction.state.copy(), passes)


def carried_out(hand: Hand, passes: Sequence[Pass], keep: int = 0) -> Prediction:
    """Move ``hand`` on through checked passes."""
    states, ends, moved = [], [], []
    kept = None
    for number, one in enumerate(passes):
        if number and number == keep and hand.one_sided is not None:
            kept = number, hand.copy()
        for step in one.pulled():
            moved.append(tuple(bolt + 1 for bolt in hand.pull(step, one.loads[list(step)])))
            states.append(hand.loads())
        ends.append(states[-1])
    return Prediction(np.array(states), np.array(ends), tuple(moved), hand.slack, hand.gains, hand, kept)


def check_passes(passes: Sequence[Pass], bolts: int) -> None:
    """InputError unless every pass holds each bolt once, with a load above 0."""
    if not passes:
        raise InputError("there is no pass to predict")
    for one in passes:
        if sorted(flat(one.steps)) != list(range(1, bolts + 1)) or len(one.loads) != bolts:
            raise InputError(f"{one.name} must tighten each of the {bolts} bolts once, to a load of its own")
        if not (np.isfinite(one.loads).all() and (one.loads > 0).all()):
            raise InputError(f"{one.name}: every bolt needs a load above 0")


class Hand:
    """The state of a joint while it is tightened: linear until a bolt goes slack, one-sided from then on."""

    def __init__(self, joint: Joint, first_order: Sequence[int]) -> None:
        self.joint = joint
        self.gains: Gains | None = None if isinstance(joint, Gapped) else joint.gains(first_order)
        self.one_sided: Unilateral | None = joint.start() if isinstance(joint, Gapped) else None
        self.force = np.zeros(joint.bolts)
        self.tightened: list[int] = []
        self.slack = False
        self.trail: list[tuple[Pulled, Array]] = []  # of a one-sided joint: nuts moved, stiffness rows of these then

    def copy(self) -> Hand:
        """The same state, to be moved on apart; the factorisation is shared."""
        twin = object.__new__(Hand)
        twin.joint, twin.gains, twin.slack = self.joint, self.gains, self.slack
        twin.one_sided = None if self.one_sided is None else self.one_sided.copy()
        twin.force, twin.tightened, twin.trail = self.force.copy(), list(self.tightened), list(self.trail)
        return twin

    def loads(self) -> Array:
        """Preload of every bolt, N."""
        if self.one_sided is not None:
            return self.one_sided.force[: self.joint.bolts].copy()
        return np.maximum(self.force, 0.0)

    def pull(self, step: Pulled, loads: Array) -> Pulled:
        """Tighten the bolts of ``step`` (from 0) together; returns those whose nuts moved."""
        if self.one_sided is None:
            moved = self._linear(step, loads)
            if moved is not None:
                return moved
            assert isinstance(self.joint, Elastic)
            self.one_sided, self.gains = self.joint.one_sided(self.tightened, self.force), None
        moved = self.one_sided.pull(step, loads)
        if isinstance(self.joint, Gapped):
            self.trail.append((moved, self.one_sided.inverse[list(moved)]))
        tight = self.one_sided.taking_part[: self.joint.bolts]
        self.slack = self.slack or bool((tight & (self.one_sided.force[: self.joint.bolts] <= 0)).any())
        return moved

    def _linear(self, step: Pulled, loads: Array) -> Pulled | None:
        """The step by gains; None, with nothing changed, when a bolt of an elastic joint would go slack."""
        assert self.gains is not None
        first = len(self.tightened) < self.joint.bolts
        if first:
            new = self.force + self.gains.gain(step, len(self.tightened) + len(step)) @ loads
            new[list(step)] = loads
            moved: Pulled = tuple(sorted(step))
        else:
            new, moved = pull_together(self.gains, self.force, step, loads)
        if moved and new.min() < -_SLACK * float(loads.max()):
            if not isinstance(self.joint, Measured):
                return None
            self.slack = True
        self.force = new
        if first:
            self.tightened.extend(step)
        return moved

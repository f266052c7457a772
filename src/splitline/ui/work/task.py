"""One instruction, as frozen data: what the fitter's screen shows and what can be done about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from splitline.assess.result import Caution
from splitline.record.judged import Verdict, judged
from splitline.record.order import StepState

Pairing = Literal["listed", "swapped", "not noted"]
LISTED: Pairing = "listed"  # the first tool of the set-up on the first fastener of a step, and so on
SWAPPED: Pairing = "swapped"
UNKNOWN: Pairing = "not noted"
Kind = Literal["stopped", "sign", "set-up", "bolts", "taken", "mounting", "plain", "nothing"]


@dataclass(frozen=True, slots=True)
class Figure:
    """Large figures with a small unit behind them."""

    caption: str
    text: str
    unit: str = ""
    accepted: str = ""  # what is accepted about it, in words


@dataclass(frozen=True, slots=True)
class Answer:
    """A target at the foot of the screen: what a tap does, its words and its key."""

    id: str
    label: str
    key: str
    ready: bool = True
    guarded: bool = False  # never under the cursor by itself: somebody answers for it


@dataclass(frozen=True, slots=True)
class Mark:
    """A bolt on the map."""

    bolt: int
    mark: str
    style: str


@dataclass(frozen=True, slots=True)
class Limits:
    """A figure that can be read for this task, with what it is judged by. SI."""

    what: str
    quantity: str
    low: float | None = None
    high: float | None = None
    bolt: bool = False  # of one bolt: ask which
    legs: int = 0  # of one leg of so many: ask which
    typical: str = ""  # how it is judged, in words
    unit: str = ""  # of the instrument it is read on, where that is not the plan's usual one

    def judge(self, value: float) -> Verdict:
        """A reading (SI) against these limits."""
        return judged(value, self.low, self.high, self.quantity)


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be done now."""

    kind: Kind
    key: str  # names this very instruction: one tap on it is one entry
    title: str = ""
    middle: str = ""
    right: str = ""
    figures: tuple[Figure, ...] = ()
    lines: tuple[tuple[str, str], ...] = ()  # text, style
    answers: tuple[Answer, ...] = ()
    readings: tuple[Limits, ...] = ()
    marks: tuple[Mark, ...] = ()
    step: StepState | None = None
    item: str = ""
    joint: str = ""
    pass_: str = ""
    place: int = 0
    bolts: tuple[int, ...] = ()
    torque: float | None = None
    pressure: float | None = None
    shown: str = ""  # the set value as it stands on the screen
    share: float | None = None
    stop: str = ""  # key of the stop that holds the work up
    finish: bool = False  # a check round
    part: str = ""  # number of a mounting step
    doubt: str = ""  # asked back before the step is closed
    wait: float = 0.0  # s a mounting step holds
    sign: str = ""  # hold or witness, where a mounting step asks for a name
    pulled_with: tuple[
        str, ...
    ] = ()  # serial, or name, of the tool told for each of ``bolts``, where several pull at once
    pressures: tuple[float, ...] = ()  # Pa for each of them, where the tools differ
    noun: str = "stud"  # what the fasteners of the joint are called
    aside: bool = False  # bolts set aside before, offered again
    cautions: tuple[Caution, ...] = ()  # of this very act; never cut


def identity(task: Task) -> object:
    """What makes an instruction another one to the hand that answers it: not a clock that runs on it."""
    figures = () if task.wait else task.figures
    return task.key, task.title, task.bolts, task.stop, task.torque, task.pressure, figures, task.answers

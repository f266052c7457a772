"""The calculation sheet of a joint: its axes and what the plan gives of each size. Results are declared beside their physics.

A joint has sizes of bolts, the main one first; each size stands in every load case. What a size leaves out is the joint's.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from splitline.assess.sheet import Rule, Sheet
from splitline.errors import LibraryError
from splitline.plan.model.bolting import Bolting, SizeBolting
from splitline.plan.model.joint import Joint, Target

T = TypeVar("T")
SHEET = Sheet("joint", names_needs=True)
SIZE = SHEET.axis("size", size="bolts")

PRACTICE = "common practice, no published source"
SHIGLEY = "Shigley, Mechanical Engineering Design, 9th ed."
VDI = "VDI 2230-1:2003"

# Fields that go with one thread size: a size with a thread of its own does not take them over.
_WITH_THREAD = frozenset(
    {
        "hole_diameter", "across_flats", "bearing_diameter", "nut_height", "washer_diameter", "shank_diameter",
        "shank_length",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sized:
    """The bolts of one size and what the plan says of them."""

    number: int  # 0 the main size
    bolts: tuple[int, ...]
    bolting: Bolting
    target: Target | None
    first: bool = False

    @property
    def of(self) -> str:
        """What is added to titles of checks: "" for the main size, " (bolts 1, 2)" for another."""
        if self.number == 0:
            return ""
        shown = ", ".join(map(str, self.bolts[:6]))
        return f" (bolts {shown})" if len(self.bolts) <= 6 else f" (bolts {shown} and {len(self.bolts) - 6} more)"

    def own(self, name: str) -> str:
        """Where one of its bolting fields stands in the joint."""
        return f"bolting.{name}" if self.number == 0 else f"size.{self.number - 1}.bolting.{name}"

    def field(self, path: str) -> str:
        """A missing field is named as the joint's: there it serves every size."""
        return path

    @property
    def through(self) -> bool:
        """Whether both ends bear on a face (nut or head); False where one end is tapped."""
        return self.bolting.kind in ("through-stud", "bolt")

    @property
    def engaged(self) -> str:
        """What the thread engages in, for titles."""
        return "nut" if self.through else "tapped hole"

    @property
    def pressing(self) -> str:
        """What presses on the clamped part, for titles."""
        return "the washer" if self.bolting.washer_thickness is not None else "nut or head"


@SHEET.result()
def all_size(joint: Joint) -> tuple[Sized, ...]:
    main = joint.bolting or Bolting(kind="bolt")  # without one the rest that is wanted is said at once
    taken = {bolt for size in joint.size for bolt in size.bolts}
    rest = tuple(bolt for bolt in range(1, (_count(joint) or 0) + 1) if bolt not in taken)
    others = (
        Sized(number, size.bolts, _merged(main, size.bolting), size.target or joint.target, bool(size.first))
        for number, size in enumerate(joint.size if joint.bolting else (), 1)
    )
    return (Sized(0, rest, main, joint.target), *others)


def _merged(main: Bolting, own: SizeBolting) -> Bolting:
    """The size's own values over the joint's."""
    other = own.thread is not None and own.thread != main.thread
    named = {name: getattr(own, name) for name in type(own).model_fields}
    kept = {n: v for n, v in named.items() if v is not None or (other and n in _WITH_THREAD)}
    return main.model_copy(update=kept)


def _count(joint: Joint) -> int | None:
    return joint.layout.count if joint.layout is not None else None


def method_of(joint: Joint) -> str:
    """How the joint is tightened; "" where the plan does not say."""
    return joint.tightening.method if joint.tightening is not None else ""


def gasketed(joint: Joint) -> bool:
    """Whether a gasket lies between the faces."""
    return joint.load is not None and joint.load.seal == "gasket"


@SHEET.result()
def bolt_count(joint: Joint) -> int | None:
    return _count(joint)


def _unbolted(joint: Joint) -> bool:
    return joint.bolting is None


@SHEET.check("bolting", "bolting", when=_unbolted)
def what_bolts() -> Rule:
    return Rule("missing", "needs bolting: thread, grade, kind and clamp length", ("bolting",))


SHEET.given("thread_name", "size.bolting.thread", field="bolting.thread")
SHEET.given("clamp_length", "size.bolting.clamp_length", field="bolting.clamp_length")


def looked_up(look: Callable[[], T]) -> T | LibraryError:
    """What the library holds, or why it does not: told as a remark where the joint can do without."""
    try:
        return look()
    except LibraryError as error:
        return error

"""As left: the last that was read of each bolt of a joint, against its limits; where nothing was read, what it was set to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from splitline.record.as_built import BoltLine, JointAsBuilt
from splitline.record.entry import Measured
from splitline.record.judged import counted
from splitline.units import System, show

# Which reading says most of the load left in a bolt: its stretch, its turn, a load, then a torque. Common practice, no
# published source.
_FIRST = ("length", "angle", "force", "torque")


@dataclass(frozen=True, slots=True)
class LeftAt:
    """One bolt. ``value`` SI, None: not pulled in the last pass begun, or nothing known; limits None: no limit at that end."""

    bolt: int
    value: float | None = None
    low: float | None = None
    high: float | None = None
    outside: bool = False
    pass_: str = ""


@dataclass(frozen=True, slots=True)
class AsLeft:
    """A joint as left. ``read`` is False where values are what was set, not what was measured.

    ``worst``: the bolts outside their limits; where none is, the one nearest to a limit; without limits the lowest. Empty
    where no single one is. ``short``: bolts the joint stands without, or that the last pass begun still lacks.
    """

    what: str = ""
    quantity: str = ""
    read: bool = False
    bolts: tuple[LeftAt, ...] = ()
    worst: tuple[int, ...] = ()
    short: tuple[int, ...] = ()
    why: str = field(default="")  # why these are the worst

    @property
    def values(self) -> dict[int, float]:
        """By bolt, those that are known."""
        return {each.bolt: each.value for each in self.bolts if each.value is not None}

    @property
    def passes(self) -> tuple[str, ...]:
        """Passes the values are from."""
        return tuple(dict.fromkeys(each.pass_ for each in self.bolts if each.value is not None and each.pass_))


def as_read(joint: JointAsBuilt) -> AsLeft | None:
    """What was read last of each bolt; None where nothing was."""
    what, quantity = _reading(joint)
    if not what:
        return None
    bolts = tuple(_read(line, what, quantity) for line in joint.bolts)
    worst, why = _worst(bolts)
    return AsLeft(what, quantity, True, bolts, worst, _short(joint), why)


def as_left(joint: JointAsBuilt) -> AsLeft:
    """What a joint was left at: as read, where more than half of its bolts were; else as set."""
    read, short = as_read(joint), _short(joint)
    if read is not None and 2 * len(read.values) > len(joint.bolts):
        return read
    quantity = _set_quantity(joint)
    bolts = tuple(_was_set(line, joint.passes, quantity) for line in joint.bolts)
    return AsLeft("set", quantity, False, bolts, (), short) if quantity else AsLeft(short=short)


def left_said(left: AsLeft, system: System) -> str:
    """A joint as left in words: value by bolt, the worst, those short; "" where nothing is known."""
    parts = []
    if left.values:
        passes = ", ".join(name if name[:1].isalpha() else f"pass {name}" for name in left.passes)
        by = ", ".join(f"{bolt}: {show(value, left.quantity, system)}" for bolt, value in sorted(left.values.items()))
        parts.append(f"{left.what} {'as read last' if left.read else 'last'} ({passes}) by bolt {by}")
    if left.worst:
        parts.append(f"{left.why}: {', '.join(map(str, left.worst))}")
    if left.short:
        parts.append(f"not pulled to the end: {', '.join(map(str, left.short))}")
    return "; ".join(parts)


def _short(joint: JointAsBuilt) -> tuple[int, ...]:
    progress = joint.progress
    if progress.closed:
        return progress.short
    begun = [each for each in progress.passes if each.done or each.aside]
    return tuple(sorted({*begun[-1].open, *begun[-1].short})) if begun else ()


def _reading(joint: JointAsBuilt) -> tuple[str, str]:
    """The kind of reading that is shown: by its quantity, then by how many bolts have it."""
    found = Counter((r.what, r.quantity) for line in joint.bolts for r in line.readings if r.quantity in _FIRST)
    if not found:
        return "", ""
    return min(found, key=lambda kind: (_FIRST.index(kind[1]), -found[kind]))


def _read(line: BoltLine, what: str, quantity: str) -> LeftAt:
    own = [r for r in line.readings if (r.what, r.quantity) == (what, quantity)]
    if not own:
        return LeftAt(line.bolt)
    last = own[-1]
    return LeftAt(line.bolt, last.value, last.low, last.high, last.verdict == "outside", last.pass_)


def _set_quantity(joint: JointAsBuilt) -> str:
    pulls = [pull for line in joint.bolts for pull in line.pulls if pull is not None]
    if any(pull.pressure is not None for pull in pulls):
        return "pressure"
    return "torque" if any(pull.torque is not None for pull in pulls) else ""


def _was_set(line: BoltLine, passes: Sequence[str], quantity: str) -> LeftAt:
    for name, pull in reversed(list(zip(passes, line.pulls, strict=True))):
        value = None if pull is None else pull.torque if quantity == "torque" else pull.pressure_of(line.bolt)
        if value is not None:
            return LeftAt(line.bolt, value, pass_=name)
    return LeftAt(line.bolt)


def _worst(bolts: Sequence[LeftAt]) -> tuple[tuple[int, ...], str]:
    outside = tuple(each.bolt for each in bolts if each.outside)
    if outside:
        return outside, "outside the limits"
    known = [(each.bolt, each.value) for each in bolts if each.value is not None]
    if len({value for _, value in known}) < 2:
        return (), ""
    margins = {each.bolt: margin for each in bolts if (margin := _margin(each)) is not None}
    if margins:
        return (min(margins, key=lambda bolt: margins[bolt]),), "nearest to a limit"
    low = min(value for _, value in known)
    lowest = tuple(bolt for bolt, value in known if value == low)
    return (lowest, "the lowest; no limits were given") if len(lowest) == 1 else ((), "")


def _margin(each: LeftAt) -> float | None:
    """Room to the nearer limit: in bands where both ends are given, else in shares of the one limit."""
    if each.value is None or (each.low is None and each.high is None):
        return None
    value = counted(each.value, each.low, each.high, "")
    width = (
        each.high - each.low if each.low is not None and each.high is not None else abs(each.low or each.high or 1.0)
    )
    ends = [value - each.low] if each.low is not None else []
    ends += [each.high - value] if each.high is not None else []
    return min(ends) / (width or 1.0)


def per_bolt(joint: JointAsBuilt) -> dict[tuple[str, str, str], dict[int, list[Measured]]]:
    """Readings of single bolts, by what, quantity and pass, then by bolt."""
    found: dict[tuple[str, str, str], dict[int, list[Measured]]] = {}
    for line in joint.bolts:
        for reading in line.readings:
            key = (reading.what, reading.quantity, reading.pass_)
            found.setdefault(key, {}).setdefault(line.bolt, []).append(reading)
    return found

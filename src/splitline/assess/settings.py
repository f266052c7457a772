"""What a bolt is pulled to, in which pass, by which tool: the one place that every face learns a set value from.

A set value belongs to one size of bolt, one share of the target and one tool's chart. Work screen, order, sheets, card, JSON,
paper entry and reading limits all ask :class:`JointSettings`; none of them computes or looks one up elsewhere. Rounding to the
gauge happens here, once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from splitline.bolting import tools as tl
from splitline.errors import InputError
from splitline.units import System, show, split

SetBy = Literal["pressure", "torque"]
ON_CHART = 1e-9


@dataclass(frozen=True, slots=True)
class NoValue:
    """A tool has nothing to be set to: in words, and whether it is the tool that does not reach."""

    why: str
    out_of_reach: bool = False


@dataclass(frozen=True, slots=True)
class SetTool:
    """One tool as it is set: a wrench with its range and chart, or a tensioner with what its piston leaves in the stud. SI."""

    name: str
    by: SetBy
    low: float = 0.0  # least torque, N·m
    high: float | None = None  # greatest torque, N·m
    chart: tl.Chart | None = None  # of a hydraulic wrench
    force_per_pressure: float | None = None  # of a tensioner: piston area over load loss, m²
    pressure_max: float | None = None  # Pa
    pump: str = ""  # "": that of all tools that name none

    def covers(self, torque: float) -> bool:
        """Whether a torque tool may be used at this torque, N·m."""
        slack = ON_CHART * torque
        return self.low - slack <= torque and (self.high is None or torque <= self.high + slack)

    def reading(self, torque: float | None, preload: float | None) -> float | NoValue:
        """What it is set to, unrounded: Pa or N·m; or why it cannot be."""
        if self.force_per_pressure is not None:
            return NoValue("no preload is known") if preload is None else preload / self.force_per_pressure
        if torque is None:
            return NoValue("no torque is known")
        if self.by == "torque":
            if self.covers(torque):
                return torque
            return NoValue(f"{'below' if torque < self.low else 'above'} the range of {self.name}", True)
        if self.chart is None:
            return NoValue(f"{self.name}: its chart is not in the plan")
        try:
            return tl.pressure_for_torque(self.chart, torque)
        except InputError:
            side = "below" if torque < self.chart.torques[0] else "above"
            return NoValue(f"{side} the chart of {self.name}", True)


@dataclass(frozen=True, slots=True)
class Setting:
    """What one bolt is pulled to in one pass by one tool. SI; None where it is not known or not set by this method."""

    preload: float | None = None
    torque: float | None = None
    stretch: float | None = None
    value: float | None = None  # what the gauge or the wrench is set to: Pa or N·m, rounded to its step
    by: SetBy | None = None  # None: the method sets nothing on a tool
    tool: str = ""
    why: str = ""  # set by a tool, but there is no value: in words
    out_of_reach: bool = False  # ... because the tool does not come down, or up, to this pass
    gauge: str | None = None  # unit of the pump's gauge, where it is known
    turn: float | None = None  # of the nut in all, from the snug mark, rad
    heat: float | None = None  # rise of the bolt over the clamped parts before the nut is turned, K

    @property
    def known(self) -> bool:
        """Whether there is anything to pull to."""
        told = (self.value, self.torque, self.stretch, self.turn)
        return not self.why and any(value is not None for value in told)

    def figure(self, system: System) -> tuple[str, str]:
        """Number and unit as they stand on the gauge or the wrench; empty where there is none."""
        if self.value is None or self.by is None:
            return "", ""
        return split(self.value, self.by, system, self.gauge if self.by == "pressure" else None)

    def as_json(self) -> dict[str, Any]:
        """Only what is known, SI."""
        named = {
            "preload": self.preload, "torque": self.torque, "stretch": self.stretch, "turn": self.turn,
            "heat_rise": self.heat, "set_value": self.value,
        }  # fmt: skip
        out: dict[str, Any] = {key: value for key, value in named.items() if value is not None}
        if self.value is not None:
            out["set_kind"] = self.by
        if self.why:
            out["not_set"] = self.why
        return out

    def text(self, system: System) -> str:
        """The set value on paper: as its gauge shows it, with the plan's other unit in brackets; or why there is none."""
        if self.value is None or self.by is None:
            return self.why
        plain = show(self.value, self.by, system)
        if self.by == "torque" or self.gauge is None:
            return plain
        own = show(self.value, "pressure", system, self.gauge)
        return plain if own == plain else f"{own} ({plain})"


@dataclass(frozen=True, slots=True)
class SizeSettings:
    """The bolts of one size: what they are pulled to at 100 %, and the tools that are for them, the plan's first one first."""

    bolts: tuple[int, ...]  # () where the layout does not number them
    preload: float | None = None
    torque: float | None = None  # None too where the method does not turn the nut under load
    stretch: float | None = None
    tools: tuple[SetTool, ...] = ()
    snug_torque: float | None = None  # at the snug share, where passes go by stretch or by the nut
    turn: float | None = None  # of the nut from snug to the target, rad
    heat: float | None = None  # rise that lets the nut be turned to the target, K
    by_nut: bool = False  # by turn or heat: nothing to go by without the angle

    def able(self, share: float) -> tuple[SetTool, ...]:
        """The tools that can be set to this share of the target."""
        return tuple(tool for tool in self.tools if not isinstance(self.reading(tool, share), NoValue))

    def tool(self, name: str) -> SetTool | None:
        """One of them by name."""
        return next((tool for tool in self.tools if tool.name == name), None)

    def reading(self, tool: SetTool, share: float) -> float | NoValue:
        """What a tool is set to, unrounded; or why it cannot be."""
        torque, preload = (None if value is None else share * value for value in (self.torque, self.preload))
        return tool.reading(torque, preload)


@dataclass(frozen=True, slots=True)
class JointSettings:
    """Every set value of a joint. Sizes in the order of the assessment, the main size first."""

    sizes: tuple[SizeSettings, ...] = (SizeSettings(()),)
    by: SetBy | None = None
    step: float | None = None  # what the gauge or the wrench can be set in, Pa or N·m
    gauge: str | None = None
    shares: tuple[float, ...] = (1.0,)  # of the passes
    snug: float = 0.0  # share of the snug pass, 0 for none

    @property
    def top(self) -> float:
        """Share of the last pass: a tool that reaches it is taken where nobody chose one."""
        return self.shares[-1]

    def size_of(self, bolt: int) -> int:
        """Number of a bolt's size; 0, the main one, for a bolt no other size has."""
        return next((number for number, size in enumerate(self.sizes) if number and bolt in size.bolts), 0)

    def of_bolt(self, bolt: int, share: float, tool: str = "", finish: bool = False) -> Setting:
        """What a bolt is pulled to at a share of the target by a tool (see :meth:`of_size`)."""
        return self.of_size(self.size_of(bolt), share, tool, finish)

    def _by_length(self, own: SizeSettings, share: float, plain: Setting, finish: bool) -> Setting:
        """By stretch, turn or heat: a torque snugs, then the bolt's stretch or the nut's angle from the snug mark counts.

        The angle goes with load from snug to target (a bolt in its elastic range).
        """
        if 0.0 < share <= self.snug * (1 + ON_CHART):
            if own.snug_torque is not None:
                torque = own.snug_torque * share / self.snug
                return replace(plain, torque=torque, stretch=None if own.by_nut else plain.stretch)
            return replace(plain, stretch=None, why="the snug torque is not known") if own.by_nut else plain
        if not own.by_nut or finish:
            return plain
        if own.turn is None:
            return replace(plain, stretch=None, why="the turn of the nut is not known")
        turn = own.turn * (share - self.snug) / (1.0 - self.snug) if self.snug < 1.0 else 0.0
        return replace(plain, turn=turn, heat=None if own.heat is None else own.heat * share)

    def of_size(self, size: int, share: float, tool: str = "", finish: bool = False) -> Setting:
        """What the bolts of a size are pulled to at a share of the target.

        ``finish``: in a check round, where no nut is turned by its angle, and no stud heated, a second time.
        ``tool``: by name; "": nobody has chosen yet, so the plan's first that reaches the last pass, else the first of all.
        """
        if not 0 <= size < len(self.sizes):
            return Setting()
        own = self.sizes[size]
        preload, torque, stretch = (None if v is None else share * v for v in (own.preload, own.torque, own.stretch))
        if self.by is None:
            return self._by_length(own, share, Setting(preload, torque, stretch), finish)
        chosen = own.tool(tool) if tool else self._first(own)
        if chosen is None and (self.by == "pressure" or (tool and tool in self.tools())):
            why, known = self._no_tool(tool), tool in self.tools()
            return Setting(preload, torque, stretch, None, self.by, tool, why, known, self.gauge)
        if chosen is None:  # a hand wrench the plan does not know: its range is not known either
            chosen = SetTool(tool, "torque")
        reading = own.reading(chosen, share)
        plain = Setting(preload, torque, stretch, None, self.by, chosen.name, gauge=self.gauge)
        if isinstance(reading, NoValue):
            return replace(plain, why=reading.why, out_of_reach=reading.out_of_reach)
        return replace(plain, value=self._rounded(reading))

    def in_hand(self, bolt: int, tools: Sequence[str]) -> tuple[str, ...]:
        """Of the tools in hand those that are for a bolt's size; all of them where none is, so that this is told."""
        size = self.sizes[self.size_of(bolt)]
        kept = tuple(tool for tool in tools if size.tool(tool) is not None or tool not in self.tools())
        return kept or tuple(tools)

    def tools(self) -> tuple[str, ...]:
        """Names of the tools of all sizes, each once."""
        return tuple(dict.fromkeys(tool.name for size in self.sizes for tool in size.tools))

    def by_tool(self, size: int, share: float) -> Iterator[Setting]:
        """The setting of every tool of the joint for a size; one that is for other sizes says so."""
        yield from (self.of_size(size, share, name) for name in self.tools())

    def _first(self, own: SizeSettings) -> SetTool | None:
        return next(iter((*own.able(self.top), *own.tools)), None)

    def _no_tool(self, name: str) -> str:
        if not name:
            return "no tool of the plan is for these bolts" if self.tools() else "no tool is chosen in the plan"
        return f"{name} is not for these bolts" if name in self.tools() else f"{name}: its chart is not in the plan"

    def _rounded(self, value: float) -> float:
        return value if self.step is None else tl.round_down(value, self.step)

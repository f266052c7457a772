"""Passes, tools and set values of a joint: what each size is pulled to, by which tool, and what is missing for it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import partial

from splitline.assess.context import Context
from splitline.assess.covered import SNUG
from splitline.assess.gauge import gauge_unit
from splitline.assess.joint_hardware import Blank
from splitline.assess.joint_preload import NO_TWIST
from splitline.assess.joint_sheet import PRACTICE, SHEET, SIZE, Sized, method_of
from splitline.assess.joint_types import Grip
from splitline.assess.settings import JointSettings, SetBy, Setting, SetTool, SizeSettings
from splitline.assess.sheet import Assumed, Each, Rule
from splitline.library.threads import parse_designation
from splitline.plan.model.joint import Joint
from splitline.plan.model.tightening import Tool
from splitline.plan.passes import BY_LENGTH, BY_NUT, Passes

TORQUE_METHODS = ("torque wrench", "hydraulic wrench")
TOOL_METHODS = (*TORQUE_METHODS, "hydraulic tensioner")
SET_BY: dict[str, SetBy] = {
    "torque wrench": "torque",
    "hydraulic wrench": "pressure",
    "hydraulic tensioner": "pressure",
}

# axes: the tools of the plan, their pumps, and the passes with the snug first


@dataclass(frozen=True, slots=True)
class ToolAt:
    """One tool of the plan."""

    number: int  # from 1
    plan: Tool

    @property
    def name(self) -> str:
        return tool_name(self.plan, self.number)

    @property
    def place(self) -> int:
        """In the plan's list, from 0."""
        return self.number - 1

    def own(self, name: str) -> str:
        """Where one of its fields stands in the joint."""
        return f"tightening.tool.{self.place}.{name}"

    def serves(self, thread: str) -> bool:
        """Whether it is for bolts of this thread."""
        return self.plan.threads is None or thread in {parse_designation(name).name for name in self.plan.threads}


@dataclass(frozen=True, slots=True)
class PumpAt:
    """A pump: tools that name none share one."""

    name: str

    @property
    def of(self) -> str:
        """For titles."""
        return f", {self.name}" if self.name else ""


@dataclass(frozen=True, slots=True)
class PassAt:
    """A pass by the name the record gives it, and its share of the target."""

    name: str
    share: float

    @property
    def text(self) -> str:
        return "snug pass" if self.name == SNUG else f"pass {self.share:.0%}"


TOOL = SHEET.axis("tool", tool="name")
PUMP = SHEET.axis("pump")
PASS = SHEET.axis("pass_", pass_="name")


def tool_name(tool: Tool, number: int) -> str:
    """Name of a tool, or its number."""
    return tool.name or f"tool {number}"


@SHEET.result()
def all_tool(joint: Joint) -> tuple[ToolAt, ...]:
    tools = joint.tightening.tool if joint.tightening is not None else ()
    return tuple(ToolAt(number, tool) for number, tool in enumerate(tools, 1))


@SHEET.result()
def all_pump(all_tool: tuple[ToolAt, ...]) -> tuple[PumpAt, ...]:
    return tuple(PumpAt(name) for name in dict.fromkeys(tool.plan.pump or "" for tool in all_tool))


@SHEET.result()
def all_pass_(planned: Passes) -> tuple[PassAt, ...]:
    passes = tuple(PassAt(str(number), share) for number, share in enumerate(planned.shares, 1))
    return (PassAt(SNUG, planned.snug), *passes) if planned.snug > 0.0 else passes


# what the plan says of them


def _unplanned(joint: Joint) -> bool:
    return joint.tightening is None


@SHEET.check("tightening", "how the joint is tightened", when=_unplanned)
def how() -> Rule:
    return Rule("missing", "needs tightening: method, passes and tools", ("tightening",))


@SHEET.note()
def usual_snug(joint: Joint, planned: Passes) -> Assumed | None:
    if joint.tightening is not None and joint.tightening.snug is not None:
        return None
    return Assumed(planned.snug, "tightening.snug", PRACTICE, text=f"{planned.snug:g}")


@SHEET.note()
def usual_passes(joint: Joint, planned: Passes) -> Assumed | None:
    if joint.tightening is not None and joint.tightening.passes is not None:
        return None
    return Assumed(planned.shares, "tightening.passes", PRACTICE, text=", ".join(f"{p:g}" for p in planned.shares))


def _by_tool(joint: Joint) -> bool:
    return method_of(joint) in TOOL_METHODS


@SHEET.check("tool", "tool", when=_by_tool)
def any_tool(all_tool: tuple[ToolAt, ...]) -> Rule | None:
    return None if all_tool else Rule("missing", "no tool is chosen for this joint", ("tightening.tool",))


@SHEET.result(SIZE)
def serving(all_tool: tuple[ToolAt, ...], blank: Blank | None = None) -> tuple[ToolAt, ...]:
    """The tools that are for these bolts."""
    return tuple(tool for tool in all_tool if tool.serves(blank.name if blank is not None else ""))


@SHEET.check("tool", "tool{size.of}", SIZE, when=_by_tool, after=("preload",))
def served(all_tool: tuple[ToolAt, ...], serving: tuple[ToolAt, ...], blank: Blank) -> Rule | None:
    """Every size needs a tool that is for it; a joint without any tool is told elsewhere."""
    if serving or not all_tool or not blank.name:
        return None
    note = f"no tool of the plan is for {blank.name}: add one, or name this thread in the threads of one that fits"
    return Rule("missing", note, ("tightening.tool.threads",))


@SHEET.check("tool_serial", "serial of {tool.name}", TOOL, basis="tool register")
def has_a_serial(tool: ToolAt, joint: Joint, context: Context) -> Rule | None:
    if tool.plan.serial or context.observed.get(joint.id, f"tool.{tool.number}.serial"):
        return None
    return Rule("on-site", f"serial number of {tool.name} is entered on the job", (tool.own("serial"),))


@SHEET.check("calibration", "calibration of {tool.name}", TOOL, basis="calibration certificate")
def calibrated(tool: ToolAt, joint: Joint, context: Context) -> Rule:
    due = tool.plan.calibration_due or context.observed.get(joint.id, f"tool.{tool.number}.calibration_due")
    if not isinstance(due, dt.date):
        note = f"date the calibration of {tool.name} runs out is entered on the job"
        return Rule("on-site", note, (tool.own("calibration_due"),))
    if due < context.today:
        return Rule("fails", f"ran out on {due.isoformat()}, today is {context.today.isoformat()}")
    return Rule("ok", f"valid until {due.isoformat()}")


# what is pulled to in each pass


@SHEET.result(SIZE, kind="torque", title="Torque of the snug pass", symbol="T_snug", formula="share·T", source=PRACTICE,
              puts={"share": ("planned.snug", "share"), "T": ("torque", "torque")})  # fmt: skip
def torque_snug(torque: float, planned: Passes) -> float | None:
    return planned.snug * torque if planned.snug > 0.0 else None


def by_length(joint: Joint) -> bool:
    return method_of(joint) in BY_LENGTH


def _by_load(joint: Joint) -> bool:
    return not by_length(joint)


@SHEET.result(SIZE, kind="torque", title="Torque, pass by pass", formula="share·T", source=PRACTICE, shape="list",
              when=_by_load)  # fmt: skip
def torque_passes(torque: float, planned: Passes) -> list[float]:
    return [share * torque for share in planned.shares]


@SHEET.result(SIZE, kind="force", title="Preload, pass by pass", formula="share·F", source=PRACTICE, shape="list")
def preload_passes(preload: float, planned: Passes) -> list[float]:
    return [share * preload for share in planned.shares]


# set values


@SHEET.result(SIZE, name="size_settings", when=by_length)
def settings_by_length(
    size: Sized,
    joint: Joint,
    preload: float | None = None,
    stretch: float | None = None,
    torque_snug: float | None = None,
    turn_angle: float | None = None,
    heat_rise: float | None = None,
) -> SizeSettings:
    """What the bolts of a size are snugged to, turned by and heated by."""
    if preload is None:
        return SizeSettings(size.bolts)
    method = method_of(joint)
    by_nut = method in BY_NUT
    return SizeSettings(
        size.bolts, preload, None, stretch, snug_torque=torque_snug, turn=turn_angle if by_nut else None,
        heat=heat_rise if method == "heat" else None, by_nut=by_nut,
    )  # fmt: skip


@SHEET.result(SIZE)
def size_settings(
    size: Sized,
    joint: Joint,
    preload: float | None = None,
    torque: float | None = None,
    stretch: float | None = None,
    set_tools: tuple[SetTool, ...] = (),
) -> SizeSettings:
    """What the bolts of a size are pulled to, and the tools that are for them."""
    if preload is None:
        return SizeSettings(size.bolts)
    return SizeSettings(size.bolts, preload, torque if method_of(joint) not in NO_TWIST else None, stretch, set_tools)


@SHEET.result(each={"sizes": Each("size_settings")})
def settings(joint: Joint, planned: Passes, sizes: tuple[SizeSettings, ...]) -> JointSettings:
    """Every set value of the joint."""
    by = SET_BY.get(method_of(joint))
    step = joint.tightening.gauge_step if joint.tightening is not None else None
    own = step[1] if step is not None and step[0] == by else None
    return JointSettings(sizes, by, own, gauge_unit(joint) if by == "pressure" else None, planned.shares, planned.snug)


@SHEET.result(SIZE, after=("set_from",))
def pass_settings(size: Sized, settings: JointSettings, planned: Passes) -> tuple[Setting, ...]:
    """By the tool taken where nobody chose one; ``set_from``: what they follow from is known (wrench, tensioner)."""
    return tuple(settings.of_size(size.number, share) for share in planned.shares)


@SHEET.result(SIZE)
def last_setting(pass_settings: tuple[Setting, ...]) -> Setting | None:
    return pass_settings[-1] if pass_settings[-1].value is not None else None


@SHEET.result(SIZE, kind="number", title="Set value, pass by pass", formula="rounded down to the step", source=PRACTICE,
              shape="list")  # fmt: skip
def set_passes(pass_settings: tuple[Setting, ...]) -> list[float] | None:
    values = [each.value for each in pass_settings if each.value is not None]
    return values if len(values) == len(pass_settings) else None


@SHEET.result(SIZE, kind="pressure", title="Set pressure, pass by pass", formula="rounded down to the step",
              source=PRACTICE, shape="list")  # fmt: skip
def set_pressures(set_passes: list[float], settings: JointSettings) -> list[float] | None:
    return set_passes if settings.by == "pressure" else None


@SHEET.result(SIZE, kind="torque", title="Set torque, pass by pass", formula="rounded down to the step", source=PRACTICE,
              shape="list")  # fmt: skip
def set_torques(set_passes: list[float], settings: JointSettings) -> list[float] | None:
    return set_passes if settings.by == "torque" else None


@SHEET.result(SIZE, kind="count", title="Set values are pump pressures (1) or torques (0)", formula="kind of the tool",
              source="definition")  # fmt: skip
def set_is_pressure(set_passes: list[float], settings: JointSettings) -> int:
    return int(settings.by == "pressure")


@SHEET.result(SIZE, kind="number", title="Set value of the snug pass", source=PRACTICE, after=("pass_settings",),
              formula="snug share of the last set value, rounded to the tool's step")  # fmt: skip
def set_snug(size: Sized, settings: JointSettings, planned: Passes) -> float | None:
    return settings.of_size(size.number, planned.snug).value if planned.snug > 0.0 else None


preload_set = partial(
    SHEET.result, SIZE, name="preload_set", kind="force", title="Preload from the last set value", symbol="F_set",
    source="set value rounded down",
)  # fmt: skip


def _step_asked(size: Sized, joint: Joint, preload: float, torque: float | None = None) -> bool:
    """Where set values are made at all; told once."""
    known = torque is not None if method_of(joint) in TORQUE_METHODS else _by_tool(joint)
    return size.number == 0 and known


@SHEET.note(SIZE, when=_step_asked)
def no_step(joint: Joint) -> str | None:
    if joint.tightening is not None and joint.tightening.gauge_step is not None:
        return None
    return "No gauge step is given: set values are not rounded to what a gauge or wrench can show."


@SHEET.check("gauge_step", "step of the gauge", SIZE, basis=PRACTICE, when=_step_asked, quiet=True)
def fitting_step(joint: Joint) -> Rule | None:
    """A gauge step must be of the kind the tool is set by."""
    step = joint.tightening.gauge_step if joint.tightening is not None else None
    by = SET_BY[method_of(joint)]
    if step is None or step[0] == by:
        return None
    return Rule("missing", f"gauge_step is a {step[0]}, the tool is set by {by}", ("tightening.gauge_step",))


# turn and heat


def _heated(joint: Joint) -> bool:
    return method_of(joint) == "heat"


@SHEET.check("heater_bore", "bore for the heater{size.of}", SIZE, kind="length", when=_heated)
def room_for_the_heater(size: Sized) -> Rule | None:
    if (size.bolting.heater_bore or 0.0) > 0.0:
        return None
    field = size.own("heater_bore")
    note = f"needs {field}: the bore the heater goes into; it takes area and stiffness of the stud"
    return Rule("missing", note, (field,))


@SHEET.check("heat_passes", "passes of a heater", SIZE, basis=PRACTICE, when=_heated)
def heated_once(size: Sized, planned: Passes) -> Rule | None:
    if size.number or len(planned.shares) <= 1:
        return None
    shares = ", ".join(f"{share:.0%}" for share in planned.shares)
    return Rule(
        "near", f"{shares} are planned: a stud is heated once, to its target, and is cold before it is heated again"
    )


def _by_nut(joint: Joint) -> bool:
    return method_of(joint) in BY_NUT


def _snugged(joint: Joint, planned: Passes) -> bool:
    return _by_nut(joint) and planned.snug > 0.0


@SHEET.check("torque_snug", "snug torque{size.of}", SIZE, kind="torque", when=_snugged, after=("preload",))
def snug_known(
    friction: Grip, torque: float | None = None, bearing_diameter: float = 0.0, hole_diameter: float = 0.0
) -> Rule | None:
    if torque is not None:
        return None
    faces = (("bolting.bearing_diameter", bearing_diameter), ("bolting.hole_diameter", hole_diameter))
    needs = friction.needs or tuple(name for name, value in faces if not value)
    return Rule("missing", "the nut is turned from snug: " + (friction.note or "needs " + ", ".join(needs)), needs)


_STIFF = "needs stiffness of bolt and clamped parts"


@SHEET.check("turn_angle", "nut turn from snug{size.of}", SIZE, kind="angle", when=_by_nut, after=("preload",))
def turn_known(size: Sized, turn_angle: float | None = None) -> Rule | None:
    return Rule("missing", _STIFF, (size.own("clamp_length"), "member.modulus")) if turn_angle is None else None


@SHEET.check("heat_rise", "heating of the bolt{size.of}", SIZE, kind="temperature_difference", when=_heated,
             after=("preload",))  # fmt: skip
def heat_known(size: Sized, heat_rise: float | None = None) -> Rule | None:
    if heat_rise is not None:
        return None
    needs = (size.own("clamp_length"), "member.modulus", size.own("expansion"))
    return Rule("missing", f"{_STIFF}, and the bolt's expansion", needs)

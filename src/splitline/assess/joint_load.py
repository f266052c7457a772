"""What a joint holds: its load cases, and the outside force per bolt of a circle. A split line has its own file."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial

from splitline.assess.joint_scatter import Ends
from splitline.assess.joint_sheet import SHEET, SIZE
from splitline.assess.sheet import Absent, Each, Rule
from splitline.bolting import joint_load as jl
from splitline.bolting.gasket import Seat
from splitline.plan.model.joint import Case, Joint

NO_LOAD = "say holds_pressure = false, or what the joint holds"

CASE = SHEET.axis("case", case="name")


@dataclass(frozen=True, slots=True)
class CaseAt:
    """One load case of the plan."""

    number: int  # from 0
    plan: Case

    @property
    def name(self) -> str:
        return self.plan.name

    def field(self, name: str) -> str:
        """Where one of its fields stands in the joint."""
        return f"case.{self.number}.{name}"


# whether there is anything to hold, and enough known to ask


def holds(joint: Joint) -> bool:
    """Whether the joint holds pressure: it does unless the plan says otherwise."""
    return joint.load is None or joint.load.holds_pressure is not False


def split(joint: Joint) -> bool:
    """Whether it is a split line."""
    return joint.layout is not None and joint.layout.shape == "split-line"


def circle(joint: Joint) -> bool:
    """Whether pressure is shared evenly by its bolts."""
    return not split(joint)


def _asked(joint: Joint) -> bool:
    """A joint that holds no pressure and has no case needs none."""
    return holds(joint) or bool(joint.case)


@SHEET.result(when=_asked)
def all_case(joint: Joint, bolt_count: int) -> tuple[CaseAt, ...]:
    if joint.load is None:
        return ()
    return tuple(CaseAt(number, case) for number, case in enumerate(joint.case))


@SHEET.check("pressure_force", "clamp under load", when=_asked)
def loaded(joint: Joint) -> Rule | None:
    if joint.load is None:
        return Rule("missing", f"needs load: {NO_LOAD}", ("load.pressure_diameter",))
    if joint.case:
        return None
    return Rule("missing", "needs at least one case: a name and a pressure", ("case",))


@SHEET.check("seal", "seal of the joint", when=holds)
def sealed(joint: Joint) -> Rule | None:
    if joint.load is None or split(joint) or joint.load.seal is not None:
        return None
    return Rule("missing", "needs load.seal: o-ring or gasket", ("load.seal",))


@SHEET.check("force_per_bolt", "clamp under load", when=_asked)
def counted(joint: Joint, bolt_count: int = 0) -> Rule | None:
    if joint.load is None or not joint.case or bolt_count:
        return None
    return Rule("missing", "needs the number of bolts: layout", ("layout.bolts",))


@SHEET.check("residual_clamp", "clamp under load", sense="at least", kind="force",
             each={"every": Each("ends", present=True)})  # fmt: skip
def preloaded(all_case: tuple[CaseAt, ...], every: tuple[Ends, ...]) -> Rule | None:
    if every or not all_case:
        return None
    return Rule("missing", "needs the preload of the bolts (see the checks above)", ("target",))


# outside force: p·π/4·D² and what else opens the joint, shared evenly on a circle


@SHEET.result(CASE)
def extra(joint: Joint, case: CaseAt) -> float:
    """Opening force besides pressure, N: the joint's and the case's own."""
    own = joint.load.extra_axial if joint.load is not None else None
    return math.fsum(value for value in (own, case.plan.extra_axial) if value is not None)


@SHEET.result(CASE, when=circle)
def pressure(joint: Joint, case: CaseAt, extra: float) -> float:
    if case.plan.pressure is None and holds(joint) and not extra:
        raise Absent(case.field("pressure"), why=f'case "{case.name}" needs a pressure')
    return case.plan.pressure or 0.0


@SHEET.result()
def pressed_diameter(joint: Joint, seat: Seat | None = None) -> float:
    own = joint.load.pressure_diameter if joint.load is not None else None
    if own is None and seat is not None:
        own = seat.diameter
    if own is None:
        raise Absent("load.pressure_diameter", why="needs load.pressure_diameter: effective diameter of the seal")
    return own


def _unpressed(pressure: float) -> bool:
    return not pressure


_pressed = partial(
    SHEET.result, CASE, name="pressure_force", kind="force", title="Pressure force on the joint", symbol="P"
)


@_pressed(when=_unpressed)
def no_pressure() -> float:
    return 0.0


@_pressed(when=circle, formula="p·π/4·D²", source="statics",
          puts={"p": ("pressure", "pressure"), "D": ("pressed_diameter", "length")})  # fmt: skip
def pressure_force(pressure: float, pressed_diameter: float) -> float:
    return jl.pressure_force(pressure, pressed_diameter)


@SHEET.check("pressure_force", "pressure force, {case.name}", CASE, kind="force", when=circle)
def pressure_known(pressure_force: float) -> None:
    """Only says what is missing."""


force_per_bolt = partial(
    SHEET.result, CASE, name="force_per_bolt", kind="force", title="Outside force per bolt (greatest)", symbol="F_A"
)


@force_per_bolt(when=circle, formula="(P + extra) / n", source="statics",
                puts={"P": ("pressure_force", "force"), "extra": ("extra", "force"),
                      "n": ("bolt_count", "count")})  # fmt: skip
def shared_force(pressure_force: float, extra: float, bolt_count: int) -> float:
    return (pressure_force + extra) / bolt_count


@SHEET.result(SIZE, CASE, name="own_force", when=circle)
def own_share(force_per_bolt: float) -> float:
    """Greatest outside force on a bolt of this size, N."""
    return force_per_bolt

"""Threads and faces of one size of bolts: stripping both ways, engagement, pressure under nut or head."""

from __future__ import annotations

from splitline.assess.context import Context
from splitline.assess.joint_hardware import Pressed
from splitline.assess.joint_sheet import SHEET, SIZE, VDI, Sized
from splitline.assess.joint_types import Strength
from splitline.assess.sheet import Absent, Against
from splitline.bolting import bearing as br
from splitline.bolting import stripping as sr
from splitline.bolting.limits import Limits, limits
from splitline.bolting.thread import Thread
from splitline.units import show

H28 = "FED-STD-H28/2 at the loosest limits of 6H/6g or 2B/2A"
SHEAR = "shear strength half the tensile strength"
BREAKS = f"{H28}: the bolt breaks before either thread strips"
ENGAGEMENT = "thread engagement in the {size.engaged}{size.of}"


@SHEET.result(SIZE, kind="length", title="Engaged thread", symbol="L_e", formula="as given, else the height of the nut",
              source="ISO 4032; ASME B18.2.2", after=("thread",))  # fmt: skip
def engagement(size: Sized, nut_height: float | None = None) -> float:
    length = size.bolting.engagement
    if size.through and length is None:
        length = nut_height
    if length is None:
        raise Absent("bolting.nut_height" if size.through else "bolting.engagement")
    return length


SHEET.tell("nut_height", "turned.height")


@SHEET.check("engagement", ENGAGEMENT, SIZE, sense="at least", kind="length", basis=H28, after=("thread",))
def engagement_known(engagement: float) -> None:
    """Only says what is missing."""


@SHEET.result(SIZE)
def thread_limits(thread: Thread) -> Limits:
    """The loosest of its class."""
    return limits(thread)


@SHEET.result(SIZE)
def strip(thread: Thread, thread_limits: Limits, engagement: float) -> sr.Strip:
    return sr.strip_areas(thread, thread_limits, engagement)


_P_L = {"P": ("thread.pitch", "length"), "L_e": ("engagement", "length")}
SHEET.tell("strip_external", "strip.external", "area", "Shear area of the bolt thread", "A_e",
           "π D1max·L_e/P·[P/2 + (d2min − D1max)/√3]", "FED-STD-H28/2",
           puts={**_P_L, "D1max": ("thread_limits.internal_minor_max", "length"),
                 "d2min": ("thread_limits.pitch_min", "length")})  # fmt: skip
SHEET.tell("strip_internal", "strip.internal", "area", "Shear area of the internal thread", "A_i",
           "π d_min·L_e/P·[P/2 + (d_min − D2max)/√3]", "FED-STD-H28/2",
           puts={**_P_L, "d_min": ("thread_limits.major_min", "length"),
                 "D2max": ("thread_limits.internal_pitch_max", "length")})  # fmt: skip


@SHEET.result(SIZE)
def inner_tensile(size: Sized, strength: Strength, tapped_tensile: float | None = None) -> float | None:
    """Of what the thread is cut in: the tapped part, or the nut that goes with the grade."""
    return strength.nut_tensile if size.through else tapped_tensile


def _judged(size: Sized, inner_tensile: float | None = None) -> bool:
    return not size.through or inner_tensile is not None


@SHEET.result(
    SIZE, when=_judged, after=("strip",), kind="length", title="Engagement that breaks the bolt first", symbol="L_e,min",
    formula="2 A_s/(A_e/L_e)·max(1, A_e R_b/(A_i R_i))", source="FED-STD-H28/2",
    puts={"A_s": ("thread.stress_area", "area"), "R_b": ("strength.breaks", "stress"), "R_i": ("inner_tensile", "stress")},
)  # fmt: skip
def engagement_needed(
    thread: Thread, thread_limits: Limits, strength: Strength, inner_tensile: float | None = None
) -> float:
    breaks = strength.breaks
    if breaks is None or inner_tensile is None:
        named = {"bolting.tensile_strength": breaks, "bolting.tapped_strength": inner_tensile}
        raise Absent(*(name for name, value in named.items() if value is None))
    return sr.minimum_engagement(thread, thread_limits, breaks, inner_tensile)


@SHEET.check("engagement", ENGAGEMENT, SIZE, sense="at least", kind="length", basis=BREAKS, after=("strip",))
def breaks_first(engagement_needed: float, engagement: float) -> Against:
    return Against(engagement_needed, engagement)


@SHEET.note(SIZE, after=("strip",))
def nut_of_no_grade(size: Sized, inner_tensile: float | None = None) -> str | None:
    if _judged(size, inner_tensile):
        return None
    return (
        "The nut's grade is not given: a standard nut of full height and the grade that goes with the bolt "
        "breaks the bolt before it strips (ISO 898-2, ASTM A194)."
    )


@SHEET.check("strip_external", "stripping of the bolt thread at the greatest bolt load{size.of}", SIZE, kind="force",
             basis=f"{H28}; {SHEAR}", quiet=True)  # fmt: skip
def bolt_strips(strip: sr.Strip, strength: Strength, greatest: float) -> Against | None:
    if strength.breaks is None:
        return None
    return Against(greatest, sr.strip_load(strip.external, strength.breaks, 0.5))


@SHEET.check("strip_internal", "stripping of the internal thread at the greatest bolt load{size.of}", SIZE, kind="force",
             basis=f"{H28}; {SHEAR}", quiet=True)  # fmt: skip
def hole_strips(strip: sr.Strip, inner_tensile: float, greatest: float) -> Against:
    return Against(greatest, sr.strip_load(strip.internal, inner_tensile, 0.5))


# faces: a washer is taken as hard; then the clamped part is checked under the washer, where it spreads the load

PRESSURE = "F / (π/4·(d_w² − d_h²))"


@SHEET.result(SIZE, kind="stress", title="Pressure under nut or head", symbol="p", formula=PRESSURE, source=VDI,
              puts={"F": ("preload", "force"), "d_w": ("bearing_diameter", "length"),
                    "d_h": ("hole_diameter", "length")})  # fmt: skip
def bearing_pressure(preload: float, bearing_diameter: float, hole_diameter: float) -> float:
    return br.bearing_pressure(preload, bearing_diameter, hole_diameter)


@SHEET.result(SIZE, kind="stress", title="Pressure under the washer", symbol="p_U", formula=PRESSURE, source=VDI,
              puts={"F": ("preload", "force"), "d_w": ("under_washer", "length"),
                    "d_h": ("hole_diameter", "length")})  # fmt: skip
def washer_pressure(preload: float, under_washer: float, hole_diameter: float) -> float:
    return br.bearing_pressure(preload, under_washer, hole_diameter)


FACE = "pressure under {size.pressing}{size.of} at the greatest bolt load"


@SHEET.check("bearing_pressure", FACE, SIZE, after=("preload",))
def face_known(bearing_pressure: float) -> None:
    """Only says what is missing."""


@SHEET.check("bearing_pressure", FACE, SIZE, kind="stress", basis="{pressed.source}", after=("bearing_pressure",))
def not_pressed_in(
    greatest: float, pressed: Pressed, bearing_diameter: float, hole_diameter: float, context: Context,
    under_washer: float = 0.0,
) -> Against:  # fmt: skip
    pressure = br.bearing_pressure(greatest, under_washer or bearing_diameter, hole_diameter)
    older, note = pressed.older, ""
    if older is not None and older < pressure <= pressed.limit:
        before = show(older, "stress", context.system)
        note = f"over the {before} of the older table: look at it, or give bearing_limit"
    return Against(pressure, pressed.limit, note)

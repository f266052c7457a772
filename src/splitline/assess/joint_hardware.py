"""Bolts, nuts and clamped parts of a joint, size by size: what the plan says, completed from the library, each default told."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from splitline.assess.context import Context
from splitline.assess.joint_material import falls_as
from splitline.assess.joint_sheet import SHEET, SIZE, Sized, looked_up
from splitline.assess.joint_types import Material, Strength
from splitline.assess.sheet import Absent, Assumed, Rule
from splitline.assess.speak import said
from splitline.bolting import thread as th
from splitline.bolting.bearing import washer_spread_diameter
from splitline.bolting.thread import Section, Thread
from splitline.errors import InputError, LibraryError
from splitline.library import dimensions, grades, materials
from splitline.library.curves import REFERENCE, Curve
from splitline.library.grades import Grade
from splitline.library.threads import ThreadSize, parse_designation
from splitline.plan.model.bolting import Bolting
from splitline.plan.model.joint import Joint
from splitline.units import show

ISO = "ISO 68-1, ISO 724, ISO 898-1; ASME B1.1 for inch threads"
FACES = "ISO 4032, ISO 4014; ASME B18.2.2, B18.2.1"


# thread and shank


@dataclass(frozen=True, slots=True)
class Blank:
    """Thread and shank of a bolt as made up from the plan; ``fault``: why they do not go together."""

    name: str = ""
    thread: Thread | None = None
    section: Section | None = None  # of least area
    shank_diameter: float | None = None
    shank_length: float | None = None
    fault: Exception | None = None


@SHEET.result(SIZE)
def designation(thread_name: str) -> ThreadSize | None:
    """The thread the plan names; the check of the thread says where there is no such thread."""
    found = looked_up(lambda: parse_designation(thread_name))
    return None if isinstance(found, LibraryError) else found


@SHEET.result(SIZE)
def blank(size: Sized, thread_name: str, context: Context) -> Blank:
    given, made = size.bolting, Blank()
    try:
        named = parse_designation(thread_name)
        thread = th.unified(named.d, named.tpi) if named.tpi is not None else th.metric(named.d, named.pitch)
        if given.shank_diameter is not None:
            th.check_shank(thread, given.shank_diameter, given.hole_diameter)
        made = Blank(named.name, thread)
        length = _shank_length(given, context)
        section = th.least_section(thread, given.shank_diameter, given.heater_bore or 0.0, given.hole_diameter)
        return Blank(named.name, thread, section, given.shank_diameter, length)
    except (InputError, LibraryError) as error:
        return replace(made, fault=error)


def _shank_length(given: Bolting, context: Context) -> float | None:
    """Length of the shank: what is given, or the clamp length where only a diameter is."""
    clamp, length = given.clamp_length, given.shank_length
    if clamp is not None and length is not None and length > clamp * (1 + 1e-9):
        shank, clamped = (show(each, "length", context.system) for each in (length, clamp))
        raise InputError(f"the shank ({shank}) is longer than the clamp length ({clamped})")
    return clamp if length is None and given.shank_diameter is not None else length


@SHEET.note(SIZE)
def shank_taken(size: Sized, blank: Blank, thread: Thread, clamp_length: float) -> Assumed | None:
    """What is taken where the plan gives half a shank, or none."""
    given = size.bolting
    if blank.fault is not None and blank.section is None:
        return None
    field = size.own("shank_length")
    if given.shank_length is None and given.shank_diameter is not None:
        return Assumed(clamp_length, field, "the whole clamp length: only a diameter is given", "length")
    if given.shank_length is None:
        plain = Assumed(0.0, field, "thread over the whole clamp length, the softest bolt", "length")
        return plain if size.number == 0 else None
    if given.shank_diameter is None:
        return Assumed(thread.d, size.own("shank_diameter"), "shank of the thread's own diameter", "length")
    return None


@SHEET.check("thread", "thread{size.of}", SIZE)
def goes_together(blank: Blank, context: Context) -> Rule | None:
    if blank.fault is None:
        return None
    return Rule("fails", said(blank.fault, context.system), basis="geometry of thread and shank")


@SHEET.check("thread_listed", "thread and pitch together{size.of}", SIZE, quiet=True)
def usual_pitch(designation: ThreadSize, thread: Thread) -> Rule | None:
    basis = "ISO 261" if designation.tpi is None else "ASME B1.1"
    note = f"{designation.note}: is it what is on the stud?"
    return Rule("near", note, basis=basis) if designation.note else None


@SHEET.note(SIZE)
def left_hand(size: Sized, designation: ThreadSize, thread: Thread) -> str | None:
    left = designation.left_hand or size.bolting.left_hand
    return f"Left-hand thread{size.of}: tighten counter-clockwise." if left else None


@SHEET.result(SIZE)
def thread(blank: Blank) -> Thread:
    if blank.thread is None:
        raise Absent("bolting.thread")
    return blank.thread


@SHEET.result(SIZE)
def section(blank: Blank) -> Section:
    """Of least area."""
    if blank.section is None:
        raise Absent("bolting.thread")
    return blank.section


D_P = {"d": ("thread.d", "length"), "P": ("thread.pitch", "length")}


def _unified(thread: Thread) -> bool:
    return thread.form == "unified"


@SHEET.result(SIZE, name="stress_area", when=_unified, kind="area", title="Stress area", symbol="A_s",
              formula="π/4·(d − 0.9743/n)²", source=ISO, puts=D_P)  # fmt: skip
def unified_stress_area(thread: Thread) -> float:
    return thread.stress_area


SHEET.tell("stress_area", "thread.stress_area", "area", "Stress area", "A_s", "π/4·(d − 0.9382 P)²", ISO, puts=D_P)
SHEET.tell(
    "least_area", "section.area", "area", "Least area of the bolt", "A_min", "π/4·(min(d_s, d_shank)² − bore²)", "geometry",
    puts={"d_s": ("thread.stress_diameter", "length"), "bore": ("section.bore", "length"),
          "d_shank": ("blank.shank_diameter", "length")},
)  # fmt: skip
SHEET.tell("pitch_diameter", "thread.pitch_diameter", "length", "Pitch diameter", "d2", "d − 0.649519 P", ISO, puts=D_P)
SHEET.tell("minor_diameter", "thread.minor_diameter", "length", "Root diameter", "d3", "d − 1.226869 P", ISO, puts=D_P)
SHEET.tell("root_area", "thread.root_area", "area", "Root area", "A_3", "π/4·d3²", ISO,
           puts={"d3": ("thread.minor_diameter", "length")})  # fmt: skip

# strength and elasticity of the bolt


@SHEET.result(SIZE)
def grade_found(size: Sized, designation: ThreadSize, context: Context) -> Grade | LibraryError | None:
    name = size.bolting.grade
    return looked_up(lambda: grades.grade(context.library, name, designation)) if name else None


@SHEET.result(SIZE)
def graded(grade_found: Grade | LibraryError) -> Grade | None:
    return None if isinstance(grade_found, LibraryError) else grade_found


@SHEET.check("grade", "bolt grade{size.of}", SIZE, after=("grade_found",))
def known_grade(size: Sized, grade_found: Grade | LibraryError) -> Rule | None:
    if size.bolting.yield_strength is not None or not isinstance(grade_found, LibraryError):
        return None
    return Rule("missing", str(grade_found), ("bolting.grade",))


@SHEET.note(SIZE)
def about_the_grade(size: Sized, grade_found: Grade | LibraryError) -> str | None:
    if isinstance(grade_found, LibraryError):
        return str(grade_found) if size.bolting.yield_strength is not None else None
    return f"{grade_found.name}: {grade_found.note}" if grade_found.note else None


@SHEET.result(SIZE)
def strength(size: Sized, context: Context, graded: Grade | None = None) -> Strength:
    given = size.bolting
    if graded is None:
        return Strength(given.yield_strength, given.tensile_strength)
    nut = grades.usual_nut(context.library, graded.name)
    own = given.yield_strength is not None
    return Strength(
        given.yield_strength if own else graded.yield_strength,
        given.tensile_strength if given.tensile_strength is not None else graded.tensile_strength,
        graded.proof_strength,
        "plan" if own else f"{graded.name}, {graded.source}",
        graded.yield_share,
        nut.tensile_strength if nut is not None else None,
    )


@SHEET.result(SIZE)
def yield_strength(strength: Strength) -> float:
    if strength.yields is None:
        raise Absent("bolting.grade", why="needs bolting.grade or bolting.yield_strength")
    return strength.yields


@SHEET.result(SIZE, kind="force", title="Proof load of the grade", symbol="F_p", formula="S_p·A_s", source="{strength.source}",
              puts={"R": ("strength.proof", "stress"), "A_s": ("stress_area", "area")})  # fmt: skip
def proof_load(strength: Strength, stress_area: float) -> float | None:
    return None if strength.proof is None else strength.proof * stress_area


@SHEET.result(SIZE, kind="force", title="Least breaking load of the grade", symbol="F_m", formula="R_m·A_s",
              source="{strength.source}",
              puts={"R": ("strength.breaks", "stress"), "A_s": ("stress_area", "area")})  # fmt: skip
def tensile_load(strength: Strength, stress_area: float) -> float | None:
    return None if strength.breaks is None else strength.breaks * stress_area


@SHEET.result(SIZE)
def bolt_material(size: Sized, context: Context, graded: Grade | None = None) -> Material:
    own, typed = size.bolting.modulus, falls_as(context.library, size.bolting.modulus)
    expansion = size.bolting.expansion
    if graded is None:
        return Material(modulus=own, typed_curves=typed, expansion=expansion)
    curve = graded.modulus
    curves = (curve,) if curve is not None else typed
    free = graded.expansion if expansion is None else None
    if own is not None:
        return Material(own, None, curves, expansion, free)
    return Material(curve.at(REFERENCE) if curve is not None else None, curve, (), expansion, free)


@SHEET.result(SIZE)
def bolt_modulus(size: Sized, bolt_material: Material) -> float | Assumed:
    curve = bolt_material.modulus_curve
    if bolt_material.modulus is None:
        raise Absent("bolting.modulus")
    if curve is None:
        return bolt_material.modulus
    return Assumed(bolt_material.modulus, size.own("modulus"), f"{curve.what}: {curve.source}", "modulus")


@SHEET.result(SIZE)
def hot_yield(size: Sized) -> Curve | None:
    """Yield at temperature as the plan gives it, Pa."""
    if not size.bolting.hot_yield:
        return None
    at = tuple(sorted(size.bolting.hot_yield))
    return Curve("yield of the plan", tuple(t for t, _ in at), tuple(y for _, y in at), "plan", flat_below=True)


# faces: the nut or head that turns, its washer, the hole


@dataclass(frozen=True, slots=True)
class Turned:
    """The nut or head that turns as the library has it; ``problem``: why it does not."""

    flats: float | None = None
    bearing: float | None = None
    basis: str = ""
    height: float | None = None  # of the nut, given or least
    problem: str = ""


@SHEET.result(SIZE)
def turned(size: Sized, designation: ThreadSize, context: Context) -> Turned:
    given, height = size.bolting, size.bolting.nut_height
    if given.kind not in ("bolt", "cap-screw"):
        return _nut(size, designation, context, height)
    if given.kind == "bolt" and height is None:
        nut = looked_up(lambda: dimensions.nut(context.library, designation, given.nut or "hex"))
        height = None if isinstance(nut, LibraryError) else nut.height_min
    if given.bearing_diameter is not None and given.across_flats is not None:
        return Turned(height=height)
    shape = "socket" if given.kind == "cap-screw" else ("heavy-hex" if given.nut == "heavy-hex" else "hex")
    head = looked_up(lambda: dimensions.head(context.library, designation, shape))
    if not isinstance(head, LibraryError):
        return Turned(head.across_flats, head.bearing_diameter, f"{head.name} head, {head.source}", height)
    if given.kind == "bolt" and given.nut is not None:
        # a bolt turned by the nut the plan names; heavy hex heads are as wide as their nuts
        return _nut(size, designation, context, height)
    told = f"{head}: give bearing_diameter and across_flats" if given.bearing_diameter is None else ""
    return Turned(height=height, problem=told)


def _nut(size: Sized, named: ThreadSize, context: Context, height: float | None) -> Turned:
    problem = ""
    for form in dict.fromkeys((nut_form(size, named, True), nut_form(size, named, False))):
        nut = looked_up(partial(dimensions.nut, context.library, named, form))
        if not isinstance(nut, LibraryError):
            own = height if height is not None else nut.height_min
            return Turned(nut.across_flats, nut.bearing_diameter, f"{nut.name} nut, {nut.source}", own)
        problem = str(nut)
    wanted = size.bolting.bearing_diameter is None or height is None
    return Turned(height=height, problem=problem if wanted else "")


def nut_form(size: Sized, named: ThreadSize, library_has_heavy: bool) -> str:
    """Form of the nut: what is given; else heavy hex for studs (ASTM A194 practice) where the standard has the size."""
    if size.bolting.nut is not None:
        return size.bolting.nut
    stud = size.bolting.kind in ("stud", "through-stud")
    return "heavy-hex" if stud and library_has_heavy and (named.system == "inch" or named.d >= 0.0119) else "hex"


@SHEET.result(SIZE)
def hole_found(size: Sized, designation: ThreadSize, context: Context) -> dimensions.Hole | LibraryError | None:
    if size.bolting.hole_diameter is not None:
        return None
    return looked_up(lambda: dimensions.clearance_hole(context.library, designation))


@SHEET.result(SIZE, kind="length", title="Clearance hole", symbol="d_h", formula="as given, else the medium series",
              source="ISO 273; ASME B18.2.8")  # fmt: skip
def hole_diameter(size: Sized, hole_found: dimensions.Hole | LibraryError | None = None) -> float | Assumed:
    if size.bolting.hole_diameter is not None:
        return size.bolting.hole_diameter
    if not isinstance(hole_found, dimensions.Hole):
        raise Absent("bolting.hole_diameter")
    basis = f"{hole_found.name}, {hole_found.source}"
    return Assumed(hole_found.diameter, size.own("hole_diameter"), basis, "length")


@SHEET.result(SIZE, kind="length", title="Bearing face", symbol="d_w", formula="as given, else of the nut or head",
              source=FACES)  # fmt: skip
def bearing_diameter(size: Sized, turned: Turned = Turned()) -> float | Assumed:
    return _of_face(size, "bearing_diameter", turned.bearing, turned)


@SHEET.result(SIZE, kind="length", title="Across flats (socket)", symbol="s", formula="as given, else of the nut or head",
              source=FACES)  # fmt: skip
def across_flats(size: Sized, turned: Turned = Turned()) -> float | Assumed:
    return _of_face(size, "across_flats", turned.flats, turned)


def _of_face(size: Sized, name: str, found: float | None, turned: Turned) -> float | Assumed:
    given: float | None = getattr(size.bolting, name)
    if given is not None:
        return given
    if found is None:
        raise Absent(f"bolting.{name}")
    return Assumed(found, size.own(name), turned.basis, "length")


def _washer(size: Sized) -> bool:
    return size.bolting.washer_thickness is not None


@SHEET.result(SIZE, when=_washer)
def washer_outer(
    size: Sized, bearing_diameter: float, context: Context, designation: ThreadSize | None = None
) -> float | Assumed | None:
    given = size.bolting.washer_diameter
    if given is not None or designation is None:
        return given
    named, style = designation, "hardened" if designation.system == "inch" else "plain"
    found = looked_up(lambda: dimensions.washer(context.library, named, style))
    if isinstance(found, LibraryError):
        return None
    return Assumed(found.outer_diameter, size.own("washer_diameter"), f"{found.name}, {found.source}", "length")


@SHEET.result(SIZE, when=_washer)
def under_washer(size: Sized, bearing_diameter: float, washer_outer: float = 0.0) -> float:
    """Diameter pressed into the clamped part: the nut's face spread through the washer at 45°, within the washer."""
    thickness = size.bolting.washer_thickness or 0.0
    return washer_spread_diameter(bearing_diameter, washer_outer or bearing_diameter + 2.0 * thickness, thickness)


# what a tapped hole and the face under the nut withstand


@SHEET.result(SIZE)
def tapped_found(size: Sized, context: Context) -> materials.Material | LibraryError | None:
    name = size.bolting.tapped_material
    if size.bolting.tapped_strength is not None or not name or size.through:
        return None
    return looked_up(lambda: materials.material(context.library, name))


@SHEET.result(SIZE)
def tapped_tensile(size: Sized, tapped_found: materials.Material | LibraryError | None = None) -> float | None:
    own = size.bolting.tapped_strength
    return tapped_found.tensile_strength if isinstance(tapped_found, materials.Material) else own


# Parts at least this stiff are steel or stiffer, and no steel of the table takes less pressure under a nut than this one.
LEAST_OF_STEEL = 180e9
SOFTEST_STEEL = "S235"


@dataclass(frozen=True, slots=True)
class Pressed:
    """Limiting pressure of what is under the nut or head, Pa, and that of the edition before where both are tabulated."""

    limit: float
    source: str
    older: float | None = None


def _steel_of_no_name(size: Sized, joint: Joint) -> bool:
    member = joint.member
    named = size.bolting.bearing_material or (member.material if member is not None else None)
    return not named and member is not None and (member.modulus or 0.0) >= LEAST_OF_STEEL


@SHEET.result(SIZE)
def face_found(size: Sized, joint: Joint, context: Context) -> materials.Material | LibraryError | None:
    """The material under the nut or head: of the softest steel for steel parts of no name."""
    name = size.bolting.bearing_material or (joint.member.material if joint.member is not None else None)
    name = SOFTEST_STEEL if _steel_of_no_name(size, joint) else name
    if not name or size.bolting.bearing_limit is not None:
        return None
    return looked_up(lambda: materials.material(context.library, name))


@SHEET.result(SIZE)
def pressed(
    size: Sized, joint: Joint, context: Context, face_found: materials.Material | LibraryError | None = None
) -> Pressed | Assumed:
    if size.bolting.bearing_limit is not None:
        return Pressed(size.bolting.bearing_limit, "limiting pressure of the plan")
    if not isinstance(face_found, materials.Material) or face_found.limiting_pressure is None:
        raise Absent("bolting.bearing_limit", why="needs bolting.bearing_limit or bolting.bearing_material")
    limit, before = face_found.limiting_pressure, face_found.limiting_pressure_1986
    older = f"; the 1986 edition has {show(before, 'stress', context.system)}" if before is not None else ""
    source = f"limiting pressure of {face_found.name}: {face_found.pressure_source}{older}"
    if not _steel_of_no_name(size, joint):
        return Pressed(limit, source, before)
    basis = f"the clamped parts have the modulus of steel; the softest steel of the table is taken. {source}"
    soft = Pressed(limit, f"{source}, taken for steel of no name", before)
    return Assumed(soft, size.own("bearing_limit"), basis, text=show(limit, "stress", context.system))


@SHEET.note(SIZE)
def limit_taken(pressed: Pressed) -> None:
    """Asks, so that what is taken for steel of no name is told before there is a preload too."""


@SHEET.note(SIZE)
def not_in_the_library(
    turned: Turned = Turned(),
    hole_found: object = None,
    tapped_found: object = None,
    face_found: object = None,
    member_found: object = None,
) -> tuple[str, ...]:
    """Names the joint can do without knowing, and faces no table has."""
    errors = (each for each in (hole_found, member_found, tapped_found, face_found) if isinstance(each, LibraryError))
    return (*map(str, errors), *filter(None, (turned.problem,)))

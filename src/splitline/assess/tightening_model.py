"""How the bolts of a joint work on one another: the elastic joint from the plan's flange, or measured coefficients."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from splitline.assess.context import Context
from splitline.assess.joint_sheet import PRACTICE, SHEET, gasketed
from splitline.assess.made_up import JointMadeUp
from splitline.assess.sheet import Absent, Assumed, Rule
from splitline.bolting.split_line import line_ends
from splitline.plan.model.joint import Joint, Layout, Member
from splitline.tightening.contact import Flange
from splitline.units import show

if TYPE_CHECKING:
    from splitline.tightening.joint import Elastic, Gapped, Measured
    from splitline.tightening.joint import Joint as Model

TITLE = "prediction of preloads"
THIN = 4.0  # bolt circle over flange width under which a ring beam is rough
ADVICE = "The prediction is advice until it is fitted to readings of this joint."


MODEL = "ring beam or free beam on an elastic face (Hetényi 1946; harmonic series), bolts as springs"


def _measured(joint: Joint) -> bool:
    return joint.tightening is not None and joint.tightening.interaction is not None


def _beam(joint: Joint, layout: Layout) -> bool:
    return not _measured(joint) and layout.shape != "points"


@SHEET.result(name="model", when=_measured, after=("steps",))
def measured_model(joint: Joint, layout: Layout, bolt_count: int) -> Model | None:
    how = joint.tightening
    return measured(layout, bolt_count, how.interaction) if how is not None and how.interaction is not None else None


@SHEET.result(when=_beam, after=("steps",))
def model(joint: Joint, layout: Layout, flange: Flange, bolt_stiffnesses: list[float], bolt_count: int) -> Model:
    """The joint for prediction. InputError out of range."""
    gap = joint.member.initial_gap if joint.member is not None else None
    gaps = list(gap) if isinstance(gap, tuple) else [gap or 0.0] * bolt_count
    return elastic(layout, flange, bolt_stiffnesses, gaps)


SHEET.tell("interaction", "model.interaction", "share", "Interaction: change of bolt i per unit put into bolt j", "A",
           "S_ij / S_jj, S = (I/k_b + C)⁻¹", MODEL, shape="table")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Faces:
    """Section of the flange, m, and the pressure per displacement of its face where the plan gives it, Pa/m."""

    width: float
    thickness: float
    contact: float | None


@SHEET.result(when=_beam, after=("steps",))
def faces(joint: Joint, layout: Layout, member_modulus: float | None = None) -> Faces:
    """What a ring or a beam is computed from; a gasket must state how stiff it is."""
    member, circle = joint.member, layout.shape == "circle"
    own = ("outer_diameter", "inner_diameter") if circle else ("flange_width",)
    needs = [f"member.{name}" for name in (*own, "flange_thickness") if getattr(member, name, None) is None]
    needs += ["layout.diameter"] if circle and layout.diameter is None else []
    needs += ["member.modulus"] if member_modulus is None else []
    contact = member.contact_stiffness if member is not None else None
    if contact is None and gasketed(joint):
        needs.append("member.contact_stiffness")
    elif contact is None and _clamped(joint) is None:
        needs.append("bolting.clamp_length")
    if needs or member is None:
        raise Absent(*needs)
    return Faces(_width(member, circle), member.flange_thickness or 0.0, contact)


def _clamped(joint: Joint) -> float | None:
    return joint.bolting.clamp_length if joint.bolting is not None else None


def _width(member: Member, circle: bool) -> float:
    if circle:
        return ((member.outer_diameter or 0.0) - (member.inner_diameter or 0.0)) / 2
    return member.flange_width or 0.0


@SHEET.result(
    kind="contact_stiffness", title="Stiffness of the face", symbol="k_c", formula="E / clamp length", source=PRACTICE
)
def contact_stiffness(joint: Joint, faces: Faces, member_modulus: float) -> float | Assumed:
    if faces.contact is not None:
        return faces.contact
    face = member_modulus / (_clamped(joint) or 1.0)
    return Assumed(face, "member.contact_stiffness", "E / clamp length, metal faces", "contact_stiffness")


@SHEET.result()
def flange(faces: Faces, contact_stiffness: float, member_modulus: float) -> Flange:
    return Flange(member_modulus, faces.width, faces.thickness, contact_stiffness)


@SHEET.result()
def bolt_stiffnesses(made_up: JointMadeUp) -> list[float] | None:
    """Of every bolt in the order of their numbers, N/m."""
    return made_up.per_bolt("bolt_stiffness")


@SHEET.check("interaction", TITLE, when=_beam, after=("steps",))
def flange_known(flange: Flange) -> None:
    """Only says what is missing."""


@SHEET.check("interaction", TITLE, when=_beam, after=("steps",))
def bolts_known(bolt_stiffnesses: list[float] | None = None) -> Rule | None:
    if bolt_stiffnesses is not None:
        return None
    return Rule("missing", "needs the stiffness of every bolt (see the checks above)", ("bolting.clamp_length",))


@SHEET.note(when=_measured, after=("steps",))
def by_readings() -> str:
    return f"Interaction by the measured coefficients of the plan. {ADVICE}"


@SHEET.note(after=("steps",))
def at_points(joint: Joint, layout: Layout) -> str | None:
    if _measured(joint) or layout.shape != "points":
        return None
    return "No interaction model for bolts at points: predicted only with tightening.interaction."


@SHEET.note(after=("bolt_stiffnesses",))
def wide_flange(layout: Layout, flange: Flange) -> str | None:
    if layout.shape != "circle" or (layout.diameter or 0.0) >= THIN * flange.width:
        return None
    return "The flange is wide for its bolt circle: as a ring beam it is only roughly described."


@SHEET.note(after=("flange", "bolt_stiffnesses"))
def no_gap(joint: Joint, context: Context) -> Assumed | None:
    if joint.member is not None and joint.member.initial_gap is not None:
        return None
    text = f"{show(0.0, 'length', context.system)}: faces in contact from the start"
    return Assumed(0.0, "member.initial_gap", PRACTICE, text=text)


def elastic(layout: Layout, flange: Flange, stiffness: list[float], gaps: list[float]) -> Elastic | Gapped:
    """Ring or split line on its face, with its gaps where there are any. InputError out of range."""
    if layout.shape == "circle":
        return _ring(flange, (layout.diameter or 0.0) / 2, stiffness, gaps)
    return _line(layout, flange, stiffness, gaps)


def measured(layout: Layout, count: int, coefficients: tuple[float, ...]) -> Measured:
    """Measured coefficients by distance along the circle, each side, or round the pattern of points."""
    import numpy as np

    from splitline.tightening.interaction import measured_circle, measured_line
    from splitline.tightening.joint import Measured

    if layout.shape == "split-line":
        on_a = len(layout.side_a or ())
        return Measured(measured_line(coefficients, on_a, count - on_a))
    matrix = measured_circle(coefficients, count)
    if layout.shape == "points":
        from splitline.tightening.order import ring_of

        place = np.argsort(np.asarray(ring_of(layout.points or ())))
        matrix = matrix[np.ix_(place, place)]
    return Measured(matrix)


def _ring(flange: Flange, radius: float, stiffness: list[float], gaps: list[float]) -> Elastic | Gapped:
    from splitline.tightening.contact import ring_compliance
    from splitline.tightening.interaction import joint_matrix
    from splitline.tightening.joint import Elastic

    if any(gaps):
        from splitline.tightening.contact import gapped_ring

        return gapped_ring(flange, radius, stiffness, gaps)
    return Elastic(joint_matrix(ring_compliance(flange, radius, len(stiffness)), stiffness))


def _line(layout: Layout, flange: Flange, stiffness: list[float], gaps: list[float]) -> Elastic | Gapped:
    from splitline.tightening.contact import beam_compliance
    from splitline.tightening.interaction import joint_matrix, two_sides
    from splitline.tightening.joint import Elastic

    side_a = layout.side_a or ()
    side_b = side_a if layout.side_b is None else layout.side_b
    split = len(side_a)
    ends = [_ends(layout, side) for side in (side_a, side_b)]
    if any(gaps):
        from splitline.tightening.contact import gapped_beam, gapped_sides

        return gapped_sides(
            gapped_beam(flange, side_a, *ends[0], stiffness[:split], gaps[:split]),
            gapped_beam(flange, side_b, *ends[1], stiffness[split:], gaps[split:]),
        )
    sides = [beam_compliance(flange, side, *end) for side, end in zip((side_a, side_b), ends, strict=True)]
    return Elastic(joint_matrix(two_sides(*sides), stiffness))


def _ends(layout: Layout, side: tuple[float, ...]) -> tuple[float, float]:
    """Ends of the flange: as given, else half a pitch outside the end bolts. InputError for a single bolt without them."""
    if layout.line_from is not None and layout.line_to is not None:
        return layout.line_from, layout.line_to
    start, end = line_ends(side)
    return (
        start if layout.line_from is None else layout.line_from,
        end if layout.line_to is None else layout.line_to,
    )

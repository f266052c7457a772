"""How the bolts of a joint work on one another: the elastic joint from the plan's flange, or measured coefficients."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.made_up import JointMadeUp
from splitline.bolting.split_line import line_ends
from splitline.plan.model.joint import Joint, Layout, Member
from splitline.tightening.joint import Elastic, Gapped, Measured
from splitline.tightening.joint import Joint as Model
from splitline.tightening.section import Flange

TITLE = "prediction of preloads"
PRACTICE = "common practice, no published source"
THIN = 4.0  # bolt circle over flange width under which a ring beam is rough
ADVICE = "The prediction is advice until it is fitted to readings of this joint."


def model_of(bench: Bench, joint: Joint, made_up: JointMadeUp, stiffness: list[float] | None) -> Model | None:
    """The joint for prediction; None (and a missing check or a note) where its inputs are not in the plan."""
    layout, count = joint.layout, made_up.count
    if layout is None or count is None:
        return None
    how = joint.tightening
    if how is not None and how.interaction is not None:
        bench.note(f"Interaction by the measured coefficients of the plan. {ADVICE}")
        return measured(layout, count, how.interaction)
    if layout.shape == "points":
        bench.note("No interaction model for bolts at points: predicted only with tightening.interaction.")
        return None
    flange = _flange(bench, joint, made_up)
    if stiffness is None:
        needs = ("bolting.clamp_length",)
        bench.missing("interaction", TITLE, needs, note="needs the stiffness of every bolt (see the checks above)")
    if flange is None or stiffness is None:
        return None
    if layout.shape == "circle" and (layout.diameter or 0.0) < THIN * flange.width:
        bench.note("The flange is wide for its bolt circle: as a ring beam it is only roughly described.")
    gap = joint.member.initial_gap if joint.member is not None else None
    if gap is None:
        bench.default("member.initial_gap", f"{bench.show(0.0, 'length')}: faces in contact from the start", PRACTICE)
    gaps = [0.0 if gap is None else gap] * count if not isinstance(gap, tuple) else list(gap)
    return elastic(layout, flange, stiffness, gaps)


def elastic(layout: Layout, flange: Flange, stiffness: list[float], gaps: list[float]) -> Elastic | Gapped:
    """Ring or split line on its face, with its gaps where there are any. InputError out of range."""
    if layout.shape == "circle":
        return _ring(flange, (layout.diameter or 0.0) / 2, stiffness, gaps)
    return _line(layout, flange, stiffness, gaps)


def measured(layout: Layout, count: int, coefficients: tuple[float, ...]) -> Measured:
    """Measured coefficients by distance along the circle, each side, or round the pattern of points."""
    import numpy as np

    from splitline.tightening.interaction import measured_circle, measured_line

    if layout.shape == "split-line":
        on_a = len(layout.side_a or ())
        return Measured(measured_line(coefficients, on_a, count - on_a))
    matrix = measured_circle(coefficients, count)
    if layout.shape == "points":
        from splitline.tightening.points import ring_of

        place = np.argsort(np.asarray(ring_of(layout.points or ())))
        matrix = matrix[np.ix_(place, place)]
    return Measured(matrix)


def _ring(flange: Flange, radius: float, stiffness: list[float], gaps: list[float]) -> Elastic | Gapped:
    from splitline.tightening.interaction import joint_matrix
    from splitline.tightening.ring import ring_compliance

    if any(gaps):
        from splitline.tightening.contact import gapped_ring

        return gapped_ring(flange, radius, stiffness, gaps)
    return Elastic(joint_matrix(ring_compliance(flange, radius, len(stiffness)), stiffness))


def _line(layout: Layout, flange: Flange, stiffness: list[float], gaps: list[float]) -> Elastic | Gapped:
    from splitline.tightening.beam import beam_compliance
    from splitline.tightening.interaction import joint_matrix, two_sides

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


def _flange(bench: Bench, joint: Joint, made_up: JointMadeUp) -> Flange | None:
    """Section and face from the plan; says the default of the face's stiffness; None (and missing) without its fields."""
    layout, member = joint.layout, joint.member
    assert layout is not None
    circle = layout.shape == "circle"
    own = ("outer_diameter", "inner_diameter") if circle else ("flange_width",)
    needs = [f"member.{name}" for name in (*own, "flange_thickness") if getattr(member, name, None) is None]
    needs += ["layout.diameter"] if circle and layout.diameter is None else []
    needs += ["member.modulus"] if made_up.member_modulus is None else []
    face = member.contact_stiffness if member is not None else None
    clamp = made_up.main.clamp_length
    if face is None and made_up.gasketed:
        needs.append("member.contact_stiffness")
    elif face is None and clamp is None:
        needs.append("bolting.clamp_length")
    if needs or member is None or made_up.member_modulus is None:
        bench.missing("interaction", TITLE, needs, note="needs " + ", ".join(needs))
        return None
    if face is None and clamp is not None:
        face = made_up.member_modulus / clamp
        bench.default(
            "member.contact_stiffness", bench.show(face, "contact_stiffness"), "E / clamp length, metal faces"
        )
    bench.put("contact_stiffness", face)
    return Flange(made_up.member_modulus, _width(member, circle), member.flange_thickness or 0.0, face or 0.0)


def _width(member: Member, circle: bool) -> float:
    if circle:
        return ((member.outer_diameter or 0.0) - (member.inner_diameter or 0.0)) / 2
    return member.flange_width or 0.0

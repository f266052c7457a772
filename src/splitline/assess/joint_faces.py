"""Faces of a joint's bolts: the nut or head that turns, its washer, the clearance hole, from plan and library."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Protocol

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.joint_types import Hardware
from splitline.bolting.bearing import washer_spread_diameter
from splitline.errors import LibraryError
from splitline.library import dimensions
from splitline.library.threads import ThreadSize, parse_designation
from splitline.plan.model.joint import Joint


class Picked(Protocol):
    """A bolting field by name: the size's own value, else the joint's."""

    def __call__(self, name: str) -> Any: ...


def size_of(pick: Picked) -> ThreadSize | None:
    """The thread the plan names; None without one. LibraryError for one that does not exist."""
    name = pick("thread")
    return parse_designation(name) if name else None


def nut_form(hw: Hardware, size: ThreadSize, given: str | None, library_has_heavy: bool) -> str:
    """Form of the nut: what is given; else heavy hex for studs (ASTM A194 practice) where the standard has the size."""
    if given is not None:
        return given
    stud = hw.kind in ("stud", "through-stud")
    return "heavy-hex" if stud and library_has_heavy and (size.system == "inch" or size.d >= 0.0119) else "hex"


def with_faces(bench: Bench, _joint: Joint, ctx: Context, pick: Picked, hw: Hardware) -> Hardware:
    """Nut or head that turns, nut height for stripping, clearance hole."""
    try:
        size = size_of(pick)
    except LibraryError:
        return hw
    if size is None:
        return hw
    if hw.hole is None:
        try:
            hole = dimensions.clearance_hole(ctx.library, size)
            bench.default(hw.field("hole_diameter"), bench.show(hole.diameter, "length"), f"{hole.name}, {hole.source}")
            hw = replace(hw, hole=hole.diameter)
        except LibraryError as error:
            bench.note(bench.said(error))
    height = pick("nut_height")
    if hw.kind == "bolt":
        hw = replace(hw, nut_height=height if height is not None else _nut_height(ctx, size, pick("nut") or "hex"))
    if hw.kind in ("bolt", "cap-screw"):
        return _head(bench, ctx, size, hw, pick("nut"))
    return _nut(bench, ctx, size, hw, pick("nut"), height)


def _nut_height(ctx: Context, size: ThreadSize, form: str) -> float | None:
    try:
        return dimensions.nut(ctx.library, size, form).height_min
    except LibraryError:
        return None


def _head(bench: Bench, ctx: Context, size: ThreadSize, hw: Hardware, form: str | None) -> Hardware:
    shape = "socket" if hw.kind == "cap-screw" else ("heavy-hex" if form == "heavy-hex" else "hex")
    if hw.bearing is not None and hw.across_flats is not None:
        return hw
    try:
        head = dimensions.head(ctx.library, size, shape)
    except LibraryError as error:
        if hw.kind == "bolt" and form is not None:
            # a bolt turned by the nut the plan names; heavy hex heads are as wide as their nuts
            return _nut(bench, ctx, size, hw, form, hw.nut_height)
        if hw.bearing is None:
            bench.note(f"{bench.said(error)}: give bearing_diameter and across_flats")
        return hw
    return _with_face(bench, hw, head.across_flats, head.bearing_diameter, f"{head.name} head, {head.source}")


def _nut(
    bench: Bench, ctx: Context, size: ThreadSize, hw: Hardware, given: str | None, height: float | None
) -> Hardware:
    nut, problem = None, ""
    for form in dict.fromkeys((nut_form(hw, size, given, True), nut_form(hw, size, given, False))):
        try:
            nut = dimensions.nut(ctx.library, size, form)
            break
        except LibraryError as error:
            problem = bench.said(error)
    if nut is None and (hw.bearing is None or height is None):
        bench.note(problem)
    if nut is None:
        return replace(hw, nut_height=height)
    hw = replace(hw, nut_height=height if height is not None else nut.height_min)
    return _with_face(bench, hw, nut.across_flats, nut.bearing_diameter, f"{nut.name} nut, {nut.source}")


def _with_face(bench: Bench, hw: Hardware, flats: float, bearing: float, basis: str) -> Hardware:
    if hw.across_flats is None:
        bench.default(hw.field("across_flats"), bench.show(flats, "length"), basis)
    if hw.bearing is None:
        bench.default(hw.field("bearing_diameter"), bench.show(bearing, "length"), basis)
    return replace(
        hw,
        across_flats=hw.across_flats if hw.across_flats is not None else flats,
        bearing=hw.bearing if hw.bearing is not None else bearing,
    )


def with_washer(bench: Bench, _joint: Joint, ctx: Context, pick: Picked, hw: Hardware) -> Hardware:
    """Diameter pressed into the clamped part: the nut's face spread through the washer at 45°, within the washer."""
    thickness, outer = pick("washer_thickness"), pick("washer_diameter")
    if thickness is None or hw.bearing is None:
        return hw
    if outer is None:
        try:
            size = size_of(pick)
            if size is not None:
                found = dimensions.washer(ctx.library, size, "hardened" if size.system == "inch" else "plain")
                outer = found.outer_diameter
                bench.default(hw.field("washer_diameter"), bench.show(outer, "length"), f"{found.name}, {found.source}")
        except LibraryError:
            outer = None
    return replace(
        hw, bearing_under=washer_spread_diameter(hw.bearing, outer or hw.bearing + 2.0 * thickness, thickness)
    )

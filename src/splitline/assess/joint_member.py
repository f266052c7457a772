"""Material of the clamped parts."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.context import Context
from splitline.assess.joint_material import falls_as
from splitline.assess.joint_types import Material
from splitline.errors import LibraryError
from splitline.library import materials
from splitline.plan.model.joint import Joint


def member_material(bench: Bench, ctx: Context, joint: Joint) -> Material:
    """Modulus and expansion of the clamped parts: given, or of their material."""
    member = joint.member
    if member is None:
        return Material()
    typed = falls_as(ctx.library, member.modulus)
    given = Material(modulus=member.modulus, typed_curves=typed, expansion=member.expansion)
    if not member.material:
        return given
    try:
        found = materials.material(ctx.library, member.material)
    except LibraryError as error:
        bench.note(bench.said(error))
        return given
    if member.modulus is None:
        bench.default(
            "member.modulus", bench.show(found.modulus, "modulus"), f"{found.name}: {found.modulus_curve.source}"
        )
    return Material(
        member.modulus if member.modulus is not None else found.modulus,
        found.modulus_curve if member.modulus is None else None,
        () if member.modulus is None else (found.modulus_curve,),
        member.expansion,
        found.expansion_curve if member.expansion is None else None,
    )

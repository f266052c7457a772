"""A joint as made up: every size of bolt with what the library and the plan say of it, for tightening and for screens."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.assess.joint_preload import NO_TWIST
from splitline.assess.joint_scatter import Spread
from splitline.assess.joint_sheet import SHEET, SIZE, Sized, gasketed, method_of
from splitline.assess.sheet import Each
from splitline.bolting.thread import Section, Thread
from splitline.plan.model.joint import Joint


@dataclass(frozen=True, slots=True)
class MadeUp:
    """The bolts of one size. Values nobody gave and no library holds are None; SI."""

    bolts: tuple[int, ...]  # numbers from 1; of the main size all bolts no other size takes
    first: bool  # pulled down before the others
    thread: Thread | None
    section: Section | None  # of least area
    clamp_length: float | None  # m
    modulus: float | None  # Pa
    yield_strength: float | None  # Pa
    bolt_stiffness: float | None  # N/m
    member_stiffness: float | None  # N/m
    preload: float | None  # target, N
    torque: float | None  # for the target, N·m
    torsion: float | None = None  # combined over axial stress at target

    @property
    def yield_load(self) -> float | None:
        """Axial load at yield of the least section, N."""
        if self.section is None or self.yield_strength is None:
            return None
        return self.section.area * self.yield_strength


@dataclass(frozen=True, slots=True)
class JointMadeUp:
    """All sizes of a joint, the main one first, and what tightening does to each of them."""

    count: int | None  # number of bolts
    sizes: tuple[MadeUp, ...]
    scatter: float | None  # ± share of preload at two standard deviations
    relaxation: float | None  # share of preload lost
    gasketed: bool
    member_modulus: float | None  # Pa
    torsion: (
        float | None
    )  # combined over axial stress while tightening; 1 for a method without; None: friction not known

    @property
    def main(self) -> MadeUp:
        """The size `results` speaks of."""
        return self.sizes[0]

    def per_bolt(self, field: str) -> list[float] | None:
        """One value of `MadeUp` for every bolt in the order of their numbers; None when any is absent."""
        if self.count is None:
            return None
        values: list[float | None] = [getattr(self.main, field)] * self.count
        for size in self.sizes[1:]:
            for bolt in size.bolts:
                values[bolt - 1] = getattr(size, field)
        found = [value for value in values if value is not None]
        return found if len(found) == self.count else None


@SHEET.result(SIZE)
def torsion(joint: Joint, combined_stress: float = 0.0, least_area_stress: float = 0.0) -> float | None:
    """Combined over axial stress at target: 1 where the nut is not turned under load."""
    if method_of(joint) in NO_TWIST:
        return 1.0
    return combined_stress / least_area_stress if combined_stress and least_area_stress else None


@SHEET.result(SIZE)
def size_made_up(
    size: Sized,
    thread: Thread | None = None,
    section: Section | None = None,
    bolt_modulus: float | None = None,
    yield_strength: float | None = None,
    bolt_stiffness: float | None = None,
    member_stiffness: float | None = None,
    preload: float | None = None,
    torque: float | None = None,
    torsion: float | None = None,
) -> MadeUp:
    return MadeUp(
        size.bolts, size.first, thread, section, size.bolting.clamp_length, bolt_modulus, yield_strength, bolt_stiffness,
        member_stiffness, preload, torque, torsion,
    )  # fmt: skip


@SHEET.result(each={"sizes": Each("size_made_up")})
def made_up(
    joint: Joint,
    sizes: tuple[MadeUp, ...],
    spread: Spread,
    bolt_count: int | None = None,
    member_modulus: float | None = None,
) -> JointMadeUp:
    return JointMadeUp(
        bolt_count, sizes, spread.scatter, spread.relaxation, gasketed(joint), member_modulus, sizes[0].torsion
    )

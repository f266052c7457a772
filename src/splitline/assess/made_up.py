"""A joint as made up: every size of bolt with what the library and the plan say of it, for the assessors of a joint."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.bolting.thread import Section, Thread


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

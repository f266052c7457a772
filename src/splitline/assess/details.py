"""What an assessment hands to drawings, screens and sheets besides its numbers: typed, one kind of item each.

None of it goes into JSON. An item that has none of its kind's details carries the empty one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from splitline.assess.fit_steps import MountingStep
    from splitline.assess.lift_register import OutOfUse, Piece
    from splitline.assess.lift_told import Picture
    from splitline.assess.made_up import JointMadeUp
    from splitline.assess.tightening import Predicted
    from splitline.fitting.gaps import GapMap
    from splitline.fitting.insertion import LogVerdict
    from splitline.lifting.rigging import Part


@dataclass(frozen=True, slots=True)
class JointDetail:
    """A joint as made up, and its tightening as predicted."""

    made_up: JointMadeUp | None = None
    predicted: Predicted | None = None
    warnings: tuple[str, ...] = ()  # of the prediction: never cut where it is drawn


@dataclass(frozen=True, slots=True)
class LiftDetail:
    """A lift as it hangs, the parts of its legs, and what to turn at the trial lift."""

    picture: Picture | None = None
    chains: tuple[tuple[Part, ...], ...] = ()  # of each leg, from the hook down
    trimming: str = ""  # what to trim with
    levelling: tuple[str, ...] = ()  # what each adjuster does
    pieces: tuple[Piece, ...] = ()  # tags looked up in the site's register
    out_of_use: tuple[OutOfUse, ...] = ()  # what takes each kind of rigging out of use


@dataclass(frozen=True, slots=True)
class FitDetail:
    """The steps of mounting and taking off, and the section for its drawing (m; taper on diameter)."""

    mounting: tuple[MountingStep, ...] = ()
    removal: tuple[MountingStep, ...] = ()
    section: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class InsertionDetail:
    """The force log, each reading (N) with its verdict."""

    log: tuple[tuple[float, LogVerdict], ...] = ()


@dataclass(frozen=True, slots=True)
class ClearanceDetail:
    """Feeler readings round a joint."""

    gaps: GapMap | None = None

"""The passes a joint is tightened in: as its plan says, else as is usual. Record, assessment, sheets and kit all ask here."""

from __future__ import annotations

from dataclasses import dataclass

from splitline.plan.model.tightening import Tightening

# Common practice, no published source.
SNUG, SHARES, ROUNDS, MOST_ROUNDS = 0.1, (0.3, 0.6, 1.0), 1, 3
ONCE = (1.0,)  # a stud is heated once, for the whole turn of its nut
BY_NUT = (
    "turn",
    "heat",
)  # the nut is turned by an angle from snug: a round until no nut moves has nothing to pull with
BY_LENGTH = (*BY_NUT, "stretch")  # judged by what bolt or nut does, not by what a tool is set to


@dataclass(frozen=True, slots=True)
class Passes:
    """Shares of the target: snug (0 for none) and passes; check rounds planned, and at most."""

    snug: float
    shares: tuple[float, ...]
    rounds: int
    most_rounds: int


def passes_of(how: Tightening | None) -> Passes:
    """The passes of a joint, what the plan leaves out filled in."""
    by_nut = how is not None and how.method in BY_NUT
    usual = Passes(
        SNUG,
        ONCE if how is not None and how.method == "heat" else SHARES,
        0 if by_nut else ROUNDS,
        0 if by_nut else MOST_ROUNDS,
    )
    if how is None:
        return usual
    rounds = usual.rounds if how.finish_rounds is None else how.finish_rounds
    return Passes(
        usual.snug if how.snug is None else how.snug,
        usual.shares if how.passes is None else how.passes,
        rounds,
        max(rounds, usual.most_rounds if how.max_rounds is None else how.max_rounds),
    )

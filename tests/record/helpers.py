"""A small invented job and entries for it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from splitline.record.entry import Entry, Tightened
from splitline.record.job import JointPlan, plan_passes
from splitline.record.journal import Journal

START = datetime(2027, 3, 1, 6, 0, tzinfo=timezone(timedelta(hours=1)))
_uids = itertools.count()


class Ticking:
    """A clock that moves only when told."""

    def __init__(self, now: datetime = START) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def forward(self, **by: float) -> None:
        self.now += timedelta(**by)


def uid() -> str:
    return f"uid-{next(_uids)}"


def pull(*bolts: int, pass_: str = "1", joint: str = "head", **more: Any) -> Tightened:
    return Tightened(**{"uid": uid(), "done_by": "A. Fitter", "joint": joint, "pass_": pass_, "bolts": bolts} | more)


def joint(bolts: int = 8, snug: float = 0.1, shares: tuple[float, ...] = (0.5, 1.0), rounds: int = 1) -> JointPlan:
    """Opposite pairs, as two tools take them."""
    half = bolts // 2
    steps = tuple((bolt, bolt + half) for bolt in range(1, half + 1))
    return JointPlan("head", "Head cover", plan_passes(steps, shares, snug, rounds), max_rounds=3)


def numbered(entries: Iterable[Entry], at: datetime = START) -> tuple[Entry, ...]:
    """Entries as the journal would give them back, a minute apart; for folds that need no file."""
    return tuple(
        replace(
            entry, number=n, done_at=entry.done_at or at + timedelta(minutes=n), entered_at=at, entered_by=entry.done_by
        )
        for n, entry in enumerate(entries, 1)
    )


def journal(folder: Path, **more: Any) -> Journal:
    return Journal(folder / "cover.toml", **({"clock": Ticking()} | more))

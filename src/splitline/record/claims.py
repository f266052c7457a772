"""Who works on which bolts right now, so that two screens never show the same studs.

Claims are short-lived, so they stand in a small file beside the record and not in it; losing that file loses nothing
that was done (the record's own check keeps a stud from being entered twice). A claim belongs to a crew and the screen
it works from. It goes when its bolts are done, when the crew gives it back, when another crew takes it over on
purpose, or ``LIFE`` after the screen was last seen: long enough for a crew whose tablet fell asleep in mid-pull.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from splitline.errors import RecordError
from splitline.record import paths
from splitline.record.clock import Clock, wall
from splitline.record.lock import PATIENCE, locked
from splitline.whole_file import write_whole

LIFE = timedelta(minutes=10)
AWAKE = timedelta(seconds=6)  # a screen not seen for longer is taken to be gone


@dataclass(frozen=True, slots=True)
class Claim:
    """Bolts one crew has in hand."""

    joint: str
    pass_: str
    bolts: tuple[int, ...]
    crew: str
    client: str  # one screen
    seen: datetime

    def awake(self, now: datetime) -> bool:
        """Its screen is there."""
        return now - self.seen < AWAKE


def _same(one: Claim, other: Claim) -> bool:
    """The same bolts in the same hands, whenever they were last seen."""
    return replace(one, seen=other.seen) == other


Pick = Callable[[tuple[Claim, ...]], tuple[str, str, tuple[int, ...]] | None]


class Claims:
    """The claims file of one plan, as one screen uses it."""

    def __init__(self, plan: Path, crew: str, client: str, clock: Clock = wall, patience: float = PATIENCE) -> None:
        """``patience``: s to wait for the lock; RecordError from every method that writes where it is held longer."""
        self._paths = paths.beside(plan)
        self.crew, self.client = crew, client
        self._clock = clock
        self._patience = patience

    def read(self) -> tuple[Claim, ...]:
        """Claims that have not run out. A file that does not read counts as empty: see above."""
        try:
            rows = json.loads(self._paths.claims.read_text("utf-8"))
            found = [
                Claim(
                    r["joint"], r["pass_"], tuple(r["bolts"]), r["crew"], r["client"], datetime.fromisoformat(r["seen"])
                )
                for r in rows
            ]
            now = self._clock()
            return tuple(claim for claim in found if now - claim.seen < LIFE)
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return ()

    def mine(self, claim: Claim) -> bool:
        """Held by this screen, or left behind by a screen of the same crew that is gone."""
        return claim.client == self.client or (claim.crew == self.crew and not claim.awake(self._clock()))

    def others(self) -> tuple[Claim, ...]:
        """What other crews hold."""
        return tuple(claim for claim in self.read() if not self.mine(claim))

    def choose(self, pick: Pick) -> Claim | None:
        """Under the lock: ``pick`` sees the other crews' claims and names joint, pass and bolts; they become ours.

        What this screen held before goes back. RecordError: the folder cannot be written.
        """
        with locked(self._paths.lock, self._patience):
            all_claims = self.read()
            others = tuple(claim for claim in all_claims if not self.mine(claim))
            chosen = pick(others)
            claim = None
            if chosen is not None:
                taken = {(c.joint, c.pass_, bolt) for c in others for bolt in c.bolts}
                if any((chosen[0], chosen[1], bolt) in taken for bolt in chosen[2]):
                    raise RecordError("another crew has these bolts in hand")
                claim = Claim(*chosen, self.crew, self.client, self._clock())
            wanted = (*others, *((claim,) if claim else ()))
            if wanted != all_claims:
                self._write(wanted)
            return claim

    def renew(self) -> None:
        """Say that this screen is still there."""
        with locked(self._paths.lock, self._patience):
            rows = self.read()
            now = self._clock()
            self._write(tuple(replace(row, seen=now) if row.client == self.client else row for row in rows))

    def release(self) -> None:
        """Give back what this screen holds."""
        with locked(self._paths.lock, self._patience):
            rows = self.read()
            left = tuple(row for row in rows if row.client != self.client)
            if left != rows:
                self._write(left)

    def take_over(self, claim: Claim) -> None:
        """Take another crew's bolts, on purpose: they said that they are off them.

        RecordError: they are no longer in those hands, because they were done or a third crew was quicker.
        """
        with locked(self._paths.lock, self._patience):
            rows = self.read()
            held = next((row for row in rows if _same(row, claim)), None)
            if held is None:
                raise RecordError(f"{claim.crew} no longer has these bolts in hand; nothing was taken over")
            left = tuple(row for row in rows if row is not held and row.client != self.client)
            self._write((*left, replace(held, crew=self.crew, client=self.client, seen=self._clock())))

    def _write(self, rows: tuple[Claim, ...]) -> None:
        text = json.dumps([asdict(row) | {"seen": row.seen.isoformat()} for row in rows], ensure_ascii=False, indent=1)
        try:
            write_whole(self._paths.claims, text.encode(), sync=False, clear=True)  # leases: lost with the power anyway
        except OSError as error:
            raise RecordError(f"{self._paths.claims}: cannot be written: {error.strerror}") from error

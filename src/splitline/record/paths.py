"""Where the record of a plan lives: beside the plan, under its name."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from splitline.errors import RecordError

SUFFIX = ".record.toml"


@dataclass(frozen=True, slots=True)
class Paths:
    """The files beside ``NAME.toml``."""

    record: Path  # NAME.record.toml: the entries
    head: Path  # NAME.record.head: count and hash of the last entry
    lock: Path  # NAME.record.lock: empty, never deleted
    seen: Path  # NAME.record.seen: the greatest count this folder has seen, with its hash
    claims: Path  # NAME.record.claims: who works on which studs now

    def torn(self, stamp: str) -> Path:
        """Where the bytes of a torn tail are kept."""
        return self.record.with_name(f"{self.record.name}.torn-{stamp}")


def beside(plan: Path) -> Paths:
    """Paths for a plan file; the record itself may be given too. Those of a link are those of the plan it leads to."""
    if plan.is_symlink():
        plan = plan.resolve()
    name = plan.name
    if name.endswith(SUFFIX):
        stem = name.removesuffix(SUFFIX)
    elif name.endswith(".toml"):
        stem = name.removesuffix(".toml")
    else:
        raise RecordError(f"{plan}: a plan's name ends in .toml")
    folder = plan.parent
    return Paths(
        record=folder / f"{stem}{SUFFIX}",
        head=folder / f"{stem}.record.head",
        lock=folder / f"{stem}.record.lock",
        seen=folder / f"{stem}.record.seen",
        claims=folder / f"{stem}.record.claims",
    )


def is_record(path: Path) -> bool:
    """True for the record's own file, which a listing of plans leaves out."""
    return path.name.endswith(SUFFIX)

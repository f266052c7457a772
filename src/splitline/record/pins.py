"""PINs of those who sign: optional, one a name, kept as a salted hash in ``people.toml`` beside the plans.

A PIN keeps one person from signing as another at an open screen. It is no proof against whoever can write the folder: that
person can replace the file, and the record says only that a PIN was asked for.
"""

from __future__ import annotations

import hashlib
import hmac
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from splitline.errors import RecordError
from splitline.record.people import NOBODY_KNOWN, People
from splitline.toml_bounds import bounded
from splitline.whole_file import write_whole

FILE = "people.toml"
LEAST, MOST = 4, 12  # digits
_COST = {"n": 2**14, "r": 8, "p": 1, "dklen": 32}  # scrypt, RFC 7914: about 50 ms a try


@dataclass(frozen=True, slots=True)
class Pins:
    """Who has a PIN in this folder; name -> (salt, hash), both in hex."""

    kept: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    def entries(self, name: str) -> tuple[str, ...]:
        """The entries a name stands for, however it is written: one, or more where they are alike."""
        return People(frozenset(self.kept)).entries(name)

    def asks(self, name: str) -> bool:
        """Whether this person signs with a PIN."""
        return bool(self.entries(name))

    def owner(self, name: str, pin: str) -> str | None:
        """The entry whose PIN it is, of those the name stands for; None for a wrong PIN or a name without one."""
        return next((each for each in self.entries(name) if self._is(each, pin)), None)

    def right(self, name: str, pin: str) -> bool:
        """Whether it is this person's PIN; False for a name without one."""
        return self.owner(name, pin) is not None

    def _is(self, entry: str, pin: str) -> bool:
        salt, kept = self.kept[entry]
        return hmac.compare_digest(_hash(pin, bytes.fromhex(salt)), bytes.fromhex(kept))


def pins_of(folder: Path) -> Pins:
    """The PINs of a folder; none without the file. RecordError: the file is there and cannot be read."""
    path = folder / FILE
    try:
        rows = bounded(path.read_text("utf-8")).get("person", [])
        kept = {str(row["name"]): (str(row["salt"]), str(row["pin"])) for row in rows}
        for salt, pin in kept.values():
            bytes.fromhex(salt), bytes.fromhex(pin)
    except FileNotFoundError:
        return Pins()
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
        raise RecordError(
            f"{path}: the PINs cannot be read ({error}), so nobody can sign. Set them again with splitline pin"
        ) from None
    return Pins(kept)


def check_pin(pin: str) -> str:
    """What is wrong with a new PIN, "" where nothing is."""
    if not pin.isascii() or not pin.isdigit():
        return "a PIN is digits only: it is typed on the number pad"
    if not LEAST <= len(pin) <= MOST:
        return f"a PIN has {LEAST} to {MOST} digits, this one {len(pin)}"
    if len(set(pin)) == 1:
        return "one digit over and over is no PIN"
    return ""


def set_pin(folder: Path, name: str, pin: str | None) -> None:
    """Give a name a PIN, or take it away (None). RecordError: not a PIN, no such name, or the folder cannot be written."""
    import tomli_w

    kept = dict(pins_of(folder).kept)
    if pin is None:
        if kept.pop(name, None) is None:
            raise RecordError(f"{name} has no PIN in {folder}; nothing was changed")
    else:
        wrong = check_pin(pin) or ("" if name.strip() else "a PIN belongs to a name")
        if wrong:
            raise RecordError(f"{wrong}; nothing was changed")
        salt = os.urandom(16)
        kept[name] = salt.hex(), _hash(pin, salt).hex()
    rows = [{"name": who, "salt": salt_, "pin": hashed} for who, (salt_, hashed) in sorted(kept.items())]
    try:
        write_whole(folder / FILE, tomli_w.dumps({"person": rows}).encode(), mode=0o600)
    except OSError as error:
        raise RecordError(f"{folder / FILE}: cannot be written: {error.strerror or error}") from error


def _hash(pin: str, salt: bytes) -> bytes:
    return hashlib.scrypt(pin.encode(), salt=salt, **_COST)


def people_of(folder: Path) -> People:
    """The people of a folder, by its PINs; none known where they cannot be read."""
    try:
        return People(frozenset(pins_of(folder).kept))
    except RecordError:
        return NOBODY_KNOWN

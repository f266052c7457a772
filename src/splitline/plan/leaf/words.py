"""Values that are words, dates, yes or no, and the few written in a way of their own."""

from __future__ import annotations

import datetime as dt
import difflib
import math
import re
from dataclasses import dataclass
from typing import Any, ClassVar

from pydantic import ValidationInfo

from splitline.errors import InputError, UnitsError
from splitline.fitting.taper import from_half_angle, from_inches_per_foot
from splitline.plan.leaf.base import Dim, Json, Leaf, Num, shown, wrong
from splitline.units import read


@dataclass(frozen=True)
class Choice(Leaf):
    """One of a few words."""

    words: tuple[str, ...]

    form: ClassVar[str] = "choice"

    @property
    def sample(self) -> Any:
        return self.words[0]

    def check(self, raw: Any, info: ValidationInfo) -> str:
        if isinstance(raw, str) and raw in self.words:
            return raw
        near = difflib.get_close_matches(str(raw).lower(), self.words, 1)
        hint = f'; did you mean "{near[0]}"?' if near else ""
        raise wrong(f"{shown(raw)} is not one of {', '.join(self.words)}{hint}")

    def schema(self) -> Json:
        return {"type": "string", "enum": list(self.words)}


@dataclass(frozen=True)
class Words(Leaf):
    """Free text on any number of lines; ``table`` names the library table it is picked from, ``offers`` one it may be."""

    table: str = ""
    offers: str = ""
    longest: int = 10_000

    form: ClassVar[str] = "text"

    @property
    def sample(self) -> Any:
        return "..."

    def check(self, raw: Any, info: ValidationInfo) -> str:
        if not isinstance(raw, str):
            raise wrong(f"{shown(raw)} is not a text: write it in quotes")
        if len(raw) > self.longest:
            raise wrong(f"{len(raw)} characters are too many (at most {self.longest})")
        checker = (info.context or {}).get("names")
        if self.table and checker is not None and (problem := checker(self.table, raw)):
            raise wrong(problem)
        return raw

    def schema(self) -> Json:
        return {"type": "string"}


@dataclass(frozen=True)
class IdLeaf(Leaf):
    form: ClassVar[str] = "id"

    @property
    def sample(self) -> Any:
        return "discharge-head"

    def check(self, raw: Any, info: ValidationInfo) -> str:
        if not isinstance(raw, str) or not re.fullmatch(r"[a-z0-9-]{1,64}", raw):
            raise wrong(f'{shown(raw)} is not an id: lower-case letters, digits and hyphens, as in "discharge-head"')
        return raw

    def schema(self) -> Json:
        return {"type": "string", "pattern": "^[a-z0-9-]{1,64}$"}


@dataclass(frozen=True)
class YesNoLeaf(Leaf):
    form: ClassVar[str] = "yes/no"

    @property
    def sample(self) -> Any:
        return True

    def check(self, raw: Any, info: ValidationInfo) -> bool:
        if not isinstance(raw, bool):
            raise wrong(f"{shown(raw)} is neither true nor false (written without quotes)")
        return raw

    def schema(self) -> Json:
        return {"type": "boolean"}


@dataclass(frozen=True)
class DateLeaf(Leaf):
    form: ClassVar[str] = "date"

    @property
    def sample(self) -> Any:
        return dt.date(2027, 3, 1)

    def check(self, raw: Any, info: ValidationInfo) -> dt.date:
        if isinstance(raw, dt.datetime) or not isinstance(raw, dt.date):
            raise wrong(f"{shown(raw)} is not a date: write it without quotes, as in 2027-03-01")
        return raw

    def schema(self) -> Json:
        return {"description": "a TOML local date, as in 2027-03-01"}


@dataclass(frozen=True)
class SettingLeaf(Leaf):
    """A gauge or wrench step: a pressure or a torque, kept as (kind, SI value)."""

    form: ClassVar[str] = "setting"

    @property
    def sample(self) -> Any:
        return "5 bar"

    def check(self, raw: Any, info: ValidationInfo) -> tuple[str, float]:
        for kind in ("pressure", "torque"):
            try:
                value = read(raw, kind)
            except UnitsError:
                continue
            if not value > 0:
                raise wrong(f'"{raw}" must be above 0')
            return kind, value
        raise wrong(f'{shown(raw)} is neither a pressure nor a torque: write "5 bar" or "5 N*m"')

    def schema(self) -> Json:
        return {"anyOf": [Dim("pressure").schema(), Dim("torque").schema()]}


@dataclass(frozen=True)
class MinutesLeaf(Leaf):
    """Minutes as a bare number (the key names the unit) or a time with its unit; kept in minutes."""

    form: ClassVar[str] = "minutes"

    @property
    def sample(self) -> Any:
        return 30

    def check(self, raw: Any, info: ValidationInfo) -> float:
        if isinstance(raw, str):
            return float(Dim("time", least=0).check(raw, info)) / 60
        return Num(least=0, most=100_000).check(raw, info)

    def schema(self) -> Json:
        return {"anyOf": [{"type": "number", "minimum": 0}, Dim("time").schema()]}


_TAPER = re.compile(r"1 ?: ?(\d+(?:\.\d+)?)", re.ASCII)
_PER_FOOT = re.compile(r"(\d+(?:\.\d+)?|\d+/\d+) in/ft", re.ASCII)
_HALF_ANGLE = re.compile(r"half-angle (\d+(?:\.\d+)?) deg", re.ASCII)


@dataclass(frozen=True)
class TaperLeaf(Leaf):
    """A taper on diameter, as 1:n, in inches per foot or by its half-angle; kept as the ratio 1/n."""

    form: ClassVar[str] = "taper"

    @property
    def sample(self) -> Any:
        return "1:30"

    def check(self, raw: Any, info: ValidationInfo) -> float:
        found = self._ratio(raw) if isinstance(raw, str) else None
        if found is None or not 1 / 1000 <= found <= 1 / 2:
            said = 'write it as "1:30", "0.75 in/ft" or "half-angle 0.955 deg" (1:2 to 1:1000)'
            raise wrong(f"{shown(raw)} is not a taper on diameter: {said}")
        return found

    @staticmethod
    def _ratio(raw: str) -> float | None:
        if match := _TAPER.fullmatch(raw):
            return 1 / float(match[1]) if float(match[1]) > 0 else None
        try:
            if match := _PER_FOOT.fullmatch(raw):
                above, _, below = match[1].partition("/")
                return from_inches_per_foot(float(above) / float(below or 1)).on_diameter
            if match := _HALF_ANGLE.fullmatch(raw):
                return from_half_angle(math.radians(float(match[1]))).on_diameter
        except (InputError, ZeroDivisionError):
            return None
        return None

    def schema(self) -> Json:
        forms = (
            "1 ?: ?[0-9]+(\\.[0-9]+)?",
            "([0-9]+(\\.[0-9]+)?|[0-9]+/[0-9]+) in/ft",
            "half-angle [0-9]+(\\.[0-9]+)? deg",
        )
        return {"type": "string", "pattern": f"^({'|'.join(forms)})$", "examples": ["1:30", "0.75 in/ft"]}

"""How a plan field is declared, once: kind of quantity, range, help, usual range with its source, the checks that need it.

The reader, the schema, the forms, the help and the word `missing` all derive from these declarations. Each type below
reads what stands in the TOML into an SI value and says in a plain sentence what is wrong with it.
"""

from __future__ import annotations

import datetime as dt
import difflib
import re
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import PydanticCustomError, core_schema

from splitline.errors import UnitsError
from splitline.units import KINDS, read, text_of

Json = dict[str, Any]


def wrong(message: str) -> PydanticCustomError:
    """The error a validator raises: one plain sentence."""
    return PydanticCustomError("plan", "{said}", {"said": message})


class Table(BaseModel):
    """A table of the plan file: frozen, unknown keys refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


@dataclass(frozen=True)
class Leaf:
    """Base of the leaf types: a plain validator, its JSON Schema, what it is called and how one is written."""

    form: ClassVar[str] = ""

    @property
    def example(self) -> str:
        return ""

    def check(self, raw: Any, info: ValidationInfo) -> Any:
        raise AssertionError("each leaf type reads its own values")

    def schema(self) -> Json:
        return {}

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(self, core: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Json:
        return self.schema()


@dataclass(frozen=True)
class Dim(Leaf):
    """A dimensional value: text with a unit in the file, SI float in the plan. Bounds in SI."""

    kind: str
    above: float | None = None
    least: float | None = None
    most: float | None = None

    form: ClassVar[str] = "quantity"

    @property
    def example(self) -> str:
        return f'"{KINDS[self.kind].example}"'

    def check(self, raw: Any, info: ValidationInfo) -> float:
        try:
            value = read(raw, self.kind)
        except UnitsError as error:
            raise wrong(str(error)) from None
        unit = KINDS[self.kind].si
        if self.above is not None and not value > self.above:
            raise wrong(f'"{raw}" must be above {self._bound(self.above)}')
        if self.least is not None and value < self.least:
            raise wrong(f'"{raw}" must be at least {self._bound(self.least)}')
        if self.most is not None and value > self.most:
            raise wrong(f'"{raw}" must be at most {self._bound(self.most)} ({unit} inside)')
        return value

    def _bound(self, bound: float) -> str:
        return "0" if bound == 0 else text_of(bound, self.kind)

    def schema(self) -> Json:
        k = KINDS[self.kind]
        return {"type": "string", "maxLength": 40, "description": f"{k.words} with its unit", "examples": [k.example]}


@dataclass(frozen=True)
class Num(Leaf):
    """A bare number with bounds; ``whole`` for counts."""

    above: float | None = None
    least: float | None = None
    most: float | None = None
    whole: bool = False

    form: ClassVar[str] = "number"

    @property
    def example(self) -> str:
        return "1" if self.whole else "0.5"

    def check(self, raw: Any, info: ValidationInfo) -> float:
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            hint = (
                f" (write it without quotes: {raw})"
                if isinstance(raw, str) and re.fullmatch(r"-?\d+(\.\d+)?", raw)
                else ""
            )
            raise wrong(f"{_shown(raw)} is not a plain number{hint}")
        if raw != raw or raw in (float("inf"), float("-inf")):
            raise wrong("not a finite number")
        if self.whole and not isinstance(raw, int):
            raise wrong(f"{raw} is not a whole number")
        if self.above is not None and not raw > self.above:
            raise wrong(f"{raw} must be above {self.above:g}{self._other()}")
        if self.least is not None and raw < self.least:
            raise wrong(f"{raw} must be at least {self.least:g}{self._other()}")
        if self.most is not None and raw > self.most:
            raise wrong(f"{raw} must be at most {self.most:g}")
        return int(raw) if self.whole else float(raw)

    def _other(self) -> str:
        return f" and at most {self.most:g}" if self.most is not None else ""

    def schema(self) -> Json:
        out: Json = {"type": "integer" if self.whole else "number"}
        names = {"above": "exclusiveMinimum", "least": "minimum", "most": "maximum"}
        out.update({word: getattr(self, name) for name, word in names.items() if getattr(self, name) is not None})
        return out


@dataclass(frozen=True)
class Choice(Leaf):
    """One of a few words."""

    words: tuple[str, ...]

    form: ClassVar[str] = "choice"

    @property
    def example(self) -> str:
        return f'"{self.words[0]}"'

    def check(self, raw: Any, info: ValidationInfo) -> str:
        if isinstance(raw, str) and raw in self.words:
            return raw
        near = difflib.get_close_matches(str(raw), self.words, 1)
        hint = f', did you mean "{near[0]}"?' if near else ""
        raise wrong(f"{_shown(raw)} is not one of {', '.join(self.words)}{hint}")

    def schema(self) -> Json:
        return {"type": "string", "enum": list(self.words)}


@dataclass(frozen=True)
class Numbers(Leaf):
    """One of a few whole numbers."""

    values: tuple[int, ...]

    form: ClassVar[str] = "choice"

    @property
    def example(self) -> str:
        return str(self.values[0])

    def check(self, raw: Any, info: ValidationInfo) -> int:
        if isinstance(raw, int) and not isinstance(raw, bool) and raw in self.values:
            return raw
        raise wrong(f"{_shown(raw)} is not one of {', '.join(map(str, self.values))}")

    def schema(self) -> Json:
        return {"type": "integer", "enum": list(self.values)}


@dataclass(frozen=True)
class Words(Leaf):
    """Free text on any number of lines; ``table`` names the library table it is picked from."""

    table: str = ""
    longest: int = 10_000

    form: ClassVar[str] = "text"

    @property
    def example(self) -> str:
        return '"..."'

    def check(self, raw: Any, info: ValidationInfo) -> str:
        if not isinstance(raw, str):
            raise wrong(f"{_shown(raw)} is not a text: write it in quotes")
        if len(raw) > self.longest:
            raise wrong(f"{len(raw)} characters are too many (at most {self.longest})")
        checker = (info.context or {}).get("names")
        if self.table and checker is not None and (problem := checker(self.table, raw)):
            raise wrong(problem)
        return raw

    def schema(self) -> Json:
        return {"type": "string"}


@dataclass(frozen=True)
class _Id(Leaf):
    form: ClassVar[str] = "id"

    @property
    def example(self) -> str:
        return '"discharge-head"'

    def check(self, raw: Any, info: ValidationInfo) -> str:
        if not isinstance(raw, str) or not re.fullmatch(r"[a-z0-9-]{1,64}", raw):
            raise wrong(f'{_shown(raw)} is not an id: lower-case letters, digits and hyphens, as in "discharge-head"')
        return raw

    def schema(self) -> Json:
        return {"type": "string", "pattern": "^[a-z0-9-]{1,64}$"}


@dataclass(frozen=True)
class _YesNo(Leaf):
    form: ClassVar[str] = "yes/no"

    @property
    def example(self) -> str:
        return "true"

    def check(self, raw: Any, info: ValidationInfo) -> bool:
        if not isinstance(raw, bool):
            raise wrong(f"{_shown(raw)} is neither true nor false (written without quotes)")
        return raw

    def schema(self) -> Json:
        return {"type": "boolean"}


@dataclass(frozen=True)
class _Date(Leaf):
    form: ClassVar[str] = "date"

    @property
    def example(self) -> str:
        return "2027-03-01"

    def check(self, raw: Any, info: ValidationInfo) -> dt.date:
        if isinstance(raw, dt.datetime) or not isinstance(raw, dt.date):
            raise wrong(f"{_shown(raw)} is not a date: write it without quotes, as in 2027-03-01")
        return raw

    def schema(self) -> Json:
        return {"description": "a TOML local date, as in 2027-03-01"}


@dataclass(frozen=True)
class Either(Leaf):
    """The first of several leaf types that reads the value; messages come from the one that fits its form best."""

    options: tuple[Leaf, ...]

    form: ClassVar[str] = "either"

    @property
    def example(self) -> str:
        return self.options[0].example

    def check(self, raw: Any, info: ValidationInfo) -> Any:
        said = []
        for option in self.options:
            try:
                return option.check(raw, info)
            except PydanticCustomError as error:
                said.append(error.message())
        raise wrong("; or ".join(dict.fromkeys(said)))

    def schema(self) -> Json:
        return {"anyOf": [option.schema() for option in self.options]}


@dataclass(frozen=True)
class Row(Leaf):
    """A fixed row of values, such as a point or a pair of a chart."""

    parts: tuple[Leaf, ...]
    words: str

    form: ClassVar[str] = "row"

    @property
    def example(self) -> str:
        return "[" + ", ".join(part.example for part in self.parts) + "]"

    def check(self, raw: Any, info: ValidationInfo) -> tuple[Any, ...]:
        if not isinstance(raw, list) or len(raw) != len(self.parts):
            raise wrong(f"{_shown(raw)} is not {self.words}")
        return tuple(part.check(cell, info) for part, cell in zip(self.parts, raw, strict=True))

    def schema(self) -> Json:
        n = len(self.parts)
        items = [part.schema() for part in self.parts]
        return {"type": "array", "prefixItems": items, "minItems": n, "maxItems": n}


@dataclass(frozen=True)
class Many(Leaf):
    """A list of one leaf type."""

    part: Leaf
    least: int = 0
    most: int = 1000

    form: ClassVar[str] = "list"

    @property
    def example(self) -> str:
        return f"[{self.part.example}, {self.part.example}]"

    def check(self, raw: Any, info: ValidationInfo) -> tuple[Any, ...]:
        if not isinstance(raw, list):
            raise wrong(f"{_shown(raw)} is not a list: write it in square brackets")
        if not self.least <= len(raw) <= self.most:
            raise wrong(f"{len(raw)} entries; {self.least} to {self.most} are possible")
        out, said = [], []
        for number, cell in enumerate(raw, 1):
            try:
                out.append(self.part.check(cell, info))
            except PydanticCustomError as error:
                said.append(f"entry {number}: {error.message()}")
        if said:
            raise wrong("; ".join(said[:5]) + (f"; and {len(said) - 5} more" if len(said) > 5 else ""))
        return tuple(out)

    def schema(self) -> Json:
        return {"type": "array", "items": self.part.schema(), "minItems": self.least, "maxItems": self.most}


@dataclass(frozen=True)
class _Setting(Leaf):
    """A gauge or wrench step: a pressure or a torque, kept as (kind, SI value)."""

    form: ClassVar[str] = "setting"

    @property
    def example(self) -> str:
        return '"5 bar"'

    def check(self, raw: Any, info: ValidationInfo) -> tuple[str, float]:
        for kind in ("pressure", "torque"):
            try:
                value = read(raw, kind)
            except UnitsError:
                continue
            if not value > 0:
                raise wrong(f'"{raw}" must be above 0')
            return kind, value
        raise wrong(f'{_shown(raw)} is neither a pressure nor a torque: write "5 bar" or "5 N*m"')

    def schema(self) -> Json:
        return {"type": "string", "examples": ["5 bar", "5 N*m"]}


@dataclass(frozen=True)
class _Minutes(Leaf):
    """Minutes as a bare number (the key names the unit) or a time with its unit; kept in minutes."""

    form: ClassVar[str] = "minutes"

    @property
    def example(self) -> str:
        return "30"

    def check(self, raw: Any, info: ValidationInfo) -> float:
        if isinstance(raw, str):
            return float(Dim("time", least=0).check(raw, info)) / 60
        return Num(least=0, most=100_000).check(raw, info)

    def schema(self) -> Json:
        return {"anyOf": [{"type": "number", "minimum": 0}, Dim("time").schema()]}


@dataclass(frozen=True)
class _Taper(Leaf):
    """A taper written as 1:n on diameter; kept as the ratio 1/n."""

    form: ClassVar[str] = "taper"

    @property
    def example(self) -> str:
        return '"1:30"'

    def check(self, raw: Any, info: ValidationInfo) -> float:
        match = re.fullmatch(r"1 ?: ?(\d+(?:\.\d+)?)", raw, re.ASCII) if isinstance(raw, str) else None
        if match is None or not 2 <= float(match.group(1)) <= 1000:
            raise wrong(f'{_shown(raw)} is not a taper on diameter: write it as "1:30" (1:2 to 1:1000)')
        return 1 / float(match.group(1))

    def schema(self) -> Json:
        return {"type": "string", "examples": ["1:30"]}


def _shown(raw: object) -> str:
    text = f'"{raw}"' if isinstance(raw, str) else str(raw).lower() if isinstance(raw, bool) else str(raw)
    return text if len(text) <= 60 else text[:57] + "..."


POINT = Row((Dim("length"),) * 3, 'a point: three lengths, as in ["0 mm", "0 mm", "210 mm"]')
DIRECTION = Row((Num(),) * 3, "a direction: three plain numbers, as in [0, 0, 1]")
TAPER = _Taper()
BOLTS = Many(Num(least=1, most=400, whole=True), most=4000)

Length = Annotated[float, Dim("length", above=0)]
Gap = Annotated[float, Dim("length", least=0)]
Distance = Annotated[float, Dim("length")]
Area = Annotated[float, Dim("area", above=0)]
Mass = Annotated[float, Dim("mass", above=0)]
MassOrNone = Annotated[float, Dim("mass", least=0)]
Force = Annotated[float, Dim("force")]
Capacity = Annotated[float, Dim("capacity", above=0)]
Pressure = Annotated[float, Dim("pressure", least=-101_325)]
PressureAboveZero = Annotated[float, Dim("pressure", above=0)]
Stress = Annotated[float, Dim("stress", above=0)]
Modulus = Annotated[float, Dim("modulus", above=0)]
Torque = Annotated[float, Dim("torque", above=0)]
Temperature = Annotated[float, Dim("temperature")]
Angle = Annotated[float, Dim("angle")]
Time = Annotated[float, Dim("time", least=0)]
Speed = Annotated[float, Dim("speed", least=0)]
Expansion = Annotated[float, Dim("expansion", above=0)]
Density = Annotated[float, Dim("density", above=0)]
ContactStiffness = Annotated[float, Dim("contact_stiffness", above=0)]
TorquePerPressure = Annotated[float, Dim("torque_per_pressure", above=0)]
LineLoad = Annotated[float, Dim("line_load", least=0)]
Share = Annotated[float, Num(least=0, most=1)]
ShareAboveZero = Annotated[float, Num(above=0, most=1)]
Friction = Annotated[float, Num(least=0.01, most=1)]
Factor = Annotated[float, Num(least=1, most=10)]
Count = Annotated[int, Num(least=1, most=10_000, whole=True)]
CountOrNone = Annotated[int, Num(least=0, most=100_000, whole=True)]
Text = Annotated[str, Words()]
Id = Annotated[str, _Id()]
YesNo = Annotated[bool, _YesNo()]
Date = Annotated[dt.date, _Date()]
Setting = Annotated[tuple[str, float], _Setting()]
Minutes = Annotated[float, _Minutes()]
Point = Annotated[tuple[float, float, float], POINT]
Direction = Annotated[tuple[float, float, float], DIRECTION]
Bolts = Annotated[tuple[int, ...], BOLTS]
Texts = Annotated[tuple[str, ...], Many(Words())]


def declare(
    words: str,
    *,
    default: Any = None,
    usual: str = "",
    source: str = "",
    needs: str = "",
    alias: str | None = None,
    shown_default: str = "",
) -> Any:
    """Declare an optional field: its help, usual range with source, and the checks (keys, space-separated) needing it."""
    extra: Json = {"usual": usual, "source": source, "needed_by": needs.split(), "default_said": shown_default}
    return Field(default=default, description=words, alias=alias, json_schema_extra=extra)


def require(words: str, *, alias: str | None = None) -> Any:
    """Declare a field without which the item cannot be read at all."""
    return Field(description=words, alias=alias, json_schema_extra={"required": True})

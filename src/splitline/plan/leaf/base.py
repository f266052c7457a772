"""What every type of value has, and quantities and numbers."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import PydanticCustomError, core_schema

from splitline.errors import UnitsError
from splitline.units import KINDS, read, text_of

Json = dict[str, Any]


def wrong(message: str) -> PydanticCustomError:
    """The error a validator raises: one plain sentence."""
    return PydanticCustomError("plan", "{said}", {"said": message})


def shown(raw: object) -> str:
    if isinstance(raw, dict):
        return "a table"
    if isinstance(raw, list):
        return "a list"
    if isinstance(raw, dt.date | dt.time):
        return raw.isoformat()
    text = f'"{raw}"' if isinstance(raw, str) else str(raw).lower() if isinstance(raw, bool) else str(raw)
    return text if len(text) <= 60 else text[:57] + "..."


@dataclass(frozen=True)
class Leaf:
    """Base of the leaf types: a plain validator, its JSON Schema, what it is called and how one is written."""

    form: ClassVar[str] = ""

    @property
    def sample(self) -> Any:
        """A value of this type as TOML gives it."""
        return ""

    def check(self, raw: Any, info: ValidationInfo) -> Any:
        raise AssertionError("each leaf type reads its own values")

    def schema(self) -> Json:
        return {}

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(self, core: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Json:
        return self.schema()


@cache
def pattern(kind: str) -> str:
    """What a quantity of this kind looks like, as a regular expression for editors; the reader says more."""
    units = [*KINDS[kind].units, *(KINDS["mass"].units if kind == "capacity" else ())]
    spelled = "|".join(re.sub(r"([*/^.+$()])", r"\\\1", unit) for unit in sorted(units, key=len, reverse=True))
    fraction = "|[+-]?([0-9]+[ -])?[0-9]+/[0-9]+ ?in" if kind == "length" else ""
    return f"^ *([+-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?[ \u00a0]?({spelled}){fraction}) *$"


@dataclass(frozen=True)
class Dim(Leaf):
    """A dimensional value: text with a unit in the file, SI float in the plan. Bounds in SI."""

    kind: str
    above: float | None = None
    least: float | None = None
    most: float | None = None

    form: ClassVar[str] = "quantity"

    @property
    def sample(self) -> Any:
        return KINDS[self.kind].example

    def check(self, raw: Any, info: ValidationInfo) -> float:
        try:
            value = read(raw, self.kind)
        except UnitsError as error:
            raise wrong(str(error)) from None
        if self.above is not None and not value > self.above:
            raise wrong(f'"{raw}" must be above {self._bound(self.above)}')
        if self.least is not None and value < self.least:
            raise wrong(f'"{raw}" must be at least {self._bound(self.least)}')
        if self.most is not None and value > self.most:
            raise wrong(f'"{raw}" must be at most {self._bound(self.most)}')
        return value

    def _bound(self, bound: float) -> str:
        return "0" if bound == 0 else text_of(bound, self.kind)

    def schema(self) -> Json:
        k = KINDS[self.kind]
        return {"type": "string", "pattern": pattern(self.kind), "description": k.words, "examples": [k.example]}


@dataclass(frozen=True)
class Num(Leaf):
    """A bare number with bounds; ``whole`` for counts."""

    above: float | None = None
    least: float | None = None
    most: float | None = None
    whole: bool = False

    form: ClassVar[str] = "number"

    @property
    def sample(self) -> Any:
        return 1 if self.whole else 0.5

    def check(self, raw: Any, info: ValidationInfo) -> float:
        if isinstance(raw, bool) or not isinstance(raw, int | float):
            hint = (
                f" (write it without quotes: {raw})"
                if isinstance(raw, str) and re.fullmatch(r"-?\d+(\.\d+)?", raw)
                else ""
            )
            raise wrong(f"{shown(raw)} is not a plain number{hint}")
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
class Numbers(Leaf):
    """One of a few whole numbers."""

    values: tuple[int, ...]

    form: ClassVar[str] = "choice"

    @property
    def sample(self) -> Any:
        return self.values[0]

    def check(self, raw: Any, info: ValidationInfo) -> int:
        if isinstance(raw, int) and not isinstance(raw, bool) and raw in self.values:
            return raw
        raise wrong(f"{shown(raw)} is not one of {', '.join(map(str, self.values))}")

    def schema(self) -> Json:
        return {"type": "integer", "enum": list(self.values)}

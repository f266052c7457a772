"""How a plan field is declared, once: kind of quantity, range, help, usual range with its source, the checks that need it.

The reader, the schema, the forms, the help and the word `missing` all derive from these declarations.
"""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from splitline.plan.leaf import (
    Choice,
    DateLeaf,
    Dim,
    Either,
    IdLeaf,
    Json,
    Leaf,
    Many,
    MinutesLeaf,
    Num,
    Numbers,
    Row,
    SettingLeaf,
    TaperLeaf,
    Words,
    YesNoLeaf,
    wrong,
)

__all__ = [
    "BOLTS",
    "DIRECTION",
    "POINT",
    "TAPER",
    "Angle",
    "Area",
    "Bolts",
    "Capacity",
    "Choice",
    "ContactStiffness",
    "Count",
    "CountOrNone",
    "Date",
    "Density",
    "Dim",
    "Direction",
    "Distance",
    "Either",
    "Expansion",
    "Factor",
    "Force",
    "Friction",
    "Gap",
    "Id",
    "Leaf",
    "Length",
    "LineLoad",
    "Many",
    "Mass",
    "MassOrNone",
    "Minutes",
    "Modulus",
    "Num",
    "Numbers",
    "Point",
    "Pressure",
    "PressureAboveZero",
    "Row",
    "Setting",
    "Share",
    "ShareAboveZero",
    "Speed",
    "Stress",
    "Table",
    "Temperature",
    "Text",
    "Texts",
    "Time",
    "Torque",
    "TorquePerPressure",
    "Words",
    "YesNo",
    "declare",
    "require",
    "wrong",
]


class Table(BaseModel):
    """A table of the plan file: frozen, unknown keys refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


POINT = Row((Dim("length"),) * 3, 'a point: three lengths, as in ["0 mm", "0 mm", "210 mm"]')
DIRECTION = Row((Num(),) * 3, "a direction: three plain numbers, as in [0, 0, 1]")
TAPER = TaperLeaf()
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
Id = Annotated[str, IdLeaf()]
YesNo = Annotated[bool, YesNoLeaf()]
Date = Annotated[dt.date, DateLeaf()]
Setting = Annotated[tuple[str, float], SettingLeaf()]
Minutes = Annotated[float, MinutesLeaf()]
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
    errs: str = "",
    example: Any = None,
) -> Any:
    """Declare an optional field: its help, an example, usual range with source, and the checks (keys) needing it.

    ``shown_default``: what is taken where nothing is given, in words; ``errs``: the side that errs on.
    """
    extra: Json = {
        "usual": usual,
        "source": source,
        "needed_by": needs.split(),
        "default_said": shown_default,
        "errs": errs,
        "example": example,
    }
    return Field(default=default, description=words, alias=alias, json_schema_extra=extra)


def require(words: str, *, alias: str | None = None, example: Any = None) -> Any:
    """Declare a field without which the item cannot be read at all."""
    return Field(description=words, alias=alias, json_schema_extra={"required": True, "example": example})

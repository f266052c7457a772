"""Lists of values, fixed rows, and fields that take one form or another."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, ClassVar

from pydantic import ValidationInfo
from pydantic_core import PydanticCustomError

from splitline.plan.leaf.base import Json, Leaf, Num, shown, wrong

MOST_SAID = 5


def read_all(cells: Iterable[tuple[Leaf, Any]], info: ValidationInfo) -> tuple[Any, ...]:
    """Read each cell by its type; every cell that does not read is named by its number."""
    out, said = [], []
    for number, (leaf, cell) in enumerate(cells, 1):
        try:
            out.append(leaf.check(cell, info))
        except PydanticCustomError as error:
            said.append(f"entry {number}: {error.message()}")
    if said:
        more = f"; and {len(said) - MOST_SAID} more" if len(said) > MOST_SAID else ""
        raise wrong("; ".join(said[:MOST_SAID]) + more)
    return tuple(out)


@dataclass(frozen=True)
class Either(Leaf):
    """The first of several leaf types that reads the value; messages come from the one that fits its form best."""

    options: tuple[Leaf, ...]

    form: ClassVar[str] = "either"

    @property
    def sample(self) -> Any:
        return self.options[0].sample

    def check(self, raw: Any, info: ValidationInfo) -> Any:
        said = []
        for option in self.options:
            try:
                return option.check(raw, info)
            except PydanticCustomError as error:
                if isinstance(raw, list) == isinstance(option, Row | Many):
                    said.append(error.message())
        raise wrong("; or ".join(dict.fromkeys(said)) or f"{shown(raw)} does not fit here")

    def schema(self) -> Json:
        return {"anyOf": [option.schema() for option in self.options]}


@dataclass(frozen=True)
class Row(Leaf):
    """A fixed row of values, such as a point or a pair of a chart."""

    parts: tuple[Leaf, ...]
    words: str

    form: ClassVar[str] = "row"

    @property
    def sample(self) -> Any:
        return [part.sample for part in self.parts]

    def check(self, raw: Any, info: ValidationInfo) -> tuple[Any, ...]:
        if not isinstance(raw, list) or len(raw) != len(self.parts):
            there = f"{len(raw)} values" if isinstance(raw, list) else shown(raw)
            raise wrong(f"{there}: wanted is {self.words}")
        return read_all(zip(self.parts, raw, strict=True), info)

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
    def sample(self) -> Any:
        if isinstance(self.part, Num) and self.part.whole:
            return list(range(1, max(2, self.least) + 1))
        return [self.part.sample] * max(2, self.least)

    def check(self, raw: Any, info: ValidationInfo) -> tuple[Any, ...]:
        if not isinstance(raw, list):
            raise wrong(f"{shown(raw)} is not a list: write it in square brackets")
        if not self.least <= len(raw) <= self.most:
            raise wrong(f"{len(raw)} entries; {self.least} to {self.most} are possible")
        return read_all(((self.part, cell) for cell in raw), info)

    def schema(self) -> Json:
        return {"type": "array", "items": self.part.schema(), "minItems": self.least, "maxItems": self.most}

"""The one registry of results: key, kind of quantity, title, symbol, formula and source of every number that comes out.

Each module beside this one declares the keys of one kind of item as ``KEYS``. JSON, labels, units and the working derive
from here; a result whose key is not declared cannot be put on the bench.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Literal

Shape = Literal["number", "list", "table"]
OF = ("joint", "lift", "fit", "insertion", "clearance", "window", "item", "step")
_MODULES = {"joint": (), "item": ()}
# rooms whose results are declared on a calculation sheet, beside what computes them
_SHEETS = ("insertion", "joint", "lift", "step", "window")


@dataclass(frozen=True, slots=True)
class Key:
    """One kind of result.

    ``kind`` is a name of units.KINDS, or "number", "share" or "count"; ``formula`` is written with the symbols the working
    puts in; ``source`` is the clause, page or "common practice, no published source".
    """

    key: str
    kind: str
    title: str
    symbol: str = ""
    formula: str = ""
    source: str = ""
    shape: Shape = "number"


@cache
def registry(of: str) -> dict[str, Key]:
    """Keys of one kind of item, in the order they are shown."""
    found: dict[str, Key] = {}
    if of in _SHEETS:
        found = {key.key: key for key in import_module(f"splitline.assess.{of}").SHEET.told_keys()}
    for name in _MODULES.get(of, (of,)):
        try:
            module = import_module(f"splitline.assess.keys.{name}")
        except ModuleNotFoundError:
            continue
        for key in module.KEYS:
            if key.key in found:
                raise ValueError(f"{of} key {key.key} is declared twice")
            found[key.key] = key
    return found


def key_of(of: str, key: str) -> Key:
    """The declaration of one result; KeyError names a key nobody declared."""
    return registry(of)[key]

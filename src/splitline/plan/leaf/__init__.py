"""The types of value a plan field may have: each reads what stands in the TOML into SI and says what is wrong with it.

A type also knows its JSON Schema and a sample value, so that reader, schema, forms and help cannot part.
"""

from __future__ import annotations

from splitline.plan.leaf.base import Dim, Json, Leaf, Num, Numbers, shown, wrong
from splitline.plan.leaf.lists import Either, Many, Row
from splitline.plan.leaf.words import Choice, DateLeaf, IdLeaf, MinutesLeaf, SettingLeaf, TaperLeaf, Words, YesNoLeaf

__all__ = [
    "Choice",
    "DateLeaf",
    "Dim",
    "Either",
    "IdLeaf",
    "Json",
    "Leaf",
    "Many",
    "MinutesLeaf",
    "Num",
    "Numbers",
    "Row",
    "SettingLeaf",
    "TaperLeaf",
    "Words",
    "YesNoLeaf",
    "shown",
    "wrong",
]

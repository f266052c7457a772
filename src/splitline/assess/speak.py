"""Texts of an assessment in the units of its display: what physics says in SI, said again in US units."""

from __future__ import annotations

import re

from splitline.errors import InputError
from splitline.units import System, read, show

_FIGURE = r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?"
_KINDS = {"mm": "length", "m": "length", "kg": "mass", "kN": "force", "N": "force", "K": "temperature_difference"}
_SAID = re.compile(rf"(?<![\w.])(?:({_FIGURE}) to )?({_FIGURE}) ({'|'.join(_KINDS)})(?![\w·/²³*])")

PLACE = "at (x, y, z)"  # too short a word to be told from the others alone
_LEAF = r"[a-z]{2,}[a-z_]*"
_NAME = re.compile(  # not a file name
    rf"(?<![\w.@/\"])(?:{_LEAF}(?:\.\d+)?(?:\.{_LEAF})+|[a-z]+(?:_[a-z]+)+)(?<!\.toml)(?![\w/(]|\.\w)"
)


def in_units(text: str, system: System) -> str:
    """Figures in mm, m, kg, N, kN or K of a text of ours, in the units of ``system``; nothing a person typed comes here."""
    return text if system == "SI" else _SAID.sub(lambda found: _again(found, system), text)


def in_words(text: str) -> str:
    """Names of plan fields as they stand on a card: "bolting.clamp_length" is "bolting › clamp_length"."""
    return _NAME.sub(lambda found: _worded(found.group()), text)


def _worded(name: str) -> str:
    parts: list[str] = []
    for part in name.split("."):
        if part.isdigit() and parts:
            parts[-1] += f" {part}"  # one of several: "leg 2"
        else:
            parts.append(PLACE if part == "at" else part)
    return " › ".join(parts)


def said(error: Exception, system: System) -> str:
    """What an error says. Library rows keep their names: only figures of physics change their units."""
    return in_units(str(error), system) if isinstance(error, InputError) else str(error)


def _again(found: re.Match[str], system: System) -> str:
    low, high, unit = found.groups()
    parts = [show(read(f"{figure} {unit}", _KINDS[unit]), _KINDS[unit], system) for figure in (low, high) if figure]
    return " to ".join(parts)

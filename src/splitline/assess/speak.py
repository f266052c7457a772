"""Texts of an assessment in the units of its display: what physics says in SI, said again in US units."""

from __future__ import annotations

import re

from splitline.errors import InputError
from splitline.units import System, read, show

_FIGURE = r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?"
_KINDS = {"mm": "length", "m": "length", "kg": "mass", "kN": "force", "N": "force", "K": "temperature_difference"}
_SAID = re.compile(rf"(?<![\w.])(?:({_FIGURE}) to )?({_FIGURE}) ({'|'.join(_KINDS)})(?![\w·/²³*])")


def in_units(text: str, system: System) -> str:
    """Figures in mm, m, kg, N, kN or K of a text of ours, in the units of ``system``; nothing a person typed comes here."""
    return text if system == "SI" else _SAID.sub(lambda found: _again(found, system), text)


def said(error: Exception, system: System) -> str:
    """What an error says. Library rows keep their names: only figures of physics change their units."""
    return in_units(str(error), system) if isinstance(error, InputError) else str(error)


def _again(found: re.Match[str], system: System) -> str:
    low, high, unit = found.groups()
    parts = [show(read(f"{figure} {unit}", _KINDS[unit]), _KINDS[unit], system) for figure in (low, high) if figure]
    return " to ".join(parts)

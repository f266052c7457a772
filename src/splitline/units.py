"""Quantities at the edge: a person's text to an SI float and back.

``read("165 bar", "pressure")`` gives ``16500000.0``; ``show(553e3, "force")`` gives ``"553 kN"``. Inside, Splitline
knows only SI floats. A strict reader stands in front of pint: the text is one number, one unit of the field's kind,
nothing else. pint converts, from a registry of our units only; its factors for every accepted spelling are kept in
``unit_factors.py``, because importing pint and reading the registry takes as long as assessing a plan. A unit put together
otherwise is refused, and pint says what the quantity is in a unit that is taken: the person writes it, and nobody guesses.
"""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from functools import cache
from typing import Literal

from splitline.errors import UnitsError
from splitline.unit_factors import FACTORS
from splitline.unit_registry import by_pint, converted

System = Literal["SI", "US"]
STANDARD_GRAVITY = 9.80665  # m/s², CGPM 1901; a capacity of "12 t" is 12 t times this
LONGEST = 40


@dataclass(frozen=True, slots=True)
class Kind:
    """What a number measures; more than its dimension: torque is not energy, gauge is not absolute pressure.

    ``units`` maps each accepted spelling to a pint expression; the first is the one messages suggest. ``shown``
    holds the unit of results per display system.
    """

    name: str
    words: str
    si: str
    example: str
    units: dict[str, str]
    shown: dict[str, str]


def _kind(name: str, words: str, si: str, example: str, shown: tuple[str, str], units: str) -> Kind:
    table: dict[str, str] = {}
    for entry in units.split():
        spelling, _, expression = entry.partition("=")
        spelling = spelling.replace("_", " ")
        table[spelling] = (expression or spelling).replace("^", "**")
    return Kind(name, words, si, example, table, {"SI": shown[0], "US": shown[1]})


_TORQUE = (
    "N*m N·m=N*m Nm=N*m kN*m kN·m=kN*m kNm=kN*m ft*lbf ft·lbf=ft*lbf ft-lbf=ft*lbf ft-lb=ft*lbf lbf*ft "
    "lbf·ft=lbf*ft lbf-ft=lbf*ft lb-ft=lbf*ft in*lbf in·lbf=in*lbf in-lbf=in*lbf in-lb=in*lbf "
    "lbf*in=in*lbf lbf·in=in*lbf lbf-in=in*lbf lb-in=in*lbf N_m=N*m ft_lbf=ft*lbf lbf_ft=ft*lbf in_lbf=in*lbf "
    "lbf_in=in*lbf kgf*m kgf·m=kgf*m"
)
_FORCE = "kN N MN lbf kip kgf"
_MASS = "kg t g lb short_ton=short_ton"
_STRESS = "MPa GPa N/mm^2 N/mm²=N/mm^2 N/mm2=N/mm^2 kPa Pa psi ksi Mpsi kgf/mm^2 kgf/cm^2"

KINDS: dict[str, Kind] = {
    k.name: k
    for k in (
        _kind("length", "a length", "m", "268 mm", ("mm", "in"), "mm m cm um µm=um μm=um in ft mil"),
        _kind(
            "area",
            "an area",
            "m²",
            "1470 mm^2",
            ("mm²", "in²"),
            "mm^2 mm²=mm^2 mm2=mm^2 cm^2 cm²=cm^2 m^2 m²=m^2 in^2 in²=in^2 in2=in^2",
        ),
        # What a micrometer or a depth gauge reads: to its last 0.001 mm however large, and never to four figures alone.
        _kind("size", "a length", "m", "160.182 mm", ("mm", "in"), "mm m cm um µm=um μm=um in ft mil"),
        _kind("mass", "a mass", "kg", "6400 kg", ("kg", "lb"), _MASS),
        _kind("force", "a force", "N", "120 kN", ("kN", "kip"), _FORCE),
        _kind("capacity", "a rated capacity (mass or force units)", "N", "12 t", ("kN", "kip"), _FORCE),
        _kind(
            "pressure",
            "a gauge pressure",
            "Pa",
            "165 bar",
            ("bar", "psi"),
            "bar mbar kPa MPa Pa psi ksi barg=bar psig=psi N/mm^2 kgf/cm^2",
        ),
        _kind("stress", "a stress or strength", "Pa", "345 MPa", ("MPa", "ksi"), _STRESS),
        _kind("modulus", "a modulus of elasticity", "Pa", "200 GPa", ("GPa", "ksi"), _STRESS),
        _kind("torque", "a torque", "N·m", "3400 N*m", ("N·m", "ft·lbf"), _TORQUE),
        _kind("energy", "an energy", "J", "150 J", ("J", "ft·lbf"), "J kJ ft·lbf=ft*lbf ft*lbf"),
        _kind("temperature", "a temperature", "K", "120 degC", ("°C", "°F"), "degC °C=degC K degF °F=degF"),
        _kind(
            "temperature_difference",
            "a temperature difference",
            "K",
            "80 K",
            ("K", "degF diff"),
            "K degF_diff=degF_diff",
        ),
        _kind("angle", "an angle", "rad", "7.5 deg", ("°", "°"), "deg °=deg rad mrad"),
        _kind("time", "a time", "s", "10 min", ("min", "min"), "min s h"),
        _kind("speed", "a rotation speed", "rad/s", "11000 rpm", ("rpm", "rpm"), "rpm 1/min=rpm rad/s"),
        _kind("velocity", "a wind speed", "m/s", "9.8 m/s", ("m/s", "mph"), "m/s km/h=kph kph mph"),
        _kind(
            "expansion",
            "a coefficient of expansion",
            "1/K",
            "11.5e-6 1/K",
            ("1/K", "1/°F"),
            "1/K 1/degC=1/K 1/°C=1/K 1/degF=1/degF_diff 1/°F=1/degF_diff "
            "/K=1/K /degC=1/K /°C=1/K /degF=1/degF_diff /°F=1/degF_diff",
        ),
        _kind(
            "density",
            "a density",
            "kg/m³",
            "7850 kg/m^3",
            ("kg/m³", "lb/in³"),
            "kg/m^3 kg/m³=kg/m^3 g/cm^3 lb/in^3 lb/in³=lb/in^3 lb/ft^3 lb/ft³=lb/ft^3 t/m^3",
        ),
        _kind(
            "contact_stiffness",
            "a pressure per displacement",
            "Pa/m",
            "1.2 MPa/um",
            ("MPa/µm", "ksi/mil"),
            "MPa/um MPa/µm=MPa/um MPa/mm GPa/mm N/m^3 N/mm^3 Pa/m ksi/in ksi/mil psi/in psi/mil lbf/in^3",
        ),
        _kind(
            "torque_per_pressure",
            "a torque per pressure",
            "m³",
            "11.6 N*m/bar",
            ("N·m/bar", "ft·lbf/psi"),
            "N*m/bar N·m/bar=N*m/bar Nm/bar=N*m/bar N*m/MPa N·m/MPa=N*m/MPa ft*lbf/psi ft·lbf/psi=ft*lbf/psi "
            "ft-lb/psi=ft*lbf/psi lbf*ft/psi in*lbf/psi lbf*in/psi=in*lbf/psi",
        ),
        _kind("line_load", "a force per length", "N/m", "1.5 N/mm", ("N/mm", "lbf/in"), "N/mm N/m kN/m lbf/in lbf/ft"),
        _kind(
            "stiffness", "a stiffness", "N/m", "1.4e9 N/m", ("kN/mm", "kip/in"), "kN/mm N/m N/mm MN/mm kip/in lbf/in"
        ),
        _kind("voltage", "a voltage", "V", "10 V", ("V", "V"), "V mV"),
    )
}
_PLAIN = {"number": "", "share": "", "count": ""}  # bare numbers, printed without a unit

_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_WHOLE = re.compile(rf"({_NUMBER})[ \u00a0]?(\S(?:.*\S)?)?", re.ASCII)
_FRACTION = re.compile(r"([+-]?)(?:(\d+)[ -])?(\d+)/(\d+) ?(in)", re.ASCII)
_REFUSED = {
    "ton": 'write "t" for 1000 kg or "short ton" for 2000 lb',
    "tons": 'write "t" for 1000 kg or "short ton" for 2000 lb',
    "tonne": 'write "t"',
    "C": 'write "degC"',
    "F": 'write "degF"',
    "bara": "give gauge pressure in bar (absolute minus 1.013 bar)",
    "psia": "give gauge pressure in psi (absolute minus 14.7 psi)",
    "barabs": "give gauge pressure in bar (absolute minus 1.013 bar)",
    '"': 'write "in"',
    "inch": 'write "in"',
    "#": 'write "lb" or "lbf"',
}


@cache
def _factor(expression: str) -> tuple[float, float]:
    """Scale and offset to SI: si = value·scale + offset."""
    kept = FACTORS.get(expression)
    return kept if kept is not None else by_pint(expression)


def _si_scale(kind: Kind, spelling: str) -> tuple[float, float]:
    return _factor(kind.units[spelling])


def kind_of(name: str) -> Kind:
    """The declared kind; KeyError is a programming mistake, not a person's."""
    return KINDS[name]


def read(text: object, kind: str) -> float:
    """SI value of a person's text such as ``"165 bar"``, ``"1 1/2 in"``, ``"-20 degC"``.

    Raises UnitsError with what to write instead: for a bare number, a comma, thousands, an unknown or ambiguous unit,
    a unit of another kind, more than 40 characters or a number that is not finite.
    """
    k = KINDS[kind]
    if not isinstance(text, str):
        raise UnitsError(_bare(text, k))
    text = text.strip(" ")
    if len(text) > LONGEST:
        raise UnitsError(f'{len(text)} characters are too many for one quantity: write {k.words}, as in "{k.example}"')
    if kind in ("length", "size") and (fraction := _FRACTION.fullmatch(text)):
        return _read_fraction(fraction, text)
    match = _WHOLE.fullmatch(text)
    if match is None or _looks_like_two_numbers(match.group(2)):
        raise UnitsError(_unreadable(text, k))
    figure, unit = match.groups()
    if unit is None:
        raise UnitsError(_bare(text, k))
    value = float(figure) if figure else math.nan
    try:
        scale, offset = _scale_for(unit, k)
    except UnitsError as error:
        raise UnitsError(f"{error}{_in_ours(value, unit, k)}") from None
    si = value * scale + offset
    if not math.isfinite(si):
        raise UnitsError(f'"{text}" is not a finite number')
    if kind == "temperature" and si < 0:
        raise UnitsError(f'"{text}" is below absolute zero')
    return si


def _scale_for(unit: str, k: Kind) -> tuple[float, float]:
    if unit in k.units:
        return _si_scale(k, unit)
    if k.name == "capacity" and unit in KINDS["mass"].units:
        scale, offset = _si_scale(KINDS["mass"], unit)
        return scale * STANDARD_GRAVITY, offset
    raise UnitsError(_unknown_unit(unit, k))


def _in_ours(value: float, unit: str, k: Kind) -> str:
    """What a quantity in a unit we do not take would be in one we do: ``; 25 kN*cm is 250 N*m: write that``; "" if unknown."""
    if unit in _REFUSED or k.name in ("temperature", "angle") or any(unit in other.units for other in KINDS.values()):
        return ""  # a word of another kind is told already; an angle has no dimension, a temperature an offset
    ours = next(iter(k.units))
    found = converted(value, unit, k.units[ours])
    return f"; {value:g} {unit} is {found:.6g} {ours}: write that" if found is not None else ""


def _read_fraction(match: re.Match[str], text: str) -> float:
    sign, whole, above, below, _ = match.groups()
    if int(below) == 0:
        raise UnitsError(f'"{text}" divides by zero')
    if int(above) >= int(below) and whole:
        raise UnitsError(f'"{text}" is not a mixed fraction: the part above the line must be the lesser')
    inches = int(whole or 0) + int(above) / int(below)
    return (-inches if sign == "-" else inches) * 0.0254


def _looks_like_two_numbers(unit: str | None) -> bool:
    return (
        unit is not None and bool(re.match(r"[\d,.;_*+/'-]", unit)) and unit not in ("1/min", *KINDS["expansion"].units)
    )


def _bare(value: object, k: Kind) -> str:
    shown = f'"{value}"' if isinstance(value, str) else repr(value)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return f'{k.words} is written as text with a unit, as in "{k.example}"'
    return f'{shown} has no unit: {k.words} is written with one, as in "{k.example}"'


def _unreadable(text: str, k: Kind) -> str:
    if "," in text:
        return f'"{text}": use a point for decimals and no thousands separators, as in "{k.example}"'
    if re.match(r"[+-]?\d+(?:[ \u00a0\u202f']\d{3})+(?!\d)", text):
        closed_up = re.sub(r"(?<=\d)[ \u00a0\u202f'](?=\d)", "", text)
        return f'"{text}": write thousands without a space, as in "{closed_up}"'
    if re.match(r"[+-]?(\d+[ -])?\d+/\d+", text) and k.name in ("length", "size"):
        return f'"{text}": fractions are read in inches only, as in "1 1/2 in"'
    if text.startswith(("\N{MINUS SIGN}", "\N{EN DASH}")):
        return f'"{text}": use the minus sign of the keyboard, as in "-{text[1:].strip()}"'
    if not text:
        return f'empty: write {k.words}, as in "{k.example}"'
    return f'"{text}" is not one number and one unit: write {k.words}, as in "{k.example}"'


def _unknown_unit(unit: str, k: Kind) -> str:
    accepted = ", ".join(k.units)
    if k.name == "capacity":
        accepted += ", " + ", ".join(KINDS["mass"].units)
    if unit in _REFUSED:
        return f'unit "{unit}": {_REFUSED[unit]}'
    others = [other.words for other in KINDS.values() if unit in other.units]
    if others:
        return f'"{unit}" measures {others[0]}; here {k.words} is wanted, as in "{k.example}" (units: {accepted})'
    near = difflib.get_close_matches(unit, list(k.units), 1, 0.5) or [u for u in k.units if u.lower() == unit.lower()]
    hint = f'; did you mean "{near[0]}"?' if near else ""
    return f'unknown unit "{unit}" for {k.words}{hint} (units: {accepted})'


# Figures shown: four significant at most, and never more decimals than the unit deserves on a shop floor.
_DECIMALS = {
    "mm": 3,
    "in": 4,
    "µm": 1,
    "kg": 1,
    "lb": 0,
    "t": 3,
    "kN": 1,
    "N": 0,
    "kip": 2,
    "lbf": 0,
    "bar": 1,
    "psi": 0,
    "MPa": 1,
    "ksi": 2,
    "GPa": 1,
    "N·m": 1,
    "ft·lbf": 1,
    "°C": 1,
    "°F": 1,
    "K": 1,
    "degF diff": 1,
    "°": 2,
    "rpm": 0,
    "min": 1,
    "J": 0,
    "mm²": 1,
    "in²": 4,
    "kN/mm": 1,
    "kip/in": 1,
    "N/mm": 2,
    "lbf/in": 2,
    "V": 2,
}
# Below so much of a unit, more decimals: the drop of a leak test is hundredths of a bar.
_SMALL = {"bar": (10.0, 3), "psi": (100.0, 2)}
_SHOWN_UNITS = {"µm": "um", "°C": "degC", "°F": "degF", "°": "deg", "mm²": "mm^2", "in²": "in^2", "N·m": "N*m"}


def figure(value: float, unit: str = "", digits: int | None = None) -> str:
    """The number alone, rounded once: four significant figures within the decimals of its unit."""
    if not math.isfinite(value):
        return "none"
    if value != 0 and (abs(value) < 1e-3 or abs(value) >= 1e7) and unit not in _DECIMALS:
        return f"{value:.{(digits or 4) - 1}e}"
    if digits is not None:
        text = f"{value:.{digits}f}"
    else:
        size = 0 if value == 0 else math.floor(math.log10(abs(value)))
        bound, fine = _SMALL.get(unit, (0.0, 0))
        most = fine if abs(value) < bound else _DECIMALS.get(unit, 4)
        decimals = max(0, min(most, 3 - size))
        text = f"{value:.{decimals}f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def split(
    si: float, kind: str, system: System = "SI", unit: str | None = None, digits: int | None = None
) -> tuple[str, str]:
    """Figure and unit apart, so that a screen can align one and dim the other."""
    if kind in _PLAIN:
        return figure(si, digits=digits), ""
    k = KINDS[kind]
    unit = unit or k.shown[system]
    value = from_si(si, kind, unit)
    if kind == "size" and digits is None and math.isfinite(value):
        return _whole_size(value, unit), unit
    return figure(value, unit, digits), unit


def _whole_size(value: float, unit: str) -> str:
    """All the decimals the unit has, without zeros at the end."""
    text = f"{value:.{_DECIMALS.get(unit, 6)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def as_read(kind: str) -> str:
    """The kind in which a reading or its limits are shown: a length as the instrument gives it, to the last 0.001 mm."""
    return "size" if kind == "length" else kind


def show(si: float, kind: str, system: System = "SI", unit: str | None = None, digits: int | None = None) -> str:
    """The one formatter: an SI value as text with its unit, e.g. ``show(345e6, "stress")`` → ``"345 MPa"``."""
    number, mark = split(si, kind, system, unit, digits)
    if not mark:
        return number
    return f"{number}{mark}" if mark == "°" else f"{number} {mark}"


def from_si(si: float, kind: str, unit: str) -> float:
    """SI value expressed in ``unit`` (as typed or as shown) of this kind."""
    k = KINDS[kind]
    for spelling in (unit, _SHOWN_UNITS.get(unit, unit), unit.replace("·", "*").replace("³", "^3")):
        if spelling in k.units:
            scale, offset = _si_scale(k, spelling)
            return (si - offset) / scale
    raise UnitsError(_unknown_unit(unit, k))


def si_unit(kind: str) -> str:
    """Unit symbol of the SI value, for JSON and exports."""
    return KINDS[kind].si if kind in KINDS else "1"


def text_of(si: float, kind: str, unit: str | None = None) -> str:
    """An SI value as text that :func:`read` gives back to twelve figures; for values a program writes."""
    k = KINDS[kind]
    spelling = unit or next(iter(k.units))
    return f"{from_si(si, kind, spelling):.12g} {spelling}"

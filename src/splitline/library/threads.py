"""Thread designations: "M48x3", "1 3/4-8UN", "7/8-9 UNC-2A" to diameter and pitch.

ISO 261/965 metric and ASME B1.1 unified designations. The combination is held against the standard's own list: an odd
but possible pitch is read and said to be off the list, an impossible one is refused with the nearest sizes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from splitline.errors import LibraryError
from splitline.library.store import Row, part

INCH = 0.0254
LARGEST_COARSE = 68  # ISO 261 gives no coarse pitch above M68
_LARGE_PITCH = 6.0
_SERIES = {"UNC": "UNC", "UNF": "UNF", "UNEF": "UNEF", "UN": "UN", "UNS": "UN", "UNRC": "UNC", "UNRF": "UNF",
           "UNREF": "UNEF", "UNR": "UN", "UNRS": "UN"}  # fmt: skip
_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_METRIC = re.compile(
    r"M\s*(?P<d>\d+(?:\.\d+)?)(?:\s*[x*]\s*(?P<p>\d+(?:\.\d+)?))?(?:\s*-?\s*(?P<fit>\d[a-z]+(?:/\d[a-z]+)?))?", re.I
)
_INCH = re.compile(
    r"(?:#\s*(?P<gauge>\d+)|(?P<whole>\d+)(?:\s*[ -]\s*(?P<part>\d+/\d+))|(?P<fraction>\d+/\d+)|(?P<decimal>\d*\.\d+|\d+))"
    r"\s*(?:in\b|\")?(?:\s*[- ]\s*(?P<tpi>\d+(?:\.\d+|\s1/2)?))?\s*-?\s*(?P<series>UN[A-Z]*)?(?:\s*-?\s*(?P<fit>[123][AB]))?",
    re.I,
)
_LEFT = re.compile(r"[\s-]*(?:LH|left[ -]?hand(?:ed)?)\s*$", re.I)


@dataclass(frozen=True, slots=True)
class ThreadSize:
    """A thread read from its designation; lengths in m. ``note`` says what is unusual about it."""

    system: Literal["metric", "inch"]
    d: float
    pitch: float
    tpi: float | None
    name: str
    series: str
    source: str
    left_hand: bool = False
    fit: str = ""
    note: str = ""


@lru_cache(maxsize=512)
def parse_designation(text: str) -> ThreadSize:
    """The thread a designation names.

    Metric ``M48x3``, ``M48`` (coarse), ``M48×3-6g``; unified ``1 3/4-8UN``, ``3/4-10UNC``, ``1.5-6UNC``,
    ``7/8-9 UNC-2A``, ``3/4 UNC``; ``LH`` at the end for left hand. LibraryError names the nearest sizes.
    """
    said = text.strip()
    if len(said) > 40:
        raise LibraryError(f"{len(said)} characters are too many for a thread: write M48x3 or 1 3/4-8UN")
    body, left = _LEFT.subn("", said)
    for mark, plain in _VULGAR.items():
        body = re.sub(rf"(?<=\d)\s*{mark}", f" {plain}", body).replace(mark, plain)
    body = body.replace("×", "x").replace("–", "-").replace("″", '"').strip()
    if "," in body:
        raise LibraryError(f'"{said}": use a point for decimals, as in M1.6x0.35 or 1.5-6UNC')
    if match := _METRIC.fullmatch(body):
        return _metric(said, float(match["d"]), match["p"], match["fit"] or "", bool(left))
    if match := _INCH.fullmatch(body):
        return _inch(said, match, bool(left))
    raise LibraryError(
        f'"{said}" is not a thread Splitline knows: metric is written M48x3 or M48, unified 1 3/4-8UN or 3/4-10UNC'
    )


def _metric(said: str, d: float, pitch_text: str | None, fit: str, left: bool) -> ThreadSize:
    rows = {round(row["diameter"] * 1e3, 3): row for row in part("threads-metric").rows.values()}
    row = rows.get(d)
    if row is None and (d < 1.6 or pitch_text is None or d > 400):
        near = sorted(rows, key=lambda known: abs(known - d))[:3]
        raise LibraryError(f'"{said}" is no ISO 261 diameter; nearest: ' + ", ".join(rows[k].name for k in near))
    listed = _listed(row)
    pitch, note = _metric_pitch(said, d, pitch_text, row, listed)
    if not note and pitch not in listed:
        note = f"M{d:g}x{pitch:g} is not an ISO 261 combination"
    source = row.source if row is not None else part("threads-metric").source
    series = "coarse" if listed and row is not None and row.get("coarse") and pitch == listed[0] else "fine"
    name = f"M{d:g}x{pitch:g}" + (" LH" if left else "")
    return ThreadSize("metric", d * 1e-3, pitch * 1e-3, None, name, series, source, left, fit, note)


def _listed(row: Row | None) -> list[float]:
    """Pitches of this diameter in mm, the coarse one first."""
    if row is None:
        return []
    coarse = [row["coarse"]] if row.get("coarse") else []
    return [round(p * 1e3, 4) for p in (*coarse, *row.get("fine", ()))]


def _metric_pitch(said: str, d: float, text: str | None, row: Row | None, listed: list[float]) -> tuple[float, str]:
    if text is not None:
        pitch = float(text)
        if max(0.2, d / 100) <= pitch <= min(d / 3, 10) or pitch in listed:
            return pitch, ""
        near = sorted(listed or [_LARGE_PITCH, 4.0], key=lambda p: abs(p - pitch))[:3]
        names = ", ".join(f"M{d:g}x{p:g}" for p in near)
        raise LibraryError(f'"{said}": a pitch of {pitch:g} mm does not go with {d:g} mm; nearest: {names}')
    if row is not None and row.get("coarse"):
        return listed[0], ""
    if d > LARGEST_COARSE and (_LARGE_PITCH in listed or not listed):
        return _LARGE_PITCH, f"ISO 261 has no coarse pitch above M{LARGEST_COARSE}: 6 mm taken for {said}"
    names = ", ".join(f"M{d:g}x{p:g}" for p in listed)
    raise LibraryError(f'"{said}": ISO 261 has no coarse pitch for this diameter; write one of {names}')


def _inch(said: str, match: re.Match[str], left: bool) -> ThreadSize:
    d, size = _inch_size(said, match)
    series = (match["series"] or "").upper()
    if series and series not in _SERIES:
        raise LibraryError(f'"{said}": unknown series {series}; write UNC, UNF, UNEF, UN or UNS')
    family = _SERIES.get(series, "")
    table = [row for row in part("threads-inch").rows.values() if abs(row["diameter"] / INCH - d) < 5e-4]
    tpi = _tpi(said, match["tpi"], family, table, d)
    found = next((row for row in table if row["tpi"] == tpi and family in ("", "UN", row["series"])), None)
    if family not in ("", "UN") and found is None:
        raise LibraryError(f'"{said}": no {family} thread of that size; nearest: {_near_inch(d, tpi, table)}')
    listed = found is not None or _constant_pitch(d, tpi)
    if not 1.5 / tpi < d / 2:
        raise LibraryError(
            f'"{said}": {tpi:g} threads per inch do not go with {size} in; nearest: {_near_inch(d, tpi, table)}'
        )
    if not listed and tpi > (80 if d < 0.375 else 40):
        raise LibraryError(f'"{said}": {tpi:g} threads per inch; nearest: {_near_inch(d, tpi, table)}')
    kind = found["series"] if found is not None and family != "UN" else "UN"
    note = "" if listed else f"{size}-{tpi:g} is in no ASME B1.1 standard series (special, UNS)"
    name = f"{size}-{tpi:g}{kind if listed else 'UNS'}" + (" LH" if left else "")
    source = part("threads-inch").source
    return ThreadSize("inch", d * INCH, INCH / tpi, tpi, name, kind, source, left, (match["fit"] or "").upper(), note)


def _inch_size(said: str, match: re.Match[str]) -> tuple[float, str]:
    """Diameter in inches and how it is written in a designation."""
    if match["gauge"]:
        row = next((r for r in part("threads-inch").rows.values() if r.name.startswith(f"#{match['gauge']}-")), None)
        if row is None:
            raise LibraryError(f'"{said}": numbered sizes go from #4 to #12')
        return round(row["diameter"] / INCH, 4), f"#{match['gauge']}"
    try:
        if match["decimal"]:
            size = Fraction(match["decimal"])
        else:
            size = int(match["whole"] or 0) + Fraction(match["part"] or match["fraction"])
    except ZeroDivisionError:
        raise LibraryError(f'"{said}" divides by zero') from None
    if not Fraction(1, 16) <= size <= 12:
        raise LibraryError(f'"{said}": {float(size):g} in is outside 1/16 to 12 in; metric threads start with M')
    return float(size), _written(size)


def _written(size: Fraction) -> str:
    if size.denominator > 64:
        return f"{float(size):g}"
    whole, part = divmod(size.numerator, size.denominator)
    if not part:
        return str(whole)
    fraction = f"{part}/{size.denominator}"
    return f"{whole} {fraction}" if whole else fraction


def _tpi(said: str, text: str | None, family: str, table: list[Row], d: float) -> float:
    if text:
        tpi = float(sum(Fraction(part) for part in text.split()))
        if tpi < 1:
            raise LibraryError(f'"{said}": {tpi:g} threads per inch')
        return tpi
    row = next((row for row in table if row["series"] == family), None)
    if row is None:
        near = _near_inch(d, 8.0, table)
        raise LibraryError(f'"{said}" names no threads per inch; write one of {near}')
    return float(row["tpi"])


def _constant_pitch(d: float, tpi: float) -> bool:
    """Whether ASME B1.1 lists this size in a constant-pitch series: sixteenths to 2 in, eighths to 4, quarters to 6."""
    step = 16 if d <= 2 else 8 if d <= 4 else 4
    if abs(d * step - round(d * step)) > 1e-9:
        return False
    rows = part("threads-series").rows.values()
    return any(row["tpi"] == tpi and row["from"] / INCH - 1e-6 <= d <= row["to"] / INCH + 1e-6 for row in rows)


def _near_inch(d: float, tpi: float, table: list[Row]) -> str:
    names = {row.name: float(row["tpi"]) for row in table}
    for row in part("threads-series").rows.values():
        if _constant_pitch(d, row["tpi"]) and row["tpi"] not in names.values():
            names[f"{_written(Fraction(d).limit_denominator(64))}-{row['tpi']:g}UN"] = float(row["tpi"])
    if not names:
        rows = sorted(part("threads-inch").rows.values(), key=lambda row: abs(row["diameter"] / INCH - d))
        return ", ".join(row.name for row in rows[:3])
    return ", ".join(sorted(names, key=lambda name: abs(names[name] - tpi))[:3])

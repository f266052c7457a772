"""A site's own rows: library.toml beside the plan. Every mistake is reported, each with its line and place."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from splitline.errors import LibraryError
from splitline.library.columns import Column
from splitline.toml_bounds import bounded

SITE_FILE = "library.toml"
ANY_DIAMETER = 1.0  # m: above every thread
Columns = Callable[[str], Mapping[str, Column]]
_HEADER = re.compile(r"\s*\[\[\s*\"?([^\]\"]+?)\"?\s*\]\]")
_KEY = re.compile(r"\s*\"?([A-Za-z0-9_-]+)\"?\s*=")


@dataclass(frozen=True, slots=True)
class SiteRow:
    """One row as a site wrote it, in SI."""

    table: str
    name: str
    values: Mapping[str, Any]
    source: str


def read_site(
    raw: bytes, where: str, tables: Sequence[str], columns: Columns, plain: Callable[[str], str]
) -> list[SiteRow]:
    """Rows of a library.toml; LibraryError lists every mistake as ``FILE:LINE: place: what to write``."""
    try:
        text = raw.decode("utf-8")
        content = bounded(text)
    except ValueError as error:
        raise LibraryError(f"{where}: not a TOML file: {error}") from error
    lines = _lines(text)
    rows: list[SiteRow] = []
    problems: list[tuple[int, str]] = []
    taken: dict[tuple[str, str], int] = {}
    for table, number, cells in _raw_rows(content):
        line = lines.get((table, number, ""), 1)
        found, wrong = _row(table, cells, tables, columns)
        problems += [(lines.get((table, number, key), line), f"{table} › {said}") for key, said in wrong]
        if found is None:
            continue
        first = taken.setdefault((table, plain(found.name)), line)
        if first != line:
            problems.append((line, f'{table} › "{found.name}" stands already in line {first}'))
        rows.append(found)
    if problems:
        raise LibraryError("\n".join(f"{where}:{line}: {said}" for line, said in sorted(problems)))
    return rows


def _raw_rows(content: Mapping[str, Any]) -> Iterator[tuple[str, int, Any]]:
    for table, rows in content.items():
        for number, cells in enumerate(rows if isinstance(rows, list) else [rows]):
            yield table, number, cells


def _lines(text: str) -> dict[tuple[str, int, str], int]:
    """Line of each ``[[table]]`` header (key "") and of each key under it."""
    where: dict[tuple[str, int, str], int] = {}
    counts: dict[str, int] = {}
    table, number = "", 0
    for line, content in enumerate(text.splitlines(), 1):
        if header := _HEADER.match(content):
            table = header.group(1)
            number = counts.get(table, 0)
            counts[table] = number + 1
            where[(table, number, "")] = line
        elif key := _KEY.match(content):
            where.setdefault((table, number, key.group(1)) if table else (key.group(1), 0, ""), line)
    return where


def _row(
    table: str, cells: Any, tables: Sequence[str], columns: Columns
) -> tuple[SiteRow | None, list[tuple[str, str]]]:
    if table not in tables:
        near = difflib.get_close_matches(table, tables, 1)
        return None, [("", "no such table" + (f', did you mean "{near[0]}"?' if near else ""))]
    if not isinstance(cells, dict):
        return None, [("", f"rows are written under [[{table}]]")]
    name = cells.get("name")
    if not isinstance(name, str) or not name.strip():
        return None, [("name", 'a row needs a name, as in name = "..."')]
    wrong: list[tuple[str, str]] = []
    source = cells.get("source")
    if not isinstance(source, str) or not source.strip():
        wrong.append(("source", f'"{name}" names no source: say where its values come from, as in source = "..."'))
    values = _cells(name, cells, columns(table), wrong)
    return (None if wrong else SiteRow(table, name, values, str(source))), wrong


def _cells(
    name: str, cells: Mapping[str, Any], columns: Mapping[str, Column], wrong: list[tuple[str, str]]
) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for key, cell in cells.items():
        if key in ("name", "source"):
            continue
        if key not in columns:
            near = difflib.get_close_matches(key, columns, 1)
            hint = f'did you mean "{near[0]}"?' if near else "columns: " + ", ".join(columns)
            wrong.append((key, f'"{name}" › {key}: no such column; {hint}'))
            continue
        try:
            values[key] = columns[key].typed(cell)
        except LibraryError as error:
            wrong.append((key, f'"{name}" › {key}: {error}'))
    _spared(values, columns)
    _complete(name, values, columns, wrong)
    return values


def _spared(values: dict[str, Any], columns: Mapping[str, Column]) -> None:
    """What a site need not write: one strength for every diameter, and friction without a band of its own."""
    if "up_to" in columns and "up_to" not in values and len(values.get("yield_strength", (0.0,))) == 1:
        values["up_to"] = (ANY_DIAMETER,)
    for key in ("thread", "bearing", "nut_factor"):
        for end in (f"{key}_low", f"{key}_high"):
            if end in columns and key in values:
                values.setdefault(end, values[key])


def _complete(
    name: str, values: Mapping[str, Any], columns: Mapping[str, Column], wrong: list[tuple[str, str]]
) -> None:
    """Needed columns are there, and lists that go together have one length."""
    bad = {key for key, _ in wrong}
    for key, column in columns.items():
        if column.needed and key not in values and key not in bad:
            wrong.append(("", f'"{name}" needs {key}' + (f" ({column.what})" if column.what else "")))
    groups: dict[str, dict[str, int]] = {}
    for key, value in values.items():
        if columns[key].steps:
            groups.setdefault(columns[key].steps, {})[key] = len(value)
    for steps, lengths in groups.items():
        if len(set(lengths.values())) > 1:
            said = ", ".join(f"{key} has {n}" for key, n in lengths.items())
            wrong.append((next(iter(lengths)), f'"{name}": one value per {steps} is wanted, but {said}'))

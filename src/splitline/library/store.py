"""Data tables: TOML files with a source, read when first asked for; a site's own rows from library.toml beside the plan."""

from __future__ import annotations

import difflib
import hashlib
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from splitline.errors import LibraryError, UnitsError
from splitline.units import KINDS, read

DATA = Path(__file__).parent / "data"
SITE_FILE = "library.toml"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: SI values by column, and the source that stands behind them."""

    table: str
    name: str
    values: Mapping[str, Any]
    source: str
    site: bool = False

    def __getitem__(self, column: str) -> Any:
        return self.values[column]

    def get(self, column: str, default: Any = None) -> Any:
        return self.values.get(column, default)


@dataclass(frozen=True, slots=True)
class Table:
    """A data file: what it holds, where it comes from, its columns (kind and unit) and rows by name."""

    name: str
    title: str
    source: str
    edition: str
    columns: Mapping[str, Mapping[str, str]]
    rows: Mapping[str, Row]
    note: str = ""


def _plain(name: str) -> str:
    return " ".join(name.replace("×", "x").split()).casefold()


def _value(raw: object, column: Mapping[str, str] | None) -> object:
    """SI value of one cell: our tables hold numbers in the column's unit, a site's rows hold texts with a unit."""
    if isinstance(raw, list):
        return tuple(_value(part, column) for part in raw)
    kind = column.get("kind", "text") if column else "text"
    if kind not in KINDS or isinstance(raw, bool):
        return raw
    if isinstance(raw, int | float) and column is not None and "unit" in column:
        return read(f"{raw!r} {column['unit']}", kind)
    return read(raw, kind)


@lru_cache(maxsize=64)
def _shipped(name: str) -> Table:
    path = DATA / f"{name}.toml"
    if not path.is_file():
        raise LibraryError(f'no library table is called "{name}"')
    content = tomllib.loads(path.read_text("utf-8"))
    head, columns = content["table"], content.get("columns", {})
    rows: dict[str, Row] = {}
    for raw in content.get("row", ()):
        values = {key: _value(cell, columns.get(key)) for key, cell in raw.items() if key not in ("name", "source")}
        row = Row(name, raw["name"], values, raw.get("source", head["source"]))
        for spelling in (raw["name"], *raw.get("aliases", ())):
            rows[_plain(spelling)] = row
    return Table(name, head["title"], head["source"], head.get("edition", ""), columns, rows, head.get("note", ""))


def tables() -> tuple[str, ...]:
    """Names of every shipped table."""
    return tuple(sorted(path.stem for path in DATA.glob("*.toml")))


@dataclass(frozen=True)
class Library:
    """The shipped tables with a site's own rows laid over them."""

    site: Mapping[str, Mapping[str, Row]] = field(default_factory=dict)
    version: str = ""

    @classmethod
    def load(cls, beside: Path | None = None) -> Library:
        """The library for plans in folder ``beside``; LibraryError lists every mistake of its library.toml."""
        path = beside / SITE_FILE if beside is not None else None
        raw = path.read_bytes() if path is not None and path.is_file() else b""
        site = _site_rows(raw, str(path)) if raw else {}
        return cls(site, _digest(raw))

    def table(self, name: str) -> Table:
        return _shipped(name)

    def rows(self, table: str) -> tuple[Row, ...]:
        """Every row, the site's own first; a site's row hides a shipped one of the same name."""
        own = self.site.get(table, {})
        merged = dict(own)
        for key, row in _shipped(table).rows.items():
            merged.setdefault(key, row)
        seen: dict[int, Row] = {id(row): row for row in merged.values()}
        return tuple(seen.values())

    def names(self, table: str) -> tuple[str, ...]:
        return tuple(row.name for row in self.rows(table))

    def find(self, table: str, name: str) -> Row:
        """The row called ``name`` (case and spacing do not matter); LibraryError names the nearest."""
        key = _plain(name)
        row = self.site.get(table, {}).get(key) or _shipped(table).rows.get(key)
        if row is not None:
            return row
        keys = {_plain(n): n for n in self.names(table)}
        near = [keys[k] for k in difflib.get_close_matches(key, list(keys), 3, 0.4)]
        hint = "nearest: " + ", ".join(f'"{n}"' for n in near) if near else "see docs/library.md for the names"
        raise LibraryError(f'"{name}" is not in the table "{_shipped(table).title}"; {hint}')

    def __iter__(self) -> Iterator[Table]:
        return (self.table(name) for name in tables())


@lru_cache(maxsize=1)
def _shipped_digest() -> bytes:
    digest = hashlib.sha256()
    for path in sorted(DATA.glob("*.toml")):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.digest()


def _digest(site: bytes) -> str:
    return hashlib.sha256(_shipped_digest() + site).hexdigest()[:12]


def _site_rows(raw: bytes, where: str) -> dict[str, dict[str, Row]]:
    try:
        content = tomllib.loads(raw.decode("utf-8"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise LibraryError(f"{where}: not a TOML file: {error}") from error
    found: dict[str, dict[str, Row]] = {}
    problems: list[str] = []
    for table, rows in content.items():
        if table not in tables():
            near = difflib.get_close_matches(table, tables(), 1)
            problems.append(f'no table "{table}"' + (f', did you mean "{near[0]}"?' if near else ""))
            continue
        for number, raw_row in enumerate(rows if isinstance(rows, list) else [rows], 1):
            try:
                row = _site_row(table, raw_row)
                found.setdefault(table, {})[_plain(row.name)] = row
            except (LibraryError, UnitsError) as error:
                problems.append(f"{table} {number}: {error}")
    if problems:
        raise LibraryError("\n".join(f"{where}: {p}" for p in problems))
    return found


def _site_row(table: str, raw: object) -> Row:
    if not isinstance(raw, dict) or not isinstance(raw.get("name"), str):
        raise LibraryError('a row needs a name, as in name = "..."')
    if not raw.get("source"):
        raise LibraryError(f'"{raw["name"]}" names no source: say where its values come from')
    columns = _shipped(table).columns
    values = {}
    for key, cell in raw.items():
        if key in ("name", "source"):
            continue
        if key not in columns:
            near = difflib.get_close_matches(key, columns, 1)
            raise LibraryError(
                f'"{raw["name"]}": unknown column "{key}"' + (f', did you mean "{near[0]}"?' if near else "")
            )
        values[key] = _value(cell, columns[key])
    return Row(table, raw["name"], values, raw["source"], site=True)

"""Data tables: TOML files with a source, read when first asked for; a site's own rows from library.toml beside the plan."""

from __future__ import annotations

import difflib
import hashlib
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from splitline.errors import LibraryError
from splitline.library.columns import Column, column_of
from splitline.library.site import SITE_FILE, read_site

DATA = Path(__file__).parent / "data"
MOST_BYTES = 2_000_000  # a site's row takes some 300 bytes
CLOSED = ("threads",)  # read from designations: a site's row would have no effect
SAME = {"tapped": "materials"}  # another word of the plan for the same table


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
class Part:
    """One data file: what it holds, where it comes from, its columns (kind and unit) and rows by plain name."""

    file: str
    title: str
    source: str
    edition: str
    columns: Mapping[str, Column]
    rows: Mapping[str, Row]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table: ``NAME.toml`` and ``NAME-*.toml``, each with its own source and units (metric and inch sizes, say)."""

    name: str
    parts: tuple[Part, ...]
    columns: Mapping[str, Column]
    rows: Mapping[str, Row]

    @property
    def title(self) -> str:
        return "; ".join(part.title for part in self.parts)

    @property
    def source(self) -> str:
        return "; ".join(dict.fromkeys(part.source for part in self.parts))


_GRADE = re.compile(r"\bgr(?:ade|\.)?\s+")
_CLASS = re.compile(r"\bcl(?:ass)?\b\.?\s*(?=\d)")
_METRIC_EDITION = re.compile(r"\b(a\d{3})(?:/a\d{3})?m\b")


@lru_cache(maxsize=4096)
def plain(name: str) -> str:
    """A name as it is compared: case, spaces, × or x, the kind of dash, "grade" and "Cl." do not matter."""
    text = name.replace("×", "x").replace("–", "-").replace("‑", "-").casefold()
    text = _METRIC_EDITION.sub(r"\1", _CLASS.sub("class", _GRADE.sub("", text)))
    return "".join(text.split())


def nearest(name: str, rows: Iterable[Row]) -> tuple[str, ...]:
    """Up to three names of rows called nearly ``name``, by any of their spellings, or holding every word of it."""
    spelled = {plain(text): row.name for row in rows for text in (row.name, *row.get("aliases", ()))}
    close = [spelled[key] for key in difflib.get_close_matches(plain(name), list(spelled), 6, 0.5)]
    words = [plain(word) for word in name.split()]
    holding = [owner for key, owner in spelled.items() if words and all(word in key for word in words)]
    return tuple(dict.fromkeys([*close[:2], *holding, *close]))[:3]


@lru_cache(maxsize=1)
def _files() -> Mapping[str, tuple[Path, ...]]:
    found: dict[str, tuple[Path, ...]] = {}
    for path in sorted(DATA.glob("*.toml")):
        name = path.stem.partition("-")[0]
        found[name] = (*found.get(name, ()), path)
    return found


def tables() -> tuple[str, ...]:
    """Names of every shipped table."""
    return tuple(_files())


@lru_cache(maxsize=64)
def _part(path: Path, table: str) -> Part:
    content = tomllib.loads(path.read_text("utf-8"))
    head = content["table"]
    source = _honest(head["source"], head["edition"])
    columns = {key: column_of(spec) for key, spec in content["columns"].items()}
    rows: dict[str, Row] = {}
    for raw in content["row"]:
        values = {key: columns[key].shipped(cell) for key, cell in raw.items() if key not in ("name", "source")}
        row = Row(table, raw["name"], values, raw.get("source", source))
        for spelling in (raw["name"], *raw.get("aliases", ())):
            if rows.setdefault(plain(spelling), row) is not row:
                raise LibraryError(f'{path.name}: "{spelling}" names two rows')
    return Part(path.stem, head["title"], head["source"], head["edition"], columns, rows, head.get("note", ""))


def _honest(source: str, edition: str) -> str:
    """What is printed beside a value: a table not looked up again says so on every row."""
    memory = "not checked against the standard's text"
    return f"{source}, {memory}" if memory in edition and memory not in source else source


def part(file: str) -> Part:
    """One data file of its own, such as ``threads-inch``."""
    return _part(DATA / f"{file}.toml", file.partition("-")[0])


@lru_cache(maxsize=64)
def shipped(name: str) -> Table:
    """The table as it comes with the program; LibraryError when there is none of that name."""
    name = SAME.get(name, name)
    files = _files().get(name)
    if files is None:
        raise LibraryError(f'no library table is called "{name}"')
    parts = tuple(_part(path, name) for path in files)
    columns: dict[str, Column] = {}
    rows: dict[str, Row] = {}
    for part in parts:
        columns.update(part.columns)
        if twice := rows.keys() & part.rows.keys():
            raise LibraryError(f"{part.file}: {', '.join(sorted(twice))} stand in another part of the table too")
        rows.update(part.rows)
    return Table(name, parts, columns, rows)


@dataclass(frozen=True)
class Library:
    """The shipped tables with a site's own rows laid over them."""

    site: Mapping[str, Mapping[str, Row]] = field(default_factory=dict)
    version: str = ""
    kept: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)  # what is made of its rows once

    @classmethod
    def load(cls, beside: Path | None = None) -> Library:
        """The library for plans in folder ``beside``; LibraryError lists every mistake of its library.toml."""
        path = beside / SITE_FILE if beside is not None else None
        try:
            if path is not None and path.is_file():
                with path.open("rb") as file:
                    raw = file.read(MOST_BYTES + 1)
            else:
                raw = b""
        except OSError as error:
            raise LibraryError(f"{path}: cannot be read: {error.strerror}") from error
        if len(raw) > MOST_BYTES:
            raise LibraryError(f"{path}: more than {MOST_BYTES / 1e6:.0f} MB: is this the right file?")
        return cls(_site_rows(raw, str(path)) if raw else {}, _digest(raw))

    def table(self, name: str) -> Table:
        return shipped(name)

    def rows(self, table: str) -> tuple[Row, ...]:
        """Every row, the site's own first; a site's row hides a shipped one of the same name."""
        own = self.site.get(SAME.get(table, table), {})
        hidden = {id(row) for key, row in shipped(table).rows.items() if key in own}
        rows = {id(row): row for row in (*own.values(), *shipped(table).rows.values()) if id(row) not in hidden}
        return tuple(rows.values())

    def names(self, table: str) -> tuple[str, ...]:
        return tuple(row.name for row in self.rows(table))

    def get(self, table: str, name: str) -> Row | None:
        """The row called ``name`` or None."""
        own = self.site.get(SAME.get(table, table), {})
        key = plain(name)
        row = own.get(key) or shipped(table).rows.get(key)
        if row is None or row.site or not own:
            return row
        spellings = (plain(text) for text in (row.name, *row.get("aliases", ())))
        return next((own[text] for text in spellings if text in own), row)

    def find(self, table: str, name: str) -> Row:
        """The row called ``name`` (case and spacing do not matter); LibraryError names the nearest."""
        row = self.get(table, name)
        if row is not None:
            return row
        near = nearest(name, self.rows(table))
        few = self.names(table)
        hint = "nearest: " if near else "it holds: " if len(few) <= 12 else "it holds, among others: "
        hint += ", ".join(f'"{n}"' for n in near or few[:6])
        raise LibraryError(f'"{name}" is not in the library table "{table}"; {hint}')

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
    found: dict[str, dict[str, Row]] = {}
    for cells in read_site(
        raw, where, tuple(t for t in tables() if t not in CLOSED), lambda name: shipped(name).columns, plain
    ):
        row = Row(cells.table, cells.name, cells.values, cells.source, site=True)
        for spelling in (cells.name, *cells.values.get("aliases", ())):
            found.setdefault(cells.table, {})[plain(spelling)] = row
    return found

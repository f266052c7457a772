"""Names a plan takes from the library: is there such a row, and if not, which are nearest."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from splitline.errors import LibraryError
from splitline.library.store import Library


@dataclass(frozen=True)
class Names:
    """Checks names against one library. ``version`` tells libraries apart in caches."""

    library: Library | None = None
    version: str = field(default="none")

    @classmethod
    def of(cls, library: Library) -> Names:
        return cls(library, library.version)

    @classmethod
    def beside(cls, folder: Path | None) -> tuple[Names, str | None]:
        """Names of the library in force in a folder, and what is wrong with the site's own tables, if anything."""
        try:
            return cls.of(Library.load(folder)), None
        except LibraryError as error:
            return cls.of(Library.load()), str(error)

    def __call__(self, table: str, text: str) -> str | None:
        """What is wrong with a name of a table, or None."""
        if self.library is None:
            return None
        if table == "threads":
            return _thread(text)
        try:
            self.library.find(table, text)
        except LibraryError as error:
            return str(error)
        return None


@lru_cache(maxsize=1024)
def _thread(text: str) -> str | None:
    from splitline.library.threads import parse_designation

    try:
        parse_designation(text)
    except LibraryError as error:
        return str(error)
    return None

"""Who is who: a person whose name is typed in another way is the same person.

Case, blanks, dots, accents and signs nobody sees do not make another person. Two names that stand in ``people.toml`` as two
entries are two people, however alike they are written.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

_STROKES = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ħ": "h", "ı": "i", "æ": "ae", "œ": "oe", "þ": "th", "ð": "d"})


def plain_name(name: str) -> str:
    """A name without what people write now so, now so; "" where nothing is left of it."""
    text = unicodedata.normalize("NFKD", name.casefold()).casefold().translate(_STROKES)
    return "".join(c for c in text if c != "." and unicodedata.category(c)[0] not in "MZC")


@dataclass(frozen=True, slots=True)
class People:
    """The names a folder knows apart."""

    known: frozenset[str] = frozenset()

    def entries(self, name: str) -> tuple[str, ...]:
        """Entries this name may stand for: the one written just so, else every one that is alike."""
        if name in self.known:
            return (name,)
        plain = plain_name(name)
        return tuple(sorted(each for each in self.known if plain and plain_name(each) == plain))

    def same(self, one: str, other: str) -> bool:
        """Whether two names are one person's; nobody's name is nobody's."""
        if one in self.known and other in self.known:
            return one == other
        plain = plain_name(one)
        return bool(plain) and plain == plain_name(other)

    def among(self, name: str, others: Iterable[str]) -> bool:
        """Whether a name is that of one of the others."""
        return any(self.same(name, other) for other in others)


NOBODY_KNOWN = People()

"""Capitals to read at arm's length: five points high, drawn two by two in the cells of three rows."""

from __future__ import annotations

import re
from functools import lru_cache

from splitline.ui.draw.digits import unit_sign
from splitline.ui.draw.rows import wrap
from splitline.units import KINDS

ROWS = 3  # of the screen for one line of letters
# Rows of each letter from the top, a hex digit or two a row: the highest bit of the width is the left point.
_FONT = {
    "A": (4, "69F99"), "B": (4, "E9E9E"), "C": (4, "78887"), "D": (4, "E999E"), "E": (4, "F8E8F"), "F": (4, "F8E88"),
    "G": (4, "78B97"), "H": (4, "99F99"), "I": (3, "72227"), "J": (4, "11196"), "K": (4, "9ACA9"), "L": (4, "8888F"),
    "N": (4, "9DFB9"), "O": (4, "69996"), "P": (4, "E9E88"), "Q": (4, "699B7"), "R": (4, "E9EA9"), "S": (4, "7861E"),
    "T": (3, "72222"), "U": (4, "99996"), "V": (4, "999A4"), "X": (4, "99699"), "Y": (3, "55222"), "Z": (4, "F124F"),
    ".": (1, "00001"), ",": (1, "00011"), ":": (1, "01010"), "-": (2, "00300"), "'": (1, "11000"), "/": (3, "11244"),
    "(": (2, "12221"), ")": (2, "21112"), ";": (1, "01011"), "!": (1, "11101"), "?": (3, "61202"), "+": (3, "02720"),
    "0": (4, "69996"), "1": (3, "26227"), "2": (4, "E124F"), "3": (4, "E161E"), "4": (4, "99F11"), "5": (4, "F8E1E"),
    "6": (4, "68E96"), "7": (4, "F1244"), "8": (4, "69696"), "9": (4, "69716"), " ": (2, "00000"), "\u00a0": (1, "00000"),
    "=": (3, "07070"), "*": (3, "52725"), "×": (3, "05250"), "<": (3, "12421"), ">": (3, "42124"), "≤": (3, "12417"),
    "≥": (3, "42147"), "²": (2, "31230"), "³": (2, "31310"), "^": (3, "25000"), '"': (3, "55000"), "_": (4, "0000F"),
    "±": (3, "27207"), "&": (4, "4A5A5"), "#": (4, "0FAFA"), "→": (4, "02F20"),
}  # fmt: skip
_WIDE = {
    "M": (0b10001, 0b11011, 0b10101, 0b10001, 0b10001),
    "W": (0b10001, 0b10001, 0b10101, 0b11011, 0b10001),
    "⌫": (0b00100, 0b01000, 0b11111, 0b01000, 0b00100),
}
_QUADRANTS = " ▗▖▄▝▐▞▟▘▚▌▙▀▜▛█"  # by upper left, upper right, lower left, lower right
_ALIKE = {"–": "-", "−": "-", "’": "'", "“": '"', "”": '"', "—": "-", "μ": "µ"}
_UNITS = frozenset(unit for kind in KINDS.values() for unit in kind.units) - {""}
_FIGURE = re.compile(r"[(+-]*\d[\d.,:]*\)?")
_JOINED = re.compile(r"([(+-]*\d[\d.,]*)(\D+)")
_ENDS = ".,;:)!?"


def _points(char: str) -> tuple[int, tuple[int, ...]] | None:
    if char in _WIDE:
        return 5, _WIDE[char]
    found = _FONT.get(char)
    if found:
        return found[0], tuple(int(row, 16) for row in found[1])
    small = unit_sign(char)
    if not small:
        return None
    wide = max(map(len, small))
    return wide, tuple(int("".join("1" if point == "#" else "0" for point in row.ljust(wide)), 2) for row in small)


def _spelled(words: list[str]) -> list[str]:
    """The words in capitals; a unit behind a figure keeps its case and its line: mm and MM, kN and KN are not the same."""
    out: list[str] = []
    figure = False
    for word in words:
        core = word.rstrip(_ENDS)
        joined = _JOINED.fullmatch(core)
        if figure and core in _UNITS:
            out[-1] += f"\u00a0{word}"
        elif joined is not None and joined.group(2) in _UNITS:
            out.append(word)
        else:
            out.append(word.upper())
        figure = _FIGURE.fullmatch(core) is not None
    return out


def _line(text: str, stretch: int) -> list[str]:
    """One line as its rows of cells, points ``stretch`` wide; ValueError: a sign without a letter."""
    bits = [""] * 6
    for char in text:
        found = _points(char)
        if found is None:
            raise ValueError(char)
        wide, rows = found
        for y, row in enumerate((*rows, 0)):
            bits[y] += "".join(bit * stretch for bit in f"{row:0{wide}b}0")
    even = [row + "0" * (len(row) % 2) for row in bits]
    return [
        "".join(_QUADRANTS[int(a[x : x + 2] + b[x : x + 2], 2)] for x in range(0, len(a), 2))
        for a, b in zip(even[::2], even[1::2], strict=True)
    ]


def label(text: str, cells: int, unit: bool = False) -> list[str]:
    """A short label for a key, as high as a capital and as wide as there is room; [] where it does not fit or has no sign.

    ``unit``: it is one, and keeps its case.
    """
    plain = "".join(_ALIKE.get(char, char) for char in text)
    if not plain.strip():
        return []
    for stretch in (2, 1):
        try:
            rows = _line(plain if unit else plain.upper(), stretch)
        except ValueError:
            return []
        if len(rows[0]) <= cells:
            return rows
    return []


def letters(text: str, cells: int, lines: int) -> list[str]:
    """The text in capitals, wrapped, at most ``lines`` lines of ``ROWS`` rows; [] where it does not fit whole.

    A unit behind a figure keeps its case.
    """
    return list(_letters(text, cells, lines))


@lru_cache(512)  # an instruction stands for minutes and is drawn twice a second beside a running clock
def _letters(text: str, cells: int, lines: int) -> tuple[str, ...]:
    plain = "".join(_ALIKE.get(char, char) for char in text)
    words = _spelled(plain.split())
    if not words:
        return ()
    upper = " ".join(words)
    if any(_points(char) is None for char in upper):
        return ()
    for stretch in (2, 1):
        for room in range(cells // (2 * stretch), cells // (5 * stretch), -1):
            wrapped = wrap(upper, room, lines + 1)
            if len(wrapped) > lines:
                break  # narrower ones are longer still
            rows = [row for each in wrapped for row in _line(each, stretch)]
            if max(map(len, rows)) <= cells:
                return tuple(rows)
    return ()

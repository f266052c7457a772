"""Capitals to read at arm's length: five points high, drawn two by two in the cells of three rows."""

from __future__ import annotations

from splitline.ui.draw.rows import wrap

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
    "6": (4, "68E96"), "7": (4, "F1244"), "8": (4, "69696"), "9": (4, "69716"), " ": (2, "00000"),
}  # fmt: skip
_WIDE = {"M": (0b10001, 0b11011, 0b10101, 0b10001, 0b10001), "W": (0b10001, 0b10001, 0b10101, 0b11011, 0b10001)}
_QUADRANTS = " ▗▖▄▝▐▞▟▘▚▌▙▀▜▛█"  # by upper left, upper right, lower left, lower right
_ALIKE = {"–": "-", "−": "-", "’": "'", "·": "."}


def _points(char: str) -> tuple[int, tuple[int, ...]] | None:
    if char in _WIDE:
        return 5, _WIDE[char]
    found = _FONT.get(char)
    return (found[0], tuple(int(row, 16) for row in found[1])) if found else None


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


def digit(char: str) -> list[str]:
    """One digit as high as a capital, for a key; [] for anything else."""
    return _line(char, 2) if len(char) == 1 and char in "0123456789" else []


def letters(text: str, cells: int, lines: int) -> list[str]:
    """The text in capitals, wrapped, at most ``lines`` lines of ``ROWS`` rows; [] where it does not fit whole.

    A figure with a unit is never set in capitals: mm and MM, kN and KN are not the same to everybody.
    """
    plain = "".join(_ALIKE.get(char, char) for char in text)
    words = plain.split()
    if not words or any(char.isdigit() for char in plain):
        return []
    upper = " ".join(words).upper()
    try:
        for stretch in (2, 1):
            for room in range(cells // (2 * stretch), cells // (5 * stretch), -1):
                rows = [row for each in wrap(upper, room, lines + 1) for row in _line(each, stretch)]
                if len(rows) <= ROWS * lines and max(map(len, rows)) <= cells:
                    return rows
    except ValueError:
        return []
    return []

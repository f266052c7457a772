"""What commands print: signs the terminal lacks are replaced, control and direction signs are shown as what they are.

An output that cannot take it (full disk, closed pipe) becomes :class:`OutputError`, never a traceback and never the exit code
of a verdict.
"""

from __future__ import annotations

import codecs
import errno
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, TextIO

from splitline.errors import SplitlineError

# Everything that moves the cursor, rings, colours or turns the reading direction; a line end is the only control sign printed.
# The two joiners are told where they join nothing: in scripts that need them they are part of the spelling.
_JOINED = "\u0590-\u1fff\u2c00-\ufdff\ufe70-\ufefe\U00010000-\U0001ffff"
_HIDDEN = re.compile(
    "[\x00-\x09\x0b-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    f"\ud800-\udfff\U000e0000-\U000e007f]|(?<![{_JOINED}])[\u200c\u200d](?![{_JOINED}])"
)
# For terminals of few signs: marks stay told apart, units stay right.
_PLAIN = {
    "●": "o", "◐": "~", "▲": "!", "○": "?", "◌": "_", "✓": "x", "⚑": "P", "·": "-", "…": "...", "→": "->", "←": "<-",
    "−": "-", "–": "-", "—": "-", "×": "x", "≥": ">=", "≤": "<=", "≈": "~", "±": "+/-", "°": " deg ", "²": "2", "³": "3",
    "⁴": "4", "⁻": "-", "¹": "1", "½": "1/2", "µ": "u", "μ": "mu", "Δ": "d", "√": "sqrt", "Φ": "Phi", "σ": "sigma",
    "τ": "tau", "α": "alpha", "β": "beta", "θ": "theta", "ν": "nu", "π": "pi", "δ": "delta", "Σ": "sum", "\u00a0": " ",
    "\u202f": " ", "“": '"', "”": '"', "„": '"', "’": "'", "‘": "'", "ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe",
    "Ü": "Ue", "ß": "ss",
}  # fmt: skip


class OutputError(SplitlineError):
    """The output took no more."""


def shown(text: str) -> str:
    """The text with control and direction signs as escapes, which JSON reads as the same signs."""
    return _HIDDEN.sub(_escaped, text.replace("\t", " ") if "\t" in text else text)


def _escaped(found: re.Match[str]) -> str:
    code = ord(found.group())
    if code < 0x10000:
        return f"\\u{code:04x}"
    code -= 0x10000
    return f"\\u{0xD800 + (code >> 10):04x}\\u{0xDC00 + (code & 0x3FF):04x}"


def _replaced(error: UnicodeError) -> tuple[str, int]:
    assert isinstance(error, UnicodeEncodeError)
    found = error.object[error.start : error.end]
    plain = "".join(_PLAIN.get(char, "?") for char in found)
    try:
        plain.encode(error.encoding)
    except UnicodeEncodeError:
        plain = "?" * len(found)
    return plain, error.end


codecs.register_error("splitline", _replaced)


class Outlet:
    """A text stream in front of ``inner``."""

    def __init__(self, inner: TextIO) -> None:
        self.inner = inner

    def write(self, text: str) -> int:
        said = shown(text)
        encoding = self.encoding
        if encoding and not said.isascii():
            said = said.encode(encoding, "splitline").decode(encoding)
        with _told():
            self.inner.write(said)
        return len(text)

    def flush(self) -> None:
        with _told():
            self.inner.flush()

    @property
    def encoding(self) -> str | None:
        return self.inner.encoding

    def __getattr__(self, name: str) -> Any:
        return getattr(self.inner, name)


def lossless(stream: Any) -> bool:
    """Whether a stream takes every sign: JSON is written with escapes where it does not."""
    try:
        return codecs.lookup(getattr(stream, "encoding", None) or "utf-8").name.startswith("utf")
    except LookupError:
        return False


def print_json(text: str) -> None:
    """JSON as it is, or with every sign beyond ASCII as an escape where the output cannot take them: no value changes."""
    if not lossless(sys.stdout):
        text = re.sub("[^\x00-\x7f]", _escaped, text)
    print(text)


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        raise OutputError("the output was not taken to its end: whatever read it has closed") from None
    except OSError as error:
        full = error.errno in (errno.ENOSPC, errno.EDQUOT)
        said = "no room left where the output goes" if full else error.strerror or str(error)
        raise OutputError(f"the output cannot be written: {said}") from None
    except ValueError:  # a closed stream
        raise OutputError("the output is closed") from None


@contextmanager
def printing() -> Iterator[None]:
    """Prints go through outlets meanwhile; what is left is written at the end. OutputError: it cannot be."""
    out, err = sys.stdout, sys.stderr
    if out is None:
        raise OutputError("there is no output to print to")
    sys.stdout = Outlet(out)
    if err is not None:
        sys.stderr = Outlet(err)
    try:
        yield
        sys.stdout.flush()
    except SystemExit:  # help, or an option that cannot be read: printed like everything else
        sys.stdout.flush()
        raise
    finally:
        sys.stdout, sys.stderr = out, err


def complain(text: str) -> None:
    """A sentence on stderr, whatever that can take; nothing where nobody listens."""
    if sys.stderr is None:
        return
    try:
        outlet = Outlet(sys.stderr)
        outlet.write(f"{text}\n")
        outlet.flush()
    except (OutputError, OSError):
        silence(sys.stderr)


def silence(stream: TextIO | None) -> None:
    """What is left in a stream that takes no more goes nowhere, so that leaving does not complain a second time."""
    try:
        handle = stream.fileno() if stream is not None else -1
        nowhere = os.open(os.devnull, os.O_WRONLY)
        try:
            if handle >= 0:
                os.dup2(nowhere, handle)
        finally:
            os.close(nowhere)
    except (OSError, ValueError):
        return

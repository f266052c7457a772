"""A number pad of our own: a soft keyboard doubles characters in gloves, and hides half the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical

from splitline.ui import marks
from splitline.ui.draw.digits import ROWS, figures, unit_rows
from splitline.ui.draw.letters import ROWS as LETTER_ROWS
from splitline.ui.draw.letters import letters
from splitline.ui.draw.rows import Row, signed
from splitline.ui.glass import Glass, feel, glass_of
from splitline.ui.work.asking import Question, Words
from splitline.ui.work.target import Target, TargetRow

SAID = 2  # rows for what is said in words
MOST = 3  # lines of capitals
_BLANK: Row = ((" ", ""),)


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of the number typed so far: in words, and in one word from afar."""

    text: str = ""
    style: str = ""
    word: str = ""


def echo(typed: str, unit: str, cells: int) -> list[Row]:
    """The number in large figures, its unit as high behind it."""
    behind = unit_rows(unit, cells // 2)
    large = figures(typed, cells - len(behind[0]) - 5) if behind else []
    if behind and (large or not typed):
        large = large or [""] * ROWS
    else:
        behind = [""] * (ROWS - 1) + [unit]
        large = figures(typed, cells - len(unit) - 5) or [""] * (ROWS - 1) + [typed]
    return [
        ((f"  {row}", "strong"), (f"   {own}" if own else "", "accent" if len(behind[0]) else "strong"))
        for row, own in zip(large, behind, strict=True)
    ]


def pad_rows(
    title: str,
    lines: Sequence[tuple[str, str]],
    shown: Sequence[Row],
    said: Said,
    cells: int,
    rows: int,
    judged: bool,
) -> list[Row]:
    """All of it for a room of ``cells`` × ``rows``; ``judged``: there are limits, so a word from afar may come.

    The limits grow first, then that word, then the question, as long as everything else has its place.
    """
    head = _small(title, "title", cells)
    body = [_small(text, style, cells) for text, style in lines]
    blank = [_BLANK] * SAID
    words = signed(marks.sign(said.text, said.style), said.text, said.style, cells, SAID) if said.text else []
    below = [*words, *blank[len(words) :]]
    spare = rows - sum(map(len, (head, *body, shown, below))) - 1
    for place, (text, style) in enumerate(lines):
        if style == "strong":
            body[place], spare = _grown(text, style, body[place], cells, spare)
    verdict: list[Row] = []
    if judged and spare >= LETTER_ROWS:
        drawn = letters(said.word, cells - 2, 1) or [" "] * LETTER_ROWS
        verdict = [((f"  {row}", said.style),) for row in drawn]
        spare -= LETTER_ROWS
    head, spare = _grown(title, "title", head, cells, spare)
    out: list[Row] = []
    for part in (head, *body, list(shown), verdict):
        out += part
        if part and spare > 0:
            out.append(_BLANK)
            spare -= 1
    return [*out, *below]


def _small(text: str, style: str, cells: int) -> list[Row]:
    return signed(marks.sign(text, style), text, style, cells, 12)


def _grown(text: str, style: str, small: list[Row], cells: int, spare: int) -> tuple[list[Row], int]:
    """The text in capitals where there is room, and the rows that are left."""
    lines = min((spare + len(small)) // LETTER_ROWS, MOST)
    drawn = letters(text, cells, lines) if lines > 0 else []
    if not drawn:
        return small, spare
    return [((row, style),) for row in drawn], spare + len(small) - len(drawn)


Judge = Callable[[str], tuple[str, str]]  # what is said of the text typed so far, and its style
_LONGEST = 12
BESIDE, ABOVE = 90, 18  # cells and rows: with less room above the keys and so much across, the words stand beside them
_KEYS = (("7", "8", "9", "⌫"), ("4", "5", "6", "−"), ("1", "2", "3", "unit"), (".", "0", "Back", "Enter"))


class PadScreen(Question):
    """Gives the text typed with its unit ("0.41 mm"), or None. ``check`` returns "" or what is wrong with it."""

    PER_ROW = 4
    DEFAULT_CSS = """
    PadScreen #keys { height: auto; }
    PadScreen.-glass > .asked { overflow-y: hidden; }
    PadScreen.-beside > .asked { layout: horizontal; width: 100%; height: 100%; }
    PadScreen.-beside #typed { width: 9fr; }
    PadScreen.-beside #keys { width: 11fr; height: 100%; }
    PadScreen.-beside #keys TargetRow { height: 1fr; }
    PadScreen.-beside #keys Target { height: 100%; }
    """

    def __init__(
        self,
        title: str,
        lines: Sequence[tuple[str, str]] = (),
        units: Sequence[str] = ("",),
        judge: Judge | None = None,
        check: Callable[[str], str] | None = None,
        secret: bool = False,
    ) -> None:
        """``secret``: the digits are shown as dots (a PIN)."""
        super().__init__(title, lines)
        self._secret = secret
        self._units = tuple(units) or ("",)
        self._unit = 0
        self._judge = judge
        self._check = check
        self._fresh = 0  # number of the first picture that shows the text as it is now
        self.typed = ""

    def compose(self) -> ComposeResult:
        self.begin()
        with Vertical(classes="asked"):
            yield Words((), id="typed")
            with Vertical(id="keys"):
                for row in _KEYS:
                    yield TargetRow(
                        *(Target(key, self._label(key), big="unit" if key == "unit" else "key") for key in row)
                    )

    def _label(self, key: str) -> str:
        return (self._units[self._unit] or "–") if key == "unit" else key

    def on_mount(self) -> None:
        self.query(Target).last().focus()
        self._show()

    @property
    def unit(self) -> str:
        """The unit in which it is given back."""
        return self._units[self._unit]

    @property
    def text(self) -> str:
        """As it will be given back."""
        return f"{self.typed} {self.unit}".strip()

    def _beside(self) -> bool:
        """Whether the words stand at the left of the keys: a glass across has no room above them."""
        size = self.app.size
        return size.width >= BESIDE and size.height - self._keys_high() < ABOVE

    def _keys_high(self) -> int:
        placed = 0 if self.has_class("-beside") else self.query_one("#keys").outer_size.height
        return placed or len(_KEYS) * max(glass_of(self.app).glove_rows(), 5 if self.has_class("-tall") else 3)

    def _show(self, wrong: str = "") -> None:
        beside, size = self._beside(), self.app.size
        self.set_class(beside, "-beside")
        cells = (size.width - 4) * 9 // 20 - 1 if beside else self.room - 1
        rows = size.height - 2 - (0 if beside else self._keys_high())
        self.query_one("#typed", Words).say((), self._rows(wrong, cells, rows))
        glass = glass_of(self.app)
        self._fresh = glass.mark()
        self.call_after_refresh(self._drawn, self.text, glass)

    def _rows(self, wrong: str, cells: int, rows: int) -> list[Row]:
        judged = self._judge is not None and not self._secret
        if self._secret:
            shown: list[Row] = [(("  " + "● " * len(self.typed), "strong"),)]
        else:
            shown = echo(self.typed, self._units[self._unit], cells)
        if wrong or self._judge is None or not self.typed or self._secret:
            said = Said(wrong, "fails")
        else:
            text, style = self._judge(self.text)
            said = Said(text, style, {"ok": "INSIDE", "fails": "OUTSIDE"}.get(style, ""))
        return pad_rows(self._title, self._lines, shown, said, cells, rows, judged)

    def on_resize(self, event: events.Resize) -> None:
        self.call_after_refresh(self._show)

    def _drawn(self, text: str, glass: Glass) -> None:
        if text == self.text:
            self._fresh = max(self._fresh, glass.written)

    def on_target_pressed(self, event: Target.Pressed) -> None:
        event.stop()
        self._press(event.target.ident, event.seen)

    def on_key(self, event: events.Key) -> None:
        key = {"backspace": "⌫", "minus": "−", "full_stop": ".", "comma": ".", "u": "unit"}.get(event.key, event.key)
        if key in "0123456789.⌫−" or key == "unit":
            event.stop()
            self._press(key)

    def _press(self, key: str, seen: int | None = None) -> None:
        if key == "Back":
            self.dismiss(None)
            return
        if key == "Enter":
            wrong = self._check(self.text) if self._check and self.typed else ""
            if seen is not None and seen < self._fresh and self.typed:
                wrong = f"Enter was touched before {self.text} stood here: read it, then Enter"
                feel(self.app, "refused")
            if self.typed and not wrong:
                self.dismiss(self.text)
            else:
                self._show(wrong or "type a number first")
            return
        if key == "⌫":
            self.typed = self.typed[:-1]
        elif key == "unit":
            self._unit = (self._unit + 1) % len(self._units)
            for target in self.query(Target):
                if target.ident == "unit":
                    target.label = self._label("unit")
                    target.refresh()
        elif key == "−":
            self.typed = self.typed[1:] if self.typed.startswith("-") else f"-{self.typed}"
        elif key == ".":
            self.typed += "." if "." not in self.typed else ""
        elif len(self.typed) < _LONGEST:
            self.typed += key
        self._show()

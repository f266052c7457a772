"""A number pad of our own: a soft keyboard doubles characters in gloves, and hides half the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical

from splitline.ui.draw.digits import ROWS, figures, unit_rows
from splitline.ui.draw.letters import ROWS as LETTER_ROWS
from splitline.ui.draw.letters import letters
from splitline.ui.draw.rows import Row
from splitline.ui.glass import Glass, feel, glass_of
from splitline.ui.work.asking import WIDE, Question, Words
from splitline.ui.work.target import Target, TargetRow

Judge = Callable[[str], tuple[str, str]]  # what is said of the text typed so far, and its style
_LONGEST = 12
_KEYS = (("7", "8", "9", "⌫"), ("4", "5", "6", "−"), ("1", "2", "3", "unit"), (".", "0", "Back", "Enter"))


class PadScreen(Question):
    """Gives the text typed with its unit ("0.41 mm"), or None. ``check`` returns "" or what is wrong with it."""

    PER_ROW = 4

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

    def answers(self) -> ComposeResult:
        yield Words((), id="typed")
        with Vertical(id="keys"):
            for row in _KEYS:
                yield TargetRow(*(Target(key, self._label(key)) for key in row))

    def _label(self, key: str) -> str:
        return (self._units[self._unit] or "–") if key == "unit" else key

    def on_mount(self) -> None:
        self.query_one("#keys").styles.height = "auto"
        self.query(Target).last().focus()
        self._show()

    @property
    def text(self) -> str:
        """As it will be given back."""
        unit = self._units[self._unit]
        return f"{self.typed} {unit}".strip()

    def _show(self, wrong: str = "") -> None:
        if self._secret:
            self.query_one("#typed", Words).say(
                [(wrong or " ", "fails")], [(("  " + "● " * len(self.typed), "strong"),)]
            )
            glass = glass_of(self.app)
            self._fresh = glass.mark()
            self.call_after_refresh(self._drawn, self.text, glass)
            return
        unit = self._units[self._unit]
        whole = min(self.app.size.width, WIDE) - 10  # frame and gaps
        behind = unit_rows(unit, whole // 2)
        large = figures(self.typed, whole - len(behind[0])) if behind else []
        if behind and (large or not self.typed):
            large = large or [""] * ROWS
        else:
            behind = [""] * (ROWS - 1) + [unit]
            large = figures(self.typed, whole - len(unit)) or [""] * (ROWS - 1) + [self.typed]
        rows: list[Row] = [
            ((f"  {row}", "strong"), (f"   {own}" if own else "", "accent" if len(behind[0]) else "strong"))
            for row, own in zip(large, behind, strict=True)
        ]
        said, style = self._judge(self.text) if self._judge and self.typed and not wrong else (wrong, "fails")
        if self.has_class("-tall"):  # always as many rows: what is judged moves no key under the finger
            word = (
                {"ok": "INSIDE", "fails": "OUTSIDE"}.get(style, "") if self._judge and self.typed and not wrong else ""
            )
            verdict = letters(word, whole, 1) or [" "] * LETTER_ROWS
            rows = [((" ", ""),), *rows, ((" ", ""),), *(((f"  {row}", style),) for row in verdict)]
        self.query_one("#typed", Words).say([(said or " ", style)], rows)
        glass = glass_of(self.app)
        self._fresh = glass.mark()
        self.call_after_refresh(self._drawn, self.text, glass)

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

"""The program's end of the link: numbers every picture, knows on which one a touch was, answers the heartbeat.

Messages of the server beside those of the library, as JSON: ``touch`` (``seen`` picture number or null, ``at`` clock of
this process or null) goes before the keys it belongs to; ``resize`` also gives the size of a cell in CSS pixels;
``beat`` (``n``) is answered with ``n`` and the clock from the
program's own loop, so that a frozen program is a dead link.
"""

from __future__ import annotations

import time
from typing import Any

from textual.app import App
from textual.drivers.web_driver import WebDriver
from textual.message import Message

from splitline.serve.tidy import Tidy
from splitline.ui.glass import LATE, PX_PER_MM, CameLate, Feel, Glass, Sized, Touched, glass_of

LEAST = 200  # signs of a picture that is worth comparing; no bell is as long
_SYNC = ("\x1b[?2026h", "\x1b[?2026l")  # before and after each picture
DRAWN = "\x1b]7411;{}\x07"  # read by the page once everything before it is in its picture


class TabletDriver(WebDriver):
    """A web driver whose touches know what was on the glass."""

    def __init__(self, app: App[Any], **more: Any) -> None:
        super().__init__(app, **more)
        self._glass: Glass = glass_of(app)
        self._late = False
        self._standing = ""  # the picture that was written last
        self._tidy = Tidy()
        self._tidy.begin()

    def write(self, data: str) -> None:
        """Write and number a picture; of one that was the last to be written only the number."""
        self._glass.written += 1
        number = DRAWN.format(self._glass.written)
        if data == self._standing:
            super().write(number)
            return
        if data not in _SYNC:
            self._standing = data if len(data) >= LEAST else ""
        super().write(data + number)

    def tell_feel(self, what: Feel) -> None:
        """A sound and a shake on the tablet."""
        self.write_meta({"type": "feel", "what": what})

    def tell_typing(self, asked: bool) -> None:
        """Whether letters are asked for."""
        self.write_meta({"type": "typing", "asked": asked})

    def tell_reading(self, large: bool) -> None:
        """Whether the letters are to be large."""
        self.write_meta({"type": "reading", "large": large})

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """What the server says beside keys. Runs in the input thread."""
        if packet_type == "touch":
            self._tidy.touched()
            seen, at = payload.get("seen"), payload.get("at")
            late = isinstance(at, (int, float)) and time.monotonic() - at > LATE
            if late and not self._late:
                self.send_message(CameLate())
            self._late = late
            self.send_message(Touched(seen if isinstance(seen, int) else None))
        elif packet_type == "resize":
            wide, high = payload.get("cell_width"), payload.get("cell_height")
            if (
                isinstance(wide, (int, float))
                and isinstance(high, (int, float))
                and 2 <= wide <= 200
                and 2 <= high <= 200
            ):
                self._glass.cell = (wide / PX_PER_MM, high / PX_PER_MM)
                self.send_message(Sized())
            super().on_meta(packet_type, payload)
        elif packet_type == "beat":
            self._loop.call_soon_threadsafe(self._answer, payload.get("n"))
        else:
            super().on_meta(packet_type, payload)

    def process_message(self, message: Message) -> None:
        """A key or touch; one that came too late is dropped here, whole."""
        if not self._late:
            super().process_message(message)

    def _answer(self, number: object) -> None:
        self.write_meta({"type": "beat", "n": number, "at": time.monotonic()})
        self._tidy.look()

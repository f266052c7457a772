"""What every place has in common: a head line, a foot line with the four keys that matter, and commands by name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar, cast

from splitline.ui.actions import PAPER, PLAN, PLANS, RECORD, VIEW, Command, bindings, commands_of, footer_of
from splitline.ui.draw.rows import width
from splitline.ui.glass import glass_of
from splitline.ui.ready import Ready
from splitline.ui.screens.sheet import Keys
from splitline.ui.widgets.bar import Bar, Piece

if TYPE_CHECKING:
    from splitline.ui.app import SplitlineApp

FIRST_PICTURE = 0.04  # s left to the terminal before the heavy libraries are imported
SAID_FOR = 6.0  # s a word that hides keys of the foot line stays
KEYS = {place: bindings(place) for place in (PLANS, PLAN, VIEW, RECORD, PAPER)}


class Offers(Ready[Any]):
    """A screen with commands. ``PLACE`` names it in the register of commands; ``do_<id>`` carries a command out."""

    PLACE: ClassVar[str] = PLANS

    @property
    def view_only(self) -> bool:
        return bool(getattr(self.app, "view_only", False))

    def commands(self) -> tuple[Command, ...]:
        """Commands of this screen in this session."""
        return commands_of(self.PLACE, self.view_only)

    def offers(self, ident: str) -> bool:
        """Whether a command has something to work on here and now; its key says why where it has not."""
        return True

    def carriers(self) -> tuple[object, ...]:
        """Who carries commands out, before the application does."""
        return (self,)

    async def action_command(self, ident: str) -> None:
        """Carry out a command of this screen, or of the application."""
        command = next((c for c in self.commands() if c.id == ident), None)
        if command is None:
            return
        able = (getattr(each, f"do_{ident}", None) for each in (*self.carriers(), self.app))
        todo = next((each for each in able if each is not None), None)
        if todo is None:
            return
        result = todo()
        if hasattr(result, "__await__"):
            await result

    # offered everywhere

    def do_palette(self) -> None:
        from splitline.ui.screens.picker import Option, PickerScreen

        options = [
            Option(c.id, c.label, c.help, c.printed.rjust(7), "key")
            for c in self.commands()
            if c.id != "palette" and self.offers(c.id)
        ]
        self.app.push_screen(PickerScreen("Commands", options), self._carry_out)

    def _carry_out(self, ident: str | None) -> None:
        if ident:
            self.call_later(self.action_command, ident)

    def do_help(self) -> None:
        from splitline.ui.screens.help import HelpScreen

        self.app.push_screen(HelpScreen(self.PLACE, self.view_only, self.help_here()))

    def help_here(self) -> Sequence[tuple[str, str]]:
        """Lines about what is under the cursor, as (text, style)."""
        return ()


class Place(Offers):
    """A screen between a head and a foot line."""

    _said = ""  # the word on the foot line

    @property
    def splitline(self) -> SplitlineApp:
        return cast("SplitlineApp", self.app)

    def commands(self) -> tuple[Command, ...]:
        return commands_of(self.PLACE, self.view_only or self.splitline.work_only)

    def footer(self) -> Sequence[Command]:
        """The commands that matter most, as far as they work here and now."""
        return [command for command in footer_of(self.PLACE) if self.offers(command.id)]

    def foot_keys(self) -> Keys:
        """Keys of the foot line, what each does, and the action a tap runs."""
        found = [c for c in self.footer() if not (self.view_only and c.edits)]
        return tuple((c.printed, c.label, f"command('{c.id}')") for c in found)

    def foot(self, said: str = "", style: str = "dim") -> None:
        """The foot line: the four keys, and a word about what just happened."""
        pieces: list[Piece] = [Piece(" ")]
        for key, words, action in self.foot_keys():
            label = self.for_glove(f" {words}   ", width(key))
            pieces += [Piece(key, "key", action), Piece(label, "", action)]
        right = (
            [Piece(f"{said} ", style)]
            if said
            else [Piece(self.for_glove("≡ all commands "), "dim", "command('palette')")]
        )
        room = self.size.width - width(right[0].text) - 1
        if said and sum(width(piece.text) for piece in pieces) > room:
            while len(pieces) > 2 and sum(width(piece.text) for piece in pieces) > room:
                del pieces[1:3]  # a long word stands in full for a while, then the keys come back
            self.set_timer(SAID_FOR, lambda: self._unsaid(said))
        if glass_of(self.app).cell[0]:
            while len(pieces) > 3 and sum(width(piece.text) for piece in pieces) > room:
                del pieces[-2:]  # half a key is no target; the palette has them all
        self._said = said
        self.query_one("#foot", Bar).show(pieces, right)

    def for_glove(self, text: str, beside: int = 0) -> str:
        """A key's label as wide as a glove needs on this glass, with ``beside`` cells of it standing before."""
        glass = glass_of(self.app)
        return text.ljust(max(glass.glove_cells() - beside, 0)) if glass.cell[0] else text

    def _unsaid(self, said: str) -> None:
        if self._said == said and self.is_attached:
            self.foot()

    def do_back(self) -> None:
        """One place back; from the first one out of the program, after asking."""
        if len(self.app.screen_stack) > 1:
            self.close()
        else:
            self.call_later(self.splitline.action_quit)

    def close(self) -> None:
        """Leave this place, unless it is the first or already left."""
        if self.app.screen is self and len(self.app.screen_stack) > 1:
            self.dismiss(None)

"""A screen takes no key before it stands: keys of one frame arrive all at once, some before what they open is composed."""

from __future__ import annotations

from typing import TypeVar

from textual.screen import Screen

Given = TypeVar("Given")


class Ready(Screen[Given]):
    """Its actions wait for nothing and break nothing: before it is mounted and after it is gone there are none."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Textual asks this before it carries an action out."""
        return super().check_action(action, parameters) if self.is_mounted and self.is_attached else False

"""Every error Splitline raises on purpose. A message says where, what is wrong and what to do."""

from __future__ import annotations


class SplitlineError(Exception):
    """Base of all errors meant for the person at the keyboard."""


class InputError(SplitlineError, ValueError):
    """A number outside what a formula is valid for."""


class UnitsError(InputError):
    """A text that is not a quantity of the wanted kind."""


class LibraryError(SplitlineError, LookupError):
    """A name no table holds, or a site table that cannot be read."""


class PlanError(SplitlineError):
    """A plan that cannot be read, edited or saved."""


class RecordError(SplitlineError):
    """A record that cannot be read or written."""

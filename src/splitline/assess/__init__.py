"""Plan to assessment: one file per kind of item, one registry of results in keys/.

The room can be called: ``splitline.assess(plan)`` is :func:`splitline.assess.public.assess`. Python makes a package of this
name an attribute of ``splitline`` as soon as any of its files is imported, so the function cannot stand there beside it.
"""

from __future__ import annotations

import sys
from types import ModuleType
from typing import Any


class _Room(ModuleType):
    """This package, called as a function."""

    def __call__(self, *args: Any, **named: Any) -> Any:
        from splitline.assess.public import assess

        return assess(*args, **named)


sys.modules[__name__].__class__ = _Room

"""Torque, bolt and lifting plans on split casings.

For scripts and notebooks (``docs/api.md``)::

    import splitline
    plan = splitline.load("plans/k410-closeup.toml")
    result = splitline.assess(plan)

Nothing below is imported before it is asked for: the command starts from here too.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from splitline.assess.assessment import Assessment as Assessment
    from splitline.assess.public import assess as assess
    from splitline.assess.result import Check as Check
    from splitline.assess.result import ItemResult as ItemResult
    from splitline.assess.to_json import assessment_json as as_json
    from splitline.errors import InputError as InputError
    from splitline.errors import PlanError as PlanError
    from splitline.errors import SplitlineError as SplitlineError
    from splitline.library.store import Library as Library
    from splitline.plan.model import Plan as Plan
    from splitline.plan.opened import PlanFile as PlanFile
    from splitline.plan.opened import load as load
    from splitline.plan.opened import loads as loads
    from splitline.units import read as si
    from splitline.units import show as show

__version__ = "0.1.0"

# Name -> module, and its name there. ``assess`` is a room that can be called (see its ``__init__``). The physics rooms are
# imported by name: ``from splitline.bolting import thread, torque``.
_FROM = {
    "Assessment": ("splitline.assess.assessment", "Assessment"),
    "Check": ("splitline.assess.result", "Check"),
    "InputError": ("splitline.errors", "InputError"),
    "ItemResult": ("splitline.assess.result", "ItemResult"),
    "Library": ("splitline.library.store", "Library"),
    "Plan": ("splitline.plan.model", "Plan"),
    "PlanError": ("splitline.errors", "PlanError"),
    "PlanFile": ("splitline.plan.opened", "PlanFile"),
    "SplitlineError": ("splitline.errors", "SplitlineError"),
    "as_json": ("splitline.assess.to_json", "assessment_json"),
    "assess": ("splitline.assess", ""),
    "load": ("splitline.plan.opened", "load"),
    "loads": ("splitline.plan.opened", "loads"),
    "show": ("splitline.units", "show"),
    "si": ("splitline.units", "read"),
}
__all__ = [  # each is fetched by __getattr__
    "Assessment", "Check", "InputError", "ItemResult", "Library", "Plan", "PlanError", "PlanFile", "SplitlineError",
    "__version__", "as_json", "assess", "load", "loads", "show", "si",
]  # fmt: skip


def __getattr__(name: str) -> object:
    """A public name when it is first asked for."""
    if name not in _FROM:
        raise AttributeError(f"module 'splitline' has no attribute {name!r}")
    from importlib import import_module

    module, inside = _FROM[name]
    found: object = import_module(module)
    if inside:
        found = getattr(found, inside)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted(__all__)

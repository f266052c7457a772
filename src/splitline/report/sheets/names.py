"""Titles and numbers of the printed pages for the ids of the plan: who reads paper has no ids at hand."""

from __future__ import annotations

from dataclasses import dataclass, field

from splitline.plan.model import Joint, Plan

ITEMS = ("joint", "lift", "fit", "insertion", "clearance")
MOMENTS = {"start": "the start of step {}", "done": "the end of step {}"}


@dataclass(frozen=True, slots=True)
class Names:
    """What the ids of a plan are called. Without a plan, or where it lacks an id, the id stands."""

    titles: dict[str, str] = field(default_factory=dict)
    steps: dict[str, int] = field(default_factory=dict)  # id -> number on the sheet of the order of work
    joints: dict[str, Joint] = field(default_factory=dict)
    brief: bool = False  # steps by their number alone

    def title(self, ident: str) -> str:
        """An item by its title, a step by its number and text."""
        if self.brief and ident in self.steps:
            return f"step {self.steps[ident]}"
        title = self.titles.get(ident) or ident
        return f"step {self.steps[ident]}: {title}" if ident in self.steps else title

    def short(self) -> Names:
        """The same, with steps by their numbers alone: for a list beside the order of work."""
        return Names({k: v for k, v in self.titles.items() if k not in self.steps}, self.steps, self.joints, brief=True)

    def moment(self, text: str) -> str:
        """``o-rings.done`` as ``the end of step 9``."""
        ident, _, what = text.rpartition(".")
        return MOMENTS[what].format(self.steps[ident]) if ident in self.steps and what in MOMENTS else text

    def said(self, text: str) -> str:
        """A sentence that begins with an id or ends with a moment, with their names."""
        ident, colon, rest = text.partition(": ")
        text = f"{self.titles[ident]}{colon}{rest}" if colon and self.titles.get(ident) else text
        before, space, last = text.rpartition(" ")
        return f"{before}{space}{self.moment(last)}"


def names_of(plan: Plan) -> Names:
    """The names of one plan."""
    titles = {item.id: item.title for kind in ITEMS for item in plan.of_kind(kind) if item.title}
    steps = {step.id: number for number, step in enumerate(plan.steps, 1)}
    titles |= {item.id: item.title for item in plan.items if item.title}
    titles |= {step.id: step.heading for step in plan.steps}
    return Names(titles, steps, {joint.id: joint for joint in plan.joints})

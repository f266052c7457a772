"""The steps of tightening one joint as a list: passes, bolts together, load, torque and set value of each size."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from splitline.assess.result import ItemResult
from splitline.assess.settings import JointSettings, Setting
from splitline.errors import PlanError
from splitline.plan.model.joint import Joint, Layout
from splitline.plan.passes import passes_of


@dataclass(frozen=True, slots=True)
class ListedPass:
    """One pass: its share of the target, and the setting of each size, main size first, by the tool taken first.

    ``by_tool``: for each size the setting of every tool that is for it.
    """

    name: str
    share: float
    settings: tuple[Setting, ...]
    by_tool: tuple[tuple[Setting, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class OrderList:
    """The list a fitter prints. Steps are the same in every pass; ``size_of`` tells the size of each step's bolts."""

    joint: str
    title: str
    about: tuple[str, ...]  # what the joint is, where it is seen from
    steps: tuple[tuple[int, ...], ...]
    size_of: tuple[int, ...]
    sizes: tuple[str, ...]
    passes: tuple[ListedPass, ...]
    cautions: tuple[str, ...]
    max_rounds: int | None

    def only(self, name: str) -> OrderList:
        """One pass of it; PlanError names those there are."""
        kept = tuple(one for one in self.passes if one.name == name.strip())
        if not kept:
            names = ", ".join(f'"{one.name}"' for one in self.passes)
            raise PlanError(f'no pass "{name}" in joint "{self.joint}"; there are: {names}')
        return replace(self, passes=kept)

    def as_json(self) -> dict[str, Any]:
        """Plain data: SI numbers, absent where not known."""
        return {
            "joint": self.joint,
            "title": self.title,
            "passes": [
                {
                    "name": one.name,
                    "share": one.share,
                    "steps": [
                        {"step": number, "bolts": list(step), **one.settings[size].as_json(), **_tools_json(one, size)}
                        for number, (step, size) in enumerate(zip(self.steps, self.size_of, strict=True), 1)
                    ],
                }
                for one in self.passes
            ],
        }


def order_list(joint: Joint, result: ItemResult) -> OrderList:
    """The list of a joint as assessed; without passes where its order is not known."""
    steps = tuple(tuple(int(bolt) for bolt in step) for step in result.results.get("order_steps", ()))
    own = {bolt: number for number, size in enumerate(result.sizes, 1) for bolt in size.bolts}
    how = joint.tightening
    return OrderList(
        joint.id,
        joint.title,
        _about(joint),
        steps,
        tuple(own.get(step[0], 0) for step in steps),
        _sizes(joint, result),
        _passes(joint, result.settings) if steps and result.settings is not None else (),
        tuple(caution.text for caution in result.cautions),
        how.max_rounds if how is not None and passes_of(how).rounds > 0 else None,
    )


def _passes(joint: Joint, settings: JointSettings) -> tuple[ListedPass, ...]:
    planned = passes_of(joint.tightening)
    named = [("snug", planned.snug, False)] if planned.snug > 0 else []
    named += [(str(number), share, False) for number, share in enumerate(planned.shares, 1)]
    named += [(f"round {number}", 1.0, True) for number in range(1, planned.rounds + 1)]
    sizes = range(len(settings.sizes))
    return tuple(
        ListedPass(
            name,
            share,
            tuple(settings.of_size(size, share, finish=finish) for size in sizes),
            tuple(tuple(settings.by_tool(size, share)) for size in sizes),
        )
        for name, share, finish in named
    )


def _tools_json(one: ListedPass, size: int) -> dict[str, Any]:
    """Each tool's own set value, where there is more than one tool."""
    tools = one.by_tool[size]
    return {} if len(tools) < 2 else {"tools": {each.tool: each.as_json() for each in tools}}


def numbered(layout: Layout | None) -> str:
    """Which way the numbers run."""
    if layout is not None and layout.shape == "split-line":
        return "numbered along side a, then side b"
    if layout is not None and layout.shape == "points":
        return "numbered as listed"
    return f"numbered {(layout.numbering if layout is not None else None) or 'clockwise'}"


def _about(joint: Joint) -> tuple[str, ...]:
    layout, said = joint.layout, []
    if layout is not None and layout.count is not None:
        said.append(f"{layout.count} bolts, {numbered(layout)}")
    if layout is not None and layout.seen_from:
        said.append(f"seen from {layout.seen_from}")
    how = joint.tightening
    if how is not None:
        tools = ", ".join(tool.name for tool in how.tool if tool.name)
        said.append(how.method + (f": {tools}" if tools else ""))
    if joint.friction is not None and joint.friction.lubricant:
        said.append(f"lubricant: {joint.friction.lubricant}")
    return tuple(said)


def _sizes(joint: Joint, result: ItemResult) -> tuple[str, ...]:
    main = joint.bolting.thread if joint.bolting is not None and joint.bolting.thread else "main size"
    by_bolts = {size.bolts: size.bolting.thread for size in joint.size}
    return (main, *(by_bolts.get(size.bolts) or main for size in result.sizes))

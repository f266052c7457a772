"""The order in which a joint's bolts are pulled: from the plan's words to steps."""

from __future__ import annotations

from collections.abc import Sequence

from splitline.assess.context import Context
from splitline.assess.joint_sheet import PRACTICE, SHEET, Sized, method_of
from splitline.assess.made_up import MadeUp
from splitline.assess.sheet import Absent, Assumed, Each, Rule
from splitline.assess.speak import said
from splitline.errors import InputError
from splitline.plan.model.joint import Joint, Layout
from splitline.plan.model.tightening import Tightening
from splitline.tightening.order import (
    Step,
    chunked,
    circle_steps,
    coverage_steps,
    first_before,
    flat,
    line_steps,
    listed_steps,
    parted,
)

TITLE = "tightening order"
COVERAGE = 0.5


SHEET.given("layout", "joint.layout")


@SHEET.result()
def together(joint: Joint, bolt_count: int) -> int | None:
    """Studs tensioned at once; None where the joint is not tensioned group by group."""
    how = joint.tightening
    if how is None or how.method != "hydraulic tensioner" or (how.coverage is None and how.tools_together is not None):
        return None
    share = COVERAGE if how.coverage is None else how.coverage
    return max(1, int(share * bolt_count + 1e-9))


def _alone(joint: Joint) -> bool:
    """A single bolt asked about has no order to miss."""
    return joint.layout is None and joint.load is not None and joint.load.holds_pressure is False


def _ordered(joint: Joint) -> bool:
    return not _alone(joint)


@SHEET.result(each={"sizes": Each("size")}, when=_ordered)
def steps(
    joint: Joint, layout: Layout, sizes: tuple[Sized, ...], context: Context, bolt_count: int = 0, together: int = 0
) -> tuple[Step, ...]:
    """Steps of one pass: first bolts before the others, no two sizes on one pump."""
    if not bolt_count:
        raise Absent({"circle": "layout.bolts", "split-line": "layout.side_a"}.get(layout.shape, "layout.points"))
    try:
        return arranged(_plain_steps(joint.tightening, layout, bolt_count, together), sizes)
    except InputError as error:
        raise Absent("tightening.order", why=said(error, context.system)) from error


@SHEET.check("order", TITLE)
def order_known(steps: tuple[Step, ...]) -> None:
    """Only says what is missing."""


def _plain_steps(how: Tightening | None, layout: Layout, count: int, together: int) -> tuple[Step, ...]:
    """Steps before sizes and first bolts are set apart. InputError for an order that does not fit."""
    word = order_word(how, layout)
    if together and word != "listed":
        return coverage_steps(count, together / count)
    tools = how.tools_together if how is not None and how.tools_together is not None else 1
    if word == "listed" and how is not None:
        listed = flat(listed_steps(how.listed or (), count))
        return chunked(listed, together or tools)
    return steps_of(word, layout, count, tools)


def arranged(steps: tuple[Step, ...], sizes: Sequence[Sized | MadeUp]) -> tuple[Step, ...]:
    """The steps with first bolts (body-bound, dowel, corner) before the others and no two sizes on one pump."""
    numbers = {bolt: number for number, size in enumerate(sizes[1:], 1) for bolt in size.bolts}
    first = {bolt for size in sizes[1:] if size.first for bolt in size.bolts}
    return parted(first_before(steps, first), numbers)


SHEET.tell("order_steps", "steps", "count", "Pulls of one pass, tools together", source=PRACTICE, shape="table")


@SHEET.result(kind="count", title="Order of one pass", formula="bolt after bolt", source=PRACTICE, shape="list")
def order(steps: tuple[Step, ...]) -> list[int]:
    return list(flat(steps))


@SHEET.result()
def at_once(steps: tuple[Step, ...]) -> float:
    return float(max(len(step) for step in steps))


@SHEET.result(kind="count", title="Groups pulled one after another", symbol="groups", formula="steps of one pass",
              source="the order within a pass", puts={"studs at once": ("at_once", "count")})  # fmt: skip
def tensioner_groups(joint: Joint, steps: tuple[Step, ...]) -> int | None:
    return len(steps) if method_of(joint) == "hydraulic tensioner" else None


# what is taken where the plan does not say


@SHEET.note(when=_ordered, after=("bolt_count",))
def usual_order(joint: Joint, layout: Layout) -> Assumed | None:
    how = joint.tightening
    if how is not None and (how.order is not None or how.listed is not None):
        return None
    word = order_word(how, layout)
    return Assumed(word, "tightening.order", PRACTICE, text=word)


@SHEET.note()
def usual_coverage(joint: Joint, together: int) -> Assumed | None:
    if joint.tightening is None or joint.tightening.coverage is not None:
        return None
    return Assumed(COVERAGE, "tightening.coverage", PRACTICE, text=f"{COVERAGE:g}")


@SHEET.note(after=("together",))
def in_groups(joint: Joint, layout: Layout, together: int, bolt_count: int) -> str | None:
    if order_word(joint.tightening, layout) == "listed":
        return None
    return f"Tensioners on {together} of {bolt_count} studs at once: the groups are the order within a pass."


@SHEET.note(when=_ordered, after=("bolt_count",))
def one_tool(joint: Joint, together: int = 0) -> Assumed | None:
    how = joint.tightening
    if together or (how is not None and how.tools_together is not None):
        return None
    return Assumed(1, "tightening.tools_together", PRACTICE, text="1")


@SHEET.check("tools_at_once", "tensioners at once", basis=PRACTICE, quiet=True)
def one_number_at_once(joint: Joint, together: int) -> Rule | None:
    """Coverage and tools together say the same thing twice: where they do not agree, nobody knows how many are brought."""
    how = joint.tightening
    if how is None or how.tools_together is None or how.tools_together == together:
        return None
    return Rule(
        "fails",
        f"coverage {how.coverage:g} is {together} studs at once, tools_together is {how.tools_together}: the order "
        "follows the coverage; leave one of them out",
    )


def steps_of(word: str, layout: Layout, count: int, tools: int) -> tuple[Step, ...]:
    """Steps of a named order on this layout. InputError for an order that does not fit it."""
    if layout.shape == "circle":
        return circle_steps(word, count, tools)
    if layout.shape == "split-line":
        side_a = layout.side_a or ()
        return line_steps(word, side_a, side_a if layout.side_b is None else layout.side_b, tools)
    from splitline.tightening.order import points_steps

    return points_steps(word, layout.points or (), tools)


def order_word(how: Tightening | None, layout: Layout) -> str:
    """The order's name: as given, listed where a list is given, else cross on a circle, centre-out on a split line."""
    if how is not None and how.order is not None:
        return how.order
    if how is not None and how.listed is not None:
        return "listed"
    return "centre-out" if layout.shape == "split-line" else "cross"

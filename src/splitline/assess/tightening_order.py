"""The order in which a joint's bolts are pulled: from the plan's words to steps."""

from __future__ import annotations

from splitline.assess.bench import Bench
from splitline.assess.made_up import JointMadeUp
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

PRACTICE = "common practice, no published source"
TITLE = "tightening order"
COVERAGE = 0.5


def put_order(bench: Bench, joint: Joint, made_up: JointMadeUp) -> tuple[Step, ...]:
    """Steps of one pass, put on the bench as ``order`` and ``order_steps``; empty (and said) where they cannot be told."""
    layout, count = joint.layout, made_up.count
    if layout is None or count is None:
        alone = layout is None and joint.load is not None and joint.load.holds_pressure is False
        if not alone:  # a single bolt asked about has no order to miss
            needs = ("layout",) if layout is None else _places(layout)
            bench.missing("order", TITLE, needs, note="needs " + ", ".join(needs))
        return ()
    try:
        steps = order_steps(bench, joint, layout, count)
    except InputError as error:
        bench.missing("order", TITLE, ("tightening.order",), note=bench.said(error))
        return ()
    steps = arranged(steps, made_up)
    bench.put("order", list(flat(steps)))
    bench.put("order_steps", [list(step) for step in steps])
    return steps


def arranged(steps: tuple[Step, ...], made_up: JointMadeUp) -> tuple[Step, ...]:
    """The steps with first bolts (body-bound, dowel, corner) before the others and no two sizes on one pump."""
    sizes = {bolt: number for number, size in enumerate(made_up.sizes[1:], 1) for bolt in size.bolts}
    first = {bolt for size in made_up.sizes[1:] if size.first for bolt in size.bolts}
    return parted(first_before(steps, first), sizes)


def order_steps(bench: Bench, joint: Joint, layout: Layout, count: int) -> tuple[Step, ...]:
    """Steps before sizes and first bolts are set apart; says every default. InputError for an order that does not fit."""
    how = joint.tightening
    word = order_word(how, layout)
    if how is None or (how.order is None and how.listed is None):
        bench.default("tightening.order", word, PRACTICE)
    together = _coverage(how, count)
    _check_together(bench, how, together)
    if together is not None and how is not None and how.coverage is None:
        bench.default("tightening.coverage", f"{COVERAGE:g}", PRACTICE)
    if together is not None and word != "listed":
        bench.note(f"Tensioners on {together} of {count} studs at once: the groups are the order within a pass.")
        return coverage_steps(count, together / count)
    tools = how.tools_together if how is not None and how.tools_together is not None else 1
    if (how is None or how.tools_together is None) and together is None:
        bench.default("tightening.tools_together", "1", PRACTICE)
    if word == "listed" and how is not None:
        listed = flat(listed_steps(how.listed or (), count))
        return chunked(listed, together if together is not None else tools)
    return steps_of(word, layout, count, tools)


def steps_of(word: str, layout: Layout, count: int, tools: int) -> tuple[Step, ...]:
    """Steps of a named order on this layout. InputError for an order that does not fit it."""
    if layout.shape == "circle":
        return circle_steps(word, count, tools)
    if layout.shape == "split-line":
        side_a = layout.side_a or ()
        return line_steps(word, side_a, side_a if layout.side_b is None else layout.side_b, tools)
    from splitline.tightening.points import points_steps

    return points_steps(word, layout.points or (), tools)


def order_word(how: Tightening | None, layout: Layout) -> str:
    """The order's name: as given, listed where a list is given, else cross on a circle, centre-out on a split line."""
    if how is not None and how.order is not None:
        return how.order
    if how is not None and how.listed is not None:
        return "listed"
    return "centre-out" if layout.shape == "split-line" else "cross"


def _coverage(how: Tightening | None, count: int) -> int | None:
    """Studs tensioned at once; None where the joint is not tensioned group by group."""
    if how is None or how.method != "hydraulic tensioner":
        return None
    if how.coverage is None and how.tools_together is not None:
        return None
    share = COVERAGE if how.coverage is None else how.coverage
    return max(1, int(share * count + 1e-9))


def _check_together(bench: Bench, how: Tightening | None, at_once: int | None) -> None:
    """Coverage and tools together say the same thing twice: where they do not agree, nobody knows how many are brought."""
    if how is None or at_once is None or how.tools_together is None or how.tools_together == at_once:
        return
    note = (
        f"coverage {how.coverage:g} is {at_once} studs at once, tools_together is {how.tools_together}: the order "
        "follows the coverage; leave one of them out"
    )
    bench.fails("tools_at_once", "tensioners at once", PRACTICE, note)


def _places(layout: Layout) -> tuple[str, ...]:
    return {"circle": ("layout.bolts",), "split-line": ("layout.side_a",)}.get(layout.shape, ("layout.points",))

"""Ways of tightening one joint side by side: what each leaves and what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from splitline.ui.draw.rows import Row, clean, fit, right, wrap
from splitline.units import System, show


class Compared(Protocol):
    """One way; ``lowest`` as a share of the target, ``low`` in N, time in minutes."""

    @property
    def name(self) -> str: ...
    @property
    def spread(self) -> float: ...
    @property
    def lowest(self) -> float: ...
    @property
    def low(self) -> float: ...
    @property
    def chance_below_need(self) -> float: ...
    @property
    def chance_over_limit(self) -> float: ...
    @property
    def minutes(self) -> float: ...


_HEADS = ("interaction", "lowest bolt", "1st percentile", "chance under", "chance over", "minutes")


def ways_table(ways: Sequence[Compared], width: int, height: int, system: System) -> list[Row]:
    """Rows of the table, the planned way first and marked; bars show the spread."""
    if not ways:
        return [((" Nothing to compare: the prediction needs target, stiffness and layout.", "dim"),)]
    column = 13
    label = max(min(width - column * len(_HEADS) - 1, 26), 12)
    bar = max(width - label - column * len(_HEADS) - 2, 0)
    head = ((fit(" way", label), "head"), *((right(h, column), "head") for h in _HEADS))
    rows: list[Row] = [(), head, (("─" * width, "rule"),)]
    most = max(w.spread for w in ways) or 1.0
    for number, way in enumerate(ways):
        style = "strong" if number == 0 else ""
        figures = (
            f"{100 * way.spread:.1f} %",
            f"{100 * way.lowest:.0f} %",
            show(way.low, "force", system),
            chance_said(way.chance_below_need),
            chance_said(way.chance_over_limit),
            f"{way.minutes:.0f} min",
        )
        mark = "▸" if number == 0 else " "
        row = (
            (f"{mark}{fit(clean(way.name), label - 1)}", style),
            *((right(f, column), style or "number") for f in figures),
        )
        tail = (("  ", ""), ("█" * max(round(way.spread / most * (bar - 2)), 1), "near")) if bar > 6 else ()
        rows.append((*row, *tail))
    said = (
        "interaction: (greatest - least)/mean left by the bolts' pull on each other; tool and friction scatter comes on top.",
        "1st percentile: with that scatter the lowest bolt ends below this once in a hundred jobs.",
        "A check round costs time and takes out most of the interaction; the prediction is advice until fitted to readings.",
    )
    rows += [(), *(((f" {line}", "dim"),) for note in said for line in wrap(note, max(width - 2, 10), 4))]
    return rows[:height]


def chance_said(share: float) -> str:
    if share <= 0:
        return "0 %"
    if share < 1e-4:
        return "< 0.01 %"
    return f"{100 * share:.2g} %" if share < 0.095 else f"{100 * share:.0f} %"

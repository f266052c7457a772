"""The preload of every stud with its doubt: a bar from the 5th to the 95th percentile against need and yield."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from splitline.ui.draw.rows import Row, Seg, fit, right


@dataclass(frozen=True)
class Band:
    """One stud: share of the scale's values in N; ``style`` of its mark by what it may be; ``told`` stands behind the bar."""

    stud: int
    low: float
    load: float
    high: float
    style: str
    told: str
    read: bool = False


def stud_bands(
    bands: Sequence[Band], need: float | None, limit: float | None, legend: str, width: int, height: int
) -> list[Row]:
    """As many columns of bars as the height asks for; where even these do not hold all, the studs most in doubt come first.

    ``legend``: what the signs are, under the bars.
    """
    if not bands or height < 3 or width < 24:
        return []
    rows = height - 2
    columns = max(1, min(-(-len(bands) // rows), width // 34))
    room = width // columns
    shown = list(bands)
    left_out = len(bands) - rows * columns
    if left_out > 0:
        worst = sorted(shown, key=lambda band: band.low)[: rows * columns]
        shown = [band for band in shown if band in worst]
    top = max([each.high for each in bands] + ([limit] if limit is not None else [])) or 1.0
    low = min([each.low for each in bands] + ([need] if need is not None else []))
    base = max(low - 0.15 * (top - low), 0.0)
    told = max(len(each.told) for each in bands)
    cells = max(room - 6 - told - 3, 8)
    each = -(-len(shown) // columns)
    lines: list[Row] = []
    for at in range(each):
        row: list[Seg] = []
        for column in range(columns):
            place = column * each + at
            if place < len(shown):
                row += _line(shown[place], base, top, need, limit, cells, told)
        lines.append(tuple(row))
    said: list[Seg] = [(fit(f"     {legend}", width), "dim")]
    if left_out > 0:
        said = [(fit(f"     {left_out} studs in less doubt are not drawn   {legend}", width), "near")]
    return [*lines, tuple(said)]


def _line(
    band: Band, base: float, top: float, need: float | None, limit: float | None, cells: int, told: int
) -> list[Seg]:
    def at(value: float) -> int:
        return min(max(round((value - base) / (top - base) * (cells - 1)), 0), cells - 1)

    signs: list[tuple[str, str]] = [(" ", "")] * cells
    for place in range(at(band.low), at(band.high) + 1):
        signs[place] = ("─", band.style)
    for value, style in ((need, "need"), (limit, "limit")):
        if value is not None:
            signs[at(value)] = ("│", style)
    signs[at(band.load)] = ("◆" if band.read else "●", band.style)
    out: list[Seg] = [(f" {right(str(band.stud), 3)} ", "strong" if band.read else "")]
    for sign, style in signs:
        if len(out) > 1 and out[-1][1] == style:
            out[-1] = (out[-1][0] + sign, style)
        else:
            out.append((sign, style))
    out.append((f" {fit(band.told, told)}  ", band.style))
    return out

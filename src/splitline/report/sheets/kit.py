"""The kit list as a sheet, with a box to tick for each line."""

from __future__ import annotations

from splitline.report.blocks import MISSING, Align, Blank, Block, Cell, Sheet, Strong, Table
from splitline.report.kit import SPARE_BASIS, Kit
from splitline.report.kit_lines.line import Line
from splitline.report.sheets import common
from splitline.report.sheets.common import Options


def kit_sheet(kit: Kit, options: Options) -> Sheet:
    """All sections."""
    del options
    blocks: list[Block] = [common.small(f"Spares: {SPARE_BASIS}. One joint, lift or fit is worked on at a time.")]
    blocks += [_section(kit, name) for name in kit.sections]
    return Sheet("kit", "", "Kit list", tuple(blocks), "Kit list")


def _section(kit: Kit, name: str) -> Table:
    boxes = ("In", "Out") if any(line.count_out for line in kit.of(name)) else ("In",)
    rows = [_row(line, len(boxes)) for line in kit.of(name)]
    total = kit.total(name)
    together: Cell = Strong(str(total)) if total is not None else MISSING
    last: tuple[Cell, ...] = (Strong("together"), "", "", "", together, "", "", "", *("" for _ in boxes))
    head = ("Item", "Size, range", "Needed", "Spare", "Total", "Serial, tag", "For", "Note", *boxes)
    align: tuple[Align, ...] = ("left", "left", "right", "right", "right", "left", "left", "left", "left", "left")
    widths = (2.6, 2, 0.7, 0.6, 0.6, 1.2, 2.2, 2.6, *(0.6 for _ in boxes))
    whole = (*rows, last) if kit.adds(name) else tuple(rows)
    return Table(head, whole, widths, align, name, small=True)


def _row(line: Line, boxes: int) -> tuple[Cell, ...]:
    needed: Cell = line.counted(line.needed) if line.needed is not None or line.as_needed else MISSING
    total: Cell = Strong(line.counted(line.total)) if line.total is not None or line.as_needed else MISSING
    note = "; ".join(text for text in (line.note, "count out before closing" if line.count_out else "") if text)
    size: Cell = MISSING if line.size is None else line.size
    return (
        Strong(line.what), size, needed, str(line.spare), total, ", ".join(line.serials), ", ".join(line.used_in), note,
        *(Blank() for _ in range(boxes)),
    )  # fmt: skip

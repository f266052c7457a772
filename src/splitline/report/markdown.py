"""Sheets as Markdown: every block as text, pictures as the words that say what they show."""

from __future__ import annotations

from collections.abc import Iterator

from splitline.report.blocks import (
    Beside,
    Blank,
    Block,
    Bundle,
    Cautions,
    Cell,
    Facts,
    Heading,
    Missing,
    Para,
    Picture,
    Points,
    Signs,
    Strong,
    Table,
    Together,
    text_of,
)

LINE = "\\_\\_\\_\\_"  # a place to write in
_MARKUP = "|*_`<>[]\\#"


def markdown_text(bundle: Bundle) -> str:
    """The whole print."""
    out = [f"# {plain(bundle.title)}", ""]
    if bundle.unready:
        out += [f"**{plain(bundle.unready)}**", ""]
    for text in bundle.under:
        out += [plain(text), ""]
    for sheet in bundle.sheets:
        what = f"{plain(sheet.what)}: " if sheet.what and sheet.what != sheet.title else ""
        ident = f" ({plain(sheet.item)})" if sheet.item else ""
        out += [f"## {what}{plain(sheet.title)}{ident}", ""]
        for block in sheet.blocks:
            out += _block(block)
    out += ["---", ""]
    for text in bundle.foot:
        out += [plain(text), ""]
    return "\n".join(out).rstrip() + "\n"


def plain(text: str) -> str:
    """Text of people inside Markdown: on one line, no markup."""
    flat = " ".join(text.split())
    return "".join(f"\\{char}" if char in _MARKUP else char for char in flat)


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield from (f"### {plain(block.text)}", "")
    elif isinstance(block, Para):
        yield from (f"**{plain(block.text)}**" if block.style in ("strong", "large") else plain(block.text), "")
    elif isinstance(block, Facts):
        yield from (*(f"- {plain(label)}: {_cell(value)}" for label, value in block.rows), "")
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, Cautions):
        yield from (*(f"> **▲ {plain(text)}**\n>" for text in block.texts), "")
    elif isinstance(block, Points):
        yield from (*(f"- {plain(text)}" for text in block.texts), "")
    elif isinstance(block, Signs):
        rows = tuple((what, role, Blank(), Blank()) for what, role in block.rows)
        yield from _table(Table(("To sign", "By", "Name, date, time", "Signature"), rows))
    elif isinstance(block, Picture):
        caption = f" {block.caption}" if block.caption else ""
        yield from (plain(f"Drawing (in the PDF): {block.drawing.said}.{caption}"), "")
    elif isinstance(block, Beside | Together):
        for each in (*block.left, *block.right) if isinstance(block, Beside) else block.blocks:
            yield from _block(each)


def _table(table: Table) -> Iterator[str]:
    if table.title:
        yield from (f"**{plain(table.title)}**", "")
    yield "| " + " | ".join(plain(text) or " " for text in table.head) + " |"
    yield "| " + " | ".join("---:" if _right(table, n) else "---" for n in range(len(table.head))) + " |"
    for row in table.rows:
        yield "| " + " | ".join(_cell(cell) for cell in row) + " |"
    yield ""


def _right(table: Table, column: int) -> bool:
    return column < len(table.align) and table.align[column] == "right"


def _cell(cell: Cell) -> str:
    if isinstance(cell, Missing):
        return "**missing**"
    if isinstance(cell, Blank):
        return f"{LINE} {plain(cell.unit)}".rstrip()
    text = "<br>".join(plain(part) for part in text_of(cell).split("\n"))
    return f"**{text}**" if isinstance(cell, Strong) and text else text

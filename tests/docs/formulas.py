"""The tables of docs/method.md that list every result, from the registry of results.

``python -m tests.docs.formulas`` writes them into the page between its two marks.
"""

from __future__ import annotations

from pathlib import Path

from splitline.assess.keys import OF, Key, registry
from splitline.units import KINDS

PAGE = Path(__file__).parents[2] / "docs" / "method.md"
BEGIN, END = "<!-- results -->\n", "<!-- end of results -->"
TITLES = {
    "joint": "Joint, its sizes and its load cases", "lift": "Lift", "fit": "Fit", "insertion": "Insertion",
    "clearance": "Clearance", "window": "Window", "item": "Item", "step": "Step",
}  # fmt: skip
SHAPES = {"number": "", "list": " (list)", "table": " (table)"}


def tables() -> str:
    """One table a kind of item, in the order the results are shown."""
    out: list[str] = []
    for of in OF:
        keys = registry(of)
        if keys:
            out += [f"### {TITLES[of]}", "", "| key | result | symbol | unit | formula | source |"]
            out += ["| --- | --- | --- | --- | --- | --- |", *_rows(keys), ""]
    return "\n" + "\n".join(out)


def _rows(keys: dict[str, Key]) -> list[str]:
    rows = []
    for name, key in keys.items():
        base = keys.get(name.removesuffix("_low").removesuffix("_high"))
        if base is not None and base is not key and base.formula == key.formula:
            continue  # an end of a band, listed with its middle
        ends = [end for end in ("_low", "_high") if name + end in keys and keys[name + end].formula == key.formula]
        shown = ", ".join(f"`{one}`" for one in (name, *(name + end for end in ends)))
        unit = _unit(key.kind)
        cells = (shown, key.title + SHAPES[key.shape], key.symbol, unit, key.formula, key.source)
        rows.append("| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |")
    return rows


def _unit(kind: str) -> str:
    if kind in ("number", "count", "share"):
        return ""
    return KINDS[kind].si


def page(text: str) -> str:
    """The page with its tables as the registry has them now."""
    before, rest = text.split(BEGIN, 1)
    return before + BEGIN + tables() + END + rest.split(END, 1)[1]


def main() -> None:
    PAGE.write_text(page(PAGE.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()

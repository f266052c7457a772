"""docs/verification.md from a run of the published checks.

``python -m tests.published.table`` writes the page; ``tests/docs/test_verification.py`` runs the checks again and fails
when the page no longer says what they say.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.published.reading import compared, reading
from tests.published.sources import KINDS, Evidence, evidence

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
PAGE = ROOT / "docs" / "verification.md"
MANY = 24  # more values than this in one check are shown by their worst
GROUPS = {
    "thread": "Threads", "strip": "Threads", "vdi": "Torque and preload", "torque": "Torque and preload",
    "stretch": "Torque and preload", "stiffness": "Stiffness and joint diagram", "gasket": "Gaskets",
    "beam": "Tightening", "elastic": "Tightening", "tightening": "Tightening", "lifting": "Lifting",
    "fit": "Fits, insertion, clearances", "joint": "Typed in a plan, read, assessed",
    "library": "Library tables", "unit": "Units",
}  # fmt: skip

TOP = """# Verification

Every value from outside that the tests hold the program against, with what the program gives. The page is made by
running the tests (`python -m tests.published.table`); a test fails when it no longer says what a run says.
"""
PROVES = {
    "print": "agrees with somebody else's number",
    "memory": "agrees with a standard or book as remembered: look it up before relying on it",
    "practice": "agrees with a customary figure that has no author",
    "worked": "agrees with a second way of working it out (by hand, closed form, finite elements, energy minimisation) from"
    " the rule named: the arithmetic holds, the rule itself is not proved by it",
}
MIDDLE = """Many of the values are rows of shipped tables beside a published copy: they prove the copying, not a formula. The
tolerance is set by the source: three printed figures cannot be met closer than they are printed. Values are in the
unit shown; where none is shown they are plain numbers or in the unit of the source. `×10^6` and the like stand for the
factor to SI. A check that compares very many values is shown by its worst one. What the sources differ in, and which
side was taken, is in [method](method.md)."""


@dataclass(frozen=True, slots=True)
class Row:
    group: str
    title: str
    what: str
    case: str
    source: str
    work: str
    kind: str
    published: float
    ours: float
    tolerance: float
    unit: str
    values: int
    fits: bool

    @property
    def difference(self) -> float:
        return self.ours - self.published

    @property
    def usage(self) -> float:
        """Difference over tolerance."""
        return abs(self.difference) / self.tolerance if self.tolerance else float(self.difference != 0.0)


def run() -> list[dict[str, Any]]:
    """Run the published checks in a fresh process; what they compared, in order."""
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "kept.json"
        command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", str(HERE)]
        subprocess.run(
            command, cwd=ROOT, env={**os.environ, "SPLITLINE_VERIFICATION": str(kept)}, capture_output=True, check=False
        )
        return list(json.loads(kept.read_text("utf-8")))


def rows_of(ran: list[dict[str, Any]]) -> list[Row]:
    """One row a compared value (the worst where a check compares very many), in the order of the files."""
    found: list[Row] = []
    before: Evidence | None = None
    last = ""
    for one in sorted(ran, key=lambda entry: entry["file"]):
        source = reading(HERE / one["file"])
        words = source.source(one["test"], one["case"])
        if one["file"] != last:
            before, last = None, one["file"]
        before = said = evidence(one["test"], words, source.about, before)
        rows = [_row(one, seen, said) for seen in one["rows"]]
        if len(rows) > MANY:
            worst = max(rows, key=lambda row: row.usage)
            rows = [_with(worst, len(rows), all(row.fits for row in rows))]
        found += rows or [_whole(one, said)]
    return found


def _row(one: dict[str, Any], seen: dict[str, Any], said: Evidence) -> Row:
    factor, place = seen["factor"] or 1.0, seen["place"]
    sides = compared(HERE / seen["file"], seen["line"])
    what = sides.what(place) if sides else "value"
    unit = sides.unit(place) if sides else ""
    published, ours, tolerance = (seen[key] / factor for key in ("published", "ours", "tolerance"))
    case = _case(one["params"], [other["published"] / (other["factor"] or 1.0) for other in one["rows"]])
    if seen["of"] > 1:
        case += f"{' · ' if case else ''}{place + 1} of {seen['of']}"
    source = reading(HERE / one["file"])
    fits = abs(ours - published) <= tolerance * (1 + 1e-12)
    return Row(
        _group(one["file"]), source.title, what, case, said.words, said.work, said.kind, published, ours,
        tolerance, unit, 1, fits,
    )  # fmt: skip


def _whole(one: dict[str, Any], said: Evidence) -> Row:
    """A check that compares an order, a band or words as a whole."""
    title = one["test"].removeprefix("test_").replace("_", " ")
    source = reading(HERE / one["file"])
    return Row(
        _group(one["file"]), source.title, title, _case(one["params"], []), said.words, said.work, said.kind,
        0.0, 0.0, 0.0, "",
        0, one["passed"],
    )  # fmt: skip


def _with(row: Row, values: int, fits: bool) -> Row:
    return Row(
        row.group, row.title, row.what, f"worst of {values}", row.source, row.work, row.kind, row.published, row.ours,
        row.tolerance, row.unit, values, fits,
    )  # fmt: skip


def _group(file: str) -> str:
    stem = file.removeprefix("test_")
    return next((group for start, group in GROUPS.items() if stem.startswith(start)), "Further checks")


def _case(params: dict[str, Any], published: list[float]) -> str:
    """The parameters of the check, without those that are the published values themselves."""
    said = []
    for name, value in params.items():
        if isinstance(value, str):
            said.append(value)
        elif name != "tolerance" and not any(abs(value - one) <= 1e-9 * abs(one) for one in published):
            said.append(f"{name.replace('_', ' ')} {value:g}")
    text = ", ".join(said)
    return text if len(text) <= 60 else text[:59].rsplit(", ", 1)[0] + " ..."


def number(value: float) -> str:
    return f"{value:.5g}".replace("e-0", "e-").replace("e+0", "e+") if value else "0"


def share(row: Row, value: float) -> str:
    """A difference or tolerance in percent of the published value; in its own unit where that is zero."""
    if row.published == 0.0:
        return number(float(f"{value:.1g}")) if abs(value) > 1e-15 else "0"
    percent = 100.0 * value / abs(row.published)
    if abs(percent) < 5e-4:
        return "0 %" if value == 0 or abs(percent) < 1e-9 else "<0.001 %"
    return f"{percent:.3f} %" if abs(percent) < 0.1 else f"{percent:.2f} %"


def safe(text: str) -> str:
    return text.replace("|", "\\|")


def page(rows: list[Row]) -> str:
    valued = [row for row in rows if row.values]
    whole = [row for row in rows if not row.values]
    out = [_head(rows), ""]
    for group in dict.fromkeys([*GROUPS.values(), "Further checks"]):
        here = [row for row in valued if row.group == group]
        if not here:
            continue
        out += [f"## {group}", ""]
        for title in dict.fromkeys(row.title for row in here):
            out += [f"### {title}", "", *_table([row for row in here if row.title == title]), ""]
    out += ["## Compared as a whole", "", "Orders, bands and words, without a single number beside another.", ""]
    out += ["| what | source | kind | fits |", "| --- | --- | --- | --- |"]
    for row in whole:
        case = f" ({row.case})" if row.case else ""
        out.append(
            f"| {safe(row.what)}{safe(case)} | {safe(_short(row.source))} | {KINDS[row.kind]} | {_yes(row.fits)} |"
        )
    return "\n".join(out) + "\n"


def _head(rows: list[Row]) -> str:
    valued = [row for row in rows if row.values]
    outside = [row for row in valued if row.kind in ("print", "memory")]
    count, missed = sum(row.values for row in valued), sum(not row.fits for row in rows)
    worst = max((row for row in outside if row.published), key=lambda row: abs(row.difference / row.published))
    verdict = "all within the tolerance stated" if not missed else f"{missed} NOT within the tolerance stated"
    by_kind = {kind: sum(row.values for row in valued if row.kind == kind) for kind in KINDS}
    lines = [
        TOP,
        f"**{count} values, {len({row.work for row in outside})} printed or remembered works, {verdict}.** They are not all of",
        "one weight:",
        "",
        "| kind | values | what it proves |",
        "| --- | ---: | --- |",
        *(f"| {KINDS[kind]} | {by_kind[kind]} | {PROVES[kind]} |" for kind in KINDS),
        "",
        MIDDLE,
        f"The largest difference from a printed or remembered value is {share(worst, abs(worst.difference))}, tolerance"
        f" {share(worst, worst.tolerance)} ({worst.what}, {worst.work}).",
        "",
        "| subject | values | " + " | ".join(KINDS.values()) + " | outside tolerance |",
        "| --- | ---: |" + " ---: |" * (len(KINDS) + 1),
    ]
    for group in dict.fromkeys([*GROUPS.values(), "Further checks"]):
        here = [row for row in valued if row.group == group]
        if here:
            kinds = [sum(row.values for row in here if row.kind == kind) for kind in KINDS]
            bad = sum(not row.fits for row in here)
            lines.append(f"| {group} | {sum(row.values for row in here)} | {' | '.join(map(str, kinds))} | {bad} |")
    return "\n".join([*lines, "", *_wide(valued), "", *_works(valued)])


def _wide(valued: list[Row]) -> list[str]:
    """Every tolerance above two per cent, once a source: a reader should know where the net is coarse."""
    lines = ["Tolerances wider than 2 %, each because its source rounds, reads off a curve, or differs in itself:", ""]
    lines += ["| source | tolerance | largest difference |", "| --- | ---: | ---: |"]
    coarse: dict[str, list[Row]] = {}
    for row in valued:
        if row.published and row.tolerance / abs(row.published) > 0.02:
            coarse.setdefault(row.source, []).append(row)
    for source, rows in coarse.items():
        most = max(rows, key=lambda row: abs(row.difference / row.published))
        wide = max(row.tolerance / abs(row.published) for row in rows)
        lines.append(f"| {safe(_short(source))} | {100 * wide:.2g} % | {share(most, abs(most.difference))} |")
    return lines


def _works(valued: list[Row]) -> list[str]:
    works = Counter[str]()
    for row in valued:
        if row.kind != "worked":
            works[row.work] += row.values
    lines = ["The works, with the number of values taken from each:", ""]
    return lines + [f"- {work}: {n}" for work, n in sorted(works.items(), key=lambda item: (-item[1], item[0]))]


def _short(source: str) -> str:
    return source if len(source) <= 170 else source[:167].rsplit(" ", 1)[0] + " ..."


def _yes(fits: bool) -> str:
    return "yes" if fits else "**NO**"


def _table(rows: list[Row]) -> list[str]:
    out = [
        "| what | case | source | kind | published | ours | unit | difference | tolerance | fits |",
        "| --- | --- | --- | --- | ---: | ---: | --- | ---: | ---: | --- |",
    ]
    before = ""
    for row in rows:
        source = "as above" if row.source == before else safe(_short(row.source))
        before = row.source
        out.append(
            f"| {safe(row.what)} | {safe(row.case)} | {source} | {KINDS[row.kind]} | {number(row.published)} | {number(row.ours)}"
            f" | {row.unit} | {share(row, row.difference)} | {share(row, row.tolerance)} | {_yes(row.fits)} |"
        )
    return out


def main() -> None:
    rows = rows_of(run())
    for row in rows:
        if not row.fits:
            print(f"does not fit: {row.title}: {row.what} {row.case} {row.published:g} {row.ours:g}", file=sys.stderr)
    if not all(row.fits for row in rows):
        raise SystemExit("the page is left as it was")
    PAGE.write_text(page(rows), "utf-8")


if __name__ == "__main__":
    main()

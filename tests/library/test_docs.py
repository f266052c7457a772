"""docs/library.md lists every table with its source, and its example of a site's file is one that loads."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from splitline.library.dimensions import nut
from splitline.library.fittings import angled_pull
from splitline.library.grades import grade
from splitline.library.lubricants import lubricant
from splitline.library.scatter import scatter
from splitline.library.slings import sling
from splitline.library.store import Library, shipped, tables
from splitline.library.threads import parse_designation

PAGE = (Path(__file__).parents[2] / "docs" / "library.md").read_text("utf-8")
EXAMPLES = re.findall(r"```toml\n(.*?)```", PAGE, re.S)


def test_every_table_is_listed_with_its_source() -> None:
    for name in tables():
        for part in shipped(name).parts:
            rows = len({id(row) for row in part.rows.values()})
            assert f"| `{part.file}` | {part.title} ({rows}) | {part.source} | {part.edition} |" in PAGE, part.file


def test_no_table_is_listed_that_is_not_there() -> None:
    listed = set(re.findall(r"^\| `([a-z_-]+)` \|", PAGE, re.M))
    assert listed == {part.file for name in tables() for part in shipped(name).parts}


def test_the_example_of_a_site_s_file(tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_text(EXAMPLES[0], "utf-8")
    library = Library.load(tmp_path)
    studs = grade(library, "Shaft studs, heat 20416", parse_designation("M64x4"))
    assert studs.yield_strength == pytest.approx(760e6)
    assert studs.yield_at(373.15) == pytest.approx(0.95 * 760e6)
    assert lubricant(library, "MoS2 paste").source == "friction test on the joint, sheet 12"
    assert nut(library, parse_designation("M64x4"), "sleeve").across_flats == pytest.approx(0.085)
    assert scatter(library, "hydraulic wrench").value == 0.18
    assert sling(library, "our four-leg set").capacity == pytest.approx(11.2 * 9806.65)
    card = angled_pull(library, "eyebolt, shouldered")
    assert card is not None
    assert card.share(15 * 3.141592653589793 / 180) == pytest.approx(0.55)


def test_numbers_said_on_the_page_are_those_of_the_tables() -> None:
    library = Library.load()
    assert "720 MPa; to 2 1/2 in: 105 ksi" in PAGE
    assert grade(library, "B7", parse_designation("M64x4")).yield_strength == 720e6
    assert "0.25 % for IWRC rope" in PAGE
    assert sling(library, "wire rope 20 mm").elongation == 0.0025
    assert "dry 35 %, lubricated 25 %" in PAGE
    assert (scatter(library, "torque wrench", dry=True).value, scatter(library, "torque wrench").value) == (0.35, 0.25)

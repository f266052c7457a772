"""docs/verification.md says what a run of the published checks says."""

from __future__ import annotations

import re

import pytest

from tests.published.recorder import Watch
from tests.published.sources import evidence
from tests.published.table import PAGE, Row, page, rows_of, run

NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")
AGAIN = "run: python -m tests.published.table"


@pytest.fixture(scope="module")
def rows() -> list[Row]:
    return rows_of(run())


def test_the_page_is_in_step(rows: list[Row]) -> None:
    """Words equal, numbers equal within the rounding of the last figure shown (platforms may round it the other way)."""
    kept, made = PAGE.read_text("utf-8").splitlines(), page(rows).splitlines()
    assert len(kept) == len(made), AGAIN
    for old, new in zip(kept, made, strict=True):
        assert NUMBER.sub("#", old) == NUMBER.sub("#", new), AGAIN
        for one, other in zip(NUMBER.findall(old), NUMBER.findall(new), strict=True):
            assert float(one) == pytest.approx(float(other), rel=1.1e-4, abs=0.0101), f"{new}\n{AGAIN}"


def test_every_check_fits_and_names_what_it_stands_on(rows: list[Row]) -> None:
    assert len(rows) > 500
    for row in rows:
        assert row.fits, row
        assert row.work, f"nothing says what this stands on: {row}"


def test_a_difference_is_seen() -> None:
    watch = Watch()
    real = pytest.approx
    with watch.during("test_a_difference_is_seen", 0):
        assert pytest.approx is not real
        assert pytest.approx(1.0, rel=0.01) != 1.02
        assert pytest.approx([2.0, 3.0003], rel=1e-3) == [2.0, 3.0]
    assert pytest.approx is real
    assert [(row.published, row.ours) for row in watch.rows] == [(1.0, 1.02), (2.0, 2.0), (3.0003, 3.0)]
    assert watch.rows[0].tolerance == pytest.approx(0.01)


def test_kinds_of_evidence() -> None:
    assert evidence("t", "Moss, Pressure Vessel Design Manual, p. 61", "", None).kind == "print"
    remembered = evidence("t", "ISO 965-2 (limits of 6g), from memory", "", None)
    assert remembered.kind == "memory"
    assert evidence("t", "the same, table 3", "", remembered) == type(remembered)(
        "the same, table 3", "ISO 965", "memory"
    )
    assert evidence("t", "geometry, bore 0.2 mm", "", None).kind == "worked"
    assert evidence("t", "Prob. 3-65", "Press fits of Budynas & Nisbett, Shigley's book", None).work.startswith(
        "Budynas"
    )

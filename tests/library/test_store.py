"""Finding rows: spellings, nearest names, site rows over shipped ones, version, speed of a first look."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from splitline.errors import LibraryError
from splitline.library.store import Library, shipped, tables

LIBRARY = Library.load()
SITE = """
[[grades]]
name = "Site stud steel"
source = "mill certificate 4711"
up_to = ["70 mm", "4 in"]
tensile_strength = ["900 MPa", "120 ksi"]
yield_strength = ["750 MPa", "700 MPa"]

[[lubricants]]
name = "Molybdenum disulfide paste"
source = "test on the joint, sheet 12"
thread_low = 0.09
thread = 0.1
thread_high = 0.11
bearing_low = 0.07
bearing = 0.08
bearing_high = 0.09
"""


@pytest.mark.parametrize("said", ["ASTM A193 B7", "astm a193 b7", "ASTM  A193B7", " A193-B7", "b7"])
def test_case_spaces_and_aliases_do_not_matter(said: str) -> None:
    assert LIBRARY.find("grades", said).name == "ASTM A193 B7"


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("ASTM A193 Grade B7", "ASTM A193 B7"),
        ("ASTM A193/A193M B7", "ASTM A193 B7"),
        ("A193M Gr. B7", "ASTM A193 B7"),
        ("A193 B8 Cl.2", "ASTM A193 B8 class 2"),
        ("ASTM A193 B8 Class 1", "ASTM A193 B8 class 1"),
        ("ASTM A540 grade B24 cl 3", "ASTM A540 B24 class 3"),
        ("SAE J429 Gr 5", "SAE J429 grade 5"),
        ("Property Class 10.9", "ISO 898-1 10.9"),
        ("ISO 3506 A4-80", "ISO 3506-1 A4-80"),
    ],
)
def test_grades_as_they_stand_on_drawings(said: str, name: str) -> None:
    assert LIBRARY.find("grades", said).name == name


@pytest.mark.parametrize(
    ("table", "said", "near"),
    [
        ("grades", "ASTM A193 B77", "ASTM A193 B7"),
        ("grades", "8.9", "ISO 898-1 8.8"),
        ("lubricants", "moly", "molybdenum disulfide paste"),
        ("slings", "chain 16 mm", "alloy chain grade 80 16 mm"),
        ("tapped", "WCC", "ASTM A216 WCB"),
    ],
)
def test_an_unknown_name_gets_the_nearest(table: str, said: str, near: str) -> None:
    with pytest.raises(LibraryError, match="nearest") as caught:
        LIBRARY.find(table, said)
    assert f'"{said}" is not in the library table "{table}"' in str(caught.value)
    assert f'"{near}"' in str(caught.value)


def test_a_name_like_no_other_lists_some() -> None:
    with pytest.raises(LibraryError, match="it holds, among others"):
        LIBRARY.find("grades", "qqq")


def test_an_unknown_table() -> None:
    with pytest.raises(LibraryError, match='no library table is called "tables"'):
        LIBRARY.rows("tables")


def test_the_tables_a_plan_picks_from_are_there() -> None:
    assert {"grades", "lubricants", "slings", "fittings", "gaskets", "materials", "threads"} <= set(tables())
    assert LIBRARY.names("tapped") == LIBRARY.names("materials")


def test_site_rows_add_and_override(tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_text(SITE, "utf-8")
    library = Library.load(tmp_path)
    steel = library.find("grades", "site STUD steel")
    assert steel["yield_strength"] == pytest.approx((750e6, 700e6))
    assert steel["up_to"] == pytest.approx((0.07, 0.1016))
    assert steel.source == "mill certificate 4711"
    assert steel.site
    paste = library.find("lubricants", "molybdenum disulfide paste")
    assert (paste["thread"], paste.source) == (0.1, "test on the joint, sheet 12")
    # The shipped row is hidden everywhere, by its aliases too.
    assert library.find("lubricants", "MoS2 paste") is paste
    assert sum("disulfide paste" in name.lower() for name in library.names("lubricants")) == 1
    assert len(library.rows("lubricants")) == len(LIBRARY.rows("lubricants"))
    assert len(library.rows("grades")) == len(LIBRARY.rows("grades")) + 1


def test_the_version_tells_libraries_apart(tmp_path: Path) -> None:
    assert Library.load(tmp_path).version == LIBRARY.version
    (tmp_path / "library.toml").write_text(SITE, "utf-8")
    with_site = Library.load(tmp_path).version
    assert with_site != LIBRARY.version
    (tmp_path / "library.toml").write_text(SITE + "\n# another word\n", "utf-8")
    assert Library.load(tmp_path).version != with_site


def test_rows_and_tables_cannot_be_changed() -> None:
    row = LIBRARY.find("grades", "B7")
    with pytest.raises(AttributeError):
        row.source = "else"  # type: ignore[misc]
    assert shipped("grades") is shipped("grades")


def test_a_lookup_does_not_load_the_unit_registry_or_arrays() -> None:
    """The start of the screens pays for neither pint nor numpy when a grade is looked up."""
    code = (
        "import sys\n"
        "from splitline.library.store import Library\n"
        "from splitline.library.grades import grade\n"
        "from splitline.library.threads import parse_designation\n"
        "grade(Library.load(), 'ASTM A193 B7', parse_designation('M48x3'))\n"
        "print(*(m for m in ('pint', 'numpy', 'pydantic', 'rich') if m in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""

"""A site's library.toml: every mistake in it reported together, each with its line and place."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from splitline.errors import LibraryError
from splitline.library.grades import grade
from splitline.library.site import read_site
from splitline.library.store import CLOSED, Library, plain, shipped, tables
from splitline.library.threads import parse_designation

GOOD = 'source = "certificate 1"'


def mistakes(folder: Path, text: str) -> list[str]:
    path = folder / "library.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(LibraryError) as caught:
        Library.load(folder)
    lines = str(caught.value).splitlines()
    assert all(line.startswith(f"{path}:") for line in lines)
    return [line.removeprefix(f"{path}:") for line in lines]


def test_all_mistakes_at_once_with_lines(tmp_path: Path) -> None:
    found = mistakes(
        tmp_path,
        """[[grade]]
name = "X"

[[grades]]
name = "Y"
up_to = ["60 mm"]
tensile_strength = ["900"]
yeild_strength = ["700 MPa"]

[[lubricants]]
source = "s"

[[slings]]
name = "Our sling"
source = "tag"
kind = "round sling"
capacity = "5 ton"
elongation = 0.02
choker = 0.8
""",
    )
    assert found[0].startswith('1: grade › no such table, did you mean "grades"?')
    assert any(line.startswith('4: grades › "Y" names no source') for line in found)
    assert any(line.startswith('7: grades › "Y" › tensile_strength: ') and "has no unit" in line for line in found)
    assert any(line.startswith("8: ") and 'did you mean "yield_strength"?' in line for line in found)
    assert any(line.startswith("10: lubricants › a row needs a name") for line in found)
    assert any(line.startswith("17: ") and "short ton" in line for line in found)
    assert [int(line.partition(":")[0]) for line in found] == sorted(int(line.partition(":")[0]) for line in found)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (f'[[grades]]\nname = "A"\n{GOOD}\nup_to = ["60 mm"]\nyield_strength = ["1 MPa"]', "needs tensile_strength"),
        (
            f'[[grades]]\nname = "A"\n{GOOD}\nup_to = ["60 mm", "90 mm"]\nyield_strength = ["1 MPa"]\n'
            'tensile_strength = ["2 MPa"]',
            "one value per diameter is wanted, but up_to has 2",
        ),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = "3"\ny = "10 ksi"', "a number without a unit is wanted"),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = -3\ny = "10 ksi"', "must not be below 0"),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = true\ny = "10 ksi"', "a number without a unit is wanted"),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = 3\ny = "-10 ksi"', "must be above 0"),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = 3\ny = "10 kN"', "measures a force"),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = 3\ny = 10', "no unit"),
        (f'[[gaskets]]\nname = 7\n{GOOD}\nm = 3\ny = "10 ksi"', "a row needs a name"),
        (f'[[threads]]\nname = "M7x3"\n{GOOD}', "no such table"),
        (f'[[modulus]]\nname = "A"\n{GOOD}\ntemperature = []\nmodulus = ["200 GPa"]', "a list is wanted"),
        (f'[[materials]]\nname = "A"\n{GOOD}\nmodulus = "200 GPa"\npoisson = 0.3\ndensity = "7850 kg/m^3"\n'
         'expansion = "12e-6 1/K"\nbrittle = "no"', "true or false is wanted"),
        ("gaskets = 3", "rows are written under [[gaskets]]"),
        (f'[[gaskets]]\nname = "A"\n{GOOD}\nm = 3\ny = "10 ksi"\n[[gaskets]]\nname = "a"\n{GOOD}\nm = 3\ny = "9 ksi"',
         'stands already in line 1'),
        ("[[gaskets]\n", "not a TOML file"),
    ],
)  # fmt: skip
def test_each_kind_of_mistake(tmp_path: Path, rows: str, said: str) -> None:
    path = tmp_path / "library.toml"
    path.write_text(rows, "utf-8")
    with pytest.raises(LibraryError) as caught:
        Library.load(tmp_path)
    assert said in str(caught.value)


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    (tmp_path / "library.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(LibraryError, match="not a TOML file"):
        Library.load(tmp_path)


def test_no_file_or_an_empty_one(tmp_path: Path) -> None:
    assert not Library.load(tmp_path).site
    (tmp_path / "library.toml").write_text("", "utf-8")
    assert not Library.load(tmp_path).site


CELLS = st.one_of(
    st.booleans(),
    st.integers(-5, 5),
    st.floats(allow_nan=True, allow_infinity=True, width=16),
    st.text('0123456789. MPamkN-é"', max_size=9),
    st.lists(st.sampled_from(["1 mm", "2 MPa", "-3 degC", 0.5, True]), max_size=3),
    st.dictionaries(st.sampled_from(["a", "b"]), st.integers(), max_size=1),
)
OPEN = [name for name in tables() if name not in CLOSED]


@given(st.data())
def test_any_rows_are_read_or_refused_with_a_line(data: st.DataObject) -> None:
    table = data.draw(st.sampled_from([*OPEN, "grade"]))
    keys = ["name", "source", *(shipped(table).columns if table in OPEN else ())]
    rows = data.draw(st.lists(st.dictionaries(st.sampled_from(keys), CELLS, max_size=5), min_size=1, max_size=3))
    raw = tomli_w.dumps({table: rows}).encode()
    said = ""
    try:
        found = read_site(raw, "library.toml", OPEN, lambda name: shipped(name).columns, plain)
    except LibraryError as error:
        said = str(error)
    if said:
        assert all(line.startswith("library.toml:") for line in said.splitlines())
        return
    assert len(found) == len(rows)
    assert all(row.source.strip() and row.name.strip() for row in found)


def test_a_plain_row_is_enough(tmp_path: Path) -> None:
    """One strength for every diameter, friction without a band: what a certificate or a test sheet says."""
    (tmp_path / "library.toml").write_text(
        f'[[grades]]\nname = "Ours"\nyield_strength = "500 MPa"\ntensile_strength = "700 MPa"\n{GOOD}\n'
        f'[[lubricants]]\nname = "Our paste"\nthread = 0.11\nbearing = 0.09\n{GOOD}\n',
        "utf-8",
    )
    library = Library.load(tmp_path)
    found = grade(library, "Ours", parse_designation("M90x6"))
    assert (found.yield_strength, found.tensile_strength) == (500e6, 700e6)
    row = library.find("lubricants", "Our paste")
    assert (row["thread_low"], row["thread_high"], row["bearing_high"]) == (0.11, 0.11, 0.09)

"""A site's library.toml: every mistake in it reported together, each with its line and place."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.errors import LibraryError
from splitline.library.store import Library

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
        (f'[[modulus]]\nname = "A"\n{GOOD}\ntemperature = "20 degC"\nmodulus = ["200 GPa"]', "a list is wanted"),
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

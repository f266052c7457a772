"""Every data file: sources, kinds and units, no name twice, rising where it must rise."""

from __future__ import annotations

import itertools
import tomllib

import pytest

from splitline.library.columns import FACTORS
from splitline.library.store import DATA, Library, Part, part, shipped, tables
from splitline.units import KINDS, read

FILES = sorted(path.stem for path in DATA.glob("*.toml"))
PLAIN_KINDS = {"date", "number", "share", "count", "text", "flag"}
LIBRARY = Library.load()


def raw(file: str) -> dict:  # type: ignore[type-arg]
    return tomllib.loads((DATA / f"{file}.toml").read_text("utf-8"))


@pytest.mark.parametrize("file", FILES)
def test_head_columns_and_rows(file: str) -> None:
    content = raw(file)
    assert set(content) == {"table", "columns", "row"}
    assert {"title", "source", "edition"} <= set(content["table"]) <= {"title", "source", "edition", "note"}
    assert all(content["table"].values())
    for name, spec in content["columns"].items():
        assert set(spec) <= {"kind", "unit", "steps", "needed", "what", "words"}, name
        assert spec["kind"] in PLAIN_KINDS or spec["kind"] in KINDS, name
        assert ("unit" in spec) == (spec["kind"] not in PLAIN_KINDS), f"{name}: a quantity has a unit, nothing else has"
    assert content["row"] or file == "rigging"  # of the site alone
    for row in content["row"]:
        assert row.get("source", content["table"]["source"]).strip(), row["name"]
        assert set(row) - {"name", "source"} <= set(content["columns"]), row["name"]
        for name, spec in content["columns"].items():
            assert name in row or not spec.get("needed"), f"{row['name']} lacks {name}"


@pytest.mark.parametrize("file", FILES)
def test_a_table_of_many_sources_names_one_in_each_row(file: str) -> None:
    content = raw(file)
    vague = ("named in", "see each row", "see the table")
    if any(word in content["table"]["source"] for word in vague):
        for row in content["row"]:
            assert row.get("source"), row["name"]
    for row in part(file).rows.values():
        assert not any(word in row.source for word in vague), row.name


def test_what_is_remembered_is_printed_as_remembered() -> None:
    assert LIBRARY.find("holes", "M48").source.endswith("not checked against the standard's text")
    assert LIBRARY.find("grades", "ISO 898-1 4.6").source.endswith("not checked against the standard's text")
    assert "not checked against the standard's text" not in LIBRARY.find("slings", "alloy chain grade 80 3/8 in").source


@pytest.mark.parametrize("file", FILES)
def test_cells_are_of_their_kind(file: str) -> None:
    content = raw(file)
    for row in content["row"]:
        for name, cell in row.items():
            if name in ("name", "source"):
                assert isinstance(cell, str)
                continue
            spec = content["columns"][name]
            assert isinstance(cell, list) == ("steps" in spec), f"{row['name']} › {name}"
            for value in cell if isinstance(cell, list) else [cell]:
                wanted: type | tuple[type, ...] = {"text": str, "flag": bool}.get(spec["kind"], (int, float))
                assert isinstance(value, wanted), f"{row['name']} › {name}"
                if spec["kind"] not in ("text", "flag", "temperature", "angle", "number", "stress"):
                    assert value > 0, f"{row['name']} › {name}"
                if spec["kind"] == "share":
                    assert value <= 1, f"{row['name']} › {name}"


@pytest.mark.parametrize("file", FILES)
def test_lists_go_together(file: str) -> None:
    for row in part(file).rows.values():
        lengths: dict[str, set[int]] = {}
        for name, column in part(file).columns.items():
            if column.steps and row.get(name) is not None:
                lengths.setdefault(column.steps, set()).add(len(row[name]))
        assert all(len(found) == 1 for found in lengths.values()), row.name


@pytest.mark.parametrize("table", tables())
def test_no_spelling_names_two_rows(table: str) -> None:
    content = shipped(table)  # raises when one spelling stands for two rows of a file or of two files
    names = [row.name for row in LIBRARY.rows(table)]
    assert len(names) == len(set(names))
    assert len(content.parts) >= 1


@pytest.mark.parametrize("file", FILES)
def test_cells_become_si_as_the_unit_reader_would(file: str) -> None:
    content, table = raw(file), part(file)
    for line in content["row"][:3]:
        row = next(r for r in table.rows.values() if r.name == line["name"])
        for name, cell in line.items():
            column = table.columns.get(name)
            if column is None or not column.unit:
                continue
            cells = cell if isinstance(cell, list) else [cell]
            values = row[name] if column.steps else [row[name]]
            for number, value in zip(cells, values, strict=True):
                assert value == pytest.approx(read(f"{number!r} {column.unit}", column.kind), rel=1e-12)


def test_every_factor_is_a_unit_of_the_reader() -> None:
    for unit in FACTORS:
        assert any(unit in kind.units for kind in KINDS.values()), unit


# What rises with size, by file: (by, what may not fall).
RISING = {
    "nuts-metric": ("diameter", ("across_flats", "height", "height_min", "bearing_diameter")),
    "nuts-inch": ("diameter", ("across_flats", "height", "height_min", "bearing_diameter")),
    "heads-metric": ("diameter", ("across_flats", "height", "bearing_diameter")),
    "heads-inch": ("diameter", ("across_flats", "height", "bearing_diameter")),
    "holes-metric": ("diameter", ("fine", "medium", "coarse")),
    "holes-inch": ("diameter", ("medium",)),
    "washers-metric": ("diameter", ("inner_diameter", "outer_diameter", "thickness")),
    "washers-inch": ("diameter", ("inner_diameter", "outer_diameter", "thickness")),
    "slings-wire-rope": ("size", ("capacity",)),
    "slings-chain": ("size", ("capacity",)),
    "slings-chain-inch": ("size", ("capacity",)),
    "fittings-eyebolts": ("size", ("capacity",)),
}


def families(file: Part) -> dict[object, list]:  # type: ignore[type-arg]
    """Rows by form (or by sling type, told from the name without its size)."""
    found: dict[object, list] = {}  # type: ignore[type-arg]
    for row in {id(r): r for r in file.rows.values()}.values():
        form = row.get("style") or tuple(word for word in row.name.split() if not word[0].isdigit() and word[0] != "M")
        found.setdefault((form, "80" in row.name.split(), "100" in row.name.split()), []).append(row)
    return found


@pytest.mark.parametrize("file", sorted(RISING))
def test_sizes_rise(file: str) -> None:
    by, whats = RISING[file]
    for rows in families(part(file)).values():
        rows.sort(key=lambda row: row[by])
        for one, other in itertools.pairwise(rows):
            assert other[by] > one[by], f"{one.name} and {other.name}"
            for what in whats:
                if what in one.values and what in other.values:
                    assert other[what] >= one[what], f"{what}: {one.name} to {other.name}"


def test_nut_faces_fit_inside_their_flats_and_outside_their_holes() -> None:
    holes = {round(row["diameter"], 7): row["medium"] for row in LIBRARY.rows("holes")}
    for row in (*LIBRARY.rows("nuts"), *LIBRARY.rows("heads")):
        across = row.get("head_diameter", row["across_flats"])
        assert row["bearing_diameter"] < across, row.name
        hole = holes.get(round(row["diameter"], 7))
        assert hole is None or row["bearing_diameter"] > hole, row.name
        assert row.get("height_min", 0) <= row["height"], row.name


def test_clearance_series_and_washers_clear_the_thread() -> None:
    for row in LIBRARY.rows("holes"):
        series = [row[name] for name in ("fine", "medium", "coarse") if row.get(name) is not None]
        assert [row["diameter"], *series] == sorted({row["diameter"], *series}), row.name
    for row in LIBRARY.rows("washers"):
        assert row["diameter"] < row["inner_diameter"] < row["outer_diameter"], row.name


def test_strengths_fall_with_diameter_and_stand_in_order() -> None:
    for row in LIBRARY.rows("grades"):
        for ending in ("_strength", "_inch"):
            yields, tensile = row.get(f"yield{ending}"), row.get(f"tensile{ending}")
            proof = row.get(f"proof{ending}")
            if yields is None:
                continue
            assert all(y < t for y, t in zip(yields, tensile, strict=True)), row.name
            assert proof is None or all(p <= y for p, y in zip(proof, yields, strict=True)), row.name
            if not row.name.endswith("8.8"):  # the one class that is stronger when thicker (ISO 898-1)
                assert list(yields) == sorted(yields, reverse=True), row.name
        for limits in (row["up_to"], row.get("up_to_inch", ())):
            assert list(limits) == sorted(set(limits)), row.name


def test_inch_and_metric_editions_of_a_grade_agree() -> None:
    """The MPa edition is a rounded ksi edition: no more than 1.5 % apart, ranges no more than 4 %."""
    for row in LIBRARY.rows("grades"):
        if row.get("yield_inch") is None:
            continue
        for ours, inch in (("yield_strength", "yield_inch"), ("tensile_strength", "tensile_inch")):
            assert row[ours] == pytest.approx(row[inch], rel=0.015), row.name
        for metric, inch in zip(row["up_to"], row["up_to_inch"], strict=True):
            assert metric == pytest.approx(inch, rel=0.06), row.name


def test_groups_and_references_between_tables_resolve() -> None:
    for table in ("grades", "materials"):
        for row in LIBRARY.rows(table):
            if row.get("group") is not None:
                LIBRARY.find("modulus", row["group"])
                LIBRARY.find("expansion", row["group"])
    for row in LIBRARY.rows("scatter"):
        for column in ("taken", "taken_dry"):
            if row.get(column) is not None:
                LIBRARY.find("scatter_published", row[column])
    kinds = {row["fitting"] for row in LIBRARY.rows("angled_pull")}
    assert {row["kind"] for row in LIBRARY.rows("fittings")} <= kinds | {"turnbuckle", "lug"}


def test_curves_over_temperature_and_angle() -> None:
    for row in LIBRARY.rows("modulus"):
        assert list(row["temperature"]) == sorted(set(row["temperature"])), row.name
        assert list(row["modulus"]) == sorted(row["modulus"], reverse=True), row.name
    for row in LIBRARY.rows("expansion"):
        assert list(row["temperature"]) == sorted(set(row["temperature"])), row.name
        assert list(row["expansion"]) == sorted(row["expansion"]), row.name
    for row in LIBRARY.rows("angled_pull"):
        assert list(row["angle"]) == sorted(set(row["angle"])), row.name
        assert list(row["share"]) == sorted(row["share"], reverse=True), row.name
    for row in (*LIBRARY.rows("choke_angle"), *LIBRARY.rows("bend")):
        by = row.get("ratio") or row["angle_from"]
        assert list(by) == sorted(set(by)), row.name
        assert list(row["share"]) == sorted(row["share"]), row.name


def test_bands_stand_in_order() -> None:
    for row in LIBRARY.rows("lubricants"):
        for stem in ("thread", "bearing", "nut_factor"):
            assert row[f"{stem}_low"] < row[stem] < row[f"{stem}_high"], row.name
            assert row[f"{stem}_low"] >= 0.01, row.name
            assert row[f"{stem}_high"] <= 1, row.name
    for row in LIBRARY.rows("fit_friction"):
        assert row["low"] <= row["friction"] <= row["high"], row.name
    for row in LIBRARY.rows("seal_drag"):
        assert row["low"] < row["drag"] < row["high"], row.name

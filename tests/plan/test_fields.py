"""Look-up over the declarations."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from pydantic_core import SchemaValidator, core_schema

from splitline.assess.keys import OF, registry
from splitline.library.store import Library
from splitline.plan.draft import Draft
from splitline.plan.fields import Declared, copy_of, declared, every_field, fields_of, new_entry, new_item, table_of
from splitline.plan.model import KINDS, Joint, PlanInfo
from splitline.plan.model.lift import Leg
from splitline.plan.names import Names
from splitline.units import KINDS as QUANTITIES


def test_a_field_as_declared() -> None:
    field = declared(("joint", 3, "bolting", "clamp_length"))
    assert field is not None
    assert (field.kind, field.required, field.is_table, field.library) == ("length", False, False, "")
    assert "mm" in field.units
    assert "stretch" in field.needed_by
    assert declared(("joint", 0, "bolting", "thread")).library == "threads"  # type: ignore[union-attr]
    assert declared(("joint", 0, "layout", "shape")).choices == ("circle", "split-line", "points")  # type: ignore[union-attr]
    assert declared(("window", 0, "from")).attribute == "from_"  # type: ignore[union-attr]
    assert declared(("plan", "display")).choices == ("SI", "US")  # type: ignore[union-attr]
    assert declared(("lift", "leg", "fitting_capacity")).units[-1] == "short ton"  # type: ignore[union-attr]


def test_what_is_not_declared() -> None:
    assert declared(("joint", 0, "bolting", "colour")) is None
    assert declared(("joint",)) is None
    assert declared(("nothing", 0, "id")) is None
    assert table_of(("joint", 0, "title")) is None
    assert table_of(()) is None
    assert table_of(("lift", 0, "leg", 2)) is Leg
    assert table_of(("plan",)) is PlanInfo
    assert list(fields_of(Joint))[:2] == ["id", "title"]


def test_every_field_is_declared_whole() -> None:
    assert [path for path, field in every_field() if not whole(path, field)] == []


def whole(path: tuple[str, ...], field: Declared) -> bool:
    return (
        declared(path) == field
        and bool(field.words)
        and field.is_table == (field.leaf is None)
        and (field.is_table or bool(field.example))
        and (field.kind in QUANTITIES or field.kind in OTHER_KINDS)
    )


OTHER_KINDS = {
    "number", "count", "text", "choice", "id", "yes/no", "date", "list", "row", "taper", "table", "setting", "minutes",
}  # fmt: skip


def test_every_example_reads() -> None:
    names = Names.of(Library.load())
    for path, field in every_field():
        if field.leaf is None:
            continue
        assert tomllib.loads(f"x = {field.example}") == {"x": field.sample}, path
        schema = core_schema.with_info_plain_validator_function(field.leaf.check)
        SchemaValidator(schema).validate_python(field.sample, context={"names": names})


def test_a_second_case_gets_a_name_of_its_own() -> None:
    tree = {"joint": [{"id": "a", "case": [{"name": "design"}, {"name": "design 2"}]}]}
    assert new_entry(("joint", 0, "case", 2), tree) == {"name": "design 3"}


TABLES = [((kind, 0), model) for kind, model in KINDS.items()] + [
    ((path[0], 0, *path[1:]), field.model)
    for path, field in every_field()
    if field.model is not None and len(path) == 2 and path[0] != "plan"
]


@pytest.mark.parametrize(
    ("path", "model"), TABLES, ids=lambda value: ".".join(map(str, value)) if isinstance(value, tuple) else ""
)
def test_a_new_table_is_no_mistake(path: tuple[str | int, ...], model: object) -> None:
    draft = Draft({"format": 1, "plan": {"title": "x"}})
    if len(path) > 2:
        draft = draft.insert((path[0], 0), new_item(str(path[0]), ()))
    at = (*path, 0) if len(path) > 2 and declared(path).is_list else path  # type: ignore[union-attr]
    draft = (
        draft.insert(at, new_entry(at, draft.tree))
        if isinstance(at[-1], int)
        else draft.edit(at, new_entry(at, draft.tree))
    )
    assert draft.problems == ()


def test_ids_of_new_items_and_copies_are_free() -> None:
    assert new_item("joint", ())["id"] == "joint"
    assert new_item("joint", ["joint", "joint-2"])["id"] == "joint-3"
    tree = {"joint": [{"id": "a-2", "title": "A", "bolting": {"thread": "M48x3"}}, {"id": "a"}]}
    copied = copy_of(tree["joint"][0], tree)
    assert copied["id"] == "a-3"
    assert copied["bolting"] == {"thread": "M48x3"}
    assert copied["bolting"] is not tree["joint"][0]["bolting"]


def test_a_field_is_needed_by_results_and_checks_that_exist() -> None:
    rooms = Path(__file__).parents[2] / "src" / "splitline" / "assess"
    written = "\n".join(path.read_text("utf-8") for path in rooms.rglob("*.py"))
    results = {key for of in OF for key in registry(of)}
    unknown = {
        (".".join(path), key)
        for path, field in every_field()
        for key in field.needed_by
        if key not in results and f'"{key}"' not in written
    }
    assert unknown == set()

"""Every field that is picked from the library offers names the plan then takes."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.library.store import Library
from splitline.plan.fields import every_field
from splitline.plan.names import Names
from splitline.ui.app import SplitlineApp
from splitline.ui.forms.library import options_of
from splitline.ui.screens.picker import PickerScreen
from splitline.ui.widgets.editor import FieldEditor
from tests.ui.conftest import opened, settled

LIBRARY = Library.load()
NAMES = Names.of(LIBRARY)


@pytest.mark.parametrize("table", sorted({field.library for _, field in every_field() if field.library}))
def test_every_name_offered_is_taken(table: str) -> None:
    options = options_of(LIBRARY, table, "SI")
    assert len(options) > 5
    assert len({o.value for o in options}) == len(options)
    assert [o.value for o in options if NAMES(table, o.value)] == []


def test_threads_offer_what_large_studs_use() -> None:
    names = {option.value for option in options_of(LIBRARY, "threads", "SI")}
    assert {"M48", "M48x3", "M64x4", "1 3/4-8UN", "3/4-10UNC"} <= names


def test_a_grade_shows_the_strength_of_the_thread_at_hand() -> None:
    """ASTM A193 B7: 105 ksi up to 2 1/2 in, 95 ksi above; 720 MPa to M64 and 655 MPa above in the metric edition."""
    for thread, system, said in (
        ("M42", "SI", "yield 720 MPa"),
        ("M80", "SI", "yield 655 MPa"),
        ("1 3/4-8UN", "US", "yield 105 ksi"),
        ("3-8UN", "US", "yield 95 ksi"),
    ):
        options = {o.value: o.note for o in options_of(LIBRARY, "grades", system, thread)}  # type: ignore[arg-type]
        assert said in options["ASTM A193 B7"], (thread, options["ASTM A193 B7"])
    last = options_of(LIBRARY, "grades", "SI", "M42")[-1]
    assert "not at M42" in last.note


def test_rows_of_the_plan_s_units_come_first_as_they_are_stamped() -> None:
    metric, inch = (options_of(LIBRARY, "slings", system) for system in ("SI", "US"))  # type: ignore[arg-type]
    assert " mm" in metric[0].label
    assert " in" in inch[0].label
    assert {o.value for o in metric} == {o.value for o in inch}
    notes = {o.value: o.note for o in metric}
    assert "capacity 0.75 t" in notes["wire rope 8 mm 6x36 IWRC"]
    assert options_of(LIBRARY, "threads", "SI")[0].value.startswith("M")
    assert not options_of(LIBRARY, "threads", "US")[0].value.startswith("M")


TAG = ("lift", 0, "leg", 0, "tag")
REGISTER = """[[rigging]]
name = "S-104"
source = "register"
kind = "sling"
capacity = "7 t"
inspection_due = 2027-03-01
"""


async def test_a_tag_is_picked_from_the_register_and_typed_where_there_is_none(plan_file: Path) -> None:
    plan_file.write_text(
        plan_file.read_text("utf-8")
        + '\n[[lift]]\nid = "tagged"\ntitle = "Tagged"\n[[lift.leg]]\npick = ["0 m", "0 m", "0 m"]\ntag = "X-1"\n',
        "utf-8",
    )
    async with SplitlineApp(plan_file).run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        place = screen.session.index_of("lift", "tagged")
        assert place is not None
        path = ("lift", place, *TAG[2:])
        screen.go_to(path)
        screen.fields.edit_at(path)
        await settled(pilot)
        assert screen.query(FieldEditor)
    plan_file.with_name("library.toml").write_text(REGISTER, "utf-8")
    async with SplitlineApp(plan_file).run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(path)
        screen.fields.edit_at(path)
        await settled(pilot)
        assert isinstance(pilot.app.screen, PickerScreen)
        await pilot.press("enter")
        await settled(pilot)
        assert screen.session.draft.get(path) == "S-104"
        screen.fields.edit_at(path)
        await settled(pilot)
        await pilot.press("Z", "9", "enter")  # a tag the register does not hold yet is taken, and fails its check
        await settled(pilot)
        assert screen.session.draft.get(path) == "Z9"
        result = screen.session.result("lift", place)
        assert result is not None
        assert [c.verdict for c in result.checks if c.key == "rigging_register"] == ["fails"]

"""Every field that is picked from the library offers names the plan then takes."""

from __future__ import annotations

import pytest

from splitline.library.store import Library
from splitline.plan.fields import every_field
from splitline.plan.names import Names
from splitline.ui.forms.library import options_of

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

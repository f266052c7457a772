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

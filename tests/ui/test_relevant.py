"""A form shows what says something under the choices made, and offers first what a check waits for."""

from __future__ import annotations

from pathlib import Path

import pytest

from splitline.plan.fields import every_field
from splitline.ui.card.inputs import input_lines
from splitline.ui.forms import relevant as room
from splitline.ui.forms.adding import choices
from splitline.ui.forms.relevant import relevant
from splitline.ui.session import Session

TENSIONED = {"tightening": {"method": "hydraulic tensioner", "tool": [{}]}, "layout": {"shape": "split-line"}}


@pytest.mark.parametrize(
    ("item", "path", "wanted"),
    [
        (TENSIONED, ("joint", 0, "tightening", "tool", 0, "piston_area"), True),
        (TENSIONED, ("joint", 0, "tightening", "tool", 0, "chart"), False),
        (TENSIONED, ("joint", 0, "tightening", "tool", 0, "serial"), True),
        (TENSIONED, ("joint", 0, "layout", "diameter"), False),
        (TENSIONED, ("joint", 0, "layout", "side_a"), True),
        ({}, ("joint", 0, "layout", "diameter"), True),
        ({"mounting": "heat"}, ("fit", 0, "oil_hold"), False),
        ({"mounting": "oil"}, ("fit", 0, "oil_hold"), True),
        ({"leg": [{"hitch": "single"}, {"hitch": "choker"}]}, ("lift", 0, "leg", 0, "choke_angle"), False),
        ({"leg": [{"hitch": "single"}, {"hitch": "choker"}]}, ("lift", 0, "leg", 1, "choke_angle"), True),
        ({"tightening": {"order": "cross"}}, ("joint", 0, "tightening", "listed"), False),
    ],
)
def test_what_says_something(item: dict[str, object], path: tuple[str | int, ...], wanted: bool) -> None:
    assert relevant(item, path) is wanted


def test_every_field_and_choice_named_is_declared() -> None:
    declared = dict(every_field())
    for table, (decides, by) in room._BY_CHOICE.items():
        field = declared[(table[0], *decides)]
        assert set(by) <= set(field.choices)
        for fields in by.values():
            assert all((*table, name) in declared for name in fields), table
    for (table, name), (beside, wanted) in room._BESIDE.items():
        assert (*table, name) in declared
        assert wanted in declared[(*table, beside)].choices


def test_what_a_check_waits_for_is_offered_first(plan_file: Path) -> None:
    text = plan_file.read_text("utf-8")
    start = text.index("[joint.friction]")
    plan_file.write_text(text[:start] + text[text.index("[joint.layout]") :], "utf-8")
    session = Session.open(plan_file)
    session.take(*session.compute())
    first = choices(session, ("joint", 0), items_first=False)[0]
    assert (first.label, first.style) == ("friction", "missing")


def test_a_field_of_another_method_given_all_the_same_is_shown(plan_file: Path) -> None:
    session = Session.open(plan_file)
    session.put(("joint", 0, "layout", "half_width"), "300 mm")
    shown = {line.target for line in input_lines(session, "joint", 0, 70, True)}
    assert ("joint", 0, "layout", "half_width") in shown
    assert ("joint", 0, "layout", "line_from") not in shown

"""Commands are declared once: every one can be carried out, no key means two things on one screen."""

from __future__ import annotations

import pytest

from splitline.ui.actions import COMMANDS, PLAN, PLANS, VIEW, bindings, commands_of, footer_of
from splitline.ui.app import SplitlineApp
from splitline.ui.screens.plan import PlanScreen
from splitline.ui.screens.plan_change import Changes
from splitline.ui.screens.plan_edit import Fields
from splitline.ui.screens.plan_files import Files
from splitline.ui.screens.plan_go import Going
from splitline.ui.screens.plans import PlansScreen
from splitline.ui.screens.view import ViewScreen

SCREENS = {PLANS: PlansScreen, PLAN: PlanScreen, VIEW: ViewScreen}
CARRIERS = {
    place: (*kinds, SplitlineApp)
    for place, kinds in {
        PLANS: (PlansScreen,),
        PLAN: (Changes, Fields, Going, Files, PlanScreen),
        VIEW: (ViewScreen,),
    }.items()
}
BY_PANES = {"edit", "switch"}  # Enter and Tab belong to the pane that has the keys


@pytest.mark.parametrize("place", [PLANS, PLAN, VIEW])
def test_every_command_of_a_screen_can_be_carried_out(place: str) -> None:
    for command in commands_of(place):
        able = any(hasattr(each, f"do_{command.id}") for each in CARRIERS[place])
        assert able or command.id in BY_PANES, command.id


@pytest.mark.parametrize("place", [PLANS, PLAN, VIEW])
def test_no_key_means_two_things(place: str) -> None:
    keys = [key for keys, _, _ in bindings(place) for key in keys.split(",")]
    assert len(keys) == len(set(keys))
    assert not {"f3"} & set(keys)
    assert not any(key.startswith("alt+") for key in keys)


def test_the_foot_shows_at_most_four() -> None:
    assert all(2 <= len(footer_of(place)) <= 4 for place in SCREENS)


def test_every_command_says_what_it_does() -> None:
    assert all(len(c.help) > 10 and c.label and c.printed for c in COMMANDS)
    assert len({c.id for c in COMMANDS}) == len(COMMANDS)


def test_view_only_has_no_command_that_changes_the_plan() -> None:
    ids = {c.id for c in commands_of(PLAN, view_only=True)}
    assert not ids & {"add", "delete", "copy", "undo", "save", "more", "less"}
    assert {"views", "why", "search"} <= ids

"""Cards of plans in any state: whatever stands in the file is shown, nothing raises, every line fits."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from splitline.plan.edits import ABSENT, Edit, Move
from splitline.ui import marks
from splitline.ui.card.checks import usage_bar
from splitline.ui.card.comparing import compare_lines
from splitline.ui.card.contents import content_lines
from splitline.ui.card.facts import fact_lines
from splitline.ui.card.finding import everything
from splitline.ui.card.hints import hint_of
from splitline.ui.card.inputs import input_lines
from splitline.ui.card.picture import picture_of
from splitline.ui.card.places import path_of
from splitline.ui.card.working import working_lines
from splitline.ui.draw.rows import Row, row_width
from splitline.ui.forms.adding import choices
from splitline.ui.screens.view import timeline_views, views_of
from splitline.ui.session import Session

ODD: list[Any] = [None, "", "x", 7, -1.5, True, [], ["a"], [[1]], [{}], {}, {"id": 3}, "12 mm", "1e400 mm", "油" * 50]
PLANS = sorted((Path(__file__).parents[2] / "plans").glob("*.toml"))


def look_at_everything(session: Session, cells: int) -> None:
    """Build every line there is; the widths are those a pane would draw."""
    lines = list(content_lines(session, cells))
    for line in lines:
        if line.target is not None:
            kind, index = line.target[1], line.target[2]  # type: ignore[index]
            picture = picture_of(session, kind, index)
            for every in (False, True):
                given = input_lines(session, kind, index, cells, every)
                came = fact_lines(session, kind, index, cells, picture, every)
                for found in (*given, *came):
                    hint_of(session, (kind, index), found.target)
                    choices(
                        session, found.target if isinstance(found.target, tuple) else (kind, index), items_first=False
                    )
            for view in views_of(session, kind, index):
                view.draw(cells, 20, view.start)
            if (result := session.result(kind, index)) is not None:
                working_lines(result, cells, session.system)
    everything(session, ())
    for view in timeline_views(session):
        view.draw(cells, 20, 0)


@pytest.mark.parametrize("plan", PLANS, ids=lambda p: p.stem)
@pytest.mark.parametrize("cells", [24, 70])
def test_demo_plans_are_shown_at_any_width(plan: Path, cells: int) -> None:
    session = Session.open(plan)
    session.take(*session.compute())
    assert not session.outcome.unassessed
    look_at_everything(session, cells)


@pytest.mark.parametrize("seed", range(12))
def test_anything_in_a_plan_is_shown(plan_file: Path, seed: int) -> None:
    rng = random.Random(seed)
    session = Session.open(plan_file)
    for _ in range(12):
        places = _places(session.draft.tree)
        path = rng.choice([p for p in places if len(p) > 2] or places if rng.random() < 0.93 else places)
        odd = rng.choice(ODD)
        if odd is None and isinstance(path[-1], int):
            continue
        old = session.draft.get(path)
        session.change((Edit(path, old, ABSENT if odd is None else odd),), path, "")
        session.take(*session.compute())
        look_at_everything(session, 60)


def _places(node: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return [p for step, child in items for p in ((*path, step), *_places(child, (*path, step)))]


def test_a_pinned_variant_says_only_what_differs(plan_file: Path) -> None:
    session = Session.open(plan_file)
    session.take(*session.compute())
    session.pin()
    text = _text(compare_lines(session, 120))
    assert "nothing: change a value" in text
    session.put(("joint", 0, "friction", "thread"), 0.16)
    session.take(*session.compute())
    text = _text(compare_lines(session, 120))
    assert "0.12" in text
    assert "0.16" in text
    assert "Torque at target" in text
    assert "Stretch at target" not in text  # the preload is the same: so is the stretch
    session.change((Move(("step",), 0, 1),), ("step", 1), "moved")
    assert "order of step" in _text(compare_lines(session, 120))


def _text(lines: Any) -> str:
    return "\n".join("".join(t for t, _ in line.row) for line in lines)


def test_bars_are_as_long_as_their_usage() -> None:
    for usage in (None, -0.1, 0.0, 0.45, 0.9, 1.0, 1.1, 30.0):
        assert row_width(usage_bar(usage, 20, "ok")) == 20
    full = [sum(c == "█" for t, _ in usage_bar(u, 40, "ok") for c in t) for u in (0.2, 0.4, 0.8, 1.0)]
    assert full == sorted(full)
    assert full[2] == pytest.approx(2 * full[1], abs=1)
    assert "▶" in "".join(t for t, _ in usage_bar(5.0, 20, "fails"))


def test_fields_are_found_by_the_names_an_assessment_uses() -> None:
    raw = {"case": [{"name": "design"}, {"name": "trip: hot, cold. late"}], "leg": [{}, {}], "bolting": {}}
    root = ("joint", 0)
    assert path_of(raw, root, "bolting.engagement") == (*root, "bolting", "engagement")
    assert path_of(raw, root, "case.trip: hot, cold. late.pressure") == (*root, "case", 1, "pressure")
    assert path_of(raw, root, "leg.2.length") == (*root, "leg", 1, "length")
    assert path_of(raw, root, "friction") == (*root, "friction")


@pytest.mark.parametrize(("cells", "rows"), [(52, 14), (68, 9), (68, 13), (68, 21), (90, 40)])
@pytest.mark.parametrize(("kind", "index"), [("joint", 0), ("lift", 1), ("fit", 0)])
def test_card_says_the_worst_check_under_its_title_and_its_drawing_is_whole(
    kind: str, index: int, cells: int, rows: int
) -> None:
    session = Session.open(PLANS[0])
    session.take(*session.compute())
    result = session.result(kind, index)
    assert result is not None
    assert result.worst_check is not None
    asked: list[tuple[int, int]] = []

    def picture(wide: int, high: int) -> list[Row]:
        asked.append((wide, high))
        return [((f"row {number}", ""),) for number in range(high)]

    lines = fact_lines(session, kind, index, cells, picture, False, rows)
    text = ["".join(part for part, _ in line.row) for line in lines]
    assert text[1].startswith(f"{marks.shape(result.verdict)} {result.worst_check.title[:20]}")
    for _, high in asked:
        assert any(f"row {high - 1} " in line for line in text[:rows])


def test_spread_on_the_card_is_said_to_be_that_of_interaction_alone() -> None:
    session = Session.open(PLANS[0])
    session.take(*session.compute())
    for cells in (38, 52, 80):
        text = ["".join(part for part, _ in line.row) for line in fact_lines(session, "joint", 0, cells, None, False)]
        assert [line for line in text if "nteraction" in line]
        assert not [line for line in text if line.startswith("Predicted spread")]


def test_what_a_field_is_for_is_said_in_words_not_in_keys() -> None:
    from splitline.plan.fields import every_field
    from splitline.ui.card.hints import _purpose

    for path, field in every_field():
        for key in field.needed_by:
            said = _purpose(path[0], key)
            assert said, key
            assert "_" not in said
    assert _purpose("joint", "order") == "the tightening order"
    assert _purpose("joint", "yield_usage") == "share of yield on the least area"


def test_equal_values_of_many_legs_are_no_range() -> None:
    from splitline.ui.card.facts import list_said

    assert list_said([16_500.0] * 4, "force", "SI", 12) == "4 × 16.5 kN"
    assert list_said([16_500.0, 18_000.0, 17_000.0], "force", "SI", 13) == "16.5 to 18 kN"

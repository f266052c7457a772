"""The planner's screen by keys: edit in place, undo, save, search, mend."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Input

from splitline.plan.save import save
from splitline.ui.app import SplitlineApp
from splitline.ui.screens.confirm import ConfirmScreen
from splitline.ui.screens.conflict import ConflictScreen
from splitline.ui.screens.picker import PickerScreen
from splitline.ui.screens.plan import PlanScreen
from splitline.ui.screens.plans import PlansScreen
from splitline.ui.session import Session
from splitline.ui.widgets.editor import FieldEditor
from splitline.ui.widgets.lines import LineView
from tests.ui.conftest import opened, settled, text_of

CLAMP = ("joint", 0, "bolting", "clamp_length")


async def test_a_plan_opens_with_its_order_of_work_and_every_item(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        contents = text_of(screen, "contents")
        assert "Cover onto the" in contents
        assert "Cover to casing" in contents
        screen.select("joint", 0)
        facts = text_of(screen, "facts")
        assert "Cover to casing" in facts
        # 345 MPa on the stress area of M48x3, π/4·(48 − 0.9382·3)² = 1603 mm² (ISO 898-1): 553 kN
        assert "553" in facts
        assert "clamp_length" in text_of(screen, "inputs")


async def test_edit_in_any_unit_recomputes_and_undo_brings_back(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("enter", *"11 in", "enter")
        await settled(pilot)
        assert screen.session.draft.get(CLAMP) == "11 in"
        item = screen.session.draft.item("joint", 0)
        assert item is not None
        assert item.bolting.clamp_length == pytest.approx(0.2794)  # type: ignore[union-attr]
        assert screen.session.computed_for is screen.session.draft
        assert screen.has_unsaved
        await pilot.press("u")
        assert screen.session.draft.get(CLAMP) == "268 mm"
        assert not screen.has_unsaved


async def test_arrows_only_move_and_a_step_of_a_value_says_what_it_was(app: SplitlineApp) -> None:
    async with app.run_test(size=(160, 50)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("left", "left", "left", "right", "right", "right", "left", "right")
        assert not screen.has_unsaved
        assert screen.focused is screen.inputs
        screen.go_to(CLAMP)
        await pilot.press("plus")
        assert screen.session.draft.get(CLAMP) == "270 mm"
        assert "clamp_length: 268 mm → 270 mm" in screen._said


async def test_what_is_saved_keeps_its_examples_on_the_screen_as_in_the_file(tmp_path: Path) -> None:
    from splitline.plan.read import open_plan
    from splitline.plan.start import start_plan
    from splitline.ui.session import Session

    path = tmp_path / "new.toml"
    start_plan("barrel-head-cover", path)
    session = Session.open(path)
    for place, value in ((CLAMP, "301 mm"), (("plan", "tag"), "K-9"), (("joint", 0, "title"), "Other")):
        session.put(place, value)
        session.rebase(save(session.draft))
        assert session.draft.examples == open_plan(path).examples > 5
    session.undo()
    session.rebase(save(session.draft))
    assert session.draft.examples == open_plan(path).examples


async def test_steps_one_after_the_other_are_one_step_of_undo(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("plus", "plus", "plus", "minus", "plus")
        assert screen.session.draft.get(CLAMP) == "280 mm"
        await pilot.press("u")
        assert screen.session.draft.get(CLAMP) == "268 mm"
        await pilot.press("r")
        assert screen.session.draft.get(CLAMP) == "280 mm"


async def test_an_example_says_so_until_it_is_replaced_or_taken_as_right(tmp_path: Path) -> None:
    from splitline.plan.start import start_plan

    path = tmp_path / "new.toml"
    start_plan("barrel-head-cover", path)
    tag, machine = ("plan", "tag"), ("plan", "machine")
    app = SplitlineApp(path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        before = screen.session.draft.examples
        assert f"{before} example values" in text_of(screen, "facts")
        screen.go_to(("plan", "drawings"))
        rows = text_of(screen, "inputs").splitlines()
        assert next(row for row in rows if row.startswith("drawings")).rstrip().endswith("example")
        screen.go_to(tag)
        await pilot.press("enter", "enter")  # looked at, not taken as right
        assert screen.session.draft.examples == before
        await pilot.press("m", "u")
        assert screen.session.draft.examples == before
        await pilot.press("m")
        screen.go_to(machine)
        await pilot.press("enter", *"K-410 ", "enter")
        await settled(pilot)
        assert screen.session.draft.examples == before - 2
        assert screen.has_unsaved
        assert screen.files.save_now()
        assert 'tag = "K-000"\n' in path.read_text("utf-8")


async def test_examples_are_listed_searched_and_walked_through(tmp_path: Path) -> None:
    from splitline.plan.start import start_plan

    path = tmp_path / "new.toml"
    start_plan("single-lift", path)
    app = SplitlineApp(path)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        await pilot.press("right_square_bracket")
        first = screen.inputs.target
        assert screen.session.draft.is_example(first)  # type: ignore[arg-type]
        await pilot.press("right_square_bracket")
        assert screen.inputs.target != first
        await pilot.press("left_square_bracket")
        assert screen.inputs.target == first
        await pilot.press("l")
        assert isinstance(app.screen, PickerScreen)
        assert len(app.screen._options) == screen.session.draft.examples
        await pilot.press("escape", "slash", *"example")
        assert len(app.screen._found) > screen.session.draft.examples  # type: ignore[attr-defined]


async def test_undo_follows_the_item_and_ids_are_picked(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        steps = len(screen.session.draft.tree["step"])
        screen.select("step", 0)
        moved = screen.session.ident("step", 0)
        screen.contents.focus()
        if steps > 1:
            await pilot.press("greater_than_sign", "u")
            assert screen.session.ident(*screen.selected) == moved
        await pilot.press("c")
        assert screen.selected == ("step", 1)
        await pilot.press("u")
        assert screen.session.ident(*screen.selected) == moved
        screen.every = True
        screen.go_to(("step", 0, "title"))
        before = screen.session.draft.get(("step", 0, "title"))
        await pilot.press("enter", "home", "shift+end", "delete", "enter")
        assert screen.session.draft.get(("step", 0, "title")) == before  # an empty Enter stores nothing
        screen.go_to(("step", 0, "joint"))
        await pilot.press("enter")
        assert isinstance(app.screen, PickerScreen)
        assert "cover" in [option.value for option in app.screen._options]


async def test_what_cannot_be_read_is_kept_and_explained(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("enter", *"2,5 mm", "enter")
        assert screen.query_one(FieldEditor).value == "2,5 mm"
        assert "use a point" in text_of(screen, "hint")
        await pilot.press("escape")
        assert screen.session.draft.get(CLAMP) == "268 mm"
        await pilot.press("enter")
        assert screen.query_one(FieldEditor).value == "2,5 mm"


async def test_save_keeps_comments(app: SplitlineApp, plan_file: Path) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("plus", "ctrl+s")
        text = plan_file.read_text("utf-8")
        assert 'clamp_length = "270 mm"   # measured' in text
        assert "# the cover\n[[joint]]" in text
        assert not screen.has_unsaved


async def test_the_second_to_save_sees_the_difference_and_loses_nothing(app: SplitlineApp, plan_file: Path) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("plus")
        theirs = plan_file.read_text("utf-8").replace('"62 mm"', '"70 mm"')
        plan_file.write_text(theirs, "utf-8")
        await pilot.press("ctrl+s")
        assert isinstance(app.screen, ConflictScreen)
        assert plan_file.read_text("utf-8") == theirs
        await pilot.press("down", "down", "down", "enter")  # take the file, this screen beside it
        await settled(pilot)
        assert screen.session.draft.get(("joint", 0, "bolting", "engagement")) == "70 mm"
        assert '"270 mm"' in (plan_file.parent / "cover-this-screen.toml").read_text("utf-8")


async def test_two_people_s_edits_are_put_together_and_what_clashes_is_shown(
    app: SplitlineApp, plan_file: Path
) -> None:
    title = ("joint", 0, "title")
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.changes.put(CLAMP, "270 mm")
        screen.changes.put(title, "Mine")
        theirs = plan_file.read_text("utf-8").replace('"62 mm"', '"70 mm"').replace("Cover to casing", "Theirs")
        plan_file.write_text(theirs, "utf-8")
        await pilot.press("ctrl+s")
        assert isinstance(app.screen, ConflictScreen)
        lines = app.screen.query_one("#conflict-difference", LineView).lines
        said = "\n".join("".join(text for text, _ in line.row) for line in lines)
        assert "this screen Mine, the file Theirs, was Cover to casing" in said
        assert "62 mm → 70 mm" in said
        assert "268 mm → 270 mm" in said
        assert "clamp_length" in said  # as written in the file
        await pilot.press("down", "enter")
        await settled(pilot)
        assert isinstance(app.screen, PickerScreen)  # the place both changed
        await pilot.press("enter")
        await settled(pilot)
        assert screen.inputs.target == title
        draft = screen.session.draft
        assert (draft.get(CLAMP), draft.get(title)) == ("270 mm", "Mine")
        assert draft.get(("joint", 0, "bolting", "engagement")) == "70 mm"
        await pilot.press("ctrl+s")
        await settled(pilot)
        saved = plan_file.read_text("utf-8")
    assert '"270 mm"' in saved
    assert '"70 mm"' in saved
    assert "# measured" in saved  # comments stay


async def test_add_copy_move_delete_are_each_one_step_of_undo(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        before = screen.session.draft.tree
        screen.changes.add_item("fit")
        screen.go_to(("lift", 0, "leg", 1))
        await pilot.press("c")
        assert len(screen.session.draft.get(("lift", 0, "leg"))) == 3
        await pilot.press("less_than_sign", "x")
        assert len(screen.session.draft.get(("lift", 0, "leg"))) == 2
        for _ in range(4):
            await pilot.press("u")
        assert screen.session.draft.tree == before
        assert not screen.has_unsaved


async def test_choosing_a_grade_from_the_library(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(("joint", 0, "bolting", "grade"))
        await pilot.press("enter")
        assert isinstance(app.screen, PickerScreen)
        await pilot.press(*"B16", "enter")
        await settled(pilot)
        assert "B16" in screen.session.draft.get(("joint", 0, "bolting", "grade"))


async def test_search_goes_to_a_field(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        await pilot.press("slash", *"pressure diam", "enter")
        assert screen.inputs.target == ("joint", 0, "load", "pressure_diameter")


async def test_an_item_is_reached_by_its_number_on_paper(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        assert "J1 Cover to casing" in text_of(screen, "contents")
        await pilot.press("g", "j", "1", "enter")
        assert app.screen is screen
        assert screen.selected == ("joint", 0)
        await pilot.press("g", "1", "enter")
        assert screen.selected == ("step", 0)


async def test_a_plan_with_mistakes_is_shown_and_can_be_mended(app: SplitlineApp, plan_file: Path) -> None:
    text = (
        plan_file.read_text("utf-8").replace('"268 mm"', '"2,68 mm"').replace("bolts = 12", "bolts = 1\nbolt_count = 3")
    )
    plan_file.write_text(text, "utf-8")
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        assert len(screen.session.draft.problems) >= 3
        screen.select("joint", 0)
        assert "use a point" in " ".join(text_of(screen, "facts").split())
        await pilot.press("b")
        assert isinstance(app.screen, PickerScreen)
        await pilot.press("enter")
        assert screen.inputs.target == CLAMP
        await pilot.press("enter", *"268 mm", "enter")
        assert not any(p.path == CLAMP for p in screen.session.draft.problems)
        screen.go_to(("joint", 0, "layout", "bolt_count"))
        await pilot.press("x")
        screen.go_to(("joint", 0, "layout", "bolts"))
        await pilot.press("enter", *"12", "enter")
        await settled(pilot)
        assert not screen.session.draft.problems
        assert screen.session.result("joint", 0) is not None


@pytest.mark.parametrize("junk", [b"", b"\x00\x01\x02", b"format = [", "größe".encode("latin-1")])
async def test_a_file_that_cannot_be_read_shows_why_and_stays_as_it_is(plan_file: Path, junk: bytes) -> None:
    plan_file.write_bytes(junk)
    app = SplitlineApp(plan_file)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        assert len(text_of(screen, "facts")) > 30
        await pilot.press("enter", "a", "v", "u", "ctrl+s", "slash", "escape")
        assert plan_file.read_bytes() == junk


async def test_unsaved_work_is_asked_about_and_taken_up_again(app: SplitlineApp, plan_file: Path) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("plus")
        await settled(pilot)
        await pilot.press("escape")
        assert isinstance(app.screen, ConfirmScreen)
        await pilot.press("escape", "ctrl+q")
        assert isinstance(app.screen, ConfirmScreen)
        await pilot.press("enter")  # stay
        assert app.is_running
    again = SplitlineApp(plan_file)  # the first ended without saving
    async with again.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        assert isinstance(again.screen, ConfirmScreen)
        await pilot.press("down", "enter")
        await settled(pilot)
        screen = again.screen_stack[-1]
        assert isinstance(screen, PlanScreen)
        assert screen.session.draft.get(CLAMP) == "270 mm"
        assert screen.has_unsaved


async def test_unsaved_work_left_for_later_becomes_a_plan_of_its_own(app: SplitlineApp, plan_file: Path) -> None:
    from splitline.plan.recovery import Keeper, recovery_path

    draft = Session.open(plan_file).draft
    Keeper().keep(draft.edit(CLAMP, "277 mm"))
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        assert isinstance(app.screen, ConfirmScreen)
        await pilot.press("escape")
        assert '"277 mm"' in (plan_file.parent / "cover-kept.toml").read_text("utf-8")
        assert not recovery_path(plan_file).exists()


async def test_units_on_screen_leave_the_file_alone(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.select("joint", 0)
        await pilot.press("i")
        assert "kip" in text_of(screen, "facts")
        assert "10.55 in" in text_of(screen, "inputs")
        assert not screen.has_unsaved


async def test_pinned_and_present_side_by_side(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("p", "plus", "plus")
        await settled(pilot)
        await pilot.press("k")
        from splitline.ui.widgets.lines import LineView

        lines = ["".join(t for t, _ in line.row) for line in app.screen.query_one("#compare", LineView).lines]
        assert any("268 mm" in line and "275 mm" in line for line in lines)
        assert any(line.startswith("Stretch at target") for line in lines)


async def test_view_only_changes_nothing(plan_file: Path) -> None:
    app = SplitlineApp(plan_file, view_only=True)
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("enter", "plus", "x", "a", "c", "ctrl+s")
        assert not screen.query(Input)
        assert not screen.has_unsaved


async def test_drawings_change_by_letter_and_play_by_arrow(app: SplitlineApp) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.select("joint", 0)
        await pilot.press("v")
        view = app.screen
        for key in [v.key for v in view.views]:  # type: ignore[attr-defined]
            await pilot.press(key, "right", "right", "left")
            assert view.view.key == key  # type: ignore[attr-defined]
        await pilot.press("escape")
        assert app.screen is screen


async def test_other_ways_of_tightening_are_computed_beside_the_screen(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.select("joint", 0)
        await pilot.press("v", "o")
        await settled(pilot)
        from splitline.ui.widgets.drawing import Drawing

        text = "\n".join("".join(t for t, _ in row) for row in app.screen.query_one(Drawing).rows)
        assert "as planned" in text
        assert "quadrant" in text


async def test_resize_while_drawing(app: SplitlineApp) -> None:
    async with app.run_test(size=(200, 60)) as pilot:
        screen = await opened(pilot)
        screen.select("joint", 0)
        await pilot.press("v")
        for size in ((60, 20), (160, 50), (80, 24), (20, 5)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        await pilot.press("escape")
        await pilot.resize_terminal(80, 24)
        assert app.screen is screen


async def test_the_folder_lists_its_plans(plan_file: Path) -> None:
    (plan_file.parent / "broken.toml").write_text("format = [", "utf-8")
    (plan_file.parent / "cover.record.toml").write_text("", "utf-8")
    app = SplitlineApp(plan_file.parent)
    async with app.run_test(size=(100, 32)) as pilot:
        await settled(pilot)
        screen = app.screen
        assert isinstance(screen, PlansScreen)
        text = "\n".join("".join(t for t, _ in line.row) for line in screen.view.lines)
        assert "Head cover [M64 x]" in text
        assert "cannot be read" in text
        assert "record.toml" not in text
        screen.view.put_cursor(plan_file)
        await pilot.press("enter")
        assert isinstance(app.screen, PlanScreen)


async def test_odd_text_is_shown_as_it_is_and_saved(app: SplitlineApp, plan_file: Path) -> None:
    odd = 'Läufer [b]"q"[/b] שלום ' + "x" * 9_900
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        screen.changes.put(("plan", "title"), odd)
        screen.changes.put(("joint", 0, "title"), odd)
        await settled(pilot)
        await pilot.press("ctrl+s")
        assert plan_file.read_text("utf-8").count("שלום") == 2


async def test_a_plan_saved_by_somebody_else_is_read_again(app: SplitlineApp, plan_file: Path) -> None:
    async with app.run_test(size=(100, 32)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        screen.files.watch()
        plan_file.write_text(plan_file.read_text("utf-8").replace('"268 mm"', '"300 mm"'), "utf-8")
        screen.files.watch()
        await settled(pilot)
        assert screen.session.draft.get(CLAMP) == "300 mm"
        assert screen.selected == ("joint", 0)
        screen.changes.put(CLAMP, "310 mm")
        plan_file.write_text(plan_file.read_text("utf-8").replace('"300 mm"', '"305 mm"'), "utf-8")
        screen.files.watch()
        await settled(pilot)
        assert screen.session.draft.get(CLAMP) == "310 mm"  # work on the screen stays


async def test_an_editor_left_by_a_tap_takes_what_reads(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        screen.go_to(CLAMP)
        await pilot.press("enter", *"12 in")
        await pilot.click("#contents", offset=(3, 3))
        await settled(pilot)
        assert screen.session.draft.get(CLAMP) == "12 in"
        assert not screen.query(FieldEditor)


async def test_taps_alone_reach_a_field_and_its_commands(app: SplitlineApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot)
        row = next(i for i, line in enumerate(screen.contents.lines) if line.target == ("at", "joint", 0))
        await pilot.click("#contents", offset=(4, row))
        assert screen.selected == ("joint", 0)
        for _ in range(2):  # the pane takes more room at the first tap; the second is on the line where it stands then
            field = next(i for i, line in enumerate(screen.inputs.lines) if line.target == ("joint", 0, "title"))
            await pilot.click("#inputs", offset=(4, field - int(screen.inputs.scroll_offset.y)))
            await pilot.pause()
        assert screen.query(FieldEditor)
        await pilot.press("escape")
        await pilot.click("#head", offset=(118, 0))
        assert isinstance(app.screen, PickerScreen)
        await pilot.click(offset=(1, 38))  # beside the sheet
        assert app.screen is screen


async def test_a_long_word_on_the_foot_line_stands_in_full_and_help_beside_it(app: SplitlineApp) -> None:
    from splitline.ui.widgets.bar import Bar

    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        said = "the file was changed by somebody else: saving shows how"
        screen.foot(said)
        await pilot.pause()
        row = "".join(piece.text for piece in screen.query_one("#foot", Bar)._laid_out())
        assert said in row
        assert "? help" in row
        screen.foot()
        row = "".join(piece.text for piece in screen.query_one("#foot", Bar)._laid_out())
        assert "Enter to the fields" in row
        assert "all commands" in row


async def test_the_list_of_a_picker_shows_the_full_bar_its_arrows_move(app: SplitlineApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot)
        await pilot.press("a")
        await pilot.pause()
        found = app.screen.query_one("#picker-list", LineView)
        assert not found.has_focus
        assert found.render_line(0).text.startswith("▌")

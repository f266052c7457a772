"""For gloves and at arm's length: everything a fitter touches or follows, on four glasses, in millimetres."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from splitline.ui.app import SplitlineApp
from splitline.ui.draw.letters import _FONT, _WIDE, ROWS, label, letters
from splitline.ui.glass import Sized
from splitline.ui.widgets.lines import Line, LineView, for_gloves
from splitline.ui.work.pad import PadScreen
from splitline.ui.work.picture import work_rows
from tests.ui.glasses import GLASSES, TASKS, Glass, measure, table

READ = 3.3  # mm: 16 minutes of arc at 0.7 m, the least ISO 9241-303 allows for reading (from memory)
TARGET, CAPITAL = 15.0, 6.0  # mm; common practice for gloves and for reading at 0.7 m, no published source


@pytest.mark.parametrize("glass", GLASSES, ids=lambda glass: glass.name)
async def test_targets_are_for_gloves_and_instructions_for_arms_length(tmp_path: Path, glass: Glass) -> None:
    found = await measure(tmp_path, (glass,))
    said = table(found)
    assert {each.screen for each in found} >= {
        "studs",
        "stopped",
        "hold point",
        "step",
        "mounting",
        "pad",
        "names",
        "resume",
        "steps",
        "plans",
        "danger",
        "record summary",
        "record entries",
        "paper pass|studs|snug",
    }
    for each in found:
        assert each.high >= TARGET, said
        assert each.wide >= TARGET - 1e-6, said
        assert not each.cut, said
        assert not each.outside, said
        if each.screen.startswith("record "):  # a page to read, not an instruction; a phone is held closer
            assert each.capitals >= READ or not glass.name.startswith("10-inch"), said
        elif each.screen != "pad" or not glass.name.startswith("phone"):
            assert each.capitals == 0 or each.capitals >= CAPITAL, said


def test_entries_of_a_list_are_padded_to_a_gloves_height_and_a_tap_anywhere_in_one_means_it() -> None:
    lines = [Line(()), Line((("a", ""),), "a"), Line((("b", ""),), "b"), Line((("more", ""),), belongs="b"), Line(())]
    found = for_gloves(lines, 5)
    assert [sum(name in (line.target, line.belongs) for line in found) for name in ("a", "b")] == [5, 5]
    assert [line for line in found if line in lines] == lines
    assert for_gloves(lines, 1) == lines


def test_each_letter_has_a_shape_of_its_own() -> None:
    drawn = {
        char: tuple(letters(char, 40, 1)) for char in (*_FONT, *_WIDE) if not char.isdigit() and not char.isspace()
    }
    assert len(set(drawn.values())) == len(drawn)
    assert all(len(rows) == ROWS for rows in drawn.values())


def test_the_reason_of_a_stop_is_as_large_as_the_word_where_there_is_room() -> None:
    reason = "time limit over: Compound open time"
    task = replace(TASKS["stopped"], lines=(("The work is stopped.", "fails"), (reason, "strong")))
    wide = ["".join(text for text, _ in row) for row in work_rows(task, (), "", {}, 78, 48)]
    assert set(letters(reason, 78, 9)) <= set(wide)
    assert reason not in wide  # it is said once
    low = ["".join(text for text, _ in row) for row in work_rows(task, (), "", {}, 78, 9)]
    assert set(letters("STOPPED", 78, 1)) <= set(low)
    assert reason in low


def test_labels_on_keys_are_told_apart_and_whole_or_not_drawn() -> None:
    drawn = {tuple(label(text, 12)) for text in (*"0123456789.-⌫", "Enter", "Back")}
    assert len(drawn) == 15
    assert all(len(rows) == ROWS for rows in drawn)
    assert label("−", 12) == label("-", 12)
    assert label("Enter", 8) == label("", 12) == label("Überlauf", 40) == []
    assert label("mm", 12, unit=True) != label("MM", 12)


async def test_a_verdict_on_the_pad_is_large_and_moves_no_key(tmp_path: Path) -> None:
    app = SplitlineApp(tmp_path)
    async with app.run_test(size=(80, 56)) as pilot:
        pad = PadScreen("Gap", judge=lambda text: ("▲ OUTSIDE", "fails") if float(text) > 1 else ("● inside", "ok"))
        app.push_screen(pad)
        await pilot.pause(0.05)
        places, drawn = set(), []
        for key in ("", "0", "5", "⌫", "⌫", "9"):
            pad._press(key) if key else None
            await pilot.pause(0.05)
            places.add(tuple(target.region for target in pad.query("Target")))
            drawn.append(
                ["".join(text for text, _ in line.row).strip() for line in pad.query_one("#typed", LineView).lines]
            )
        assert len(places) == 1
        assert {row.strip() for row in letters("INSIDE", 70, 1)} <= set(drawn[1])
        assert {row.strip() for row in letters("OUTSIDE", 70, 1)} <= set(drawn[5])


def test_letters_are_whole_or_not_drawn() -> None:
    assert letters("STOPPED", 78, 1)
    assert letters("STOPPED", 12, 1) == []
    assert letters("Push to 1.35 mm", 200, 3) != letters("Push to 1.35 MM.", 200, 3)  # mm and MM are not the same
    assert letters("Push to 12 kN", 200, 3) != letters("Push to 12 KN.", 200, 3)
    assert letters("Push to 1.35 mm", 200, 3) == letters("PUSH TO 1.35 mm", 200, 3)
    assert letters("set 290 bar, then 1.35 mm/m", 60, 3)
    assert letters("Überlauf prüfen", 200, 3) == []
    assert all(len(row) <= 40 for row in letters("Seat the collar by hand force", 40, 4))


async def test_a_pad_that_is_turned_keeps_all_its_keys_on_the_glass(tmp_path: Path) -> None:
    """A bar that scrolled it took the room of two columns, and Enter was below the foot."""
    app = SplitlineApp(tmp_path, served=True)
    across, upright = GLASSES[0], GLASSES[-1]
    app.glass.cell = (across.cell[0] / 6.0, across.cell[1] / 6.0)
    async with app.run_test(size=across.cells) as pilot:
        pad = PadScreen(
            "Gap, 3 o'clock", (("accepted up to 0.05 mm", "strong"),), ("mm", "in"), lambda text: ("", "ok")
        )
        app.push_screen(pad)
        await pilot.pause(0.1)
        for glass in (upright, across, upright):
            app.glass.cell = (glass.cell[0] / 6.0, glass.cell[1] / 6.0)
            await pilot.resize_terminal(*glass.cells)
            app.post_message(Sized())
            await pilot.pause(0.15)
            for target in pad.query("Target"):
                assert target.region, glass.name
                assert pad.region.contains_region(target.region), (glass.name, target.region)
            assert len({target.region.y for target in pad.query("Target")}) == 4

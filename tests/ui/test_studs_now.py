"""What is in every stud, where a planner and a fitter see it."""

from __future__ import annotations

import shutil
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from splitline.ui.draw.rows import row_width
from splitline.ui.draw.stud_bands import Band, stud_bands
from splitline.ui.screens.view import views_of
from splitline.ui.session import Session
from splitline.ui.theme import style_names

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


def test_the_drawing_of_the_demo_says_whose_stud_is_in_doubt(tmp_path: Path) -> None:
    path = Path(shutil.copy(DEMO, tmp_path))
    session = Session.open(path)
    session.take(*session.compute())
    view = next(view for view in views_of(session, "joint", 0) if view.key == "b")
    assert "estimating" in "".join(text for row in view.draw(100, 30, 0) for text, _ in row)
    assert view.prepare is not None
    view.prepare()
    rows = view.draw(100, 30, 0)
    text = "\n".join("".join(part for part, _ in row) for row in rows)
    assert "as planned" in text
    assert "need" in text
    assert all(f"\n{number:4d} " in f"\n{text}" for number in (1, 12, 24))
    assert {style for row in rows for _, style in row} <= style_names()


@settings(max_examples=60, deadline=None)
@given(
    count=st.integers(1, 200),
    width=st.integers(24, 200),
    height=st.integers(3, 60),
    loads=st.lists(st.floats(1e4, 1e6), min_size=200, max_size=200),
    need=st.none() | st.floats(1e4, 1e6),
)
def test_bands_keep_to_their_room_and_draw_the_most_doubtful(
    count: int, width: int, height: int, loads: list[float], need: float | None
) -> None:
    bands = [Band(n + 1, 0.8 * loads[n], loads[n], 1.2 * loads[n], "ok", "12 %") for n in range(count)]
    rows = stud_bands(bands, need, None, "● expected", width, height)
    assert len(rows) <= height
    assert all(row_width(row) <= max(width, 34) for row in rows)
    lowest = min(bands, key=lambda band: band.low).stud
    drawn = "".join(text for row in rows[:-1] for text, _ in row)
    assert f" {lowest} " in drawn.replace("●", " ")

"""What opening, editing and saving the demo plan costs. On demand: pytest tests/bench/bench_plan.py -o addopts="" """

from __future__ import annotations

from itertools import count
from pathlib import Path
from typing import Any

from splitline.plan import check
from splitline.plan.read import open_plan
from splitline.plan.save import save
from splitline.plan.splice import parses_to

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
LENGTH = ("joint", 0, "bolting", "clamp_length")


def test_open_with_nothing_remembered(benchmark: Any) -> None:
    def opened() -> None:
        check._remembered.clear()
        draft = open_plan(DEMO)
        assert not draft.problems
        assert draft.plan.joints

    opened()  # the library's tables are read once
    benchmark(opened)
    assert benchmark.stats.stats.median < 0.060


def test_one_edit_checked_again(benchmark: Any) -> None:
    draft, numbers = open_plan(DEMO), count(200)

    def edited() -> None:
        after = draft.edit(LENGTH, f"{next(numbers)} mm")
        assert after.problems is not None
        assert after.plan.joints

    benchmark(edited)
    assert benchmark.stats.stats.median < 0.010


def test_text_to_be_saved(benchmark: Any) -> None:
    draft, numbers = open_plan(DEMO), count(200)
    benchmark(lambda: draft.edit(LENGTH, f"{next(numbers)} mm").new_text)
    after = draft.edit(LENGTH, "300 mm")
    assert parses_to(after.new_text, after.tree)


def test_save(benchmark: Any, tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(DEMO.read_bytes())
    state, numbers = [open_plan(path)], count(200)

    def saved() -> None:
        state[0] = save(state[0].edit(LENGTH, f"{next(numbers)} mm"))

    benchmark(saved)

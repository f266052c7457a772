"""What an item bears on screens and paper."""

from __future__ import annotations

from pathlib import Path

from splitline.plan.numbers import bolts_by_size, number_of
from splitline.plan.read import open_plan

DEMO = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"


def test_numbers_by_kind() -> None:
    assert [number_of(kind, 2) for kind in ("step", "joint", "lift", "fit", "window", "plan")] == [
        "3", "J3", "L3", "F3", "T3", "",
    ]  # fmt: skip


def test_bolts_of_two_sizes_are_both_told() -> None:
    said = {joint.id: bolts_by_size(joint) for joint in open_plan(DEMO).plan.joints}
    assert any("," in words for words in said.values())
    for joint in open_plan(DEMO).plan.joints:
        counts = [int(part.split(" × ")[0]) for part in said[joint.id].split(", ")]
        assert joint.layout is not None
        assert sum(counts) == joint.layout.count
        assert len(counts) == 1 + len({size.bolting.thread for size in joint.size})

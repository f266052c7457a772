"""Joints assessed per minute on one core: run with `pytest tests/bench/bench_joint.py`. Wanted: 10,000 or better."""

from __future__ import annotations

from typing import Any

import pytest

from splitline.assess.context import Context
from splitline.assess.joint import assess_joint
from tests.assess.joint_plans import LIBRARY, TODAY, joint

LEAST_PER_MINUTE = 10_000


def test_joint_without_prediction(benchmark: Any) -> None:
    """24 studs at free points, for which there is no interaction model: everything but the prediction."""
    places = [[f"{100 * k} mm", "0 mm"] for k in range(24)]
    one, ctx = joint(layout={"shape": "points", "points": places}), Context(LIBRARY, TODAY)
    benchmark(assess_joint, one, ctx)
    assert 60.0 / benchmark.stats.stats.median > LEAST_PER_MINUTE


@pytest.mark.parametrize("bolts", [12, 24, 48])
def test_joint_with_prediction(benchmark: Any, bolts: int) -> None:
    """A bolt circle with five load cases, prediction of every pass and its scatter included."""
    cases = [
        {"name": f"case {k}", "pressure": f"{20 + k} bar", "member_temperature": f"{40 + 10 * k} degC"}
        for k in range(5)
    ]
    one = joint(layout__bolts=bolts, layout__diameter="2400 mm", member__outer_diameter="2600 mm", case=cases)
    benchmark(assess_joint, one, Context(LIBRARY, TODAY))
    assert benchmark.stats.stats.median < 0.1

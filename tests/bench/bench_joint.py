"""Joints assessed per minute on one core: run with `pytest tests/bench/bench_joint.py`. Wanted: 10,000 or better."""

from __future__ import annotations

from typing import Any

from splitline.assess.context import Context
from splitline.assess.joint import assess_joint
from tests.assess.joint_plans import LIBRARY, TODAY, joint

LEAST_PER_MINUTE = 10_000


def test_joints_per_minute(benchmark: Any) -> None:
    """24 studs, one load case, prediction of every pass included."""
    one, ctx = joint(), Context(LIBRARY, TODAY)
    benchmark(assess_joint, one, ctx)
    assert 60.0 / benchmark.stats.stats.median > LEAST_PER_MINUTE


def test_large_joint(benchmark: Any) -> None:
    """48 studs with five cases."""
    cases = [
        {"name": f"case {k}", "pressure": f"{20 + k} bar", "member_temperature": f"{40 + 10 * k} degC"}
        for k in range(5)
    ]
    one, ctx = (
        joint(layout__bolts=48, layout__diameter="2400 mm", member__outer_diameter="2600 mm", case=cases),
        Context(LIBRARY, TODAY),
    )
    benchmark(assess_joint, one, ctx)
    assert 60.0 / benchmark.stats.stats.median > LEAST_PER_MINUTE

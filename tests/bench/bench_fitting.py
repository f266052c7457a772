"""Cost of fits: run on demand with ``pytest tests/bench/bench_fitting.py``."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from splitline.assess.context import Context
from splitline.assess.fit import assess_fit
from splitline.fitting.cylinder import Elastic
from splitline.fitting.interference import Pair, Running, pressure_running, worst_shaft
from splitline.fitting.windows import Task, earliest
from splitline.library.store import Library
from splitline.plan.model import Fit

pytest.importorskip("pytest_benchmark")
STEEL = Elastic(207e9, 0.3, 7830.0, 11.4e-6)
PAIR = Pair(0.1, 0.03, 0.18, 0.12, STEEL, STEEL)


def test_pressure_at_speed(benchmark: Any) -> None:
    found = benchmark(pressure_running, PAIR, 0.15e-3, Running(1000.0, 60.0, 40.0))
    assert found > 0


def test_worst_shaft(benchmark: Any) -> None:
    assert benchmark(worst_shaft, PAIR, 100e6, 1000.0) > 0


def test_whole_fit(benchmark: Any) -> None:
    ctx = Context(Library.load(), dt.date(2026, 11, 25))
    entry = Fit.model_validate(
        {
            "id": "hub",
            "title": "Hub",
            "shaft_diameter": "100 mm",
            "hub_outer": "180 mm",
            "length": "120 mm",
            "advance": "3 mm",
            "taper": "1:20",
            "hub_material": "42CrMo4",
            "shaft_material": "42CrMo4",
            "friction": 0.12,
            "speed": "10000 rpm",
            "torque": "9 kN*m",
            "mounting": "oil",
            "max_expansion_pressure": "2500 bar",
        }
    )
    assert benchmark(assess_fit, entry, ctx).results


def test_four_hundred_steps(benchmark: Any) -> None:
    tasks = [Task(str(n), 600.0, (str(n - 1),) if n else ()) for n in range(400)]
    assert len(benchmark(earliest, tasks)) == 400

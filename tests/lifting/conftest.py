"""Full-length endurance runs only when asked for: ``pytest -m long tests/lifting``."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "long" in str(config.getoption("markexpr")):
        return
    skip = pytest.mark.skip(reason="full-length endurance run, on demand: -m long")
    for item in items:
        if item.get_closest_marker("long"):
            item.add_marker(skip)

"""For all tests: no property test is judged by the clock, and those that wait for browsers are begun first, on every worker."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

settings.register_profile("steady", deadline=None)
settings.load_profile("steady")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Browsers, servers and endurance wait more than they compute: at the end of a run they would keep one worker alone.

    Each worker takes one run of the list, so each run gets its share of them at its head.
    """
    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    waits = [item for item in items if item.get_closest_marker("chromium") or "serve" in item.path.parts]
    if workers < 2 or not waits:
        return
    chosen = set(map(id, waits))
    rest = [item for item in items if id(item) not in chosen]
    size = -(-len(rest) // workers)
    items[:] = [
        item
        for worker in range(workers)
        for item in (*waits[worker::workers], *rest[worker * size : (worker + 1) * size])
    ]

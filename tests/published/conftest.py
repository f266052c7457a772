"""With SPLITLINE_VERIFICATION naming a file, a run of these tests writes there every value it compared."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest

from tests.published.recorder import Watch

KEPT = pytest.StashKey[Watch]()
RAN = pytest.StashKey[list[dict[str, Any]]]()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[KEPT] = Watch()
    config.stash[RAN] = []


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Iterator[None]:
    if "SPLITLINE_VERIFICATION" not in os.environ or item.path.parent != Path(__file__).parent:
        yield
        return
    function = getattr(item, "originalname", item.name)
    spec = getattr(item, "callspec", None)
    # the index of the first parametrised name is the place of the case in its list
    case = next(iter(spec.indices.values())) if spec is not None and spec.indices else 0
    watch, ran = item.config.stash[KEPT], item.config.stash[RAN]
    before = len(watch.rows)
    verdict = False
    try:
        with watch.during(function, case):
            yield
        verdict = True
    finally:
        params = {} if spec is None else {k: v for k, v in spec.params.items() if isinstance(v, int | float | str)}
        ran.append({
            "file": item.path.name, "test": function, "case": case, "params": params, "passed": verdict,
            "rows": [asdict(row) for row in watch.rows[before:]],
        })  # fmt: skip


def pytest_sessionfinish(session: pytest.Session) -> None:
    path = os.environ.get("SPLITLINE_VERIFICATION")
    if path:
        Path(path).write_text(json.dumps(session.config.stash[RAN]), "utf-8")

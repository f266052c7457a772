"""What the library costs. ``pytest tests/bench/bench_library.py`` (pytest-benchmark), on demand."""

from __future__ import annotations

from typing import Any

from splitline.library import store
from splitline.library.grades import grade
from splitline.library.slings import sling
from splitline.library.threads import parse_designation

FIRST_LOOK = 0.015  # s: load the library and find ASTM A193 B7, after imports


def _forget() -> None:
    for cached in (store.shipped, store._part, store._files, store._shipped_digest, parse_designation):
        cached.cache_clear()  # type: ignore[attr-defined]


def test_first_lookup(benchmark: Any) -> None:
    def look() -> None:
        store.Library.load().find("grades", "ASTM A193 B7")

    benchmark.pedantic(look, setup=_forget, rounds=20)
    assert benchmark.stats.stats.median < FIRST_LOOK


def test_first_grade_of_a_joint(benchmark: Any) -> None:
    def look() -> None:
        grade(store.Library.load(), "ASTM A193 B7", parse_designation("M48x3"))

    benchmark.pedantic(look, setup=_forget, rounds=20)


def test_later_lookups(benchmark: Any) -> None:
    library = store.Library.load()
    size = parse_designation("M48x3")

    def look() -> None:
        grade(library, "ASTM A193 B7", size)
        sling(library, "wire rope 28 mm 6x36 IWRC")

    benchmark(look)

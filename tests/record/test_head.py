"""The head beside a record: written over in place, never read half."""

from __future__ import annotations

import threading
from pathlib import Path

from splitline.record.head import Head, read_head, write_head


def test_a_shorter_head_leaves_nothing_of_the_longer_one(tmp_path: Path) -> None:
    path = tmp_path / "cover.record.head"
    write_head(path, Head(1000, "a" * 64))
    write_head(path, Head(7, "b" * 64))
    assert read_head(path) == Head(7, "b" * 64)
    assert path.read_text("ascii") == f'count = 7\nhash = "{"b" * 64}"\n'


def test_a_head_read_while_it_is_written_is_one_of_those_written(tmp_path: Path) -> None:
    path = tmp_path / "cover.record.head"
    both = (Head(10, "a" * 64), Head(11, "b" * 64))
    write_head(path, both[0])
    stop = threading.Event()

    def write() -> None:
        while not stop.is_set():
            for head in both:
                write_head(path, head)

    writer = threading.Thread(target=write)
    writer.start()
    try:
        assert {read_head(path) for _ in range(2000)} <= set(both)
    finally:
        stop.set()
        writer.join()

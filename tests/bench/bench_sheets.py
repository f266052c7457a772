"""Sheets of the demo plan: run with `pytest tests/bench/bench_sheets.py`. Wanted: all of them as PDF in under 3 s."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

from splitline.report.output import bundle_bytes
from splitline.report.pdf.paper import PAPERS
from tests.report.prints import DEMO, bundle, demo

LONGEST = 3.0  # s


def test_all_sheets_as_pdf(benchmark: Any) -> None:
    """Building the blocks and writing the PDF, the plan assessed before."""
    found = demo()
    benchmark.pedantic(lambda: bundle_bytes(bundle(found), ".pdf", PAPERS["A4"]), rounds=5, iterations=1)
    assert benchmark.stats.stats.median < LONGEST


def test_the_command_from_start_to_file(benchmark: Any, tmp_path: Path) -> None:
    """The whole process: start, read, assess, print."""
    command = [sys.executable, "-m", "splitline", "sheet", str(DEMO), "-o", str(tmp_path / "out.pdf"), "--force"]
    benchmark.pedantic(lambda: subprocess.run(command, check=True, capture_output=True), rounds=3, iterations=1)
    assert benchmark.stats.stats.median < LONGEST

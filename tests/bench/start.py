"""What starting costs: imports of each dependency, the `check` command and the first screen, against bare imports.

Run on demand: ``python tests/bench/start.py``. Medians of processor time of whole processes (a busy machine counts less),
with bytecode caches written. Aims: `check` within 450 ms and 1.5 times the bare imports, under 100 MB.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
from pathlib import Path

PLAN = Path(__file__).parents[2] / "plans" / "k410-closeup.toml"
ROUNDS = 9
BARE = {
    "interpreter": "pass",
    "argparse": "import argparse",
    "tomllib": "import tomllib",
    "numpy": "import numpy",
    "pydantic": "import pydantic",
    "pint, after numpy": "import numpy, pint",
    "tomlkit": "import tomlkit",
    "rich": "import rich.console",
    "textual": "import textual.app",
    "what check needs": "import argparse, tomllib, numpy, pydantic",
}
OURS = {
    "cli": "import splitline.cli",
    "plan model": "import splitline.plan.model",
    "assess": "import splitline.assess.assessment",
    "screens": "import splitline.ui.app",
    "check": f"from splitline.cli import main; main(['check', {str(PLAN)!r}])",
    "check --json": f"from splitline.cli import main; main(['check', {str(PLAN)!r}, '--json'])",
}


def seconds(code: str) -> float:
    """Processor time of one process."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | {"OPENBLAS_NUM_THREADS": "1"}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", code], env=env, stdout=subprocess.DEVNULL, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def cost(code: str) -> float:
    """Median in ms, after one run that writes the caches."""
    seconds(code)
    return 1e3 * statistics.median(seconds(code) for _ in range(ROUNDS))


def main() -> None:
    """Print it all."""
    for title, codes in (("bare", BARE), ("Splitline", OURS)):
        for name, code in codes.items():
            found = cost(code)
            print(f"{title:<10} {name:<20} {found:6.0f} ms")
            if name == "what check needs":
                bare = found
            if name.startswith("check"):
                print(f"{'':<10} {'':<20} {found / bare:6.2f} times its bare imports")
    print(
        f"{'greatest memory of one process':<31} {resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024:6.0f} MB"
    )


if __name__ == "__main__":
    main()

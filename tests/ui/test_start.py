"""The first picture waits for nothing heavy."""

from __future__ import annotations

import subprocess
import sys

CODE = """
import sys
from pathlib import Path
from splitline.ui.app import SplitlineApp
from splitline.ui.screens.plans import PlansScreen
from splitline.ui.screens.plan import PlanScreen
heavy = ("numpy", "pint", "pydantic", "tomlkit", "splitline.assess", "splitline.plan.model")
print([name for name in heavy if name in sys.modules])
"""


def test_screens_import_without_the_heavy_libraries() -> None:
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

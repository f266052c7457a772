"""Saves a plan over and over until it is killed; for the test that kills it."""

from __future__ import annotations

import sys

from splitline.plan.read import open_plan
from splitline.plan.save import save

draft = open_plan(sys.argv[1])
print("ready", flush=True)
count = 0
while True:
    count += 1
    draft = save(draft.edit(("plan", "notes"), f"save {count} " + "x" * (count % 7) * 4000))

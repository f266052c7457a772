"""A crew in a process of its own: tightens what the fitter's desk gives it until nothing is left.

``python -m tests.ui.work_crew PLAN NAME``; says each instruction it was shown, one a line.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import sys
import time
from pathlib import Path

from splitline.errors import RecordError
from splitline.record import claims
from splitline.record.claims import Claim
from splitline.record.clock import wall
from splitline.ui.work import acts, desk
from splitline.ui.work.desk import Desk
from tests.ui.work_helpers import assessor


def main(plan: str, name: str) -> None:
    # The killed are waited for less long than on the job, but longer than a busy machine lets a living crew stand still.
    claims.AWAKE, desk.RENEW = dt.timedelta(seconds=4), 0.3
    at = Desk(Path(plan), wall, assessor)
    at.take_seat(name)
    while True:
        now, task = at.task()
        if task.kind == "set-up":
            acts.set_up(at, task, "molybdenum disulfide paste", "B7", "wrench W1", f"1-{name}", dt.date(2099, 1, 1))
        elif task.kind == "bolts":
            sys.stdout.write(f"{task.pass_} {' '.join(map(str, task.bolts))}\n")
            sys.stdout.flush()
            time.sleep(0.01)  # the pull
            try:
                acts.tighten(at, task)
            except RecordError as error:
                sys.stdout.write(f"refused {error}\n")
        elif task.kind == "taken":
            time.sleep(0.05)
            _take_over_from_the_gone(at, now.others)
        else:
            return


def _take_over_from_the_gone(at: Desk, others: tuple[Claim, ...]) -> None:
    gone = [claim for claim in others if not claim.awake(at.clock())]
    if gone:
        with contextlib.suppress(RecordError):  # another crew was quicker
            at.take_over(gone[0])


if __name__ == "__main__":
    main(*sys.argv[1:])

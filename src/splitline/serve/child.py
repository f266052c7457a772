"""One tablet's program: the screens in a process of their own, which ends when its server is gone."""

from __future__ import annotations

import argparse
import json
import os
import sys
import threading
import time
from pathlib import Path

from splitline.ui.app import SplitlineApp
from splitline.ui.reach import Reach

PARENT = "SPLITLINE_SERVER_PID"
CLIENT = "SPLITLINE_CLIENT"
PLACE = "SPLITLINE_PLACE"


def main() -> int:
    """Run the screens for one client; the server talks to us through pipes."""
    parser = argparse.ArgumentParser()
    parser.add_argument("target", type=Path)
    parser.add_argument("--work", action="store_true")
    parser.add_argument("--view-only", action="store_true")
    args = parser.parse_args()
    app = SplitlineApp(
        args.target, work_only=args.work, view_only=args.view_only, served=True, resume=at_work(args.target)
    )
    watch(app, int(os.environ[PARENT]))
    app.run()
    return app.return_code or 0


def at_work(target: Path) -> Path | None:
    """The plan this tablet was at work on before its link was lost, if it is one of those served."""
    try:
        place = json.loads(Path(os.environ[PLACE]).read_text("utf-8"))
        plan, person = Path(place["plan"]), place["person"]
    except (KeyError, OSError, ValueError, TypeError):
        return None
    served = Reach(target, served=True).opens(plan)
    return plan if person and served and plan.is_file() else None


def watch(app: SplitlineApp, parent: int, every: float = 1.0) -> None:
    """End the program when its parent process has changed: a killed server cannot tell its children."""

    def wait() -> None:
        while os.getppid() == parent:
            time.sleep(every)
        threading.Timer(5.0, os._exit, (1,)).start()  # a screen that cannot write any more must not stay
        try:
            app.call_from_thread(app.exit)
        except Exception:  # the loop is already gone; the timer ends what is left
            return

    threading.Thread(target=wait, name="server-watch", daemon=True).start()


if __name__ == "__main__":
    sys.exit(main())

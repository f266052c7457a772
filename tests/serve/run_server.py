"""Starts a tablet server of a small program beside this one (or of the real one) in a process of its own; prints its link."""

import sys
import tempfile
from pathlib import Path

from splitline.serve.clients import PROGRAM
from splitline.serve.guard import Guard
from splitline.serve.server import TabletServer


def main(target: str, port: str, most: str, real: str) -> None:
    guard = Guard(frozenset({"tablet.site"}), work_token="work-token-of-the-test", view_token="view-token-of-the-test")
    program = PROGRAM if real == "real" else (sys.executable, str(Path(__file__).parent / f"{real}.py"))
    places = Path(tempfile.mkdtemp(prefix="places-"))
    server = TabletServer(
        Path(target), guard, host="127.0.0.1", port=int(port), places=places, most=int(most), program=program
    )
    server.run(lambda bound: print(f"http://127.0.0.1:{bound}/", flush=True))


if __name__ == "__main__":
    main(*sys.argv[1:])

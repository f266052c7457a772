"""Everything in the docs that is made from the program: ``python -m tests.docs.refresh``, with ``pictures`` for those as well."""

from __future__ import annotations

import asyncio
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from splitline import cli as command
from splitline.plan.describe import plan_file_page
from tests.docs import assumed, formulas, keys, pictures, rooms
from tests.docs.reading import ROOT
from tests.published import table


def main() -> None:
    formulas.main()
    assumed.main()
    keys.main()
    rooms.main()
    table.main()
    (ROOT / "docs" / "plan-file.md").write_text(plan_file_page(), "utf-8")
    command.main(["schema", "--force", "-o", str(ROOT / "docs" / "splitline-plan.schema.json")])
    record = ["schema", "--record", "--force", "-o", str(ROOT / "docs" / "splitline-record.schema.json")]
    command.main(record)
    if "pictures" in sys.argv[1:]:
        asyncio.run(pictures.make(list(pictures.PICTURES), pictures.DOCS))
        sheet()


def sheet() -> None:
    """The bolting sheet of the demo's head cover as a picture, by poppler's pdftoppm where that is installed."""
    if shutil.which("pdftoppm") is None:
        print("docs/sheet.png stays as it is: no pdftoppm here")
        return
    with tempfile.TemporaryDirectory() as folder:
        printed = Path(folder) / "sheet.pdf"
        command.main(
            ["sheet", str(ROOT / "plans" / "k410-closeup.toml"), "--item", "discharge-head", "-o", str(printed)]
        )
        picture = ["pdftoppm", "-r", "80", "-gray", "-png", "-f", "1", "-l", "1", "-singlefile"]
        subprocess.run([*picture, str(printed), str(pictures.DOCS / "sheet")], check=True)


if __name__ == "__main__":
    main()

"""Everything in the docs that is made from the program: ``python -m tests.docs.refresh``, with ``pictures`` for those as well."""

from __future__ import annotations

import asyncio
import sys

from tests.docs import formulas, keys, pictures
from tests.published import table


def main() -> None:
    formulas.main()
    keys.main()
    table.main()
    if "pictures" in sys.argv[1:]:
        asyncio.run(pictures.make(list(pictures.PICTURES), pictures.DOCS))


if __name__ == "__main__":
    main()

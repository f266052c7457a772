"""python -m splitline."""

import sys

from splitline.cli import main

sys.exit(main())

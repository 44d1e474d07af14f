"""``python -m bedwright``."""

import sys

from bedwright.cli.main import run

sys.exit(run())

"""Writes docs/case-studies.md; with --measure, first writes our figures afresh into the table.

Run it by the project's own Python: .venv/bin/python scripts/make_case_studies.py [--measure]
"""

import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "outside"))

from case_studies import measure_again, page  # noqa: E402

if "--measure" in sys.argv[1:]:
    measure_again()
(ROOT / "docs" / "case-studies.md").write_text(page(), encoding="utf-8")

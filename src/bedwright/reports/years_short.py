"""The years ahead in short, for the season's plan: clashes, wishes short, one line a bed."""

from __future__ import annotations

from bedwright.planning.assignment.result import YearsAhead
from bedwright.reports.layout import wrapped
from bedwright.reports.rotation_text import one_line
from bedwright.reports.rotation_words import clash_words


def years_short(ahead: YearsAhead) -> str:
    """A page's section; ``bedwright rotate`` tells it in full."""
    title = f"The years ahead, {ahead.years[0]} to {ahead.years[-1]}"
    if len(ahead.years) == 1:
        title = f"The year ahead, {ahead.years[0]}"
    lines = [title, "-" * len(title)]
    for clash in ahead.clashes:
        lines += wrapped(" ".join(clash_words(clash)), "* ")
    for line in one_line(ahead, ahead.units):
        lines += wrapped(line, "  ", "      ")
    lines += wrapped("`bedwright rotate` tells why each crop stands where it does.")
    return "\n".join([*lines, ""])

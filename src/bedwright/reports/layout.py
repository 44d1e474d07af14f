"""Lines of text that fit the page."""

from __future__ import annotations

import textwrap

WIDTH = 78


def wrapped(text: str, first: str = "", later: str | None = None) -> list[str]:
    """Text wrapped to the page, with an indent for the first and the later lines."""
    rest = " " * len(first) if later is None else later
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [first.rstrip()]

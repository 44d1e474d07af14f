"""Sizes of words and weights of lines, in px, and the dashes of lines."""

from __future__ import annotations

TEXT, SMALL, TITLE = 15.0, 13.0, 18.0  # px
THIN, PLAIN, HEAVY = 1.0, 1.8, 3.0  # px of line
DASHES: dict[str, list[int]] = {"": [], "dash": [7, 4], "dot": [2, 3], "long": [14, 5]}

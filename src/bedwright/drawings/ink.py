"""The ink of the drawings: face, sizes of words, weights of lines, grays. Sizes in px."""

from __future__ import annotations

from bedwright.face import FAMILY

FACE = f"'{FAMILY}', sans-serif"
PAPER, INK = "#ffffff", "#141414"
FAINT = "#8a8a8a"  # hatching and ruling: never what must be read
TEXT, SMALL = 14.0, 12.5
THIN, PLAIN, HEAVY = 0.8, 1.6, 2.4

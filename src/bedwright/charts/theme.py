"""One theme for all charts: ink on white, direct labels, state by hatching, weight and words.

Colors are chosen to stay apart in grey; whatever must be read has a contrast of 7:1 or more.
"""

from __future__ import annotations

from typing import Any

from bedwright.charts.sizes import PLAIN, SMALL, TEXT, THIN, TITLE
from bedwright.face import FAMILY

Spec = dict[str, Any]

PAPER = "#ffffff"
INK = "#141414"  # lines and words
QUIET = "#404040"  # axes, months, the second rank of words
BAND = "#d9d9d9"  # the range of what is supplied or expected
OCHRE = "#5a3600"  # act now or lose: lines and words
WATER = "#063e66"  # water: lines and words


def themed(
    body: Spec,
    title: list[str],
    description: str,
    *,
    below: list[str] | None = None,
    gap: float = 12.0,
) -> Spec:
    """A whole specification: a body under the theme, with a sentence for a title and alt text.

    ``below`` is the line under the title, ``gap`` the room between both and the drawing [px].
    """
    return {
        "title": {"text": title, **({"subtitle": below} if below else {}), "offset": gap},
        "description": description,
        "background": PAPER,
        "padding": 12,
        **body,
        "config": _config(),
    }


def _config() -> Spec:
    return {
        "font": FAMILY,
        "view": {"stroke": None},
        "title": {
            "anchor": "start",
            "frame": "group",
            "color": INK,
            "fontSize": TITLE,
            "fontWeight": "bold",
            "lineHeight": TITLE * 1.25,
            "subtitleColor": INK,
            "subtitleFontSize": TEXT,
            "subtitleLineHeight": TEXT * 1.3,
            "subtitlePadding": 6,
        },
        "axis": {
            "domainColor": INK,
            "domainWidth": THIN,
            "tickColor": INK,
            "tickWidth": THIN,
            "tickSize": 5,
            "grid": False,
            "labelColor": INK,
            "labelFontSize": SMALL,
            "labelPadding": 4,
            "titleColor": INK,
            "titleFontSize": SMALL,
            "titleFontWeight": "normal",
        },
        "legend": {"disable": True},
        "text": {"color": INK, "fontSize": TEXT, "lineBreak": "\n"},
        "line": {"color": INK, "strokeWidth": PLAIN, "strokeCap": "butt", "strokeJoin": "round"},
        "concat": {"spacing": 28},
    }

"""Water at a bed's roots through a season: between full and dry, with runs and rain."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta

import numpy as np

from bedwright.charts.curve_chart import Saying, Series, curve_chart
from bedwright.charts.sheet import Upright
from bedwright.charts.theme import Spec
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.years import StandYears
from bedwright.units import UnitSystem
from bedwright.units.parse import unit_factor

_RAINS = 3  # told by name: the biggest of the season
_TOLD_RAIN_M = 0.008


def water_chart(
    stand: Stand, years: StandYears, system: UnitSystem, words: Mapping[str, str]
) -> Spec:
    """The balance of a planting in the middling year of the record.

    Parameters
    ----------
    stand, years : the planting and its balance through the years
    system : the reader's units
    words : ``WATER_CHARTS`` with ``CHART_WORDS``
    """
    unit = "in" if system is UnitSystem.US else "mm"
    scale = 1 / unit_factor(unit)[0]
    year = years.middling_year
    shape = years.even.depletion_m.shape
    full = np.broadcast_to(years.days.available_m, shape)[:, year]
    left = full - years.even.depletion_m[:, year]
    dry = full * (1 - stand.water.depletion_share)
    rain = np.broadcast_to(years.days.rain_m, shape)[:, year]
    dates = tuple(stand.start + timedelta(days=each) for each in range(stand.days))

    def series(key: str, values: np.ndarray, tint: str = "ink") -> Series:
        ys = tuple(float(each) * scale for each in values)
        return Series(words[key], dates, ys, tint=tint)  # type: ignore[arg-type]

    biggest = [int(at) for at in np.argsort(-rain, kind="stable")[:_RAINS]
               if rain[at] >= _TOLD_RAIN_M]  # fmt: skip
    falls = [
        Upright(dates[at], words["rain"].format(depth=f"{rain[at] * scale:.2g} {unit}"))
        for at in sorted(biggest)
    ]
    given = {"bed": stand.bed, "crop": stand.name.lower(), "unit": words[f"unit_{unit}"]}
    saying = Saying(
        words["title"].format(**given),
        words["below"].format(**given),
        words["heading_x"],
        words["heading_y"],
    )
    return curve_chart(
        [
            series("water", left, "water"),
            series("full", full),
            series("dry", dry, "ochre"),
            series("runs", years.even.irrigation_m[:, year], "water"),
        ],
        saying,
        words,
        uprights=falls,
    )

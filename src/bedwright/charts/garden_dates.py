"""All charts of a garden's planting dates: frost, soil warmth, and fruit set crop by crop."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from bedwright.charts.dates_chart import frost_chart, set_chart, soil_chart
from bedwright.charts.theme import Spec
from bedwright.garden import Document
from bedwright.planning.timing_model import GardenDates


def garden_dates_charts(
    found: GardenDates,
    document: Document,
    as_of: date,
    words: Mapping[str, str],
    only: Collection[str] | None = None,
) -> dict[str, Spec]:
    """The charts by the name of their file; of these crops, or of all.

    ``words`` are ``DATES_CHARTS`` with ``CHART_WORDS``. Empty where the document says nothing of
    the weather.
    """
    if found.weather is None:
        return {}
    place = document.garden.garden
    wants = [each for each in found.wants if only is None or each.crop in only]
    ahead = [
        turn.best.chosen.on.year
        for want in wants
        for turn in want.turns[:1]
        if turn.best is not None
    ]
    year = min(ahead, default=as_of.year)
    charts = {
        "frost": frost_chart(found, place.name, year, place.units, words),
        "soil": soil_chart(found.weather, wants, year, place.units, words),
    }
    for want in wants:
        charts.setdefault(f"fruit-set-{want.crop}", set_chart(want, words))
    return {name: chart for name, chart in charts.items() if chart is not None}

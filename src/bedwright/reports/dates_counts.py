"""Days, spans and shares of years or plants as a gardener says them."""

from __future__ import annotations

from datetime import date, timedelta

from bedwright.planning.timing_model import Spread
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_dates import DATES

FEW = 0.15  # a share below is told as one of so many, from here on in tenths


def one_day(template: str, days: float) -> str:
    """A template that speaks of days, for a single day."""
    return template.replace("} days", "} day") if round(abs(days)) == 1 else template


def day_words(on: date) -> str:
    """Month in words and day."""
    return f"{CHART_WORDS[f'month_{on.month}']} {on.day}"


def span_words(first: date, last: date, *, year: bool = False) -> str:
    """Two days, the month said once; with ``year`` the year too."""
    end = f", {last.year}" if year else ""
    if first == last:
        return f"{day_words(first)}{end}"
    if (first.year, first.month) == (last.year, last.month):
        return f"{day_words(first)} to {last.day}{end}"
    begin = (
        f"{day_words(first)}, {first.year}"
        if year and first.year != last.year
        else day_words(first)
    )
    return f"{begin} to {day_words(last)}{end}"


def around_words(on: date, spread: Spread) -> str:
    """A day some days after another, with the span of 8 years of 10."""
    middle, low, high = (
        on + timedelta(days=round(each)) for each in (spread.mean, spread.low, spread.high)
    )
    return day_words(middle) if low == high else f"{day_words(middle)} ({span_words(low, high)})"


def spread_words(key: str, spread: Spread) -> str:
    """The words under a key of DATES with a number of days and its band."""
    low, high = round(spread.low), round(spread.high)
    band = "" if low == high else DATES["band"].format(low=low, high=high)
    return one_day(DATES[key], spread.mean).format(days=f"{spread.mean:.0f}", band=band)


def plants_words(share: float) -> str:
    """A share of the plants, as a gardener counts them."""
    if 0 < share < FEW:
        return DATES["one_plant_of"].format(n=_rough(1 / share))
    tens = round(share * 10)
    return DATES["all_plants"] if tens == 10 else DATES["plants"].format(n=tens)


def _rough(many: float) -> int:
    """A whole number, from 20 on in tens."""
    return round(many) if many < 20 else int(round(many, -1))


def count_words(years: int) -> str:
    """A number of years."""
    return f"{years} year" if years == 1 else f"{years} years"


def years_words(share: float) -> str:
    """A share of the years, as a gardener counts them."""
    if share <= 0:
        return DATES["no_year"]
    if share < FEW:
        return DATES["one_year_in"].format(n=round(1 / share))
    tens = round(share * 10)
    if tens == 10:
        return DATES["every_year" if share == 1 else "years"].format(n=tens)
    return DATES["years"].format(n=tens)


def range_words(low: float, high: float) -> str:
    """Two shares of the years, the unit said once where both are told in it."""
    ends = [years_words(low), years_words(high)]
    unit = DATES["years"].format(n="")
    if all(each.endswith(unit) for each in ends):
        ends[0] = ends[0].removesuffix(unit)
    return DATES["range"].format(low=ends[0], high=ends[1])

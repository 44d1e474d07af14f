"""Days, spans and shares of years or plants as a gardener says them."""

from __future__ import annotations

from datetime import date, timedelta

from bedwright.planning.timing_model import Spread
from bedwright.reports.days_said import day_words, span_words
from bedwright.reports.words_dates import DATES

FEW = 0.15  # a share below is told as one of so many, from here on in tenths


def one_day(template: str, days: float) -> str:
    """A template that speaks of days, for a single day."""
    many, one = DATES["days_word"], DATES["day_word"]
    return template.replace(f"}} {many}", f"}} {one}") if round(abs(days)) == 1 else template


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
    return DATES["count_year" if years == 1 else "count_years"].format(n=years)


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

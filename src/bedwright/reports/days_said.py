"""Days and spans of days as a gardener says them."""

from __future__ import annotations

import re
from datetime import date

from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_dates import DATES

_ISO = re.compile(r"\b(\d{4})-(\d\d)-(\d\d)\b")


def day_words(on: date) -> str:
    """Month in words and day."""
    return CHART_WORDS["day"].format(month=CHART_WORDS[f"month_{on.month}"], day=on.day)


def day_year_words(on: date) -> str:
    """Month in words, day and year."""
    return DATES["day_year"].format(day=day_words(on), year=on.year)


def span_words(first: date, last: date, *, year: bool = False) -> str:
    """Two days, the month said once; with ``year`` the year too."""
    if first == last:
        one = DATES["single_day"].format(day=day_words(first))
        return DATES["day_year"].format(day=one, year=first.year) if year else one
    if (first.year, first.month) == (last.year, last.month):
        month = CHART_WORDS[f"month_{last.month}"]
        span = DATES["span_of_month"].format(month=month, first=first.day, last=last.day)
        return DATES["day_year"].format(day=span, year=last.year) if year else span
    begin = day_year_words(first) if year and first.year != last.year else day_words(first)
    end = day_year_words(last) if year else day_words(last)
    return DATES["span"].format(first=begin, last=end)


def days_said(text: str) -> str:
    """A text whose days are written as 2027-05-19, with them as they are written here."""
    return _ISO.sub(_said, text)


def _said(found: re.Match[str]) -> str:
    try:
        on = date.fromisoformat(found[0])
    except ValueError:  # not a day after all
        return found[0]
    month = CHART_WORDS[f"month_{on.month}"]
    return DATES["iso_day"].format(iso=found[0], day=on.day, month=month, year=on.year)

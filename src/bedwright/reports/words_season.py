"""The words of a place's year, in American English. Values in braces are filled in."""

from __future__ import annotations

from bedwright.language import Words

SEASON = Words({
    "freeze": "Freeze ({threshold} or colder): {clauses}.",
    "no_freeze": "In none of {seasons} years did it freeze ({threshold} or colder).",
    "some_freeze": "it freezes in {n} years of 10",
    "last": "the last of spring comes by {middle} in half of the years, after {late} in 1 year of 10",
    "first": "the first of fall comes by {middle} in half of the years, before {early} in 1 year of 10",
    "between": "between them lie {middle} days, fewer than {low} in 1 year of 10",
    "heat": "Heat (5 days of 7 at {heat} or more): {clauses}.",
    "no_heat": "In none of {seasons} years did heat come (5 days of 7 at {heat} or more).",
    "some_heat": "it comes at all in {n} years of 10",
    "comes": "it comes about {middle} ({span})",
    "goes": "it goes about {middle} ({span})",
    "site_doubt": "How far your nights really are from the station's is known to within {doubt} either way. "
    "The freeze dates above and the range of every risk of frost count that in; the season between the "
    "freezes, soil, heat and harvest are reckoned at the middle.",
    "generated": "Whether freezes move over the decades can't be told from generated years.",
    "table": "Freeze dates (half of the years; in brackets 8 years of 10; p: chance of as much by accident):",
    "at_or_below": "at or below {threshold}, {seasons} seasons:",
    "row_last": "last of spring: {told}",
    "row_first": "first of fall: {told}",
    "row_length": "days between: {told}",
    "days": "{days}",
    "range": "{low} to {high}",
    "not_known": "not known",
    "to": "to",
    "heat_head": "Heat:",
})  # fmt: skip

MOVED = Words({
    "last": "the last freeze of spring",
    "first": "the first freeze of fall",
    "neither": "Over {seasons} seasons neither the last freeze ({last} days in 10 years) nor the first ({first}) "
    "shows a clear move.",
    "earlier": "Over {seasons} seasons {what} has moved earlier, by {days} days in 10 years ({range}).",
    "later": "Over {seasons} seasons {what} has moved later, by {days} days in 10 years ({range}).",
    "no_clear_trend": "Over {seasons} seasons {what} shows no clear move ({range} days in 10 years).",
    "too_short": "{seasons} seasons are too few to tell whether {what} moves.",
})  # fmt: skip

TESTED = Words(
    {
        "earlier": "earlier by {days} days in 10 years ({range}; p {p})",
        "later": "later by {days} days in 10 years ({range}; p {p})",
        "longer": "longer by {days} days in 10 years ({range}; p {p})",
        "shorter": "shorter by {days} days in 10 years ({range}; p {p})",
        "no_clear_trend": "no clear move over the decades: {range} days in 10 years (p {p})",
        "too_short": "too few seasons to tell whether it moves",
    }
)

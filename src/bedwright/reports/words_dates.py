"""The words of planting dates, in American English. Values in braces are filled in by dates_text."""

from __future__ import annotations

from bedwright.language import Words

# Said of dates and of the years ahead alike.
BULBS = {
    "bulbs_in_intermediate_days": "{crop} is taken to be of an intermediate-day type, as suits this latitude: bulbs "
    "swell in days of {hours} hours and more, after enough leaf. Take such a cultivar.",
    "bulbs_in_long_days": "{crop} is taken to be of a long-day type, as suits this latitude: bulbs swell in days of "
    "{hours} hours and more, after enough leaf. Take such a cultivar.",
    "bulbs_in_short_days": "{crop} is taken to be of a short-day type, as suits this latitude: bulbs swell in days of "
    "{hours} hours and more, after enough leaf. Take such a cultivar.",
}

DATES_FINDINGS = Words({
    "crop_not_timed": "Of {crop} the tables don't say enough for dates; they lack: {missing}.",
    **BULBS,
    "kill_not_known": "How much frost kills {crop} is not known here, so no best date is told.",
    "maturity_of_the_table": "How long this cultivar takes is not stated: {days} days to the first "
    "harvest in good weather are taken.",
    "radiation_without_latitude": "The sun's radiation is stated but not the latitude; it is not used.",
    "set_out_by_dates": "No date of planting is stated: the plan takes {taken}.",
    "site_nights": "By {nights} nights of your own thermometer the garden's nights are {off} {colder} "
    "than the station's; the dates count that.",
    "site_nights_few": "By only {nights} nights of your own thermometer the garden's nights are {off} "
    "{colder} than the station's. The dates count that, but read on: three weeks tell more.",
    "site_nights_none": "None of your own thermometer's nights lies within the station's record: they "
    "can't be used. Fetch the record anew.",
    "soil_by_air_alone": "The soil's temperature is guessed from the air of the week before: neither the "
    "sun's radiation nor the latitude is known.",
    "soil_by_guessed_sun": "The soil's temperature, bare and 4 in deep, is modeled from the air and from a "
    "sun that is guessed from the days' range. Dark mulch makes it warmer, straw cooler.",
    "soil_by_model": "The soil's temperature, bare and 4 in deep, is modeled from the air and the sun. Dark "
    "mulch makes it warmer, straw cooler.",
    "weather_few_freezes": "It froze in only {freezes} of {seasons} seasons: when it does is not known well.",
    "weather_file_doubt": "There is one thing to know of {file}: bedwright weather read tells it.",
    "weather_file_doubts": "There are {count} things to know of {file}: bedwright weather read tells them.",
    "weather_gappy": "{left_out} seasons of the weather record have gaps where a freeze may hide; they are "
    "left out.",
    "weather_invented": "The weather behind the dates is invented: {years} years drawn from the monthly "
    "figures in the document. Real years differ more from each other, so late and early frosts come "
    "out too seldom. A station's record is better: bedwright weather fetch.",
    "weather_no_freeze": "In none of {seasons} seasons did it freeze.",
    "weather_not_stated": "Nothing is said of the weather: no dates are worked out. Name a station's file "
    "under [weather], or give monthly figures.",
    "weather_short": "The weather record has {seasons} seasons, fewer than the 30 that odds should rest on: "
    "take the odds as rough.",
    "weather_spread_by_rule": "How much the days of a month differ is not stated: a general rule stands in.",
    "weather_too_short": "The weather record has only {seasons} seasons. That is too short for odds: the "
    "dates are a first guess.",
    "weather_under_a_year": "The weather record holds less than a year: no dates are worked out.",
})  # fmt: skip

STARTS = Words(
    {
        "set_out": ("Set out", "set out"),
        "sown": ("Sow", "sown"),
        "pieces": ("Plant", "planted"),
    }
)

COVERS = Words(
    {
        "row_cover_light": "a light row cover",
        "row_cover_medium": "a medium row cover",
        "row_cover_heavy": "a heavy row cover",
        "low_tunnel": "a low tunnel",
        "water_wall": "a water-filled wall",
    }
)

TURN_WORDS = Words({"spring": "Spring", "late summer": "Late summer"})

# What every date fails on.
NO_DATE = Words(
    {
        "kill": "frost kills in more than {risk} of 10, whatever the date",
        "soil": "the soil is warm enough in too few years",
        "lost": "too often nothing ripens before the frost",
        "bolting": "more than {bolted} run to seed before the harvest",
        "together": "what escapes the frost comes too late to ripen, run to seed or meet warm soil in time",
        "unknown": "the record can't tell",
    }
)

# Why a window begins or ends: of the date just outside it.
BOUND = Words(
    {
        "kill": "frost kills in {years}",
        "some_frost": "frost kills in {years} and leaves {set} days of good fruit set on average, not {best}",
        "soil": "the soil is too cold in {years}",
        "lost": "nothing ripens in {years}",
        "little_left": "less than half of the usual picking is left",
        "bolted": "{bolted} run to seed",
        "heat": "more of the flowers meet the heat: {set} days of good fruit set, not {best}",
        "cool": "more of the flowers meet cool days: {set} days of good fruit set, not {best}",
        "frost_ends": "fall frost cuts the picking short: {set} days of good fruit set, not {best}",
        "set": "there are {set} days of good fruit set, not {best}",
    }
)

DATES = Words({
    "title": "{garden}: when to plant, as of {as_of}",
    "accepted": "You accept a risk of {risk} of 10. Brackets hold 8 years of 10.",
    "heading": "{crop}, {beds}",
    "window": "{start} {window}{best}{under}.",
    "from": "{start} from {first} on{under}.",
    "best": ", best about {day}",
    "under": ", under {cover}",
    "no_date": "{turn}: no date will do; {why}.",
    "why": "Why then: {bounds}.",
    "why_set": "Why then: {day} is the first date with nearly the most days of good fruit set that can be "
    "had; {bounds}.",
    "before": "before {day} {reason}",
    "after": "after {day} {reason}",
    "no_bound": "nothing in the record speaks against it",
    "expect": "{day}: {clauses}.",
    "earlier": "A week earlier, {day}: {clauses}.",
    "later": "A week later, {day}: {clauses}.",
    "more_than": "more than {share}",
    "own": "Your date, {day}: {clauses}.",
    "own_good": "Your date, {day}, is among them: {clauses}.",
    "own_early": "Your date, {day}, is a little early: {clauses}.",
    "own_late": "Your date, {day}, is a little late: {clauses}.",
    "own_too_early": "Your date, {day}, is too early for what you accept: {clauses}.",
    "own_too_late": "Your date, {day}, is too late for what you accept: {clauses}.",
    "own_bad": "Your date, {day}, goes beyond what you accept: {clauses}.",
    "kills": "frost kills in {years}",
    "no_kill": "no frost kills",
    "range_of_kill": "frost kills in {years} ({range}, by how hardy the plants are)",
    "range_of_site": "frost kills in {years} ({range}, by how hardy the plants are and how far your nights "
    "really are from the station's)",
    "range": "{low} to {high}",
    "lost": "no harvest in {years}",
    "bolts": "{share} run to seed",
    "bolts_one": "{share} runs to seed",
    "plants": "{n} plants of 10",
    "one_plant_of": "1 plant of {n}",
    "all_plants": "nearly all plants",
    "soil": "the soil is warm enough in {years}",
    "soil_cold": "Cold soil: {crop} wants {needed}; on {day} the soil is that warm in {years}{until}. Plants "
    "stand still in colder soil: warm it with dark mulch, or wait.",
    "soil_until": ", and in half of the years from {day} on",
    "set": "{days} days of good fruit set{band}",
    "band": " ({low} to {high})",
    "set_change": "{days} {more} days of good fruit set",
    "day_word": "day",
    "days_word": "days",
    "day_year": "{day}, {year}",
    "day_month_year": "{day} {month} {year}",
    "single_day": "{day}",
        "iso_day": "{iso}",
        "span": "{first} to {last}",
    "span_of_month": "{month} {first} to {last}",
    "count_year": "{n} year",
    "count_years": "{n} years",
    "more": "more",
    "fewer": "fewer",
    "first": "first harvest about {day}",
    "picked": "picking for about {days} days{band}",
    "picked_change": "{days} {more} days of picking",
    "harvest_change": "the first harvest comes {days} days {later}",
    "comes_later": "later",
    "comes_earlier": "earlier",
    "same": "nothing changes that counts",
    "cover_off": "Take the cover off about {day}.",
    "cover_hot": "About {days} days of the first six weeks are too hot under it: open it then.",
    "last_worth": "Last date worth planting: {day}.",
    "other_turn": "{turn}: {start} {window}.",
    "sowings": "For {weeks} weeks of picking: {start} on {days}.",
    "work": "Around {day}: {work}.",
    "not_timed": "No dates.",
    "year": "{n} year of 10",
    "years": "{n} years of 10",
    "one_year_in": "1 year of {n}",
    "no_year": "no year",
    "every_year": "every year",
    "bed": "bed {beds}",
    "beds": "beds {beds}",
})  # fmt: skip

WORK = Words(
    {
        "order_by": "order seed by {day}",
        "sow_under_cover": "sow under cover by {day}",
        "harden_from": "harden off from {day}",
        "clear_by": "clear the bed by {day}",
        "spread_by": "spread by {day}",
        "lay_drip_by": "lay drip by {day}",
        "side_dress": "side-dress about {day}",
        "first_picking": "first harvest about {day}",
        "last_picking": "last harvest about {day}",
    }
)

DATES_CHARTS = Words(
    {
        "frost_title": "Frost in {garden}: the odds by date.",
        "frost_below": "Chance, in %, that it still freezes ({threshold} or colder) after the date in spring, or has frozen before "
        "it in fall.",
        "frost_range": "Gray: where the odds lie, for what {seasons} seasons can tell.",
        "frost_site": "How far your nights are from the station's is counted in.",
        "frost_spring": "a freeze still to come",
        "frost_autumn": "a freeze has come",
        "frost_x": "date",
        "frost_y": "chance, %",
        "accepted_level": "accepted: {risk} of 10",
        "set_title": "{crop}: days of good fruit set by date of {starting}.",
        "set_below": "Mean of {years} years. Gray: 8 years of 10.",
        "set_x": "date",
        "set_y": "days of good fruit set",
        "set_curve": "days of good set",
        "starting_set_out": "setting out",
        "starting_sown": "sowing",
        "starting_pieces": "planting",
        "soil_title": "Soil at 4 in, and what the crops want.",
        "soil_below": "Mean of {years} years, bare soil, degrees {unit}. Gray: 8 years of 10.",
        "soil_x": "date",
        "soil_y": "soil, {unit}",
        "soil_curve": "soil",
        "best_here": "best about {day}",
        "own_here": "yours, {day}",
    }
)

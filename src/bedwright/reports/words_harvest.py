"""Words of the expected harvest: weeks, units of sale, gaps and gluts."""

from __future__ import annotations

from bedwright.language import Words

HARVEST = Words({
    "title": "Harvest by week",
    "about": "Expected, not promised: a week's range takes in lean and rich yields and early and late years; a season's total is "
    "surer than any week. A harvest is spread evenly over its days of picking. A week is named by its Monday.",
    "crop": "{crop}: {mass} picked in all",
    "crop_range": "{crop}: {mass} picked in all ({low} to {high})",
    "from_table": "From the table, not from your garden.",
    "from_table_one": "From the table, not from your garden: one season of your own is in and weighed, two are wanted.",
    "from_record": "From your own harvests ({seasons} seasons), weighed beside the table.",
    "from_goal": "From your goal, with the table's spread; not from your own harvests.",
    "no_spread": "The table tells no spread.",
    "by_weight": "Sold by weight; {share} of what is picked is fit to sell.",
    "by_weight_all": "Sold by weight; no table tells how much is unfit to sell, so all of it counts.",
    "by_piece": "Sold by the {unit} of about {mass}; {share} of what is picked is fit to sell.",
    "by_piece_all": "Sold by the {unit} of about {mass}; no table tells how much is unfit to sell, so all of it counts.",
    "share": "{low} to {high} %",
    "week": "{day}: {amount}",
    "weeks": "{day} to {last}, each week: {amount}",
    "not_picked": "{crop}: no harvest is expected; see below",
    "not_grown": "{crop}: wanted, not grown",
    "pieces": "{pieces} ({low} to {high}), {mass}",
    "range": "{mass} ({low} to {high})",
    "wanted": "{amount}; wanted {wanted}",
    "gap": "too little",
    "glut": "too much",
    "enough": "enough",
    "nothing": "nothing",
    "seldom": "nothing in a usual year, up to {high} in others",
    "beds": "Beds: {beds}.",
    "between": "{low} to {high}",
    "as_mass": "{amount}, {mass}",
})  # fmt: skip

HARVEST_CHARTS = Words({
    "title": "{garden}: harvest by week",
    "below": "Fit to sell, {unit} a week. Heavy line: as expected. Gray: from a lean year to a rich one. Dashes: what the stall wants. "
    "Slanting lines: too little.",
    "title_crop": "{crop}: {told}",
    "title_gap": "too little {when}",
    "title_glut": "too much {when}",
    "title_enough": "{crop}: enough in every week",
    "title_mass": "{crop}: {mass} picked in all",
    "span": "{first} to {last}",
    "in_weeks": "in {count} weeks",
    "wanted": "wanted",
    "gap": "too little",
    "glut": "too much",
    "enough": "enough",
    "heading_crop": "crop",
    "heading_week": "week of",
    "heading_low": "low",
    "heading_typical": "fit to sell",
    "heading_high": "high",
    "heading_wanted": "wanted",
    "heading_unit": "unit",
    "heading_balance": "which is",
})  # fmt: skip

UNITS_OF_SALE = Words({
    "bunch": "bunch", "head": "head", "each": "piece", "ear": "ear", "bulb": "bulb", "pint": "pint",
    "stem": "stem", "stalk": "stalk", "clove": "clove",
})  # fmt: skip

HARVEST_FINDINGS = Words({
    "harvest_bears_later": "{crop}: it is not picked before {year} in {beds}.",
    "harvest_gap": "{crop}: less than the stall wants ({weeks}); {mass} short in all.",
    "harvest_glut": "{crop}: more than the stall wants ({weeks}); {mass} over in all. Sow in turns, pick younger, or find "
    "another taker.",
    "harvest_keeps": "{crop} keeps: what is ready is offered week by week until it is gone; {mass} is left when the stall's "
    "weeks end.",
    "harvest_not_dated": "{crop}: when it is picked is not known in {beds}, so it stands in no week and no gap is told.",
    "harvest_not_grown": "{crop}: the stall wants it, and no bed of this season grows it.",
    "harvest_unit_not_known": "{crop}: what one weighs that is sold by the {unit} is not known, so only weight is told.",
    "harvest_yield_not_known": "{crop}: its yield is not known in {beds}: state a yield_goal.",
})  # fmt: skip

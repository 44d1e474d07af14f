"""The words of spreading and of the printed bed sheet, in American English."""

from __future__ import annotations

from bedwright.language import Words

SPREADING: dict[str, str] = Words(
    {
        "caution": "Caution:",
        "into_depth": "Spread evenly, work into the top {depth}.",
        "into_sand": "Mix with a bucket of dry sand, scatter evenly, rake in.",
        "into_rake": "Scatter evenly over the whole bed, rake in lightly.",
        "near_between": "in a shallow furrow midway between the rows, covered, watered",
        "lime_ahead": "2 weeks ahead of the rest.",
        "near_us": "3 to 4 in from the stems, scratched in, watered",
        "near_metric": "8 to 10 cm from the stems, scratched in, watered",
    }
)

SHEET_WORDS: dict[str, str] = Words(SPREADING, {
    "title": "Bed sheets of {garden}, as of {as_of}",
    "title_one": "Bed {bed}, {garden}, as of {as_of}",
    "bed": "Bed {bed}",
    "raised": "raised bed",
    "in_ground": "in-ground bed",
    "about": "{area}, {kind}, {texture}",
    "as_of": "{garden}. Plan of {as_of}.",
    "outranked": "Labels and local rules outrank this sheet; the plan and the bed's page tell why.",
    "page": "{bed}, page {page}",
    "drawing": "Bed {bed} drawn to scale: {about}.",
    # Read before anything is spread
    "first": "Read first:",
    # Spreading
    "before": "Before planting",
    "before_by": "Before planting, by {day}",
    "in_order": "{heading}, in this order",
    "nothing": "Nothing to spread",
    "nothing_before": "Nothing to spread before planting.",
    "nothing_told": "Neither before planting nor later. The work by day stays as it is.",
    "later_one": "Later: one side-dressing",
    "later_many": "Later: {count} side-dressings",
    "each_time": "Each time, {near}:",
    "one_time": "{near}:",
    "on_or_about": "about {day}",
    "undated": "the plan tells no day",
    "actual": "spread",
    "on": "on",
    # Days
    "days": "Days",
    "clear_by": "clear the bed",
    "spread_by": "spread",
    "spread_lime": "spread the lime",
    "rest": "let the bed rest",
    "until": "until {day}",
    "by": "by {day}",
    "about_day": "about {day}",
    "lay_drip_by": "lay drip",
    "window": "By the weather: {when}",
    "again": "{start} again",
    "put_off": "The dates ask for {day}: the hours there are, or what must go before it, put it off",
    "cover_off": "take the cover off",
    "side_dress": "side-dress",
    "of_companion": "{crop}: {what}",
    "sow_under_cover": "sow under cover",
    "first_picking": "first harvest",
    "last_picking": "last harvest",
    "no_planting_day": "No planting date is known: write yours under Crops and dates.",
    "no_dates": "The plan says nothing of the weather: other days are not known.",
    # Rows
    "rows": "Rows",
    # The rest
    "not_to_add": "Do not add",
    "why": "Why",
    "notes": "Notes",
    "code": "Scan for {bed}'s page",
    "code_of": "Code that leads to {address}",
    "no_code": "No code to scan: no address of the pages was given.",
    "stand_in": "? stands for a sign that this face lacks.",
})  # fmt: skip

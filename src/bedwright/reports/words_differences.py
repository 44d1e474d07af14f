"""Words of two season plans beside each other, in American English."""

from __future__ import annotations

from bedwright.language import Words

DIFFERENCES: dict[str, str] = Words(
    {
        "money": "to buy, at stated prices",
        "unpriced": "things to buy without a stated price",
        "water_cost": "the season's water",
        "hours": "hours of work",
        "fullest_week": "hours in the fullest week",
        "left_out": "tasks that don't fit the hours",
        "harvest": "harvest expected",
        "water": "water of the season",
        "phosphate": "phosphate that is spread",
        "salts": "salts in what is spread",
        "materials": "materials carried to beds",
        "clashes": "beds where demands clash",
        "salt_in_soil": "salt in the soil in the last year (ECe)",
        "yield_left": "yield that the salt leaves",
        "day_spread": "{crop}: spread",
        "day_plant": "{crop}: plant",
        "day_first_pick": "{crop}: first picking",
        "day_last_pick": "{crop}: last picking",
        "crops": "crop",
        "crops_none": "none",
        "hour_unit": "{hours} h",
        "per_cent": "{share} %",
        "more": "{amount} more",
        "less": "{amount} less",
        "later_one": "1 day later",
        "later": "{days} days later",
        "earlier_one": "1 day earlier",
        "earlier": "{days} days earlier",
        "task": "{place}: {task}",
        "task_times": "{place}: {task}, {times} times",
        "head": "{what}: {by}",
        "more_one": "1 thing more",
        "more_many": "{count} things more",
        "warning_one": "1 new warning",
        "warnings": "{count} new warnings",
        "notes_alone": "other notes",
        "new": "new",
        "gone": "gone",
    }
)

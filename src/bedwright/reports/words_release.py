"""Sentences on nitrogen over the season: the codes of planning.supply."""

from __future__ import annotations

from bedwright.language import Words

FINDINGS = Words(
    {
        "ammonia_if_left_open": "Work it in the same day: lying open on this soil, {lost} of nitrogen "
        "would go to the air as ammonia.",
        "drainage_by_balance": "The stated drainage of {stated} a week gives way to what each bed's water "
        "balance lets drain.",
        "keep_back": "Keep {mass} of {material} back for this bed, and side-dress it on {on} if the leaves "
        "turn pale.",
        "leaching_not_counted": "No drainage is stated: no nitrogen is counted as leached.",
        "nitrogen_drained": "By the bed's water balance {drainage} of water drains in the season, and "
        "carries {lost} of nitrogen below the roots.",
        "nitrogen_keeps_up": "By week, the nitrogen keeps up with the crop to the last harvest.",
        "nitrogen_left_in_soil": "After the last harvest about {left} of nitrogen is left in the soil: "
        "follow with a crop that uses it.",
        "nitrogen_may_run_short": "If the soil and the materials free little, nitrogen runs short from "
        "week {week} after setting out ({on}): up to {missing} is missing by the end. Watch the color of the "
        "leaves.",
        "nitrogen_runs_short": "Nitrogen runs short from week {week} after setting out ({on}): "
        "{missing} is missing by the end of the season.",
        "no_rest_helps": "In the first weeks the crop finds too little nitrogen, however long the bed "
        "rests before: something quick is wanted at setting out.",
        "release_by_week_not_known": "When these free their nitrogen is not known; none of it is "
        "counted by week: {materials}.",
        "rest_agrees": "The bed should rest about {rest_days} days between spreading and setting out; "
        "the rule of the trade ({habit_weeks} weeks, common practice) agrees.",
        "rest_less": "The bed needs about {rest_days} days of rest between spreading and setting out, "
        "less than the rule of the trade ({habit_weeks} weeks, common practice).",
        "rest_more": "The bed needs about {rest_days} days of rest between spreading and setting out, "
        "more than the rule of the trade ({habit_weeks} weeks, common practice): meals and manures work "
        "slowly in cold soil.",
        "rest_none": "Nothing that is spread here before planting needs a rest; the rule of the trade "
        "({habit_weeks} weeks, common practice) does no harm.",
        "season_days_assumed": "The season's length is not known for this crop: {days}s are taken.",
        "side_dress_more": "Another {mass} of {material} on the bed, side-dressed on {on}, would make "
        "up for it.",
        "side_dress_on": "Side-dress on or about: {days}.",
        "soil_temperature_from_air": "The soil is taken to be {over} warmer than the air, month by month.",
        "soil_temperature_not_stated": "No soil or air temperature is stated: nitrogen is not followed "
        "by week. Twelve monthly means would do.",
        "watering_not_stated": "How the beds are watered is not stated: all of each bed is taken to be "
        "moist.",
        "wetted_share_assumed": "Drip leaves part of a bed dry, and there nothing rots: {share} of the "
        "bed is taken to be moist.",
    }
)

"""Words of the summer: heat on plantings, shade cloth, mulch, wind, work and rest in heat."""

from __future__ import annotations

from bedwright.language import Words

HEAT_DAYS = Words({
    "fruit_set_max": "{days} of the {span} days on which flowers set go above {limit}: flowers drop, pollen fails.",
    "fruit_set_min": "{days} of the {span} nights on which flowers set stay above {limit}: set suffers.",
    "quality_max": "{days} of {span} days go above {limit}: heads come uneven.",
    "color_max": "{days} of the {span} days of picking go above {limit}: fruit on the plant colors poorly.",
    "quality_mean": "{days} of {span} days have a mean above {limit}: it bolts or turns bitter.",
    "sunscald_skin": "{days} of {span} days can bring bare fruit in full sun to {limit}, at which its skin dies. "
    "Fruit under leaves is safe.",
    "growth_max": "{days} of its {span} days go above {limit}, where growth slows. It has no limit of its own in our tables.",
    "range": "{mean} ({low} to {high})",
    "under_cloth": "Under the cloth some {days} of them are left, if it cools the air as nets did in the trials.",
})  # fmt: skip

CLOTH = Words({
    "hang_trial": "Shade cloth of {percent}, from {first} to {last}: in a trial it gained at that shade. It leaves "
    "{light} in the darkest month, and the crop wants {need}.",
    "hang_habit": "Shade cloth of {percent}, from {first} to {last}: the crop is known to suffer in heat, though no trial "
    "of cloth over it was read. It leaves {light} in the darkest month, and the crop wants {need}.",
    "none_no_heat": "No shade cloth: no lasting heat falls into its time.",
    "none_short": "No shade cloth: the heat in its time ({first} to {last}) is too short for the work.",
    "none_no_trial": "No shade cloth: no trial over this crop was read, and cloth costs light. Lasting heat: {first} to {last}.",
    "none_trial_loss": "No shade cloth: where it was tried on this crop, it lost. Lasting heat: {first} to {last}.",
    "none_light": "No shade cloth: the thinnest leaves {light} in the darkest month, and the crop wants {need}.",
    "unknown_no_light_known": "Shade cloth: can't be judged, since the light here or the light that the crop wants is not known.",
    "gain": "By the cooling alone {days} days of good fruit set more; what trials gained came from less sunscald and larger fruit.",
    "no_gain": "By the cooling alone hardly a day of good fruit set more; what trials gained came from less sunscald and larger "
    "fruit.",
    "years": "Lasting heat comes in {share} of the years.",
    "trial": "{shade} of shade, {outcome}: {effect}.",
    "gain_word": "a gain", "same_word": "no change", "loss_word": "a loss",
    "not_used": "not used here",
    "light": "{value} mol/m2 a day",
    "enough": "enough", "thin": "less than it wants", "dark": "too little",
    "open": "no cloth",
})  # fmt: skip

OUTCOMES = Words({
    "marketable_yield": "fruit fit to sell", "yield": "yield", "fruit_set": "fruit set", "growth": "growth",
    "cracking": "fewer cracks",
})  # fmt: skip

PICK = Words({
    "color": "In heat pick at the first color and let it ripen in the shade indoors: it colors better than on the plant.",
    "fruit": "In heat pick more often, in the morning while the fruit is cool, and bring it into the shade at once.",
    "leaf": "In heat pick at first light and cool it at once.",
    "head": "In heat cut heads early in the day, and sooner rather than later: they open fast.",
})  # fmt: skip

WORK = Words({
    "title": "Work in the heat",
    "class_light": "light", "class_moderate": "moderate", "class_heavy": "heavy",
    "moderate_is": "Moderate: picking, weeding, hoeing, a light barrow. Heavy: digging, shoveling, driving posts, a loaded barrow.",
    "day": "{month}, a usual day ({high}). Hours without set rests: {spans}.",
    "hot_day": "One day in ten ({high}): {spans}.",
    "span": "{workload} {hours}",
    "none": "{workload} at no hour",
    "hours": "{start} to {end}",
    "all_day": "all day",
    "clock": "Hours are those of the clock.",
    "sun": "Hours are by the sun, which stands highest at 12: the garden states no longitude or time zone.",
    "drink": "Drink {cup} every {low} to {high} minutes, not more than {most} an hour.",
    "new": "New to the heat: {shares} of a usual day's work on the first days; after a break of a week or more {back}.",
    "bed": "Work here in the heat of {month} ({high} on a usual day), hours without set rests: {spans}.",
    "by_hour": "Minutes of work in each hour of full sun, the rest of it resting in the shade: 60 is work without set "
    "rests, 0 is stop. In brackets for people new to the heat.",
    "cup": "1 cup", "cups": "{n} cups", "liters": "{n} l",
    "index": "The heat index of the hottest hour is {index}: don't go by it. It knows no sun, and in dry air it lies below "
    "the air.",
})  # fmt: skip

SUMMER = Words({
    "title": "The summer",
    "bed": "SUMMER",
    "mulch": "Mulch: straw or hay {thickness} thick, on moist and warm soil, from about {day} on; beyond {thickest} it "
    "cools little more.",
    "mulch_undated": "Mulch: straw or hay {thickness} thick, on moist and warm soil; here the soil is seldom so warm that it "
    "needs cooling. Beyond {thickest} it cools little more.",
    "mulch_stated": "The garden states a mulch already for: {beds}.",
    "mulch_gain": "Straw saved {loam} of the evaporation from loam and {sand} from sand in a hot, humid place, and the swing "
    "of a day {depth} deep went from {bare} to {covered}.",
    "mulch_care": "Keep it off the stems and the drip lines under it. No black plastic in midsummer without shade: it heats "
    "the soil. Dry straw burns: no fire near it.",
    "wind_set_out": "Wind: don't set out from {limit} on (dust and paper fly); wait for the evening or a still day.",
    "wind_hang": "Don't hang cloth from {hang} on: it pulls like a sail. Take it down before gusts of {down} (umbrellas are "
    "hard to hold); two people, gloves, no ladder in wind.",
    "wind_days": "Days whose mean wind alone is so strong: {months}.",
    "wind_days_none": "By the record no month has a day whose mean wind alone is so strong; gusts are stronger than means.",
    "wind_month": "{month} {days}",
    "misting": "Misting: not enough evidence. Fog cooled a closed tunnel by {cooling}; no trial over open beds was read, and "
    "salt water scorches leaves.",
    "film": "White clay or whitewash on leaves: not advised for yield. In trials it did nothing for pepper and lost or did "
    "nothing for tomato; less sunburn is told of peppers, and it must be washed off the fruit.",
    "speed_us": "{value} miles an hour",
    "speed_metric": "{value} m/s",
})  # fmt: skip

SUMMER_FINDINGS = Words({
    "summer_not_dated": "Bed {bed}, {crop}: its dates are not known, so nothing is said of its summer.",
    "summer_no_latitude": "The garden states no latitude: the light under a cloth and the hours of work can't be worked out.",
    "cloth_open_sides": "Hang cloth high and leave its sides open: where it stops the air it makes it hotter. Fasten posts "
    "against wind before the cloth goes up.",
    "cloth_few_trials": "Shade cloth rests on few trials, most of them read as abstracts and from other climates. Leave a "
    "part of the bed open and compare.",
    "fruit_bared": "Fruit that was in shade scalds within a day when it is bared: don't prune hard or turn vines in heat, and "
    "take cloth off toward evening, before cloudy days.",
    "wind_not_recorded": "The weather here tells no wind: look at the forecast before setting out or hanging cloth.",
    "work_schedule_for": "The hours hold for full sun and a clear sky, for people who are fit, rested, drinking and under 40, "
    "in light clothes. Older or sick people and children need more rest. Never alone in the heat: headache, dizziness, "
    "cramps or confusion mean stop, shade, cool water, and help.",
    "work_heat_index": "Work goes by the wet bulb globe temperature and by the schedule of air temperature with what the sun "
    "adds, whichever allows less. The heat index is no guide here: it knows no sun, and dry air makes it read low.",
    "work_humidity_guessed": "No humidity is recorded: the night's low is taken for the dew point, which is too moist in a dry "
    "place and so on the careful side.",
    "work_wind_guessed": "No wind is recorded: nearly still air is taken, which is on the careful side.",
    "cloth_hangs": "{structure} hangs over this bed and takes {share} of the light.",
    "cloth_hangs_dark": "{structure} leaves {light} mol/m2 a day in the darkest month of this crop, and it wants {need}: take it "
    "off sooner or use a thinner one.",
})  # fmt: skip

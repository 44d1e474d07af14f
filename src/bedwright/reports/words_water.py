"""Words of watering: today's minutes with their reason, the week, the season, salt over years."""

from __future__ import annotations

from bedwright.language import Words

WEEKDAYS = Words({
    "0": "Monday", "1": "Tuesday", "2": "Wednesday", "3": "Thursday", "4": "Friday",
    "5": "Saturday", "6": "Sunday",
})  # fmt: skip

WHY = Words({
    "due": "It is a day of its runs.",
    "hot": "Heat: in such heat it runs every day.",
    "dry": "It is not its day, but the roots of a bed lack more than costs the crop nothing.",
    "rest": "Not today: its next run is {next}, and until then the roots hold enough.",
    "rain": "No run: the rain has done it.",
    "little": "No run: the beds lack next to nothing.",
})  # fmt: skip

WATER = Words({
    "title": "{garden}: water on {day}",
    "day": "Expected: a high of {high}. A field of grass would use {et0} today; rain that counts: {rain}.",
    "no_rain": "next to none",
    "today": "Today",
    "zone_run": "{zone}: run {minutes}{start}. {why}",
    "start": ", from {start}",
    "zone_depth": "{zone}: water {depth}. {why} Its minutes are not known.",
    "zone_off": "{zone}: {why}",
    "no_zone": "Beds of no zone",
    "bed_run": "{bed}, {crop}: lacks {lack} by tonight (up to {ready} costs it nothing); {minutes}.",
    "bed_depth": "{bed}, {crop}: lacks {lack} by tonight (up to {ready} costs it nothing).",
    "felt": "{bed} was felt or read on {day}: {share} of its water was left; the reckoning starts there.",
    "shut_sooner": "Where a bed has a valve of its own, shut it after its own minutes: what runs on drains.",
    "heat_rule": "In a heat wave ({wave}) run it every day: {minutes} each, once a run has brought what was lacking.",
    "rain_rule": "After {rain} of rain leave it off for {days}.",
    "rain_rule_none": "{rain} of rain is less than a day's use: let it run.",
    "minute": "1 minute",
    "minutes": "{n} minutes",
    "one_day": "1 day",
    "days": "{n} days",
    "today_word": "today",
    "tomorrow": "tomorrow",
    "week": "The week, if its days are usual ones",
    "week_zone": "{zone}: {runs}, {minutes} each, on {days}.",
    "one_run": "1 run",
    "runs": "{n} runs",
    "from_to": "{day}: {runs}",
    "run_at": "{start} {zone} ({minutes})",
    "short": "What does not fit",
    "short_flow": "{zone} draws {wanted}, {over} more than the tap gives. Split it in two.",
    "short_run": "A run of {zone} is {over} longer than the longest spell of allowed hours.",
    "short_week": "The runs of the week need at least {over} more than the hours allowed hold.",
    "short_way": "Allow more hours, split a zone, or lay lines that give more.",
    "soon": "Before planting",
    "fill": "{bed}, {crop}, {day}: fill the soil with {depth}{minutes} ({share} of its water is taken to be there).",
    "fill_minutes": ", {minutes}",
    "leach_first": "The soil, at {start}, is saltier than {crop} bears ({limit}): beyond that let {depth}{minutes} drain "
    "through it, in several doses.",
    "under_one": "under 1 %",
    "germination": "{bed}, {crop}: until it is up, about {days}, keep the rows wet: {runs} a day{minutes}.",
    "season": "The season, mean of {years} years (one year in ten below and above)",
    "season_line": "{bed}, {crop}, {span}: {total} ({low} to {high}), {volume}. Of the water, rain included, "
    "{crop_share} goes through the crop, {ground_share} evaporates from the ground, {drain_share} drains.",
    "season_stress": "The crop gets less than it asks on {days} a season.",
    "nitrogen": "The water brings {nitrogen} of nitrogen; a week's drainage carries off {share} of the nitrate at the roots.",
    "leached_only": "A week's drainage carries off {share} of the nitrate at the roots.",
    "leaching": "{share} of the water is to drain, to hold the salt at {limit}, at which the crop gives {kept} of its full yield.",
    "use": "All beds together: {volume} a season{cost}.",
    "cost": ", {money}",
    "table": "{bed}, {crop}: week by week",
    "table_head": "week from",
    "table_need": "needs",
    "table_runs": "runs",
    "table_minutes": "min. each",
    "salt": "Salt at the roots in ten years of the same crop and water (ECe, dS/m)",
    "salt_line": "{bed}, {crop}: {start} now. With leaching {with_last}{with_yield}; without {without_last}{without_yield}.",
    "salt_same": "{bed}, {crop}: {start} now, {with_last} in the tenth year; leaching can't hold it lower.",
    "salt_unrated": "How much it bears is not rated.",
    "salt_yield": " ({share} of the yield)",
    "salt_cost": "Leaching takes {depth} more in a season.",
    "notes": "What this rests on",
    "caution": "Caution:",
})  # fmt: skip

WATER_PLAN = Words({
    "head": "WATER",
    "title": "Water",
    "line": "{count} line of {zone}.",
    "lines": "{count} lines of {zone}.",
    "runs_minutes": "Runs a week x minutes. {months}.",
    "runs_depth": "Runs a week x depth of each. {months}.",
    "month": "{month}: {runs} x {each}",
    "month_of_zone": "{month}: {runs} x {each} (zone {zone})",
    "zone": "{zone}, runs a week x minutes. {months}.",
    "season": "Season: {total} ({low} to {high}), {volume}.",
    "shared": "Reckoned with the {crop} between its rows.",
    "mulched": "Reckoned with its mulch: {mulch}.",
    "heat": "From {wave} on: every day, {minutes}.",
    "rain": "After {rain} of rain: off for {least} to {days}, the fewer in the heat.",
    "rain_one": "After {rain} of rain: off for {days}.",
    "fill": "Before planting: {depth}{minutes} (with {share} of its water there).",
    "leach_first": "Before that let {depth}{minutes} drain through the bed, in doses, against its salt.",
    "germination": "Until it is up, about {days}: {runs} a day{minutes}.",
    "day": "These are usual days. What runs on a day: bedwright water, which takes gauge and feel.",
    "sheet_zone": "The zone runs longer, for other beds: with a valve, shut this bed off sooner.",
    "sheet_minutes": "runs a week x minutes",
    "sheet_depth": "runs a week x depth",
    "sheet_of_zone": "minutes of the zone",
})  # fmt: skip

WATER_FINDINGS = Words({
    "backflow_needed": "{zone} hangs on a drinking supply: fit a backflow preventer at its head, so "
    "that water standing in the lines can't be sucked back. The supplier or local code says which.",
    "drinking_supply_not_stated": "Whether {zone} hangs on a drinking supply is not stated "
    "(drinking_supply). If it does, fit a backflow preventer at its head.",
    "zone_not_described": "Nothing is stated of the lines of {zone}: depths are told, no minutes. A "
    "[[water_zone]] with its lines and emitters would give minutes.",
    "zone_no_flow": "The flow of the lines of {zone} is not known. Set cups under four emitters for two "
    "minutes, or state emitter_flow.",
    "uniformity_assumed": "How evenly the lines of {zone} run is not known: {share} is taken, and runs are longer "
    "for it. Cups under emitters would settle it.",
    "cups_outrank_print": "The cups of {zone} caught {cups} an emitter; {printed} is printed. The cups count.",
    "emitters_wider_than_bed": "In {zone} emitters stand farther apart than a line is long.",
    "tap_flow_not_stated": "What the tap or well gives is not stated (flow): it is taken to be enough for one zone.",
    "hours_not_stated": "Hours for watering are not stated: any hour of the day is taken.",
    "nothing_stands": "No crop that is dated stands on {on}: nothing is to be watered.",
    "usual_days_taken": "No gauge or thermometer of the last two weeks: usual weather is taken up to this "
    "day. Write down rain and heat, or feel the soil, and the minutes follow.",
    "runs_as_planned": "The last run is taken to have been as planned; a reading of the soil outranks it.",
    "water_no_weather": "Without [weather] no use of water can be reckoned. Name a station's file or monthly "
    "figures.",
    "water_no_latitude_or_rain": "The weather lacks rain, or the garden its latitude: no use of water can be "
    "reckoned without them.",
    "water_elevation_assumed": "The elevation is not stated: sea level is taken.",
    "water_et0_guessed": "{missing} were not measured: a day's use of water may err by {error}.",
    "water_et0_by_hargreaves": "Only temperatures are known: the use of water is by Hargreaves' estimate, "
    "and a day may err by {error}.",
    "water_raised_bed_floor": "Roots are taken to stay within the fill of {bed}.",
    "water_fill_is_rough": "What the fill of {bed} holds is a rough figure; a reading by feel or tensiometer "
    "outranks it.",
    "water_organic_assumed": "Organic matter is not known: {matter} is taken for what the soil holds.",
    "water_organic_beyond": "Organic matter of {matter} lies beyond the formula's range: its end is taken.",
    "water_method_assumed": "How the beds are watered is not stated: drip is taken.",
    "water_wetted_share": "Drip is taken to wet {share} of a bed.",
    "stand_not_dated": "{bed}, {crop}: without dates its watering can't be reckoned.",
    "crop_without_water": "{bed}, {crop}: the tables have no coefficients for its use of water.",
    "stages_by_judgement": "The stages of {crop} are our judgement.",
    "water_gap_judgement": "The longest gaps between runs are our judgement; tomatoes, peppers, eggplant "
    "and the gourds get the shortest, against blossom-end rot and cracking.",
    "water_in_the_morning": "Lines are taken to run in the morning. A run brings what the roots have "
    "lost since the last one and what the day is expected to take.",
    "water_over_bed_top": "Depths are over the top of the bed; paths get nothing.",
    "water_small_and_dry": "A small garden with dry ground around it may use more than a field, which is what is "
    "reckoned here; for a single row the limit is {limit} times the reference. Feel the soil.",
    "water_companion_left_out": "{bed}: the {crop} between the rows has no dates or no coefficients; the first "
    "crop alone is reckoned.",
    "water_companion_shares": "{bed}: while {crop} stands between the rows, the first crop is taken to have "
    "{share} of the ground; use is by both heights and shares.",
    "mulch_cover_assumed": "The mulch is taken to cover {share} of {bed}.",
    "mulch_sheet_assumed": "A plastic sheet is taken to be holes in {share} of it, and the crop to use a tenth "
    "less; rain is reckoned as if it all got in.",
    "water_tolerance_assumed": "Not rated for salt: {crop}. Taken as moderately sensitive, beginning to lose at "
    "{threshold}.",
    "water_salt_not_known": "No water report states its salt: leaching and salt over the years can't be told.",
    "salt_years_too_few": "The weather record has not ten years in a row: salt over the years can't be told.",
    "water_nitrate_above_drinking": "The water holds {nitrate_n} of nitrate nitrogen, above the "
    "drinking limit of {limit}. Don't give it to infants, and ask the health department about the well.",
    "water_salt_beyond_crop": "Water of {ec_water} can't hold a bed at {threshold}, which this crop bears, however "
    "much drains: another crop, or other water.",
})  # fmt: skip

WATER_CHARTS = Words({
    "title": "{bed}, {crop}: water at the roots in a middling year",
    "below": "Between full and the dry line the crop lacks nothing; {unit} of water.",
    "unit_in": "inches",
    "unit_mm": "millimeters",
    "heading_x": "day",
    "heading_water": "water at the roots",
    "heading_full": "full",
    "heading_dry": "the crop suffers below",
    "heading_run": "run",
    "heading_rain_day": "rain",
    "short_in": "in",
    "short_mm": "mm",
    "full": "full",
    "water": "water at the roots",
    "dry": "below this the crop suffers",
    "runs": "runs",
    "rain": "rain {depth}",
})  # fmt: skip

SALT_CHARTS = Words({
    "title": "{bed}, {crop}: salt at the roots over ten years",
    "below": "The same crop and water each year; ECe, dS/m.",
    "year": "year",
    "salt": "salt",
    "foot": "years from now",
    "with": "with leaching",
    "without": "without leaching",
    "same": "with this water",
    "limit": "above this it costs yield",
})  # fmt: skip

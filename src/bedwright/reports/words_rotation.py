"""The words of the years ahead, in American English. Values in braces are filled in."""

from __future__ import annotations

from bedwright.language import Words
from bedwright.reports.words_dates import BULBS

ROTATION_FINDINGS = Words({
    **BULBS,
    "rotation_banned": "{crop}: {problem} was found here in {year}; this crop should not come back to this bed.",
    "rotation_bed_out": "Bed {bed} is out of use in this plan.",
    "rotation_claim_outside": "{what} is settled for {year}, which is not among the years of this plan: it is "
    "left out.",
    "rotation_crop_not_timed": "The tables don't say enough of {crop} for its dates: it is given the whole year on "
    "its bed.",
    "rotation_expected_goal": "What is expected of {crop} goes by the yield that you state as your goal.",
    "rotation_expected_record": "What is expected of {crop} goes by your own harvests of {own}, which count "
    "{percent} % beside the tables.",
    "rotation_family_back": "{crop} is of the {family} family, like the {past} here in {year}: it may come back "
    "after {away}.",
    "rotation_feeds_silently": "Bed {bed} has {problem}: {crops} keeps it alive without showing it. Grow that "
    "elsewhere where you can.",
    "rotation_keeps": "{crop} keeps: what is dug at once is counted for all weeks that you named.",
    "rotation_kept_free": "You keep it free of crops in {year}.",
    "rotation_light_not_asked": "The light on the beds was not asked: no crop is kept from a bed for want of it.",
    "rotation_more_than_weekly": "In {weeks} of the {asked} weeks that you wish for {crop} more is ripe than you ask "
    "for, {mass} in all: whole beds come ripe at once. Give such beds parts, and each part is planted at its own time.",
    "rotation_no_date": "No date will do for {crop} by the risk that you accept and what the tables know of it: "
    "pin it with its day, or want it with one.",
    "rotation_not_asked": "Nobody asked for {crop} there.",
    "rotation_nothing_asked": "Nothing is wished, wanted or pinned: there is nothing to plan.",
    "rotation_perennial": "The {past} stands here still: a perennial keeps its bed until you write that another "
    "crop has followed it.",
    "rotation_problem_over": "{problem} was here, found or fed last in {year}: the wait that is advised "
    "before {crop}, {away}, is over, but some of it may be left.",
    "rotation_problem_waits": "{crop}: {problem} was here, its last host in {year}; what is advised is "
    "{away} without one.",
    "rotation_raw_manure": "{crop}: {material} was spread here on {spread}; nothing may be harvested before "
    "{allowed}.",
    "rotation_rest_not_wished": "Nothing that is asked for in {year} gains by standing here: the wishes that can be "
    "met are met, or are better met elsewhere.",
    "rotation_rest_nothing_may": "Nothing that is asked for in {year} may stand here.",
    "rotation_ground_before_bearing": "{crop} wished for by beds or by area counts as had from its planting on, though it "
    "is not picked at once (years from planting to the first picking: {years}). For a harvest wish by a_week: that counts "
    "the years of picking alone.",
    "rotation_saleable": "{crop}: a wish by the week is served by what is fit to sell, {share} of what is picked, as the "
    "expected harvest counts it.",
    "rotation_settled_against": "{crop} on bed {bed} in {year} is settled by you, and stands, against a rule: "
    "{rule}.",
    "rotation_settled_elsewhere": "{crop} with this day is settled for another bed.",
    "rotation_standing": "The {past} stands until about {until}.",
    "rotation_too_dark": "{crop} wants {need} mol of light a day; while it would stand here there are {has}.",
    "rotation_water_too_salty": "The water of this bed, {water}, is too salty for {crop}, which bears {threshold} "
    "in the soil.",
    "rotation_no_trellis": "{crop} climbs, and no trellis stands here; one stands at {beds}.",
    "rotation_weeks_not_known": "When {crop} is picked is not known here: your weeks are counted together.",
    "rotation_why_after_giver": "It feeds heavily and comes after {before}, a legume.",
    "rotation_why_bears_later": "{crop} is not picked before {year}: until then no harvest and no income are counted.",
    "rotation_why_bolts": "About {bolts} % of {crop} is expected to run to seed: that much is off its worth in this plan, "
    "not off the harvest told here. Take a cultivar that is slow to bolt.",
    "rotation_why_cover": "The bed rests under it.",
    "rotation_why_cover_dies": "Cold kills it in {killed} % of the winters, about {on} on average: it is counted as "
    "ended then. Leave the dead stand on the bed as mulch.",
    "rotation_why_cover_may_die": "Cold kills it in {killed} % of the winters; then the dead stand is the mulch.",
    "rotation_why_family_never": "The history has no {family} on this bed.",
    "rotation_why_family_since": "The last {family} here were of {year}; you ask for {away} between.",
    "rotation_why_heat": "{heat} % of the days in which {crop} fills out and is picked are too warm for it: that much is "
    "off its worth in this plan, not off the harvest told here. Shade it, and take a cultivar that stands heat.",
    "rotation_why_hot_day": "{on} is a hot day to choose for it, though within the bolting that you accept; it fits the "
    "bed and your weeks.",
    "rotation_why_not_best_day": "{on} is not the best day for it but among the good ones; it fits the bed and "
    "your weeks.",
    "rotation_why_plastic": "Clear plastic over wet soil in the hottest weeks kills much of what the top few inches "
    "hold of fungi, nematodes and weed seed. No interval is shortened for it here.",
    "rotation_why_salt_beside_goal": "The salt of this bed costs {crop} about {lost} % of its yield; your goal is "
    "taken as you state it.",
    "rotation_why_salt_costs": "The salt of this bed costs {crop} about {lost} % of its yield, which is taken off.",
    "rotation_why_settled": "You settled it.",
    "rotation_why_standing": "It stays as in the plan that stands.",
    "rotation_why_wish": "You wish for {crop}; in {year} {open} of {beds} beds were open to it.",
    "rotation_wish_outside": "Your wish for {crop} names none of the years of this plan.",
    "rotation_without_weather": "Nothing is said of the weather: each bed gets one planting a year, and no dates.",
    "rotation_yield_not_known": "The yield of {crop} is not known here: a wish by the week can't be counted. Wish "
    "for beds of it.",
})  # fmt: skip

# Families as gardeners call them; another goes by its botanical name.
FAMILIES = Words({
    "Amaranthaceae": "beets and spinach",
    "Amaryllidaceae": "onions and garlic",
    "Apiaceae": "carrots and celery",
    "Asparagaceae": "asparagus",
    "Asteraceae": "lettuce and sunflowers",
    "Brassicaceae": "cabbages",
    "Convolvulaceae": "sweet potatoes",
    "Cucurbitaceae": "cucurbits",
    "Fabaceae": "peas and beans",
    "Lamiaceae": "basil and mint",
    "Malvaceae": "okra",
    "Poaceae": "grasses and corn",
    "Polygonaceae": "buckwheat and rhubarb",
    "Rosaceae": "strawberries",
    "Solanaceae": "nightshades",
})  # fmt: skip

# Why a crop could not stand on a bed, by the code of the rule.
BARRED = Words({
    "banned": "never again, for a disease found here",
    "family": "too soon after its own family",
    "interval": "too near to its own family in this plan",
    "kept_free": "you keep the bed free",
    "light": "too dark",
    "manure": "too soon after raw manure",
    "out": "the bed is out of use",
    "perennial": "a perennial stands here",
    "problem": "too soon, for a disease or pest found here",
    "standing": "another crop stands until later",
    "water": "the water is too salty",
})  # fmt: skip

RULES = Words({
    "rotation_banned": "never again after a disease found there",
    "rotation_family_back": "its family was there too few years ago",
    "rotation_kept_free": "the bed is kept free",
    "rotation_no_trellis": "it climbs, and no trellis stands there",
    "rotation_perennial": "a perennial stands there",
    "rotation_problem_waits": "a disease or pest found there asks for a longer wait",
    "rotation_raw_manure": "raw manure was spread there too near to the harvest",
    "rotation_standing": "another crop stands there until later",
    "rotation_too_dark": "the bed is too dark for it",
    "rotation_water_too_salty": "the water is too salty for it",
})  # fmt: skip

ROTATION = Words({
    "title": "{garden}: which crop in which bed, {years}, as of {as_of}",
    "years": "{first} to {last}",
    "weights": "Weights: {weights}. 0 leaves it out; [rotation.weights] changes them.",
    "weight": "{name} {value}",
    "proof": "No plan that keeps the rules is better by more than {gap}.",
    "best": "No plan that keeps the rules is better.",
    "stopped": "The search was ended by the clock: another run may find another plan.",
    "wishes": "WHAT BECAME OF YOUR WISHES",
    "beds": "{n} beds",
    "bed": "1 bed",
    "a_week": "{mass} a week for {weeks} weeks",
    "wish": "{crop}, {wanted}",
    "met": "met",
    "short": "{given} of {wanted}",
    "short_weeks": "{met} of {weeks} weeks in full",
    "over": "{told}, and {mass} more than you ask for in {weeks} weeks",
    "over_week": "{told}, and {mass} more than you ask for in 1 week",
    "weeks_out": "no good date of planting reaches {weeks} of them",
    "none": "nothing",
    "in_year": "{year}: {what}",
    "open": "open to it in {year}: {beds}",
    "open_none": "no bed is open to it in {year}",
    "clashes": "WHAT CLASHES",
    "family_clash": "{wanted} of {family} wanted, but {free} free of them for {away}.",
    "family_clash_years": "{wanted} of {family} wanted in {years}, but {free} free of them for {away}, and none may "
    "bear them twice within {again}.",
    "only": "only {beds} {have} been",
    "no_bed": "no bed has been",
    "named_bed": "bed {beds}",
    "named_beds": "beds {beds}",
    "has": "has",
    "have": "have",
    "and": "{first} and {last}",
    "year": "1 year",
    "n_years": "{n} years",
    "full_year": "1 full year",
    "full_years": "{n} full years",
    "clash": "These can't all be had: {members}.",
    "member": "{crop}, {beds} in {years}",
    "member_on": "{crop} on {on} in {years}",
    "given_up": "Where {member} gives way, all the others are met, and {rest}.",
    "given_up_alone": "Of {member}, {rest}.",
    "given_up_in_vain": "Where {member} gives way, others still clash; {rest}.",
    "given_up_none": "none of it can be had",
    "given_up_some": "{possible} of its {beds} can still be had",
    "nearest": "What follows is the nearest plan: every rule kept, as little missing as can be.",
    "plan": "BED BY BED",
    "part": "{bed}, part {part}",
    "whole_year": "{year}: {crop}",
    "dated": "{year}: {crop}, {start} {on}, harvest {span}",
    "one_day": "{year}: {crop}, {start} {on}, harvest about {span}",
    "covers": "{year}: {crop}, {span}",
    "perennial": "{year}: {crop}, {start} {on}; it stays",
    "rest": "{year}: no crop",
    "income": "By your prices about {money} {currency}, {a_week} a week that it holds the bed.",
    "income_share": "By your prices about {money} {currency} for the {share} of it that can be sold, {a_week} a "
    "week that the bed is held.",
    "wished": "You wish for {crop}.",
    "expected": "About {mass}.",
    "barred": "Not here that year: {groups}.",
    "barred_group": "{crops} ({why})",
    "instead": "Next best for this bed: {content}; it costs {cost}.",
    "instead_free": "As good for this bed: {content}.",
    "instead_nothing": "nothing",
    "instead_of": "{come} instead of {gone}",
    "instead_too": "{come} besides",
    "cost_little": "next to nothing",
    "no_instead": "Nothing else that was asked for may stand here.",
    "cost_beds": "as much as {beds} of a wish unmet",
    "changes": "WHAT CHANGES AGAINST THE PLAN THAT STANDS",
    "change": "{bed}, {year}: {after} instead of {before}",
    "nothing": "nothing",
    "money": "INCOME BY YOUR PRICES",
    "money_year": "{year}: about {money} {currency}, for the crops with a price.",
    "near": "Beds of one crop were brought nearer to each other in a second step, for {cost} of what the plan is "
    "worth.",
    "assumed": "TAKEN FOR GRANTED",
    "mean_dates": "Dates are means over the years; the days between two crops are for cleaning up and for a late "
    "harvest.",
    "convention": "Two crops of a family stand {away} apart: tomatoes of 2024 and peppers of 2028, not "
    "of 2027. A year is that of the harvest.",
    "accepted": "{file} is written: {wants} for {year} as wants, {pins} as pins. Check the days, then: bedwright "
    "plan {file}",
    "progress": "a plan worth {objective}, at most {bound} can be had: {gap} open",
    "progress_first": "a first plan, worth {objective}",
})  # fmt: skip

WEIGHTS = Words({
    "wishes": "wishes",
    "feeders": "heavy feeders after legumes",
    "roots": "root depths in turn",
    "groups": "fruit, root, leaf in turn",
    "income": "income",
    "near": "one crop's beds near each other",
    "rest": "rest under cover",
    "salt": "salt",
    "unchanged": "keeping to the plan that stands",
})  # fmt: skip

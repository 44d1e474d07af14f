"""Words of what stands in a bed that is needed: its ways out, dangers to stock, findings."""

from __future__ import annotations

from bedwright.language import Words

TURNOVER = Words({
    "head": "WHAT STANDS HERE",
    "title": "What comes out",
    "part": "{crop} (part {part})",
    "needed": "{crop}: the bed is needed for {next}, planted about {start}. Clear it by {clear}, at the very latest "
    "by {last}.",
    "needed_undated": "{crop}: the bed is needed for {next}.",
    "left_week": "Left in it: about {rate} a week, {total} until it is cleared.",
    "left_week_undated": "Left in it: about {rate} a week.",
    "left_once": "Left in it: about {total}, taken at once.",
    "left_from": "It is picked from about {first}.",
    "left_until": "It is picked until about {last}.",
    "delay": "Each week after that takes about {lost} from the {next}.",
    "delay_money": "Each week after that takes about {lost} from the {next}, {money} at your price; a week's picking "
    "of the {crop} is worth {picked}.",
    "delay_next_money": "Each week after that takes about {lost} from the {next}, {money} at your price.",
    "delay_nothing": "By the weather of the years, clearing a week after that takes nothing from the {next}.",
    "order": "Ways out, the best first:",
    "way": "{number}. {way}. {reasons}",
    "way_by": "{number}. {way}, by {by}. {reasons}",
    "not_way": "Not: {way}. {reasons}",
    "sheet": "{crop} comes out",
    "sheet_ways": "{ways}.",
    "sheet_latest": "At the very latest {last}.",
    "way_from": "{way} (from {start} on, by the label)",
    "then": "; then ",
    "and": ", ",
    "days": "{count} days",
    "days_range": "{low} to {high} days",
})  # fmt: skip

WAYS = Words({
    "sell": "pick and sell",
    "house": "keep for the house",
    "move": "pot up or move",
    "feed": "feed to {stock}",
    "dig_in": "chop and dig in",
    "leave_on_top": "chop and leave on top",
    "compost": "compost",
    "burn_or_bin": "burn, or put in the bin",
})  # fmt: skip

ANIMALS = Words({
    "ducks": "ducks",
    "chickens": "chickens",
    "rabbits": "rabbits",
    "goats": "goats",
})  # fmt: skip

DANGERS = Words({
    "alkaloids": "leaves, stems, green fruit, sprouts and green tubers of this family hold poisons",
    "furocoumarins": "its leaves burn skin in the sun",
    "gas": "starch and gas",
    "lectins": "raw beans poison, and pods hold them",
    "nitrate": "it can hold much nitrate, most after drought, frost or heavy feeding, and drying does not take it away",
    "oxalate": "oxalic acid",
    "poisonous_seed": "its seed is poisonous",
    "prussic_acid": "prussic acid, most in young, frosted or wilted plants",
    "red_cells": "it harms red blood cells",
    "sunburn": "pale skin burns in the sun after it",
})  # fmt: skip

TURNOVER_FINDINGS = Words({
    "turnover_burn_or_bin": "What makes it sick lives on in the remains: burn them where that is allowed, or bag them "
    "for the bin, roots and fallen leaves too.",
    "turnover_by_table": "What is left in the {crop} is from the table, not from your garden, and counts no frost or "
    "heat to come: state pick_per_week.",
    "turnover_compost": "Chopped, and mixed with something dry; seed heads only into a heap that gets hot.",
    "turnover_compost_perennial": "Crowns and roots grow on in a heap that stays cool: let them dry out first.",
    "turnover_danger": "For {stock}: {danger}.",
    "turnover_delay_unknown": "What a week's delay takes from the {next} can't be told without planting dates by the "
    "weather.",
    "turnover_dig_in": "It rots {wait} before the next crop, longer in cold or dry soil.",
    "turnover_diseased": "It is diseased: take it out when the leaves are dry, wash tools and hands after it, and write "
    "what it had as [[bed_problem]].",
    "turnover_diseased_stays_out": "A diseased plant stays out of soil and heap.",
    "turnover_feed": "Fresh, and carried to them: at most {share} of what they eat, nothing moldy; pick out every weed "
    "first, as nightshade, jimsonweed, hemlock and milkweed poison. In the bed itself droppings count as raw manure.",
    "turnover_feed_diseased": "Nothing diseased is fed.",
    "turnover_feed_from": "The label of the last spray allows it from {start} on.",
    "turnover_feed_unknown": "Whether {crop} is safe for {stock} is not known here, so it is not fed.",
    "turnover_frees": "Its C:N of {ratio} frees nitrogen: about {nitrogen} in the first month of warm, moist soil.",
    "turnover_binds": "Its C:N of {ratio} ties nitrogen up: about {nitrogen} in the first month of warm, moist soil, up "
    "to {most} in all; give that back to the next crop.",
    "turnover_grows_again": "It grows again from its roots.",
    "turnover_holds": "Ripe, it keeps about {hold} where it stands.",
    "turnover_house": "What is not sold.",
    "turnover_label_grazing": "Sprayed {spray}: the label keeps it from stock until {ends}, after the bed is needed.",
    "turnover_label_grazing_unknown": "Sprayed {spray}, and the label's grazing interval is not stated "
    "(label_grazing_days): not fed.",
    "turnover_label_harvest": "Sprayed {spray}: the label keeps it from being picked until {ends}, after the bed is "
    "needed.",
    "turnover_label_harvest_unknown": "Sprayed {spray}, and the label's days to harvest are not stated "
    "(label_harvest_days): not picked.",
    "turnover_left_unknown": "What is left in the {crop} is not known: state pick_per_week.",
    "turnover_move_care": "Move it on a cool day, below {day}, in the evening; water, then shade it for {shade}.",
    "turnover_move_cut": "Cut its top back by about {share}.",
    "turnover_move_diseased": "A diseased plant takes its trouble along.",
    "turnover_move_divide": "The clump is lifted and divided, or its young plants are taken.",
    "turnover_move_dormant": "Its crown is lifted while it rests; a season or two of picking is lost.",
    "turnover_move_grown": "It bears moving only as a young plant.",
    "turnover_move_indoors": "Into a pot and indoors before the nights fall below {night}.",
    "turnover_move_no": "Once grown it does not bear moving, or gains nothing by it.",
    "turnover_move_unknown": "How it bears moving is not known here: {crop}.",
    "turnover_move_young": "It was set out lately: its roots still hold the ball of the pot.",
    "turnover_next_is_sown": "The next crop is sown, and wants a clean seedbed.",
    "turnover_no_time_to_rot": "It would rot {wait} days before the next crop, and {left} are left.",
    "turnover_not_weighed": "Whether to wait longer for its picking is not weighed against the {next}: state the price of "
    "both.",
    "turnover_on_top": "Only where the next crop is set out through it, after {wait}.",
    "turnover_only_sound": "Only what is sound: wash it, and keep it apart.",
    "turnover_over": "By its days it was picked out by {over}.",
    "turnover_overdue": "Clear the {crop} now: the {next} wanted the bed empty by {clear}.",
    "turnover_pick_from": "The label of the last spray allows picking from {start} on.",
    "turnover_root_ball": "Dig a ball at least {width} wide and {depth} deep.",
    "turnover_rot_unknown": "How much it leaves and what that does to nitrogen is not known here.",
    "turnover_sell": "What is ripe.",
    "turnover_since_unknown": "Since when the {crop} stands is not stated: it is taken as being picked now, to the end.",
    "turnover_undated": "The day of the {next} is not known, so there is no last day to clear.",
    "turnover_unsafe": "Not safe for {stock}: {crop}.",
    "turnover_waiting_costs": "Waiting beyond the last day costs more of the {next} than it brings.",
    "turnover_waiting_pays": "By your prices a week's picking brings more than a week's delay takes from the {next}.",
})  # fmt: skip

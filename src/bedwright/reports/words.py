"""The engine's codes in words. Values in braces are filled in by :mod:`bedwright.reports.fill`."""

from __future__ import annotations

from bedwright.language import Words
from bedwright.reports import words_dates, words_layout, words_ledger, words_release

NUTRIENTS = Words({
    "n": "nitrogen", "n_season": "nitrogen for the season", "n_preplant": "nitrogen before planting",
    "n_later": "nitrogen after planting", "n_ceiling": "the most nitrogen this crop should find",
    "p2o5": "phosphate (P2O5)", "p2o5_ceiling": "the most phosphate this bed should get",
    "k2o": "potash (K2O)", "ca": "calcium", "mg": "magnesium", "s": "sulfur",
    "b": "boron", "b_ceiling": "the most boron", "zn": "zinc", "zn_ceiling": "the most zinc",
    "fe": "iron", "fe_ceiling": "the most iron", "mn": "manganese", "mn_ceiling": "the most manganese",
    "cu": "copper", "cu_ceiling": "the most copper", "s_ceiling": "the most sulfur",
    "mg_ceiling": "the most magnesium", "lime": "lime", "lime_ceiling": "the most lime for now", "reaction": "no lime on this bed",
    "salt_ceiling": "the salt this bed can still take", "gypsum": "gypsum against sodium",
    "compost_depth": "the compost depth you asked for", "own_rate": "the rate you asked for",
})  # fmt: skip

ANALYTES = Words({
    "ph": "pH", "nitrate_n": "nitrate nitrogen", "phosphorus": "phosphorus", "potassium": "potassium",
    "sulfate_s": "sulfate sulfur", "calcium": "calcium", "magnesium": "magnesium", "sodium": "sodium",
    "boron": "boron", "zinc": "zinc", "iron": "iron", "manganese": "manganese", "copper": "copper",
    "organic_matter": "organic matter", "ec": "salt (electrical conductivity)", "lead": "lead",
    "arsenic": "arsenic", "cec": "exchange capacity", "base_saturation_ca": "calcium saturation",
})  # fmt: skip

SUPPLY = Words({
    "very_low": "very low", "low": "low", "medium": "middling", "high": "enough",
    "very_high": "more than enough",
})  # fmt: skip

_OF_THE_BED = Words({
    "boron_in_water": "The well brings {boron} of boron; this crop is hurt from {threshold} in the "
    "soil's water.",
    "buffer_outside_table": "The buffer reading lies outside its table: {problem}.",
    "buffer_without_table": "There is no lime table for the {extractant} buffer: the texture was "
    "used instead.",
    "bulk_density_assumed": "Bulk density not stated: {density} taken for {texture}. Weighing a "
    "known volume of dry soil would settle it.",
    "budget_saving": "Giving up {nutrient} on all beds would save {saved}.",
    "spread_since_sample": "What was spread here since the soil was sampled is credited for its "
    "nitrogen; its phosphate, potash and salt are not in the report. Sample again to know them.",
    "fresh_instead_of_nitrate": "What was spread this season before the sample gives more than the "
    "nitrate that the sample found ({other}); the larger is counted, not both.",
    "nitrate_instead_of_fresh": "The nitrate that the sample found already holds what was spread this "
    "season ({other}); the larger is counted, not both.",
    "carry_over_instead_of_matter": "What earlier dressings still release is more than the rule for "
    "organic matter ({other}); the larger is counted, not both.",
    "matter_instead_of_carry_over": "The organic matter measured already holds what earlier dressings "
    "left ({other}); the larger is counted, not both.",
    "class_in_doubt": "The {nutrient} class rests on a method that leaves its ground on this soil. An "
    "Olsen (bicarbonate) test would settle it.",
    "compost_only_by_removal": "Olsen phosphorus is {olsen}, above {limit}: spread no more phosphorus "
    "than the harvest carries off, compost included.",
    "no_compost_this_year": "No compost and no manure on this bed this year: Olsen phosphorus is {olsen}, "
    "above the limit of {limit}.",
    "compost_wish_refused": "The {depth} of {material} you asked for is left out: see what not to add.",
    "own_rate_against_advice": "You asked for {rate} of {material}: it is planned, though we would leave it out here.",
    "later_aims_not_searched": "The search for less phosphorus or fewer materials at this price came to its limits and found "
    "nothing: the cheapest blend stands.",
    "spread_since_counted": "Spread since the soil was sampled, and taken off what it asks for: {spread}.",
    "own_rate_refused": "The {rate} of {material} you asked for is left out: see what not to add.",
    "own_rate_above_most": "You asked for {rate} of {material}: that is above the most of {most} that the tables advise.",
    "demands_clash": "No blend meets everything. These demands clash: {demands}. What follows is the "
    "nearest blend: every limit kept, the shortfall as small as it can be.",
    "no_source_in_shed": "{nutrient}: {amount} is wanted, but nothing in the shed that may be "
    "used on this bed brings any.",
    "leaching_needed": "With well water of {ec_water}, let {share} of the water drain through to hold "
    "the bed at the {threshold} this crop bears without loss.",
    "lime_needed": "The soil is sour (pH {ph}, wanted {target}): it needs {lime} of lime, counted as "
    "pure calcium carbonate.",
    "lime_in_dressings": "That is too much at once: {now} this season, in {dressings} dressings six "
    "months apart, {whole} in all. Test again between them.",
    "lime_without_buffer_test": "There is no buffer test, so the lime is taken from texture tables, "
    "which ask for {lime}. A buffer test would settle it.",
    "magnesium_decides_lime": "Dolomitic lime is for soils low in magnesium; this report does not say.",
    "low_but_no_soil_dressing": "The {analyte} test is low, but a dressing on the soil does little "
    "here; see the source for what does.",
    "marginal": "The {analyte} test is middling: no dressing is called for, watch the crop.",
    "metal_not_total": "The {analyte} figure ({value}) is not total metal, so it can't be held against "
    "screening values. Ask for a total (acid digestion) test.",
    "need_is_net_of_soil_n": "The guideline for this crop already counts what the soil releases; "
    "organic matter is not credited again.",
    "nitrate_above_drinking": "The well holds {nitrate_n} of nitrate nitrogen, above the drinking-water "
    "limit of {limit}. Do not let an infant drink it; ask the health department.",
    "nitrate_not_tested": "Nitrate was not measured: no credit is counted for it.",
    "nitrate_sampled_long_ago": "The nitrate was sampled on {sampled}; rain or leaching since then may "
    "have carried it off. Test again two weeks before planting.",
    "nitrate_sampled_shallow": "The sample is {depth} deep: nitrate below it is not counted.",
    "no_class_table": "{analyte} by {extractant} was not read: there is no class table for it. There "
    "are tables by: {available}.",
    "no_prices": "No prices are stated: the blend uses the least weight of material.",
    "no_rate_table": "No published rate was found for {nutrient} at a {supply} test.",
    "no_stock_list": "No stock is listed: common materials are offered, and the least weight is used.",
    "nothing_to_spread": "Nothing to spread: the credits cover the nitrogen and the tests call for "
    "nothing else.",
    "nutrient_not_tested": "{nutrient} was not measured: what the harvest carries off ({taken}) is "
    "replaced.",
    "organic_matter_above_rule": "Organic matter is {measured}; the nitrogen rule was made for soils up "
    "to {ceiling} and is not carried further.",
    "organic_matter_not_tested": "Organic matter was not measured: no nitrogen is credited for it.",
    "ph_below_crop_range": "The pH of {ph} lies below the crop's own range, which begins at {low}.",
    "ph_not_tested": "The pH was not measured: nothing that raises or lowers it is spread, and "
    "phosphates are counted as on alkaline soil.",
    "plan_quick": "A quick plan: the work is laid into the weeks without the search for the best weeks, and without what would "
    "make all of it fit where it does not. Leave out --quick for these.",
    "plan_quick_years": "A quick plan: the years ahead are not planned. Leave out --quick for them.",
    "planting_failed": "Bed {bed}: the {crop} failed ({on}). Nothing more is planned for it, and the bed is free: write "
    "another crop for it as a [[want]], or a [[wish]], and see what bedwright rotate puts there.",
    "planting_failed_followed": "Bed {bed}: the {crop} failed ({on}); {next} follows it.",
    "preplant_share_assumed": "No published split of nitrogen for this crop: {share} before planting is "
    "taken.",
    "price_missing": "No price is stated for {materials}: taken at the dearest stated price.",
    "salt_by_dilution": "Salt was measured in a thinner extract ({extract}); brought to the saturation "
    "extract it is {ec_e}, by published conversions that differ that much.",
    "salt_costs_yield": "The bed's salt ({ec_e}) leaves this crop {yield_left} of its yield.",
    "salt_over_limit": "Too salty for this crop: ECe is {ec_e}, and you wish to stay below {limit}; it "
    "leaves {yield_left} of the yield. Leach the bed before "
    "planting, and spread nitrogen only after that.",
    "leach_10_in": "A garden bed of {ec_e} wants about 10 in of water through it before planting.",
    "leach_12_in": "A garden bed of {ec_e} wants about 12 in of water through it before planting.",
    "leach_24_in": "A garden bed of {ec_e} wants about 24 in of water through it before planting; "
    "it is a doubtful site.",
    "reject_site": "At {ec_e} this is no site for a garden: choose another.",
    "lime_and_ammonium_apart": "Keep lime and urea, ammonium or fresh poultry manure apart by two "
    "weeks: lime drives their nitrogen off as ammonia.",
    "nothing_in_shed": "Nothing in the shed serves what this bed needs.",
    "calcium_not_tested": "Calcium was not measured; the pH gives no reason to add any.",
    "salt_not_tested": "Salt was not measured: no salt limit is kept for this bed.",
    "salt_tolerance_not_known": "No salt tolerance is known for this crop; the bed has {ec_e}.",
    "salt_limits_compost": "The compost's salt is what limits it. Leach the bed with low-salt water after "
    "spreading and before planting, test again, and more could go on.",
    "stock_runs_out": "{material} runs out: {kg} kg more is needed than is on hand, and it can't be "
    "bought. The plan counts it; find it or change a wish.",
    "over_budget": "The packages to buy cost {over} more than the budget of {budget}.",
    "salts_not_known": "Salts not known, so not counted: {materials}.",
    "cover_depth": "Sow it {depth} deep: rake it in and firm it.",
    "cover_inoculant": "{crop} is a legume: roll the seed in the inoculant of its group (clovers, alfalfa, peas with "
    "vetches and broad beans, or cowpeas) just before sowing, unless one of that group grew here in the last years.",
    "cover_not_fed": "{crop} is not fed: it grows on what the crop before left, and what it takes up stays in the bed.",
    "cover_seed_not_known": "No rate of seed is known for {crop}: sow as its packet says.",
    "cover_sown": "{crop} is sown over the whole of its ground, not in rows: {seed} of seed, at {rate}.",
    "settled_with_the_first_crop": "The {first} comes first here this year. What the soil test asks for besides nitrogen was settled with the {first}, and so was the nitrogen that it credits: this crop's is asked for in full. A nitrate test once the {first} is out would tell how much is left.",
    "first_crop_still_stands": "Bed {bed}: the {first} stands here until about {last}, and the {crop} is to start "
    "on {second}. Start the {crop} on {free} or later, end the {first} sooner, or give one of them another bed.",
    "first_crop_still_stands_part": "Bed {bed}, part {part}: the {first} stands on this part until about {last}, and "
    "the {crop} is to start on it on {second}. Start the {crop} on {free} or later, end the {first} sooner, or give "
    "one of them another part or bed.",
    "first_crop_stays": "Bed {bed}: the {first} stays here for years, and the {crop} is to start on {second}. Give "
    "one of them another bed.",
    "first_crop_stays_part": "Bed {bed}, part {part}: the {first} stays on this part for years, and the {crop} is to "
    "start on it on {second}. Give one of them another part or bed.",
    "set_out_not_stated": "No planting date is stated: {taken} stands in, and knows nothing of your frost.",
    "sodic": "Sodium: exchangeable sodium is {esp}. It takes {gypsum} of pure gypsum to displace it, "
    "then leaching. Gypsum first, water second, nitrogen only after both.",
    "sodic_without_cec": "Sodium is high (exchangeable sodium {esp}); without the exchange capacity the "
    "amount of gypsum can't be worked out. Ask the laboratory for CEC. Gypsum first, then leaching.",
    "sodium_fine": "Sodium is no trouble here (exchangeable sodium {esp}).",
    "sulfur_not_worth_it": "The pH of {ph} is above this crop's range ({high}), but sulfur is not worth "
    "it: free lime ({carbonate}) would swallow {sulfur} of it before the pH moved.",
    "sulfur_would_help": "The pH of {ph} is above this crop's range ({high}). Sulfur would lower it: "
    "{sulfur}, worked in several months to a year ahead.",
    "texture_not_known": "The texture {texture} is not in the table: {taken} is taken.",
    "texture_not_stated": "No texture is stated: {taken} is taken.",
    "two_methods": "{analyte} was measured by two methods; {used} is used, {other} is not mixed in.",
    "wants_from_wishes": "No crop is settled for any bed, so the beds are planned for what your wishes ask ({placed}). To "
    "settle them, write them as [[want]]: bedwright rotate --accept does it.",
    "water_depth_not_stated": "The water's nitrate ({nitrate_n}) is not credited, because the season's "
    "depth of watering is not stated.",
    "water_too_salty_for_crop": "Water of {ec_water} can't hold this bed at the {threshold} the crop "
    "bears, however much drains through.",
    "yield_goal_assumed": "No yield goal is stated: the guideline's own yield, {goal}, is taken.",
    "doubt_acid_extractant_on_free_lime": "The {extractant} test for {analyte} loses its acid to free "
    "lime and reads low on this soil.",
    "doubt_mehlich_3_on_free_lime": "The Mehlich-3 test for {analyte} dissolves lime-bound phosphate "
    "and reads differently on soil with free lime.",
    "doubt_exchangeable_calcium_on_free_lime": "With free lime the {analyte} figure counts dissolved "
    "lime and is too high.",
    "doubt_olsen_on_acid_soil": "The Olsen test was made for neutral and alkaline soil.",
    "doubt_dilution_with_gypsum": "With gypsum in the soil a diluted extract reads too much salt.",
    "doubt_field_table_on_light_soil": "{analyte}: the classes are for field soil. A compost-filled bed "
    "is lighter, so the same ppm is less in the bed than in a field.",
    "screening_none": "{analyte}: {value}, within what is usual for soil.",
    "screening_keep_soil_covered_and_wash": "{analyte}: {value}. Keep the soil covered, wash produce and "
    "hands, peel roots. These are screening values; ask the local health department.",
    "screening_no_leafy_or_root_crops": "{analyte}: {value}. Grow no leafy or root crops here; ask the "
    "local health department.",
    "screening_raised_bed_with_clean_soil": "{analyte}: {value}. Grow food here only in a raised bed of "
    "clean soil; ask the local health department.",
    "screening_call_health_department": "{analyte}: {value}. Grow no food here and keep children away "
    "until the health department has advised.",
    "calcium_none_needed": "No calcium is called for: this soil holds plenty.",
    "calcium_lime": "Where calcium is wanted on this sour soil, lime gives it and mends the pH.",
    "calcium_gypsum": "Calcium is low and the pH is right: gypsum gives calcium without lime.",
    "calcium_gypsum_for_sodium": "Gypsum is the calcium source here, to drive off sodium.",
    "blossom_end_rot": "Blossom-end rot will not be cured by more calcium here. Even watering, mulch, "
    "less salt and no surplus nitrogen do more: in a trial wetter soil halved it, gypsum did nothing.",
})  # fmt: skip

# Every finding's sentence, wherever in the house the finding is made.
FINDINGS = Words(
    _OF_THE_BED,
    words_release.FINDINGS,
    words_dates.DATES_FINDINGS,
    words_layout.LAYOUT_FINDINGS,
    words_ledger.LEDGER_FINDINGS,
    words_ledger.HEAP_FINDINGS,
    words_ledger.MANURE_FINDINGS,
)

STRIKES = Words({
    "avoided": "you asked to leave it out",
    "chloride": "its chloride adds to the salt",
    "greensand_not_soluble": "its potash does not dissolve within seasons",
    "lime_not_called_for": "the pH calls for no lime",
    "lime_on_alkaline": "the soil is alkaline: lime's calcium can't be used here and its base does harm",
    "lime_without_ph": "never without a pH test",
    "not_organic": "not allowed in organic growing",
    "phosphorus_not_called_for": "the bed needs no phosphorus, and this brings it",
    "phosphate_locked": "its phosphate is locked up at this pH: it would pile up unused",
    "phosphorus_stop": "the bed is full of phosphorus",
    "raw_manure_interval": "raw manure: 120 days before harvest where the crop touches soil, 90 days "
    "where not (7 CFR 205.203(c)(1)); the blend does not use it",
    "release_not_known": "how much of its nitrogen a season releases is not known",
    "residue_not_blended": "a residue, worked in for the soil, not for this crop's feeding",
    "rock_phosphate_not_soluble": "its phosphate does not dissolve at this pH",
    "sulfur_on_free_lime": "free lime swallows it; see why",
    "sulfur_ahead_of_time": "sulfur takes months: not in this spring's blend; see why",
    "ties_up_nitrogen": "it ties nitrogen up while it rots",
    "gypsum_not_called_for": "calcium, sulfur and sodium call for none",
    "boron_not_called_for": "the boron test calls for none, and a little too much poisons the bed",
    "boron_not_tested": "never without a boron test: a little too much poisons the bed",
    "zinc_not_called_for": "the zinc test calls for none",
    "zinc_not_tested": "never without a zinc test",
    "iron_not_called_for": "the iron test calls for none",
    "iron_not_tested": "never without an iron test",
    "manganese_not_called_for": "the manganese test calls for none",
    "manganese_not_tested": "never without a manganese test",
    "copper_not_called_for": "the copper test calls for none, and copper does not leave the soil",
    "copper_not_tested": "never without a copper test: it does not leave the soil",
    "magnesium_not_called_for": "the magnesium test calls for none",
    "magnesium_not_tested": "not without a magnesium test",
})  # fmt: skip

CAUTIONS = Words({
    "adds_boron": "brings boron",
    "adds_sodium": "brings sodium",
    "ammonia_loss": "work in the same day, or its nitrogen goes to the air",
    "ash_cold_untreated": "only cold ash of untreated wood",
    "attracts_animals": "draws dogs and rats: work in, store shut",
    "boron_narrow_margin": "weigh it: a little too much poisons the bed for years",
    "caustic_when_wet": "burns wet skin and eyes",
    "chloride": "brings chloride",
    "dust_mask": "wear a dust mask",
    "eye_protection": "wear goggles",
    "feed_origin_handling": "wash hands; keep from stock feed",
    "fire_oxidizer": "keep from fire and fuel",
    "germination_inhibitor": "keep off seed rows for two weeks",
    "gloves": "wear gloves",
    "heavy_bags": "lift with two, or split the bag",
    "heavy_metals": "may hold heavy metals: follow the label",
    "herbicide_carryover": "test with bean seedlings for herbicide first",
    "histoplasma_dust": "moisten; its dust can carry lung disease",
    "keep_from_children": "keep from children",
    "lowers_ph": "lowers pH",
    "nitrogen_tie_up": "ties nitrogen up",
    "raises_ph": "raises pH",
    "raw_manure_interval": "raw: 120 days before harvest, 90 where the crop does not touch soil",
    "salty": "salty: keep from seedlings, water in",
    "silica_dust": "its dust harms lungs: fitted respirator, dampen",
    "sparks": "no sparks or flame near its dust",
    "stains": "stains stone and cloth",
    "toxic_to_fish": "keep out of water",
    "weigh_only": "by the scale only, never by the cup",
})  # fmt: skip

HABITS = Words(
    {
        "compost_depth": "Compost, {rule} a year",
        "calcium_rate": "A calcium material at {rule}",
        "starter_n": "A starter of {rule} nitrogen for fruiting crops",
    }
)
HABIT_WHY = Words(
    {
        "phosphorus_stop": "the bed is full of phosphorus",
        "limits": "phosphorus and salt limit it",
        "none_wished": "you asked for none",
        "as_wished": "as you asked",
        "lime_by_test": "by the lime requirement, not by the label",
        "called_for": "the report calls for it",
        "calcium_ample": "the calcium test shows plenty",
        "free_lime": "the soil holds free lime",
        "not_called_for": "nothing calls for it",
        "nothing_before_planting": "nothing is spread before planting",
        "phosphorus_not_called_for": "a low-analysis starter would bring phosphorus that the bed does "
        "not need; most nitrogen waits for the side-dressing instead",
        "by_blend": "what the blend comes to",
    }
)
LABEL_ASSUMES = Words(
    {
        "calcium_by_habit": "takes it for granted that calcium is wanted",
        "one_inch_tilled_six_inches": "an inch, worked in six inches deep",
        "one_tenth_lb_total_n": "brings 0.1 lb of total nitrogen per 100 ft2, released or not",
        "ph_7_5_to_6_5_no_free_lime": "for soil without free lime",
        "ph_below_7": "only below pH 7",
        "upper_single_use": "the most at one time, not a need",
        "worked_in_120_days_before_harvest": "raw: 120 days before harvest",
    }
)
TEST_DECIDES = Words(
    {
        "lime_and_phosphorus": "whether lime is wanted and which phosphates work",
        "phosphorus_and_compost": "whether compost and bone meal do good or harm",
        "potassium": "whether potash is wanted",
        "nitrogen": "how much nitrogen the soil itself will give",
        "salt": "whether salty materials may be spread, and whether to leach",
    }
)

"""Words of a number's working, in American English: where it came from, and what it is called."""

from __future__ import annotations

from bedwright.language import Words

ORIGINS: dict[str, str] = Words(
    {
        "stated": "you stated it",
        "measured": "measured",
        "table": "from a table",
        "assumed": "taken for want of a statement",
        "computed": "worked out",
    }
)

# Names of figures that don't speak for themselves; underscores of the others become spaces.
FIGURE_NAMES: dict[str, str] = Words(
    {
        "amount": "amount on the bed",
        "area_m2": "area",
        "b_ceiling": "most boron",
        "b_need": "boron needed",
        "brought_by_the_blend": "what the blend brings",
        "carbonate": "free lime",
        "carry_over": "nitrogen still released from earlier years",
        "cec": "exchange capacity",
        "cec_share": "share of the exchange capacity",
        "ceiling": "most",
        "credits": "what the bed already gives",
        "ec": "salt (electrical conductivity)",
        "ec_e": "salt (ECe)",
        "ec_e_limit": "salt that you accept (ECe)",
        "ec_e_slope": "yield lost for each step of salt above the threshold",
        "ec_e_threshold": "salt from which this crop loses yield (ECe)",
        "ec_water": "salt of the water",
        "emitter_l_h": "flow of an emitter, liters an hour",
        "esp": "exchangeable sodium",
        "flow_l_h": "flow of the lines, liters an hour",
        "gross_m": "depth that the lines bring",
        "guideline_yield": "the guideline's yield",
        "habit_calcium_rate": "the usual rate of a calcium material",
        "habit_compost_depth": "the usual depth of compost",
        "habit_starter_n": "the usual starter",
        "high": "the crop's highest pH",
        "irrigation_credit": "nitrogen in the water",
        "k2o_need": "potash needed",
        "later": "later, as side-dressing",
        "leaching_requirement": "share of the water that must drain through",
        "length_m": "length of a line",
        "lines": "lines on the bed",
        "n_ceiling": "most nitrogen",
        "n_ceiling_floor": "least that the ceiling may be",
        "n_crop_need": "nitrogen that the crop needs",
        "n_season": "nitrogen that a season frees of it",
        "n_to_supply": "nitrogen left to supply",
        "n_total": "nitrogen in it",
        "net_m": "depth that the roots get",
        "nitrate_credit": "nitrate in the soil",
        "nitrate_n": "nitrate nitrogen",
        "nitrogen_left": "nitrogen left after the last harvest",
        "nitrogen_missing": "nitrogen missing by the end",
        "om_n_release": "nitrogen that a per cent of organic matter frees",
        "organic_matter_credit": "nitrogen from organic matter",
        "organic_n": "organic nitrogen",
        "p2o5_ceiling": "most phosphate",
        "p2o5_need": "phosphate needed",
        "p2o5_removal": "phosphate that the harvest carries off",
        "p_manure_stop_olsen": "Olsen phosphorus at which compost and manure stop",
        "p_removal_only_olsen": "Olsen phosphorus from which only what is carried off may be spread",
        "p_surplus_high_class": "surplus allowed at a high test",
        "ph": "pH",
        "ph_high": "the crop's highest pH",
        "preplant": "before planting",
        "preplant_n_share": "share of the nitrogen before planting",
        "salt_ceiling": "salt that the bed can still take",
        "salt_rise_allowed": "allowed rise of salt",
        "salt_rise_floor": "least that the allowed rise may be",
        "sar": "sodium adsorption ratio",
        "saturation_percent": "water at saturation",
        "season_days": "days from setting out to the last harvest",
        "spacing_m": "spacing",
        "sulfur_to_dissolve_lime": "sulfur that the free lime would swallow",
        "uniformity": "how evenly the lines run",
        "yield_goal": "yield hoped for",
        "yield_kept": "share of the yield you want to keep",
        "yield_left": "share of the yield that the salt leaves",
        "zn_ceiling": "most zinc",
        "zn_need": "zinc needed",
    }
)

# Beginnings of names that go on with a material, and perhaps the day on which it was spread.
CARRIED = "nitrogen still released by {material} of {day}"
FRESH = "nitrogen of {material} of {day}"
BROUGHT = "brought by {material}"
NITROGEN_OF = "nitrogen freed by {material}"

"""The words of amounts, and of the reasons for them, in American English."""

from __future__ import annotations

from bedwright.language import Words

AMOUNTS: dict[str, str] = Words({
    "range": "{low} to {high}",
    "none": "none",
    "scale_only": "by the scale only",
    "no_density": "weigh it: no density is known",
    # How a hand measures: one or less of it, more of it
    "teaspoon": "about {count} level teaspoon", "teaspoons": "about {count} level teaspoons",
    "tablespoon": "about {count} level tablespoon", "tablespoons": "about {count} level tablespoons",
    "cup": "about {count} level cup", "cups": "about {count} level cups",
    "quart": "about {count} quart", "quarts": "about {count} quarts",
    "bucket": "about {count} bucket", "buckets": "about {count} buckets",
    "liter": "about {count} liter", "liters": "about {count} liters",
    "milliliter": "about {count} milliliter", "milliliters": "about {count} milliliters",
})  # fmt: skip

WHY: dict[str, str] = Words({
    # Nitrogen
    "nitrogen": "Nitrogen: the crop needs {amount}.",
    "gives": "The bed already gives: {credits}.",
    "left": "Left to supply: {amount}.",
    "releases": "The blend releases {amount}.",
    "credit_of": "{material} of {day}",
    "nitrate_credit": "soil nitrate",
    "organic_matter_credit": "organic matter",
    "irrigation_credit": "the water",
    # Other nutrients
    "test": "{method} test {value}, {supply}.",
    "need": "Need {amount}",
    "given": "; the blend gives {amount}",
    "most": "; at most {amount} in all",
    "brought": ", the blend brings {amount}",
    # What decided
    "decides": "What decides the amounts: {demands}.",
    "short": "Short of {nutrient} by {amount}.",
    "prices": "At your prices {prices}.",
    "price_pound": "a pound more of {nutrient} would cost {price}",
    "price_kilogram": "a kilogram more of {nutrient} would cost {price}",
    # Beside the rules of thumb and the labels
    "habit": "{rule}: here {ours}; {why}.",
    "label": "{material}: {span}; here {ours} ({assumes})",
})  # fmt: skip

# Methods whose short names are not their keys with blanks; another language names them itself.
METHODS = {
    "olsen": "Olsen",
    "bray_1": "Bray P1",
    "bray_2": "Bray P2",
    "mehlich_1": "Mehlich 1",
    "mehlich_3": "Mehlich 3",
    "modified_morgan": "modified Morgan",
    "ab_dtpa": "AB-DTPA",
    "dtpa": "DTPA",
    "kcl": "KCl",
    "water_1_1": "1 soil : 1 water",
    "water_1_2": "1 soil : 2 water",
    "water_1_5": "1 soil : 5 water",
    "water_2_5": "1 soil : 2.5 water",
    "walkley_black": "Walkley-Black",
}

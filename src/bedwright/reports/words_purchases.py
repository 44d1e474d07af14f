"""Words of the purchases: what to buy by which day, what it costs, what can wait."""

from __future__ import annotations

from bedwright.language import Words

BUY = Words({
    "title": "To buy by date",
    "nothing": "Nothing is to be bought: what is on hand is enough.",
    "now": "now",
    "by_day": "By {day}",
    "order": "Order by {order} (needed {day})",
    "line": "{item}: {lots}; {cost}",
    "package": "{count} package of {size}",
    "packages": "{count} packages of {size}",
    "price_not_stated": "price not stated",
    "waits": "Can wait (not ordered before {day})",
    "enough": "On hand and enough: {items}.",
    "sum": "At the prices that you state: {money} {currency}; {now} of it by {day}.",
    "sum_unpriced": "Not in that sum, as their prices are not stated: {items}.",
    "no_price": "No price is stated, so nothing is summed up.",
    "seeds": "{mass} ({count} seeds)",
    "pieces": "{mass} ({count} pieces)",
    "seeds_only": "{count} seeds",
    "none": "none",
})  # fmt: skip

ITEMS = Words({
    "seed": "{crop} seed",
    "plants": "plants of {crop}",
    "pieces": "seed pieces of {crop}",
    "post": "posts",
    "stake": "stakes",
    "panel": "mesh panels",
    "twine": "twine",
    "drip_line": "drip line",
    "shade_cloth": "shade cloth of {shade}",
})  # fmt: skip

PURCHASES_FINDINGS = Words({
    "purchases_drip_lies": "The water zone of these beds is described, so their drip lines are taken to be there: {beds}.",
    "purchases_missing": "{item}: {amount} is needed beyond what is on hand, and it is not to be bought (can_buy = false).",
    "purchases_no_stock": "No stock is stated ([[stock]]): materials are told by weight, without packages or prices.",
    "purchases_no_supply": "No seed or part is stated as on hand ([[supply]]), so all of it is to be bought, and its packages "
    "and prices are not known.",
    "purchases_not_converted": "{item}: what you state of it can't be brought to the measure in which it is needed, so it does "
    "not count.",
    "purchases_not_dated": "Bed {bed}, {crop}: its day of planting is not known; {on} is taken.",
    "purchases_plants_on_hand": "Bed {bed}: {count} plants of {crop} are on hand, so seed for these is not bought.",
    "purchases_seed_not_known": "Bed {bed}, {crop}: no table tells how much seed it takes.",
    "purchases_taken_as_had": "Needed before this day and taken as had, seed or parts for: {beds}.",
    "purchases_trellis_stays": "A trellis stays on these beds, so posts and mesh for them are not bought: {beds}.",
})  # fmt: skip

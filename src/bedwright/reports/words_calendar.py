"""Words of the calendar: what its events are called and what they tell."""

from __future__ import annotations

from bedwright.language import Words

CALENDAR = Words({
    "name": "{garden}: season",
    "about": "Work, planting, picking, clearing and buying, as planned on {day}.",
    "bed": "Bed {bed}",
    "done": "Done: {what}",
    "done_on": "Written down as done, or done with what came after it.",
    "hours": "About {hours} h of work ({low} to {high}), all hands together.",
    "hours_one": "About {hours} h of work, all hands together.",
    "serves": "It serves from {first} to {last}.",
    "not_after": "Not after {last}.",
    "before_it": "Before it: {tasks}.",
    "set_out": "Day to set out: {crop}, {bed}",
    "sown": "Day to sow: {crop}, {bed}",
    "pieces": "Day to plant: {crop}, {bed}",
    "set_out_again": "Set out again: {crop}, {bed}",
    "sown_again": "Sow again: {crop}, {bed}",
    "pieces_again": "Plant again: {crop}, {bed}",
    "good_until": "A good day until {day}.",
    "put_off": "The dates ask for {day}: the hours there are, or what must go before it, put it off.",
    "no_room": "The weeks have no room for it as things stand: the work of its week says why.",
    "picking": "First picking: {crop}, {bed}",
    "picked_until": "It is picked until about {day}.",
    "early_late": "In an early year from {early}, in a late one from {late}; one year in ten each.",
    "mass": "About {mass} is expected in all.",
    "clear": "Last day to clear: {crop}, {bed}",
    "order": "Order: {item}",
    "buy": "Buy: {item}",
    "amount": "{lots}; {cost}.",
    "for_beds": "For: {beds}.",
})  # fmt: skip

CALENDAR_KINDS = Words({
    "work": "Work",
    "planting": "Planting",
    "harvest": "Harvest",
    "clearing": "Clearing",
    "buying": "Buying",
})  # fmt: skip

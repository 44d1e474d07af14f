"""Words of the work: tasks, tools, the week, what does not fit and what may be done about it."""

from __future__ import annotations

from bedwright.language import Words

TASKS = Words({
    "clear": "clear", "fork_test": "push a fork in", "loosen": "loosen", "spread": "spread",
    "work_in": "work in", "rest": "let it rest", "drip": "lay drip", "trellis": "put up the trellis",
    "sow_trays": "sow in trays", "tend": "tend the seedlings", "harden": "harden off",
    "set_out": "set out", "sow": "sow", "plant": "plant", "cover": "cover", "uncover": "take the cover off",
    "shade": "hang shade cloth", "mulch": "mulch", "side_dress": "side-dress", "weed": "weed",
    "thin": "thin", "tie": "tie up", "look": "look for pests", "check_drip": "check the drip lines",
    "pick": "pick", "wash": "wash", "pack": "pack", "sell": "sell",
})  # fmt: skip

THINGS = Words({
    "barrow": "barrow", "broadfork": "broadfork", "bucket": "bucket", "cash_box": "cash box",
    "clips": "clips", "crates": "crates", "digging_fork": "digging fork",
    "compost": "compost", "drinking_water": "drinking water", "grass": "grass", "hay": "hay",
    "leaves": "leaves", "plastic": "plastic", "wood_chips": "wood chips", "drip_line": "drip line", "fittings": "fittings",
    "fork": "fork", "hand_hoe": "hand hoe", "hand_lens": "hand lens", "hoe": "hoe", "hoops": "hoops",
    "knife": "knife", "labels": "labels", "line": "line", "mallet": "mallet",
    "panel": "mesh panels", "picked": "expected", "pins": "pins", "pliers": "pliers", "post": "posts",
    "post_driver": "post driver", "potting_mix": "potting mix", "rake": "rake",
    "row_cover": "row cover", "scale": "scale", "scissors": "scissors", "shade_cloth": "shade cloth",
    "shovel": "shovel", "spade": "spade", "stake": "stakes", "straw": "straw", "tray": "trays",
    "trays": "trays", "trowel": "trowel", "tub": "tub", "twine": "twine", "watering_can": "watering can",
    "weights": "weights", "wheel_hoe": "wheel hoe",
})  # fmt: skip

WEEK = Words({
    "title": "{garden}: work of the week of {day}",
    "hours": "About {hours} h of work ({low} to {high}); {available} h there are.",
    "hours_open": "About {hours} h of work ({low} to {high}).",
    "trays": "Trays on the bench: {trays}.",
    "nothing": "Nothing is to be done this week.",
    "task": "{task}, {place}: {hours} h",
    "task_many": "{task}: {hours} h",
    "task_none": "{task}, {place}",
    "whole_garden": "whole garden",
    "place": "{bed} ({crop})",
    "from_day": "from {day}",
    "by_day": "by {day}",
    "was_due": "was due by {day}",
    "bring": "Bring: {things}.",
    "seed": "seed of {crop}",
    "plants": "{count} plants of {crop}",
    "amount": "{amount} {thing}",
    "two": "For {people}.",
    "done": "Done",
    "done_line": "{task}, {place}: {day}",
    "left_out": "Does not fit",
    "left_hours": "{task}, {place}, by {day}: too few hours.",
    "left_bench": "{task}, {place}: no room on the bench.",
    "left_time": "{task}, {place}: it could be done from {day} on at the soonest, and that is too late.",
    "left_waits": "{task}, {place}: it waits for what is left out ({by}).",
    "more_left": "And {count} more.",
    "overload": "{first} to {last}: these tasks ask for {hours} h, and there are {available}: {tasks}.",
    "overload_week": "The week of {first}: these tasks ask for {hours} h, and there are {available}: {tasks}.",
    "just_over": "just over {hours}",
    "overload_whole": "{first} to {last}: these don't fit, as a task is done within one week: {tasks}.",
    "choices": "What would make it fit",
    "choice_hours": "{hours} h more in all: {weeks}.",
    "choice_hours_trays": "{hours} h more in all ({weeks}), and bench for {trays} trays more.",
    "choice_week": "{hours} h in the week of {day}",
    "choice_earlier": "Begin clearing, loosening and spreading up to {days} days earlier.",
    "choice_beds": "Leave out what is planned for {beds}.",
    "choice_trays": "Bench for {trays} trays more.",
    "choice_maybe": "Less may do: the search for it was ended.",
    "note": "To know",
    "heat": "Heat",
    "heat_usual": "A usual day of this month, {high}. Hours of work in the sun without set rests: {spans}.",
    "heat_hot": "A hot one, {high}: {spans}.",
})  # fmt: skip

WORK_FINDINGS = Words({
    "work_clear_pick": "{crop}: pick what is ripe first.",
    "work_clear_way": "{crop}: {way}.",
    "work_dressing_not_dated": "{bed}: the day of side-dressing is not known, so it is no task yet.",
    "work_dust": "In dry regions the soil can hold a fungus that harms lungs: wet the soil first, stand upwind, stop when "
    "it blows; for much digging wear a fitted respirator.",
    "work_fork_test": "Push a fork or spade in at three to five spots, the soil moist: crumbs that fall apart, roots "
    "all through and worms mean leave it be; a hard layer or blunt clods with few roots mean loosen. With a cone "
    "penetrometer, roots stop at about 300 psi (2.1 MPa). Write what you find as [[fork_test]].",
    "work_hours_not_stated": "The hours of your week are not stated (hours_per_week under [work]): nothing is left out, "
    "and each week shows what it asks for.",
    "work_lead": "Lead or arsenic is above the lowest class here: damp the soil against dust, wash hands, leave boots and "
    "gloves outside.",
    "work_lift": "{material}: {load} at a time, {index} times what is safe to lift from the ground ({ground}); from a "
    "barrow {barrow}. Lift it in {parts} parts, or two together.",
    "work_loosen_if": "Only if the fork says so: the hours are kept free until then.",
    "work_market_not_stated": "The hours of selling are not stated (market_hours under [work]): they are not counted.",
    "work_material": "{materials}: {caution}.",
    "work_not_dated": "Bed {bed}, {crop}: its day of planting is not known, so nothing of it has a day. State set_out in its "
    "[[want]], or name a station's record under [weather], which bedwright weather fetch brings.",
    "work_not_loosened": "Not loosened, as the fork found it loose: {bed}.",
    "work_not_loosened_mix": "Not loosened, as a raised bed of compost mix needs none: {bed}.",
    "work_overdue": "Overdue, and so in this week: {count}.",
    "work_own_times": "Your own times ({count}) replace the table's.",
    "work_pan_wants_broadfork": "A hard layer lies deeper than a fork reaches well: a broadfork lifts it.",
    "work_standing_no_end": "Bed {bed}, {crop}: nothing clears it and nothing tells when its picking ends, so its picking "
    "is in no week. Pick it as it grows.",
    "work_pick_not_dated": "Bed {bed}, {crop}: when it is picked is not known, so picking is no task yet.",
    "work_planting_later": "Bed {bed}, {crop}: the hours there are put its planting off, from {planned} to {laid}.",
    "work_raw_manure": "{materials}: 120 days from working in to the harvest of what touches the soil, 90 for what does "
    "not.",
    "work_taken_as_done": "{count} tasks lie before this day and are taken as done, as nothing is written down as done. "
    "Write [[labor_done]] or the journal to be asked again.",
    "work_two_people": "A panel is carried and hung by two.",
    "work_wants_two": "One pair of hands is stated, and two are wanted to {kinds}.",
})  # fmt: skip

"""The words of a bed's layout: rows, trellis, light, and two crops together."""

from __future__ import annotations

from bedwright.language import Words

LAYOUT_FINDINGS = Words({
    # On which side the tall rows stand
    "side_only": "The {tall} stands in the middle: the bed is too narrow for another place.",
    "side_middle_alike": "The {tall} stands in the middle: at either side it would leave hardly more light on the "
    "ground ({light} mol/m2 a day in its months; {other} elsewhere), and both paths stay alike.",
    "side_middle": "The {tall} stands in the middle, where it leaves the most light: {light} mol/m2 a day in "
    "its months, against {other} at a side.",
    "side_alike": "The {tall} stands on the {side} side. Either side leaves about as much light ({light} and "
    "{other} mol/m2 a day); tall crops to the {pole}, or else to the east, are the custom.",
    "side_alike_poleward": "The {tall} stands on the {side} side. In its months the sun stands so high that "
    "either side leaves about as much light ({light} and {other} mol/m2 a day); whenever it stands lower, "
    "shadows fall to the {pole}, off the bed.",
    "side_by_shadow": "The {tall} stands on the {side} side: at noon the sun stands in the {sun}, so shadows "
    "fall to the {shadow}, away from the {low}. The {low} gets {light} mol/m2 of light a day; with the {tall} "
    "elsewhere it would be {other}.",
    "side_by_shadow_alone": "The {tall} stands on the {side} side: at noon the sun stands in the {sun}, so "
    "shadows fall to the {shadow}, off the bed. The ground keeps {light} mol/m2 of light a day; elsewhere in "
    "the bed the {tall} would leave {other}.",
    "side_by_light": "The {tall} stands on the {side} side, which leaves the {low} {light} mol/m2 of light a "
    "day; elsewhere it would leave {other}.",
    "side_by_light_alone": "The {tall} stands on the {side} side, which leaves {light} mol/m2 of light a day "
    "on the ground; elsewhere it would leave {other}.",
    "side_for_relief": "The {tall} stands on the {side} side, toward the afternoon sun: the {low} suffers from "
    "heat, and from {start} to {end} the days are hot. It is shaded in the afternoon and still gets {light} "
    "mol/m2 of light a day; it asks for {need}.",
    "side_for_relief_month": "The {tall} stands on the {side} side, toward the afternoon sun: the {low} suffers "
    "from heat, and in {start} the days are hot. It is shaded in the afternoon and still gets {light} mol/m2 of "
    "light a day; it asks for {need}.",
    "side_for_beds_beside": "The {tall} stands on the {side} side, so that the beds beside keep the light that "
    "their crops ask for.",
    "relief_not_from_trellis": "The {low} suffers from heat, and from this side it gets no shade in the "
    "afternoon: hang shade cloth in the hot months, or give it a bed that lies north-south.",
    # Light
    "rows_thin": "The {crop} stands in thin light: {light} mol/m2 a day in {month}, {open} in the open; it asks "
    "for {need}. It grows, and yields less.",
    "rows_dark": "It is too dark for the {crop}: {light} mol/m2 a day in {month}, {open} in the open; it asks for "
    "{need}. Give it another bed.",
    "light_by_temperature_range": "Light is read off the range of the temperatures, as no radiation is stated.",
    "light_of_clear_sky": "Light is that of a clear sky: clouds take from it. State the weather's radiation.",
    "light_share_dry_air": "The air is dry here ({rain} of rain a year, and {et0} would evaporate): {share} of the sun's "
    "energy is counted as light for plants, as measured in a dry climate; in moist air it is {moist}.",
    "light_share_air_unknown": "How dry the air is can't be told without the year's rain: {share} of the sun's energy is "
    "counted as light for plants; in a dry climate it is {dry}.",
    "layout_no_latitude": "The latitude is not stated: the {tall} is drawn in the middle, and light is not known.",
    "layout_unplaced": "The bed's corner is not stated: it is taken to lie open, whatever stands in the garden.",
    # Rows
    "layout_no_direction": "The bed's direction is not stated: it is taken to lie north-south.",
    "layout_broadcast": "{crop} is sown over the whole of its ground: there are no rows to lay.",
    "layout_no_spacing": "No spacing of {crop} is known: state spacing_in_row and spacing_between_rows in a "
    "[[crop]].",
    "layout_undated": "No day is known for the {crop}: it is taken to stand grown through the summer half of the "
    "year.",
    "layout_in_hills": "The {crop} stands in hills, several plants in each.",
    "vines_over_paths": "The {crop} asks for rows {apart} apart and the bed is {wide} wide: its vines run over the "
    "paths. Turn them back into the bed.",
    "rows_too_few_for_wind": "Wind pollinates the {crop}, and in one row or two much of the pollen blows past the "
    "silks: ears fill poorly. Give it a block of at least {least} short rows side by side, better {better}: beds "
    "next to each other, sown in the same week, count together.",
    "path_narrow": "The path to bed {bed} is {width} wide: too narrow to kneel in.",
    "trellis_taken": "The {crop} may sprawl or climb; it is laid on a trellis, so that it keeps to its place. For "
    "the other way state trellis in a [[crop]].",
    "trellis_not_taken": "The {crop} may be staked or trellised; it is laid without. For the other way state trellis in a "
    "[[crop]].",
    # Parts of the trellis
    "trellis_clearance": "Hang the mesh {clearance} above the ground: room for a hoe, and for the lowest fruit.",
    "trellis_cut_panel": "The last panel of a row is cut to {rest}.",
    "trellis_outgrown": "The {crop} reaches {reach}; the mesh ends at {top}. Let the rest hang over, or cut it.",
    "stakes_brace_ends": "Brace the stakes at both ends: the line pulls on them, and wind leans on the leaves.",
    "posts_call_first": "Before you drive posts have buried lines marked (in the United States call 811, 2 to 3 "
    "working days ahead). Private lines, such as irrigation or power to a shed, are not marked.",
    "posts_driving": "Wear eye protection, gloves and ear protection when you drive posts; keep your head clear "
    "of the driver, and cover sharp tops and cut ends.",
    "posts_lifting": "The {posts} posts weigh about {mass} together: carry a few at a time, and panels by two.",
    # Two crops in one bed
    "companion_same_day": "The {second} is taken to be sown or set out on the same day as the {first}.",
    "companion_same_crop": "The companion is {crop} too: the bed is laid for one crop.",
    "companion_no_room": "There is no room for {second} beside the {first}: the bed is laid without it.",
    "pair_same_family": "{first} and {second} are both {family}: they share diseases and pests, and count "
    "as one in the rotation.",
    "pair_roots_apart": "The {deeper} roots deeper than the {other}: they draw on different soil.",
    "pair_roots_shallow": "Both {first} and {second} root shallowly: water often, and feed for both.",
    "pair_roots_medium": "{first} and {second} root equally deep: water and feed for both.",
    "pair_roots_deep": "Both {first} and {second} root deeply and compete: water and feed for both.",
    "pair_roots_unknown": "How deep {first} and {second} root is not known for both.",
    "pair_neither_taller": "Neither {first} nor {second} stands over the other: rows by turns.",
    "pair_light_enough": "The {crop} has light enough: {light} mol/m2 a day in its darkest month; it asks for "
    "{need}.",
    "pair_light_unknown": "The light of the {crop} can't be worked here.",
    "pair_need_unknown": "The {crop} gets {light} mol/m2 of light a day in its darkest month; what it asks for is "
    "not known.",
    "pair_done_in_time": "The {crop} is done by {done}, before it is shaded much.",
    "pair_shaded_little": "The {crop} gets {light} mol/m2 of light a day in its darkest month, and loses less "
    "than a third of it to its neighbor.",
    "pair_stands_shade": "The {crop} falls to {light} mol/m2 of light a day and asks for {need}: it stands part "
    "shade, and yields less.",
    "pair_too_dark": "It is too dark for the {crop}: {light} mol/m2 a day; it asks for {need}. Give it another "
    "bed, or set it earlier.",
    "pair_heads_fail": "Heading {crop} failed to head under a dense trellised crop in a trial: take a loose-leaf "
    "kind.",
    "pair_no_trial": "No trial of {first} with {second} is known to us.",
})  # fmt: skip

# Compass and months: what findings say of them in English, in the reader's language.
LAYOUT_TERMS = Words({each: each for each in (
    "north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest",
)})  # fmt: skip

PAIR_VERDICTS = Words({
    "fits": "{first} with {second}: they fit.",
    "with_care": "{first} with {second}: with care.",
    "not_advised": "{first} with {second}: not advised.",
})  # fmt: skip

PAIR_EVIDENCE = Words({
    "land_gained": "a mixed bed gave what {lower} to {upper} beds of the two apart would",
    "first_unhurt": "the {first} yielded as well as alone",
    "second_less_later": "the {second} yielded less, the more so the later it was set",
    "gains_with_density": "a loose-leaf {second} gained land as the {first} stood closer",
    "heads_fail": "a heading {second} made heads only under a thin stand",
    "first_dominates": "the {first} ruled over the {second}",
    "pests_fewer": "fewer carrot flies and fewer thrips, while the onions were young",
    "thrips_fewer": "fewer thrips on the {first}, in one trial",
    "thrips_fewer_bulbs_smaller": "fewer thrips on the {first}, and smaller bulbs",
    "lists_without_support": "lists of good neighbors rest on anecdotes for the most part",
})  # fmt: skip

LAYOUT = Words({
    "head": "BED {bed}, {garden}: {crop}",
    "with": "{first} with {second}",
    "bed_is": "{size}, long side toward {bearing}; {kind}",
    "size": "{length} by {width}",
    "raised": "raised",
    "in_ground": "in the ground",
    "rows": "ROWS",
    "row_at": "{offset} from the {side} side: {crop}, {places}, {spacing} apart",
    "on_trellis": "on the trellis",
    "on_stakes": "staked",
    "places": "{count} plants",
    "place": "1 plant",
    "hill": "1 hill",
    "hills": "{count} hills",
    "row_light": "light at its foot {light} mol/m2 a day, sun {sun} h ({month}; open ground {open}, {open_sun} h)",
    "in_all": "{crop}: {rows} rows, {length} in all, {plants}",
    "in_all_one": "{crop}: 1 row of {length}, {plants}",
    "to_raise": "raise {count} (a tenth to spare)",
    "piece": "1 piece to plant",
    "pieces": "{count} pieces to plant",
    "seed": "1 seed",
    "seeds": "{count} seeds",
    "sow_under_cover": "sow under cover about {day}",
    "companion_sown": "sow {day}",
    "companion_set_out": "set out {day}",
    "companion_pieces": "plant {day}",
    "companion_once": "harvest about {day}",
    "companion_picked": "first harvest about {day}, last about {end}, in good weather",
    "companion_days": "{crop}: {days}",
    "seed_mass": "{mass} of seed",
    "seed_drilled": "{mass} of seed drilled along the rows, then thinned",
    "germination_own": "{share} come up by your own counts, weighed beside the table",
    "germination": "{share} come up by the least that seed law allows; good seed does better",
    "grid": "On a triangular grid of {spacing} the bed takes {count}.",
    "trellis": "TRELLIS",
    "posts": "{count} posts, {length} or longer, {depth} of it in the ground, {apart} apart",
    "stakes": "{count} stakes, {length} or longer, {depth} of it in the ground, {apart} apart",
    "panel": "1 mesh panel, {length} by {height}, hung {clearance} above the ground; top at {top}",
    "panels": "{count} mesh panels, {length} by {height}, hung {clearance} above the ground; top at {top}",
    "line": "{length} of line",
    "drip_each": "Drip: {count} lines, one to a row, {length} in all.",
    "drip_one": "Drip: 1 line of {length}.",
    "drip_even": "Drip: {count} lines spread over the bed, {length} in all.",
    "path": "Path to bed {bed} on the {side} side: {width}.",
    "why": "WHY SO",
    "mind": "MIND",
    "pair": "TWO CROPS",
    "ratio": "The land equivalent ratio is each crop's yield in the mixed bed over its yield alone, added up: "
    "above 1, two beds apart would need more land for as much.",
    "evidence": "Trials: {found} ({source}).",
    "nothing": "No crop is wanted for bed {bed}: nothing to lay.",
    "light": "LIGHT, mol/m2 a day: mean of each crop's rows",
    "open": "open ground",
    "no_latitude": "Light is not known: the garden's latitude is not stated.",
})  # fmt: skip

# On the drawing of a bed, beside those of words_drawings.
ROW_WORDS = Words({
    "light_strip": "{crop}: light in {month}, mol/m2 a day (open ground {open})",
})  # fmt: skip

# Rows on the printed sheet of a bed.
SHEET_ROWS = Words({
    "row": "{crop}: 1 row {first} from the {side} side; {spacing} in the row, {plants}",
    "rows": "{crop}: {rows} rows, the first {first} from the {side} side, then every {apart}; {spacing} in the "
    "row, {plants}",
    "raise": "{line}; raise {count}",
    "seed": "{line}; {mass} of seed",
    "seed_drilled": "{line}; {mass} of seed drilled, then thinned",
    "posts": "Have buried lines marked before you drive posts (United States: 811). Protect eyes, ears and hands.",
})  # fmt: skip

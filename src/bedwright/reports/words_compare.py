"""Words of comparisons: how they lie, what they can show, what they say, what the years say."""

from __future__ import annotations

from bedwright.language import Words

COMPARE = Words({
    "title": "{garden}: comparisons, up to {day}",
    "none": "No comparison is stated. docs/comparisons.md shows how to state one as [[comparison]].",
    "crop": "{crop}; measured: {measured}, in {unit}.",
    "ways": "Compared: {ways}.",
    "combined": "Compared: every combination of {factors}.",
    "either": "{first} or {second}",
    "layout": "How it lies",
    "block": "Block {block}",
    "plot_strip": "bed {bed}, strip {strip} of {strips}: {way}",
    "plot_bed": "bed {bed}: {way}",
    "where_strip": "bed {bed}, strip {strip} of {strips}",
    "where_bed": "bed {bed}",
    "drawn": "Drawn at random from seed {seed}; the same seed draws the same order. Strips are counted along the bed, from its west "
    "or north end.",
    "drawn_beds": "Drawn at random over all of these beds from seed {seed}; the same seed draws the same order.",
    "not_drawn": "As you laid it; it was not drawn here.",
    "edge": "Leave {edge} at each strip's ends out when you measure.",
    "before": "What it can show",
    "spread_stated": "One plot is off another of the same way by about {spread} of the mean, as you state.",
    "spread_usual": "One plot is off another of the same way by about {spread} of the mean: our judgment for small plots; "
    "state your own as spread.",
    "power": "{blocks} blocks: a true difference of {difference} of the mean is seen in 4 of 5 such trials.",
    "power_one": "1 block: nothing can be shown.",
    "power_more": "{blocks} blocks would show {difference}.",
    "power_beds": "{beds} beds, of which the way with the fewest has {fewest}: a true difference of {difference} of the mean between "
    "two ways is seen in 4 of 5 such trials.",
    "power_beds_more": "{fewest} beds of each way would show {difference}.",
    "power_factors": "{blocks} blocks: what one factor does is seen in 4 of 5 such trials if it is {difference} of the mean; that it "
    "does more with the other factor than without, if the two differ by {twice}.",
    "power_factors_halves": "{blocks} blocks: what one factor does is seen in 4 of 5 such trials if it is {difference} of the mean.",
    "power_factors_more": "{blocks} blocks would show {difference}.",
    "power_nothing": "{blocks} blocks: nothing is left to judge by.",
    "results": "What was measured",
    "value": "{way}: {value}",
    "missing": "not measured",
    "bed_value": "bed {bed}: {value}",
    "value_of_beds": "{way}: {value} (beds: {beds})",
    "means": "Means: {means}.",
    "means_of_levels": "Means over all else: {means}.",
    "difference": "{first} less {second}: {mean} {unit} a plot; with a confidence of {confidence} the truth lies between {low} and "
    "{high}.",
    "paired": "Paired t = {t} with {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}.",
    "blocks": "Analysis of blocks: F = {f} with {treatments} and {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}. "
    "Two means differ if they are {least} {unit} apart.",
    "pooled": "Pooled t = {t} with {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}.",
    "one_way": "Analysis of variance: F = {f} with {treatments} and {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}. "
    "Two means differ if they are {least} {unit} apart.",
    "one_way_unequal": "Analysis of variance: F = {f} with {treatments} and {degrees} degrees of freedom, p = {p}; by drawing alone, "
    "p = {drawn}. Two means differ if they are so far apart: {least}.",
    "least_of_beds": "of {one} and {other} beds, {least} {unit}",
    "least_of_combinations": "The means of two combinations differ if they are {least} {unit} apart.",
    "main_effect": "{first} less {second}: {effect} {unit} a plot, standard error {error}; with a confidence of {confidence} the truth "
    "lies between {low} and {high}. F = {f} with 1 and {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}.",
    "interaction": "{name} (working on each other): {effect} {unit}, standard error {error}; with a confidence of {confidence} the truth "
    "lies between {low} and {high}. F = {f} with 1 and {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}.",
    "interaction_about": "An effect with x is half of what the first factor does more with the first level of the other than with its "
    "second: near 0 where each does the same whatever the other is.",
    "said": "What can be said",
    "days": "Measured on {days}.",
    "chart": "Chart of comparison {name}",
    "chart_paired": "Each ring is one block: {first} less {second}, in {unit}. The square is their mean, the bar where the truth "
    "lies with a confidence of {confidence}. Right of the line at 0, {first} gave more.",
    "chart_blocks": "Each mark is one plot, in {unit}; the heavy line is the mean of its way.",
    "chart_factors": "Each square is one effect, in {unit}; its bar tells where the truth lies with a confidence of {confidence}. Where "
    "the bar crosses the line at 0, no effect is shown.",
    "years_title": "What the years have shown",
    "years_about": "The garden's own harvests. Nothing here was laid out by drawing, so a difference may be the year's, the bed's or "
    "another cause's: it is a question for a comparison, not an answer.",
    "years_none": "No harvest is written down yet.",
    "years_crop": "{crop}: harvests {count}, beds {beds}, seasons {years}",
    "year": "{year}: {mean} on {beds}",
    "year_range": "{year}: {mean} ({low} to {high}) on {beds}",
    "with_material": "with {name}",
    "with_cultivar": "{name}",
    "with_start": "sown or set out early",
    "split": "{what}: {mean} (harvests: {count}); without: {other} (harvests: {others}); {difference}.",
    "split_start": "{what}: {mean} (harvests: {count}); late: {other} (harvests: {others}); {difference}.",
    "more": "{by} more",
    "less": "{by} less",
    "within": "Within {years}, which have both: {difference}.",
    "within_none": "No season has both, so the year alone may be the cause.",
    "together": "It can't be told apart from {things}: they changed together.",
    "few_harvests": "Fewer than six harvests on one side: little weight.",
    "year_word": "the year",
    "bed_word": "the bed",
    "cultivar_word": "the cultivar",
    "own_title": "Your own figures beside the tables",
    "own_about": "A figure of yours counts n/(n + k) beside the table's, n being how often it was measured and k as how many of "
    "yours the table counts. Until two seasons are in, a yield is called the table's, not your garden's.",
    "own_none": "No figure of your own is in yet: all are the tables'.",
    "own_yield": "{crop}, yield: {value}; table {table}, yours {own} (seasons: {count}), which counts {weight}. {origin}",
    "own_yield_alone": "{crop}, yield: {value}, yours (seasons: {count}); no table tells one. {origin}",
    "own_labor": "{task}: {value}; table {table}, yours {own} (timings: {count}), which counts {weight}. {origin}",
    "own_germination": "{crop}, germination: {value}; table {table}, yours {own} of {count} seeds, which counts {weight}. {origin}",
    "origin_table": "From the table, not from your garden: two seasons are wanted.",
    "origin_mixed": "Yours and the table's, weighed.",
    "origin_own": "Your own.",
    "share": "{share} %",
    "minutes": "{minutes} min for {per}",
})  # fmt: skip

COMPARE_FINDINGS = Words({
    "compare_clear": "A difference was shown: {way} gave most, and chance alone would seldom part the ways so far. It holds for this "
    "ground and this season.",
    "compare_clear_not_drawn": "{way} gave most, by more than chance is likely to do; but the order was not drawn, so where "
    "the ways lay may be the cause.",
    "compare_not_clear": "No difference was shown. That is not the same as no difference: it may be too small for this many blocks.",
    "compare_tests_disagree": "The two tests disagree (p = {p} and, by drawing alone, {p_drawn}): take it as not settled, and repeat.",
    "compare_could_show": "With {blocks} blocks as unlike as these, a true difference of {share} of the mean is seen in 4 of 5 trials; "
    "smaller ones mostly stay hidden.",
    "compare_spread_wider": "Plots were more unlike than expected: {seen} of the mean, against {stated}. Plan the next with that.",
    "compare_no_spread": "Every block gave the same difference: there is no spread to judge by. Look whether values were rounded or "
    "copied.",
    "compare_one_block": "One block alone can't show anything: the ground and the way can't be told apart. Lay out six.",
    "compare_too_few": "{blocks} blocks are too few: by drawing alone the least p that can come out is {least}, above {level}. "
    "{wanted} are enough.",
    "compare_not_drawn": "The order was not drawn at random: whatever runs along the beds, light, water or soil, may stand behind the "
    "difference. The test by drawing alone doesn't strictly hold.",
    "compare_edges": "Strips touch: roots, water and shade cross the line. State an edge, such as 1 ft, and measure only the middle "
    "of each strip.",
    "compare_beds_unlike": "The beds of a block are unlike in kind, soil, water or trellis ({beds}): that is mixed up with the ways.",
    "compare_many_ways": "{ways} ways are compared at once: the best and the worst of several differ by chance alone more than two "
    "would. Trust a pair of them only where the whole is clear.",
    "compare_block_missing": "Not every plot of these blocks is measured, and they are left out: {blocks}.",
    "compare_other_days": "In these blocks the ways were measured on different days, which is mixed up with the ways: {blocks}.",
    "compare_evened": "The plots are of unlike size: what they gave is brought to the mean size.",
    "compare_one_season": "All of it is from {year}: another season may turn it round. Repeat it before you change the whole garden.",
    "compare_no_results": "Nothing is measured yet.",
    "compare_too_few_beds": "{beds} beds are too few: by drawing alone the least p that can come out is {least}, above {level}. "
    "{wanted} beds of each way are enough.",
    "compare_beds_unlike_all": "The beds are unlike in kind, soil, water or trellis: which way got which was drawn, but with few beds the "
    "better ones may have gone to one way. Blocks of beds that are alike take that out.",
    "compare_no_blocks": "Without blocks all that differs from bed to bed counts as chance. Where beds can be put together by what is alike, "
    "blocks show smaller differences.",
    "compare_beds_missing": "These beds are not measured, and are left out: {beds}. If they failed because of their way, the rest misleads.",
    "compare_way_missing": "No bed of these ways is measured, so there is nothing to compare yet: {ways}.",
    "compare_other_days_beds": "The beds were not all measured on the same days, which may be mixed up with the ways.",
    "compare_no_spread_beds": "There is no spread to judge by: the beds of a way all gave the same, or only one of each is measured. Look "
    "whether values were rounded or copied.",
    "compare_not_clear_beds": "No difference was shown. That is not the same as no difference: it may be too small for this many beds.",
    "compare_could_show_beds": "With {beds} beds as unlike as these, a true difference of {share} of the mean is seen in 4 of 5 trials; "
    "smaller ones mostly stay hidden.",
    "compare_spreads_unlike": "The beds of one way are much more unlike than those of another (Bartlett's test, p = {p}): the t, F and "
    "intervals take them as alike, so give them less weight.",
    "compare_no_such_plot": "These results name a combination that their block does not hold, and are not counted: {plots}.",
    "compare_no_degrees": "{blocks} blocks leave nothing to judge the effects by. Lay out {wanted}.",
    "compare_blocks_left": "Only {blocks} blocks are whole, which leave nothing to judge the effects by.",
    "compare_one_half": "All blocks that are whole hold the same half of the combinations: what one factor does can't be told from what the "
    "others do together.",
    "compare_no_spread_factors": "Every block gave the same differences: there is no spread to judge by. Look whether values were rounded "
    "or copied.",
    "compare_confounded_two": "Each block holds half of the combinations, so whether {first} does more with {second} than without can't be "
    "told: it is mixed up with the blocks. If it does, what is said of each alone misleads. Blocks that hold all four tell it.",
    "compare_confounded_three": "Each block holds half of the combinations, so whether all three work on each other ({names}) can't be told: "
    "it is mixed up with the blocks. All else can.",
    "compare_many_effects": "{effects} effects are judged at once: where nothing does anything, about {share} of such trials still show "
    "one of them.",
    "compare_interaction_three": "More than chance is likely to do, what two of {names} do together depends on the third: choose by the combination, for no effect alone "
    "holds for all.",
    "compare_interaction": "More than chance is likely to do, {first} and {second} work on each other: {first} less {first_other} is {one} "
    "{unit} a plot with {second}, and {two} {unit} with {second_other}, each give or take {off}. Choose by the combination: the mean effect "
    "of either alone misleads.",
    "compare_main": "A difference was shown: {way} gave {by} {unit} a plot more than {other}, averaged over all else, and chance alone would "
    "seldom do that. It holds for this ground and this season.",
    "compare_main_not_drawn": "On average over all else {way} gave {by} {unit} a plot more than {other}, by more than chance is likely to do; "
    "but the order was not drawn, so where they lay may be the cause.",
    "compare_main_misleads": "On average {way} gave more than {other}, but how much depends on what it is together with: don't go by the "
    "average.",
    "compare_effect_unsettled": "The two tests disagree on {effect} (p = {p} and, by drawing alone, {p_drawn}): take it as not settled, and "
    "repeat.",
    "compare_could_show_factors": "With {blocks} blocks as unlike as these, an effect of {share} of the mean is seen in 4 of 5 trials; smaller "
    "ones mostly stay hidden.",
    "compare_interactions_not_shown": "That the factors work on each other was not shown, which is not the same as that they don't: it is "
    "seen in 4 of 5 trials only if what one does differs by {share} of the mean with the other and without.",
})  # fmt: skip

"""Words of comparisons: how they lie, what they can show, what they say, what the years say."""

from __future__ import annotations

from bedwright.language import Words

COMPARE = Words({
    "title": "{garden}: comparisons, up to {day}",
    "none": "No comparison is stated. docs/comparisons.md shows how to state one as [[comparison]].",
    "crop": "{crop}; measured: {measured}, in {unit}.",
    "ways": "Compared: {ways}.",
    "layout": "How it lies",
    "block": "Block {block}",
    "plot_strip": "bed {bed}, strip {strip} of {strips}: {way}",
    "plot_bed": "bed {bed}: {way}",
    "where_strip": "bed {bed}, strip {strip} of {strips}",
    "where_bed": "bed {bed}",
    "drawn": "Drawn at random from seed {seed}; the same seed draws the same order. Strips are counted along the bed, from its west "
    "or north end.",
    "not_drawn": "As you laid it; it was not drawn here.",
    "edge": "Leave {edge} at each strip's ends out when you measure.",
    "before": "What it can show",
    "spread_stated": "One plot is off another of the same way by about {spread} of the mean, as you state.",
    "spread_usual": "One plot is off another of the same way by about {spread} of the mean: our judgment for small plots; "
    "state your own as spread.",
    "power": "{blocks} blocks: a true difference of {difference} of the mean is seen in 4 of 5 such trials.",
    "power_one": "1 block: nothing can be shown.",
    "power_more": "{blocks} blocks would show {difference}.",
    "results": "What was measured",
    "value": "{way}: {value}",
    "missing": "not measured",
    "means": "Means: {means}.",
    "difference": "{first} less {second}: {mean} {unit} a plot; with a confidence of {confidence} the truth lies between {low} and "
    "{high}.",
    "paired": "Paired t = {t} with {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}.",
    "blocks": "Analysis of blocks: F = {f} with {treatments} and {degrees} degrees of freedom, p = {p}; by drawing alone, p = {drawn}. "
    "Two means differ if they are {least} {unit} apart.",
    "said": "What can be said",
    "days": "Measured on {days}.",
    "chart": "Chart of comparison {name}",
    "chart_paired": "Each ring is one block: {first} less {second}, in {unit}. The square is their mean, the bar where the truth "
    "lies with a confidence of {confidence}. Right of the line at 0, {first} gave more.",
    "chart_blocks": "Each mark is one plot, in {unit}; the heavy line is the mean of its way.",
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
})  # fmt: skip

"""Beds without blocks, and factors, from the document: laid out, read, and what can be said."""

from collections import Counter
from uuid import UUID

import pytest

from bedwright.garden import GardenError
from bedwright.journal import read_entry
from bedwright.planning.compare.analysis import comparisons
from bedwright.reports.compare_said import compare_sentence, power_said, result_said, ways_said
from bedwright.trials.shown import contrast_shown
from planning.compare.compare_gardens import (
    FOUR_BLOCKS,
    TEN,
    TEN_BEDS,
    THREE,
    TWO,
    design,
    of_bed,
    of_block,
    read,
)

SIX = '["A", "B", "C", "D", "E", "F"]'


def only(text: str, library, entries=()):
    (found,) = comparisons(read(text, library), library, entries)
    return found


def codes(found) -> list[str]:
    return [each.code for each in found.findings]


def said(found, code: str) -> str:
    return compare_sentence(next(each for each in found.findings if each.code == code))


# Beds without blocks ----------------------------------------------------------------------------


def measured_beds(library, values: dict[str, list[float]], *, lay: str = "seed = 7\n") -> str:
    plots = only(design(TEN_BEDS, more=lay), library).plots
    left = {way: list(each) for way, each in values.items()}
    results = "".join(of_bed(plot.bed, f"{left[plot.way].pop(0)}") for plot in plots)
    return design(TEN_BEDS, results, more=lay)


def test_the_ways_are_drawn_over_all_beds_as_often_as_stated(library):
    alike = only(design(TEN_BEDS), library).plots
    unlike = only(design(TEN_BEDS + "times = [3, 7]\n"), library).plots
    again = only(design(TEN_BEDS), library).plots

    assert Counter(each.way for each in alike) == {"compost": 5, "none": 5}
    assert Counter(each.way for each in unlike) == {"compost": 3, "none": 7}
    assert alike == again and [each.bed for each in alike] == [f"P{n}" for n in range(1, 11)]
    assert all(each.strip is None for each in alike)


def test_two_ways_on_beds_are_judged_by_the_pooled_t(library):
    values = {"compost": [14.2, 15.1, 13.8, 16.0, 14.9], "none": [13.1, 13.6, 13.0, 14.1, 12.8]}

    found = only(measured_beds(library, values), library)

    # by hand: means 14.8, 13.32; squares 2.90 and 1.108; error 4.008/8 = 0.501;
    # t = 1.48 / sqrt(0.501 x 2/5) = 3.306
    made = found.shown.in_beds
    assert (round(made.difference, 4), round(made.error, 4), round(made.t, 3)) == (
        1.48, 0.501, 3.306,
    )  # fmt: skip
    assert found.clear and codes(found)[0] == "compare_clear"
    assert "compare_no_blocks" in codes(found)
    told = " ".join(result_said(found))
    assert "compost less none: 1.48 lb a plot" in told and "Pooled t = 3.306 with 8" in told


def test_a_bed_that_failed_is_left_out_and_named(library):
    values = {"compost": [14.2, 15.1, 13.8, 16.0, 14.9], "none": [13.1, 13.6, 13.0, 14.1, 12.8]}
    whole = only(measured_beds(library, values), library)
    gone = whole.plots[3]
    text = measured_beds(library, values).replace(
        of_bed(gone.bed, f"{whole.sums[gone.block, gone.way]:.1f}"), ""
    )

    found = only(text, library)

    assert sum(found.shown.in_beds.counts) == 9
    assert f"left out: {gone.bed}." in said(found, "compare_beds_missing")


def test_more_ways_on_unlike_numbers_of_beds_tell_how_far_two_means_must_be_apart(library):
    stated = f'ways = ["a", "b", "c"]\nbeds = {TEN}\ntimes = [2, 4, 4]\n'
    plots = only(design(stated), library).plots
    results = "".join(
        of_bed(plot.bed, str({"a": 20, "b": 15, "c": 14}[plot.way] + 0.25 * plot.block))
        for plot in plots
    )

    found = only(design(stated, results), library)

    told = " ".join(result_said(found))
    assert "Analysis of variance: F =" in told and "with 2 and 7 degrees" in told
    assert "of 2 and 4 beds" in told and "of 4 and 4 beds" in told
    assert {"compare_clear", "compare_many_ways"} <= set(codes(found))


def test_a_way_without_any_bed_measured_leaves_nothing_to_compare(library):
    (plot, *_) = only(design(TEN_BEDS), library).plots
    found = only(design(TEN_BEDS, of_bed(plot.bed, "3")), library)

    assert found.shown is None
    assert ("none" if plot.way == "compost" else "compost") in said(found, "compare_way_missing")


def test_beds_of_the_same_yield_leave_no_spread_to_judge_by(library):
    values = {"compost": [5.0] * 5, "none": [4.0] * 5}

    found = only(measured_beds(library, values), library)

    assert found.shown.in_beds is None and not found.clear
    assert codes(found)[0] == "compare_no_spread_beds"


def test_too_few_beds_are_told_before_anything_is_sown_and_what_they_could_show(library):
    found = only(design('ways = ["compost", "none"]\nbeds = ["P1", "P2", "P3", "P4"]\n'), library)

    # 2 of the 6 ways of choosing two beds of four; 4 and 4 have 70
    assert "least p that can come out is 0.333, above 0.05. 4 beds of each way" in said(
        found, "compare_too_few_beds"
    )
    assert found.power[0].least_p == pytest.approx(2 / 6)
    assert [each.blocks for each in found.power] == [2, 4, 6, 8, 12]
    shown = [each.difference for each in found.power]
    assert shown == sorted(shown, reverse=True)
    assert power_said(found)[1].startswith("4 beds, of which the way with the fewest has 2")


def test_spreads_that_are_quite_unlike_are_told(library):
    values = {"compost": [10.0, 30.0, 18.0, 45.0, 2.0], "none": [13.1, 13.2, 13.0, 13.3, 13.1]}

    assert "compare_spreads_unlike" in codes(only(measured_beds(library, values), library))


def test_the_journals_pickings_are_the_results_of_beds_without_blocks(library):
    span = "seed = 7\njournal = { from_day = 2026-06-01, to_day = 2026-08-01 }\n"
    entries = [
        read_entry({"id": str(UUID(int=n)), "kind": "picked", "on": "2026-06-02", "bed": f"P{n}",
                    "crop": "carrot", "mass": f"{n} lb"})
        for n in range(1, 11)
    ]  # fmt: skip

    found = only(design(TEN_BEDS, more=span), library, entries)

    assert {p.bed: round(found.sums[p.block, p.way], 6) for p in found.plots} == {
        f"P{n}": float(n) for n in range(1, 11)
    }


def test_what_is_laid_over_beds_by_hand_stands_and_shows_nothing_for_sure(library):
    ways = ["compost"] * 5 + ["none"] * 5
    lay = f"laid = [{ways}]\n".replace("'", '"')
    values = {"compost": [14.2, 15.1, 13.8, 16.0, 14.9], "none": [9.1, 9.6, 9.0, 10.1, 8.8]}

    found = only(measured_beds(library, values, lay=lay), library)

    assert [each.way for each in found.plots] == ways
    assert codes(found)[0] == "compare_clear_not_drawn" and not found.clear


# Factors ----------------------------------------------------------------------------------------

COMPOST, MULCH = 2.0, 1.0


def measured_factors(library, stated: str, value, *, more: str = "seed = 7\n") -> str:
    plots = only(design(stated, more=more), library).plots
    results = "".join(of_block(p.block, p.way, value(p.block, p.way)) for p in plots)
    return design(stated, results, more=more)


def off(block: int, way: str) -> float:
    """What a plot is off, the same each time, alike to nothing that is compared."""
    return round(((block * 7 + sum(map(ord, way)) * 3) % 11 - 5) / 10, 2)


def test_every_combination_stands_once_in_each_block(library):
    found = only(design(TWO + FOUR_BLOCKS), library)

    every = ["compost + mulch", "compost + bare", "no compost + mulch", "no compost + bare"]
    for block in range(1, 5):
        assert sorted(p.way for p in found.plots if p.block == block) == sorted(every)
    assert found.plots[-1].strips == 16
    assert ways_said(found) == (
        "Compared: every combination of compost or no compost; mulch or bare."
    )


def test_a_main_effect_is_shown_and_the_other_is_not(library):
    def value(block, way):
        return 20 + block + (4 if way.startswith("compost") else 0) + off(block, way)

    found = only(measured_factors(library, TWO + FOUR_BLOCKS, value), library)

    assert codes(found)[0] == "compare_main" and found.clear
    assert said(found, "compare_main").startswith("A difference was shown: compost gave ")
    assert "compare_interactions_not_shown" in codes(found)
    told = " ".join(result_said(found))
    assert "compost less no compost: " in told and "compost x mulch (working on each" in told
    assert "Means over all else: compost: " in told


def test_where_factors_work_on_each_other_the_mean_effects_are_said_to_mislead(library):
    def value(block, way):
        return 20 + block + (8 if way == "compost + mulch" else 0) + off(block, way)

    found = only(measured_factors(library, TWO + FOUR_BLOCKS, value), library)

    assert codes(found)[:3] == [
        "compare_interaction", "compare_main_misleads", "compare_main_misleads",
    ]  # fmt: skip
    together = found.findings[0].values
    assert together["one"] == pytest.approx(8, abs=0.6) and abs(together["two"]) < 0.6
    assert "Choose by the combination" in compare_sentence(found.findings[0])
    assert "compare_main" not in codes(found)


def test_halves_hold_all_combinations_two_by_two_and_say_what_cannot_be_told(library):
    stated = THREE + 'halves = true\nblocks = [["A"], ["A"], ["B"], ["B"]]\n'
    found = only(design(stated), library)

    assert [len(plots) for _block, plots in found.groups] == [4] * 4
    for first in (1, 3):
        assert len({p.way for p in found.plots if p.block in (first, first + 1)}) == 8
    assert "compost x mulch x net" in said(found, "compare_confounded_three")


def test_two_factors_in_halves_say_that_their_working_together_cannot_be_told(library):
    stated = TWO + "halves = true\n" + 'blocks = [["A"], ["A"], ["A"], ["A"], ["B"], ["B"]]\n'

    def value(block, way):
        return 20 + block + (4 if way.startswith("compost") else 0) + off(block, way)

    found = only(measured_factors(library, stated, value), library)

    assert [each.factors for each in found.shown.of_factors.effects] == [(0,), (1,)]
    assert "whether compost does more with mulch than without can't be told" in said(
        found, "compare_confounded_two"
    )
    assert found.shown.means == ()  # means of combinations would be the blocks' too
    assert "compare_interactions_not_shown" not in codes(found)


def test_blocks_that_are_left_with_one_half_alone_tell_nothing(library):
    stated = THREE + 'halves = true\nblocks = [["A"], ["A"], ["A"], ["A"], ["B"], ["B"]]\n'
    plots = only(design(stated), library).plots
    first = frozenset(p.way for p in plots if p.block == 1)
    same = [b for b in range(1, 7) if frozenset(p.way for p in plots if p.block == b) == first]
    results = "".join(
        of_block(p.block, p.way, 20 + off(p.block, p.way)) for p in plots if p.block in same
    )

    found = only(design(stated, results), library)

    assert len(same) == 3 and found.shown.of_factors is None
    assert codes(found)[0] == "compare_one_half"


def test_a_result_of_a_combination_that_its_block_does_not_hold_is_not_counted_but_told(library):
    stated = TWO + "halves = true\n" + FOUR_BLOCKS
    held = {p.way for p in only(design(stated), library).plots if p.block == 1}
    other = "compost + bare" if "compost + mulch" in held else "compost + mulch"

    found = only(design(stated, of_block(1, other, 5.0)), library)

    assert found.readings == ()
    assert f"1 {other}" in said(found, "compare_no_such_plot")


def test_blocks_that_leave_nothing_to_judge_by_are_told_before_anything_is_sown(library):
    stated = THREE + 'halves = true\nblocks = [["A"], ["A"]]\n'

    found = only(design(stated), library)

    assert (
        said(found, "compare_no_degrees")
        == "2 blocks leave nothing to judge the effects by. Lay out 4."
    )
    assert found.power[0].difference is None
    assert "nothing is left to judge by" in power_said(found)[1]


def test_what_a_factor_can_show_is_what_half_of_the_plots_can_against_the_other_half(library):
    found = only(design(TWO + FOUR_BLOCKS), library)

    # 16 plots: eight against eight by the error of 9 degrees; the working together twice that
    wanted = contrast_shown(0.12 * (1 / 8 + 1 / 8) ** 0.5, 9)
    assert found.power[0].difference == pytest.approx(wanted)
    assert "if the two differ by" in power_said(found)[1]


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        (FOUR_BLOCKS, "needs ways, or factors"),
        ('ways = ["a", "b"]\n' + TWO + FOUR_BLOCKS, "needs ways, or factors"),
        ('ways = ["a"]\n' + FOUR_BLOCKS, "one way alone"),
        ('factors = [["a", "b"]]\n' + FOUR_BLOCKS, "two or three, of two levels each"),
        ('factors = [["a", "b"], ["c", "d", "e"]]\n' + FOUR_BLOCKS, "of two levels each"),
        ('factors = [["a", "b"], ["A", "d"]]\n' + FOUR_BLOCKS, "levels have the same name"),
        (TWO + f"beds = {SIX}\n", "factors need blocks"),
        (TWO + 'blocks = [["A", "B"]]\n', "nor a bed for each of the 4 ways"),
        (TWO + 'halves = true\nblocks = [["A"], ["A"], ["B"]]\n', "half of the combinations"),
        (TWO + 'halves = true\nblocks = [["A", "B", "C", "D"], ["E"]]\n', "half of the 4 ways"),
        ('ways = ["a", "b"]\nhalves = true\n' + FOUR_BLOCKS, "halves are of factors"),
        ('ways = ["a", "b"]\n', "no blocks, and no beds"),
        (f'ways = ["a", "b"]\nbeds = {SIX}\n' + FOUR_BLOCKS, "blocks, and beds without"),
        ('ways = ["a", "b"]\ntimes = [2, 2]\n' + FOUR_BLOCKS, "times is of ways without blocks"),
        (f'ways = ["a", "b"]\nbeds = {SIX}\ntimes = [1, 5]\n', "do not go to 2 ways"),
        (f'ways = ["a", "b"]\nbeds = {SIX}\ntimes = [3, 4]\n', "do not go to 2 ways"),
        ('ways = ["a", "b"]\nbeds = ["A", "B", "C", "D", "E"]\n', "do not go to 2 ways"),
        ('ways = ["a", "b"]\nbeds = ["A", "A", "C", "D"]\n', "stands twice among the beds"),
        ('ways = ["a", "b"]\nbeds = ["A", "B", "C", "Q"]\n', "there is no bed 'Q'"),
    ],
)
def test_a_slip_of_the_design_is_told_with_its_place(stated, words, library):
    with pytest.raises(GardenError) as caught:
        read(design(stated), library)

    found = [each for each in caught.value.faults if words in str(each)]
    assert found and all(each.line > 0 and each.field for each in found)


@pytest.mark.parametrize(
    ("stated", "result", "words"),
    [
        (TEN_BEDS, of_bed("A", "3"), "'A' is none of the comparison's"),
        (TEN_BEDS, of_block(1, "none", 3), "bed is missing"),
        (TEN_BEDS, of_block(1, "none", 3), "block is not needed here"),
        (TEN_BEDS, 2 * of_bed("P1", "3"), "bed 'P1' stands twice"),
        (TWO + FOUR_BLOCKS, of_bed("A", "3"), "block is missing"),
        (TWO + FOUR_BLOCKS, of_block(1, "compost", 3), "none of the ways"),
    ],
)
def test_a_result_names_its_plot_as_its_design_does(stated, result, words, library):
    with pytest.raises(GardenError) as caught:
        read(design(stated, result), library)

    found = [each for each in caught.value.faults if words in str(each)]
    assert found and all(each.line > 0 and each.field for each in found)


@pytest.mark.parametrize(
    ("stated", "laid", "words"),
    [
        (TEN_BEDS, [["compost", "none"]], "way of each of the 10 beds"),
        (TWO + 'halves = true\nblocks = [["A"], ["A"]]\n',
         [["compost + mulch", "no compost + bare"]] * 2, "one of the two halves"),
        (TWO + 'blocks = [["A"]]\n', [["compost + mulch"] * 4], "every way once in each block"),
    ],
)  # fmt: skip
def test_what_is_laid_by_hand_must_be_of_the_design(stated, laid, words, library):
    with pytest.raises(GardenError, match=words):
        read(design(stated, more=f"laid = {laid}\n".replace("'", '"')), library)


def test_halves_that_are_laid_by_hand_are_taken_as_they_lie(library):
    laid = [["compost + bare", "no compost + mulch"], ["no compost + bare", "compost + mulch"]]
    more = f"laid = {laid}\n".replace("'", '"')

    found = only(design(TWO + 'halves = true\nblocks = [["A"], ["A"]]\n', more=more), library)

    assert [p.way for p in found.plots] == laid[0] + laid[1]
    assert "compare_not_drawn" in codes(found)

"""A comparison from the document: where it lies, what it can show, what it says."""

from datetime import date
from uuid import UUID

import pytest

from bedwright.garden import GardenError
from bedwright.journal import read_entry
from bedwright.planning.compare.analysis import comparisons
from bedwright.reports.compare_said import compare_sentence
from planning.compare.compare_gardens import HEAD, comparison, read, result, six_pairs


def only(text: str, library, entries=()):
    (found,) = comparisons(read(text, library), library, entries)
    return found


def codes(found) -> list[str]:
    return [each.code for each in found.findings]


def test_six_pairs_are_worked_as_by_hand(library):
    found = only(six_pairs(), library)

    # docs/comparisons.md works them by hand: t 4.332, p 0.00749, interval 0.346 to 1.354, 2/64
    made = found.shown.paired
    assert (round(made.t, 3), round(made.p, 5)) == (4.332, 0.00749)
    assert [round(each, 3) for each in made.interval] == [0.346, 1.354]
    assert found.shown.randomised.p == 2 / 64
    assert found.clear
    assert codes(found) == ["compare_clear", "compare_edges", "compare_one_season"]


def test_the_same_seed_draws_the_same_order_and_each_block_holds_each_way(library):
    one, again = (only(six_pairs(), library).plots for _ in range(2))
    other = only(six_pairs().replace("seed = 7", "seed = 8"), library).plots

    assert one == again and one != other
    for block in range(1, 7):
        assert {each.way for each in one if each.block == block} == {"compost", "none"}
    assert [each.strip for each in one if each.bed == "A"] == [1, 2, 3, 4, 5, 6]
    assert {round(each.area_m2 / 0.09290304, 6) for each in one} == {40.0}  # 240 ft2 in six


def test_what_is_laid_by_hand_stands_and_is_told(library):
    laid = 'laid = [["none", "compost"], ["compost", "none"]]\n'
    found = only(HEAD + comparison('[["A"], ["C", "D"]]', more=laid), library)

    assert [each.way for each in found.plots] == ["none", "compost", "compost", "none"]
    assert [each.bed for each in found.plots] == ["A", "A", "C", "D"]
    assert "compare_not_drawn" in codes(found)


def test_too_few_pairs_are_told_before_anything_is_sown(library):
    found = only(HEAD + comparison('[["A"], ["A"], ["A"], ["B"], ["B"]]'), library)

    few = next(each for each in found.findings if each.code == "compare_too_few")
    assert (few.values["least"], few.values["wanted"]) == (2 / 2**5, 6)
    assert "0.0625, above 0.05" in compare_sentence(few)
    assert codes(found)[-1] == "compare_no_results"


def test_a_block_that_lacks_a_plot_is_left_out_and_named(library):
    text = six_pairs().replace(result(3, "none", '"13.0 lb"'), "")

    found = only(text, library)

    assert found.shown.blocks == (1, 2, 4, 5, 6)
    missing = next(each for each in found.findings if each.code == "compare_block_missing")
    assert missing.values["blocks"] == "3"


def test_ways_that_were_measured_on_other_days_are_told(library):
    text = six_pairs().replace(
        result(2, "none", '"14.6 lb"'), result(2, "none", '"14.6 lb"', "2026-07-20")
    )

    apart = [e for e in only(text, library).findings if e.code == "compare_other_days"]
    assert [each.values["blocks"] for each in apart] == ["2"]


def test_beds_of_unlike_size_are_brought_to_one(library):
    text = HEAD + comparison('[["C", "E"]]')
    for plot in only(text, library).plots:  # each gives 1 lb for each foot of its bed
        text += result(1, plot.way, '"20 lb"' if plot.bed == "C" else '"30 lb"')

    found = only(text, library)

    assert found.evened and set(found.sums.values()) == {25.0}
    assert "compare_evened" in codes(found) and codes(found)[0] == "compare_one_block"


def test_days_of_a_plot_are_added_up_or_averaged(library):
    base = HEAD + comparison('[["A"], ["A"]]')
    days = "".join(result(1, "none", f'"{n} lb"', f"2026-07-0{n}") for n in (1, 2, 3))

    assert only(base + days, library).sums[1, "none"] == pytest.approx(6.0)
    mean = base.replace("seed = 7", 'seed = 7\ntogether = "mean"')
    assert only(mean + days, library).sums[1, "none"] == pytest.approx(2.0)


def test_the_journals_pickings_are_the_results_of_beds(library):
    span = "seed = 7\njournal = { from_day = 2026-06-01, to_day = 2026-08-01 }\n"
    text = HEAD + comparison('[["C", "D"]]', more=span)
    entries = [
        read_entry({"id": str(UUID(int=n)), "kind": "picked", "on": on, "bed": bed,
                    "crop": crop, "mass": mass})
        for n, (on, bed, crop, mass) in enumerate(
            [("2026-06-02", "C", "carrot", "4 lb"), ("2026-06-09", "C", "carrot", "3 lb"),
             ("2026-06-09", "D", "carrot", "5 lb"), ("2026-06-09", "D", "beet", "9 lb"),
             ("2026-09-09", "D", "carrot", "9 lb")], 1)
    ]  # fmt: skip

    found = only(text, library, entries)

    of_bed = {plot.bed: found.sums[1, plot.way] for plot in found.plots}
    assert of_bed == {"C": pytest.approx(7.0), "D": pytest.approx(5.0)}


def test_three_ways_are_judged_in_blocks(library):
    # Nitrogen on rice, three of its rates: tests/outside/test_trials_published.py has the source
    ways = {"0": (2.1, 2.8, 2.7, 2.9), "50": (3.2, 3.4, 4.1, 4.2), "90": (5.3, 5.2, 5.1, 6.1)}
    text = HEAD + comparison('[["A"], ["A"], ["B"], ["B"]]', ways=tuple(ways))
    for way, values in ways.items():
        for at, value in enumerate(values, 1):
            text += result(at, way, f'"{value} lb"')

    found = only(text, library)

    assert found.shown.paired is None and found.clear
    assert found.shown.randomised.p == 1 / 6**3  # the order of ways is the same in every block
    assert found.findings[0].values["way"] == "90"
    assert "compare_many_ways" in codes(found)


def test_values_without_any_spread_are_not_judged(library):
    text = HEAD + comparison('[["A"], ["A"]]')
    for block in (1, 2):
        text += result(block, "compost", '"5 lb"') + result(block, "none", '"4 lb"')

    found = only(text, library)

    assert found.shown.paired is None and not found.clear
    assert codes(found)[0] == "compare_no_spread"


@pytest.mark.parametrize(
    ("table", "words"),
    [
        (comparison('[["A"]]', more=""), "needs a seed, or laid"),
        (comparison('[["A", "B", "C"]]'), "neither one bed nor a bed for each"),
        (comparison('[["Q"]]'), "there is no bed 'Q'"),
        (comparison('[["C", "D"], ["C", "E"]]'), "stands in two blocks"),
        (comparison('[["A"]]', ways=("x", "X")), "same name"),
        (comparison('[["A"]]') + result(2, "none", '"5 lb"'), "there is no block 2"),
        (comparison('[["A"]]') + result(1, "manure", '"5 lb"'), "none of the ways"),
        (comparison('[["A"]]') + result(1, "none", "5"), "has no unit"),
        (comparison('[["A"]]') + result(1, "none", '"5 ft"'), "is not"),
        (comparison('[["A"]]') + result(1, "none", '"5 lb"', "2027-01-01"), "the day of reading"),
        (comparison('[["A"]]') + 2 * result(1, "none", '"5 lb"'), "stands twice"),
        (comparison('[["A"]]') * 2, "two comparisons called"),
        (comparison('[["A"]]', more="seed = 1\njournal = { from_day = 2026-06-01, "
                    "to_day = 2026-08-01 }\n"), "not strips within one"),
        (comparison('[["A"]]').replace("carrot", "carot", 2), "not a known crop"),
    ],
)  # fmt: skip
def test_a_slip_is_told_with_its_place(table, words, library):
    with pytest.raises(GardenError) as caught:
        read(HEAD + table, library)

    found = [each for each in caught.value.faults if words in str(each)]
    assert found and all(each.line > 0 and each.field for each in found)


def test_a_germination_test_of_tomorrow_or_of_more_than_was_sown_is_refused(library):
    test = '[[germination_test]]\ncrop = "tomato"\non = {on}\nsown = 50\ncame_up = {up}\n'

    for on, up, words in ((date(2027, 1, 1), 40, "day of reading"), ("2026-02-01", 51, "came up")):
        with pytest.raises(GardenError, match=words):
            read(HEAD + test.format(on=on, up=up), library)

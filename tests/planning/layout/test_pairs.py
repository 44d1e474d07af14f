"""Two crops in one bed: the verdict, its reasons, and the trials behind it."""

import pytest
from laid import LIBRARY, bed, codes, garden, laid, want

from bedwright.planning.layout.pairs import land_equivalent_ratio
from bedwright.reports.words_layout import PAIR_EVIDENCE, PAIR_VERDICTS


def beside(first: str, second: str, more="", **how):
    return laid(garden(bed(**how), want(first, companion=second), more=more))


# Published worked examples: grain 4000 of 5000 with fruit 9000 of 15000; 300/400 with 200/250.
@pytest.mark.parametrize(
    ("yields", "ratio"), [((4000, 5000, 9000, 15000), 1.4), ((300, 400, 200, 250), 1.55)]
)
def test_the_land_equivalent_ratio_is_that_of_the_examples(yields, ratio):
    assert land_equivalent_ratio(*yields) == pytest.approx(ratio)


def test_a_crop_alone_under_the_same_care_is_needed_for_the_ratio():
    with pytest.raises(ValueError, match="first_alone"):
        land_equivalent_ratio(1, 0, 1, 1)


def test_leaf_lettuce_beside_tomato_is_accepted():
    layout = beside("tomato", "leaf lettuce")

    assert layout.pair is not None
    assert layout.pair.verdict == "fits"
    assert "pair_roots_apart" in codes(layout)
    found = {row["finding"] for row in layout.pair.evidence}
    assert {"land_gained", "first_unhurt", "second_less_later"} <= found


def test_heading_lettuce_under_a_trellis_is_warned_of():
    layout = beside("tomato", "head lettuce")

    assert layout.pair is not None
    assert layout.pair.verdict == "with_care"
    assert "pair_heads_fail" in codes(layout)


def test_a_kind_of_lettuce_is_told_only_of_that_kind():
    heading = beside("cucumber", "head lettuce").pair
    loose = beside("cucumber", "leaf lettuce").pair

    assert heading is not None and loose is not None
    assert "heads_fail" in {row["finding"] for row in heading.evidence}
    assert "heads_fail" not in {row["finding"] for row in loose.evidence}
    assert "gains_with_density" in {row["finding"] for row in loose.evidence}


def test_a_cucumber_that_shares_its_bed_climbs():
    layout = beside("cucumber", "lettuce")

    assert layout.planting.crop.trellised
    assert "trellis_taken" in codes(layout)


def test_crops_of_one_family_are_warned_of():
    layout = beside("tomato", "sweet pepper")

    assert "pair_same_family" in codes(layout)
    assert layout.pair is not None and layout.pair.verdict == "with_care"


def test_a_crop_that_needs_more_light_than_the_trellis_leaves_is_refused():
    own = '[[crop]]\ncrop = "sun lover"\nlike = "onion"\ndaily_light = 55\n'

    layout = beside("pole bean", "sun lover", own, width="34 in")

    assert layout.pair is not None and layout.pair.verdict == "not_advised"
    assert "pair_too_dark" in codes(layout)


def test_a_pair_without_a_trial_says_so_and_shows_mixed_stands_at_large():
    layout = beside("tomato", "basil")

    assert layout.pair is not None
    assert "pair_no_trial" in codes(layout)
    assert {row["crop_a"] for row in layout.pair.evidence} == {"any"}


def test_carrots_and_onions_stand_by_turns():
    layout = beside("carrot", "onion")

    crops = [row.crop for row in layout.rows]
    assert crops == (["carrot", "onion"] * len(crops))[: len(crops)]
    assert "pests_fewer" in {row["finding"] for row in layout.pair.evidence}


def test_low_rows_keep_off_the_tall_one_and_within_the_bed():
    layout = beside("tomato", "lettuce")
    tall = [row.offset_m for row in layout.rows if row.tall]
    low = [row.offset_m for row in layout.rows if not row.tall]
    crop, companion = layout.planting.crop, layout.planting.companion
    assert companion is not None

    off = (crop.equidistant.value + companion.equidistant.value) / 2

    assert min(abs(a - b) for a in tall for b in low) >= off - 1e-9
    assert all(0 < each < layout.planting.frame.width_m for each in low)


def test_a_bed_too_narrow_for_both_is_laid_for_the_first():
    layout = beside("tomato", "cabbage", width="14 in")

    assert "companion_no_room" in codes(layout)
    assert {row.crop for row in layout.rows} == {"tomato"}
    assert layout.pair is None


def test_every_row_of_trials_names_crops_of_the_table_and_has_words():
    crops = {row["crop"] for row in LIBRARY.rows("crops")} | {"any"}
    rows = LIBRARY.rows("pairings")

    assert {row["crop_a"] for row in rows} | {row["crop_b"] for row in rows} <= crops
    assert {row["finding"] for row in rows} == set(PAIR_EVIDENCE)
    assert set(PAIR_VERDICTS) == {"fits", "with_care", "not_advised"}

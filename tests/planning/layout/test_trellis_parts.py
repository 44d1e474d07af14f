"""The parts of a trellis, counted by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from laid import bed, codes, garden, laid, want

from bedwright.planning.layout.trellis import post_depth, posts_along
from bedwright.units import to_si

FT, IN = to_si(1, "ft", "length"), to_si(1, "in", "length")


def test_fifty_feet_of_pole_beans_take_eight_posts_and_four_panels():
    # Posts 8 ft apart at most: 7 bays of 7 ft 2 in. Panels of 16 ft: 3 whole and one cut to 2 ft.
    (parts,) = laid(garden(bed(width="30 in"), want("pole bean"))).trellises

    assert (parts.kind, parts.posts, parts.panels) == ("panel", 8, 4)
    assert parts.post_apart_m == pytest.approx(50 * FT / 7)
    assert "trellis_cut_panel" in {each.code for each in parts.findings}


def test_posts_stand_a_third_of_their_length_in_the_ground():
    # 12 in of air and 50 in of mesh: 62 in above the ground, 31 in in it.
    (parts,) = laid(garden(bed(width="30 in"), want("pole bean"))).trellises

    assert parts.top.value == pytest.approx(62 * IN)
    assert parts.clearance is not None and parts.clearance.value == pytest.approx(12 * IN)
    assert parts.post_depth.value == pytest.approx(31 * IN, rel=2e-3)
    assert parts.post_depth.value / parts.post_length.value == pytest.approx(1 / 3, rel=2e-3)


@given(above=st.floats(0, 4), share=st.floats(0, 0.5), least=st.floats(0, 1))
def test_a_post_is_never_set_shallower_than_its_share_or_the_least(above, share, least):
    depth = post_depth(above, share, least)

    assert depth >= least
    assert depth >= share * (above + depth) - 1e-9


@pytest.mark.parametrize(("length", "posts"), [(3, 2), (8, 2), (8.1, 3), (16, 3), (50, 8)])
def test_a_post_stands_at_each_end_and_none_is_too_far(length, posts):
    assert posts_along(length, 8) == posts


def test_what_can_hurt_stands_with_the_parts():
    layout = laid(garden(bed(width="30 in"), want("pole bean")))

    assert {"posts_call_first", "posts_driving", "posts_lifting"} <= codes(layout)
    weights = {each.code: each.weight for each in layout.trellises[0].findings}
    assert weights["posts_call_first"] == weights["posts_driving"] == "caution"


def test_tomatoes_on_stakes_take_line_on_both_sides():
    (parts,) = laid(garden(bed(), want("tomato"))).trellises

    assert parts.kind == "stake" and parts.panels == 0
    # 5 ft of line 9 in apart are 6 levels, on both sides of 50 ft, a tenth to spare
    assert parts.line.value == pytest.approx(6 * 2 * 50 * FT * 1.1)
    assert "posts_driving" in {each.code for each in parts.findings}


def test_what_sprawls_in_a_wide_bed_is_laid_without_a_trellis_unless_it_is_asked_for():
    own = '[[crop]]\ncrop = "muskmelon"\ntrellis = "trellis"\n'

    assert laid(garden(bed(), want("muskmelon"))).trellises == ()
    assert laid(garden(bed(), want("muskmelon"), more=own)).trellises[0].kind == "panel"
    assert laid(garden(bed(width="30 in"), want("cucumber"))).trellises[0].kind == "panel"


def test_a_line_of_drip_goes_to_each_row_unless_rows_stand_close():
    apart = laid(garden(bed(), want("sweet pepper"))).drip
    close = '[[crop]]\ncrop = "carrot"\nspacing_in_row = "2 in"\nspacing_between_rows = "4 in"\n'
    near = laid(garden(bed(), want("carrot"), more=close))

    assert apart.each_row and apart.lines == 2
    assert len(near.rows) == 12
    assert not near.drip.each_row and near.drip.lines == 4  # 12 in apart over 48 in
    assert near.drip.length_m == pytest.approx(200 * FT)

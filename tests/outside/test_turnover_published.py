"""Turnover against what is published: root balls, nitrogen of residues, waits, feed."""

from datetime import date, timedelta

import pytest

from bedwright.crops.covers import wait_after
from bedwright.crops.growing import growing
from bedwright.feeding.residues import residue_nitrogen
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.turnover.facts import dangers_of, hold_of, root_ball, rule
from bedwright.planning.turnover.remains import freed_share
from bedwright.reference import Library
from bedwright.working import Figure

LIBRARY = Library()
INCH_M, POUND_KG = 0.0254, 0.45359237


@pytest.mark.parametrize(
    ("c_to_n", "pounds"),
    # Carbon to Nitrogen Ratios in Cropping Systems (USDA NRCS, 2011), Table 1: wheat straw 80, rye
    # at anthesis 37, vegetative rye 26, hairy vetch 11; of 100 lb of dry matter, 40 % carbon.
    [(80, -1.17), (37, -0.59), (26, -0.13), (11, 1.97)],
)
def test_100_lb_of_residue_frees_or_binds_what_its_carbon_asks(c_to_n: float, pounds: float):
    freed = residue_nitrogen(100 * POUND_KG, c_to_n, 40.0, 24.0) / POUND_KG

    assert freed == pytest.approx(pounds, abs=0.006)


def test_20_lb_of_straw_and_of_vetch():
    # The same table on a bed: 0.233 lb tied up, 0.394 lb freed.
    assert residue_nitrogen(20.0, 80, 40, 24) == pytest.approx(-0.233, abs=0.001)
    assert residue_nitrogen(20.0, 11, 40, 24) == pytest.approx(0.394, abs=0.001)


@pytest.mark.parametrize("c_to_n", [10.0, 15.0, 17.0, 25.0, 40.0, 80.0])
def test_a_month_frees_the_share_of_the_published_line(c_to_n: float):
    # Plant-available nitrogen after four weeks = 600 / C:N - 30 %, at most 60 % (the line by which
    # the tables of release are read); the two break-even points, 20 and the 24 above, differ.
    ratio = Figure("c_to_n", c_to_n, "-", "stated")

    assert 100 * freed_share(ratio, 4, LIBRARY).value == pytest.approx(
        min(600 / c_to_n - 30, 60), abs=0.5
    )


@pytest.mark.parametrize(
    ("stem", "ball"),
    # A Florida city's planting specification (section 02481): stem and least ball, inches.
    [(1.2, 16), (1.6, 20), (1.9, 22), (2.2, 24), (3, 26), (3.8, 28), (4.2, 30), (4.8, 32),
     (5.2, 34)],
)  # fmt: skip
def test_root_balls_are_those_of_the_planting_specification(stem: float, ball: float):
    width, depth = root_ball(LIBRARY, stem * INCH_M)
    share = 0.75 if ball < 20 else 0.65 if ball < 30 else 0.6

    assert width.value / INCH_M == pytest.approx(ball)
    assert depth.value / width.value == pytest.approx(share)


def test_the_table_of_balls_is_never_below_the_nurserys_ten_stems_for_slender_stems():
    # Ten inches of ball for an inch of stem; the specification falls below it from 2.5 in on.
    for stem in (0.5, 1.0, 1.4, 1.7, 1.9, 2.4):
        assert root_ball(LIBRARY, stem * INCH_M)[0].value >= 10 * stem * INCH_M - 1e-9
    assert root_ball(LIBRARY, 5 * INCH_M)[0].value < 50 * INCH_M


def test_a_sudangrass_killed_on_the_first_of_august_lets_lettuce_in_mid_september():
    # ATTRA, quoting the University of California: six to eight weeks.
    days = wait_after(timing_tables(LIBRARY), "sorghum_sudangrass", 50.0, dead=False)

    assert date(2027, 9, 12) <= date(2027, 8, 1) + timedelta(days=days) <= date(2027, 9, 26)


def test_fine_seed_after_rye_dug_in_on_the_first_of_march_waits_until_the_29th():
    days = rule(LIBRARY, "small_seed_wait", "day").value

    assert date(2027, 3, 1) + timedelta(days=days) == date(2027, 3, 29)


def test_what_keeps_where_it_stands():
    broccoli, okra = hold_of(LIBRARY, "broccoli"), hold_of(LIBRARY, "okra")

    assert (broccoli.least, broccoli.most) == (3, 5)  # ATTRA, cole crops: cut every three days
    assert (okra.least, okra.most) == (1, 2)  # New Mexico State, okra: every day or two


@pytest.mark.parametrize(
    ("crop", "danger"),
    # Lists for keepers of poultry (a table of plants toxic to poultry; New Zealand, 2022), Wagh
    # 1963 on raw beans.
    [("tomato", "alkaloids"), ("potato", "alkaloids"), ("eggplant", "alkaloids"),
     ("rhubarb", "oxalate"), ("bean_dry", "lectins"), ("parsnip", "furocoumarins"),
     ("celery", "furocoumarins"), ("fava_bean", "poisonous_seed")],
)  # fmt: skip
def test_poultry_is_kept_from_what_the_lists_name(crop: str, danger: str):
    for stock in ("ducks", "chickens"):
        assert danger in {each for each, _ in dangers_of(LIBRARY, crop, stock)}
        assert stock in growing(LIBRARY, crop).residue_unfit


@pytest.mark.parametrize("crop", ["beet", "broccoli", "turnip", "oat", "sweet_corn"])
def test_goats_are_warned_of_the_nitrate_plants_of_the_public_list(crop: str):
    # USDA Agricultural Research Service: beets, brassicas, oats, sorghum, corn gather nitrate.
    assert "nitrate" in {each for each, _ in dangers_of(LIBRARY, crop, "goats")}

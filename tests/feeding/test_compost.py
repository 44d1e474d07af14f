"""Recipes keep their targets, temperature records are held to the rule, published mixes agree."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bedwright.feeding.compost import (
    Feedstocks,
    Targets,
    heat,
    hot_water_boron,
    mass_to_reach_c_to_n,
    recipe,
)
from bedwright.feeding.heap import (
    carbon_to_nitrogen_of_mixture,
    dry_matter,
    mass_to_reach_moisture,
    moisture_of_sample,
)
from bedwright.feeding.volumes import mass_of_volume, volume_for_depth
from bedwright.units import to_si

RULE = Targets((25, 40), (0.5, 0.6))


def stocks(*rows: tuple[str, float, float, float, float]) -> Feedstocks:
    """Feedstocks from name, carbon and nitrogen of dry matter, moisture [%], and kilograms."""
    names, carbon, nitrogen, moisture, mass = zip(*rows, strict=True)
    dry = 1 - np.array(moisture) / 100
    return Feedstocks(
        names,
        np.array(carbon) / 100 * dry,
        np.array(nitrogen) / 100 * dry,
        np.array(moisture) / 100,
        np.array(mass, dtype=float),
    )


GRASS = ("grass", 45.0, 2.4, 77.0, 10.0)
LEAVES = ("leaves", 50.0, 0.75, 35.0, 100.0)


def test_leaves_bring_grass_to_sixty_percent_of_water():
    """T15: 10 g of grass dry to 2.3 g; 10 kg of it and leaves of 35 % reach 60 % with 6.8 kg.

    Cornell Waste Management Institute, 1996, moisture content, worked text.
    """
    assert moisture_of_sample(10, 2.3) == pytest.approx(77)
    assert mass_to_reach_moisture(10, 77, 35, 60) == pytest.approx(6.8, abs=0.05)


def test_hay_scraps_and_coffee_make_thirty_five_to_one():
    """T16: 50 lb hay (40 C, 1 N), 10 lb scraps (10, 1), 2 lb coffee (25, 1): C:N 34.7.

    Carbon to nitrogen maths sheet (a teaching sheet, copy).
    """
    found = carbon_to_nitrogen_of_mixture((50, 10, 2), (40, 10, 25), (1, 1, 1))

    assert found == pytest.approx(34.7, abs=0.05)


def test_grass_and_leaves_at_thirty_to_one_take_three_and_a_half_kilograms():
    """Dossier check on Cornell's mixing rule: 10 kg of grass want 3.5 kg of leaves at C:N 30."""
    solved = mass_to_reach_c_to_n(10, 45, 2.4, 77, 50, 0.75, 35, 30)
    mixed = recipe(stocks(GRASS, LEAVES), Targets((30, 30), (0, 0.99)), water=False)

    assert solved == pytest.approx(3.5, abs=0.05)
    assert mixed.masses == pytest.approx([10, solved], rel=1e-6)
    assert mixed.c_to_n == pytest.approx(30)


def test_an_inch_of_compost_on_a_thousand_square_feet():
    """T30: 3.09 yd3 of 1000 lb/yd3 at 35 % water are 2006 lb dry, with N 30.7, P2O5 26.9 lb.

    NOFA soil handbook, Appendix A; CalRecycle averages (1.53 % N, 1.34 % P2O5 of dry matter).
    """
    volume = volume_for_depth(to_si(1000, "ft2", "area"), to_si(1, "in", "depth"))
    wet = mass_of_volume(volume, to_si(1000, "lb/yd3", "density"))
    dry = dry_matter(wet, 35) / to_si(1, "lb", "mass")

    assert volume / to_si(1, "yd3", "volume") == pytest.approx(3.09, abs=0.005)
    assert dry == pytest.approx(2006, abs=1.5)
    assert dry * 0.0153 == pytest.approx(30.7, abs=0.05)
    assert dry * 0.0134 == pytest.approx(26.9, abs=0.05)


def test_the_same_boron_is_too_much_at_ph_6_and_not_at_7_5():
    """N25: 28 ppm total boron: hot-water 8.4 at pH 6, 2.8 at pH 7.5 (Brinton et al., 2008)."""
    assert hot_water_boron(28, 6.0, 0.3, 0.1) == pytest.approx(8.4)
    assert hot_water_boron(28, 7.5, 0.3, 0.1) == pytest.approx(2.8)


CONTENT = st.tuples(st.floats(20, 50), st.floats(0.1, 6), st.floats(5, 85), st.floats(0, 500))


@given(st.lists(CONTENT, min_size=1, max_size=5), st.one_of(st.none(), st.floats(1, 400)))
def test_a_recipe_keeps_its_targets_and_what_is_on_hand(rows, wanted):
    some = stocks(*((f"f{at}", *row) for at, row in enumerate(rows)))

    mixed = recipe(some, RULE, wanted=wanted)

    assert (mixed.masses >= -1e-9).all()
    assert (mixed.masses <= some.on_hand + 1e-6).all()
    if mixed.c_to_n is None:
        assert mixed.masses.sum() == 0
        return
    whole = mixed.masses.sum() + mixed.water
    carbon, nitrogen = some.carbon @ mixed.masses, some.nitrogen @ mixed.masses
    assert 25 - 1e-4 <= carbon / nitrogen <= 40 + 1e-4
    moisture = (some.moisture @ mixed.masses + mixed.water) / whole
    assert 0.5 - 1e-6 <= moisture <= 0.6 + 1e-6
    if wanted is not None:
        assert whole <= wanted * (1 + 1e-6)


@given(st.floats(1, 200), st.floats(1, 200))
def test_no_other_split_of_two_feedstocks_makes_a_larger_heap(grass, leaves):
    some = stocks((*GRASS[:4], grass), (*LEAVES[:4], leaves))
    mixed = recipe(some, RULE)
    best = mixed.masses.sum() + mixed.water

    for share in np.linspace(0, 1, 60):
        masses = np.array([1 - share, share])
        ratio = (some.carbon @ masses) / (some.nitrogen @ masses)
        if not 25 <= ratio <= 40:
            continue
        with np.errstate(divide="ignore"):
            masses = masses * np.min(np.where(masses > 0, some.on_hand / masses, np.inf))
        water = max(0.0, (0.6 * masses.sum() - some.moisture @ masses) / 0.4)
        if (some.moisture @ masses) / masses.sum() <= 0.6 + 1e-12:
            assert masses.sum() + water <= best * (1 + 1e-6) + 1e-6


def test_leaves_alone_lack_nitrogen():
    mixed = recipe(stocks(LEAVES), RULE)

    assert mixed.c_to_n is None
    assert mixed.clash == ("c_to_n_high",)


def test_what_stands_in_the_way_is_named_only_if_giving_it_up_helps():
    """Wet scraps of C:N 16: too little carbon and too wet at once, so no single one helps."""
    assert recipe(stocks(("scraps", 40, 2.5, 85, 10)), RULE).clash == ()


def test_a_heap_of_the_mass_wanted_lies_near_the_middle():
    wilted = ("wilted grass", 45.0, 2.4, 60.0, 100.0)
    mixed = recipe(stocks(wilted, LEAVES), RULE, wanted=50)

    assert mixed.masses.sum() + mixed.water == pytest.approx(50)
    assert mixed.c_to_n == pytest.approx(32.5, abs=0.5)


def test_wet_grass_takes_more_leaves_than_the_balance_of_carbon_asks():
    mixed = recipe(stocks((*GRASS[:4], 100), LEAVES), RULE, wanted=50)

    assert mixed.moisture == pytest.approx(0.6)
    assert mixed.c_to_n is not None and mixed.c_to_n > 36


def test_contents_above_the_whole_are_refused():
    with pytest.raises(ValueError, match="rest is"):
        Feedstocks(("x",), np.array([0.5]), np.array([0.1]), np.array([0.5]), np.array([1.0]))


# 7 CFR 205.203(c)(2): 131 to 170 F for 3 days, or for 15 days with five turnings.


def record(fahrenheit: list[float], turned: list[int], *, windrow: bool = True):
    return heat(
        np.arange(len(fahrenheit)),
        np.array(fahrenheit, dtype=float),
        np.array(turned, dtype=np.int64),
        low=131,
        high=170,
        days_needed=15 if windrow else 3,
        turnings_needed=5 if windrow else 0,
    )


def test_three_hot_days_in_a_vessel_meet_the_rule():
    assert record([120, 131, 150, 170], [], windrow=False).verdict == "met"


def test_a_windrow_wants_fifteen_days_and_five_turnings():
    hot = [140.0] * 15

    assert record(hot, [2, 5, 8, 11, 14]).verdict == "met"
    assert record(hot, [2, 5, 8, 11]).verdict == "too_few_turnings"
    assert record(hot[:14], [2, 5, 8, 11, 13]).verdict == "too_few_days"


def test_turnings_before_or_after_the_hot_days_do_not_count():
    assert record([100.0] * 3 + [140.0] * 15, [0, 1, 5, 8, 11]).verdict == "too_few_turnings"


def test_a_day_above_the_range_does_not_count():
    found = record([140.0] * 7 + [171.0] + [140.0] * 7, [1, 4, 7, 10, 13])

    assert (found.verdict, found.days_in_range, found.too_hot_days) == ("too_few_days", 14, 1)


def test_enough_days_with_a_break_are_told_apart():
    found = record([140.0] * 10 + [120.0] + [140.0] * 6, [1, 4, 7, 12, 15])

    assert (found.verdict, found.longest_run) == ("met_with_breaks", 10)


def test_a_day_without_a_reading_is_not_a_hot_day():
    found = heat(np.array([0, 1, 3]), np.array([140.0, 140, 140]), np.array([], dtype=np.int64),
                 low=131, high=170, days_needed=3, turnings_needed=0)  # fmt: skip

    assert found.verdict == "met_with_breaks"


def test_the_coldest_reading_of_a_day_counts():
    found = heat(np.array([0, 0, 1, 2]), np.array([150.0, 120, 150, 150]),
                 np.array([], dtype=np.int64), low=131, high=170, days_needed=3,
                 turnings_needed=0)  # fmt: skip

    assert (found.verdict, found.days_in_range) == ("too_few_days", 2)


@given(st.lists(st.floats(60, 190), max_size=40), st.lists(st.integers(0, 39), max_size=8))
def test_a_colder_record_never_meets_more(temperatures, turned):
    assume(temperatures)
    before = record(temperatures, turned)
    after = record([min(each, 130.0) for each in temperatures], turned)

    assert after.days_in_range == 0
    assert after.verdict != "met"
    assert before.longest_run <= before.days_in_range

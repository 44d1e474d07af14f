"""What becomes of plantings, date by date and year by year."""

from dataclasses import fields, replace

import numpy as np
import pytest
from crop_weather import TURN, YEAR, dates, level, tender, turns, valley
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.bolting import BoltingRule
from bedwright.crops.emergence import EmergenceTable
from bedwright.crops.frost_damage import Cover
from bedwright.crops.fruit_set import SetResponse, set_score
from bedwright.crops.windows import Outcomes, Rules, Weather, planting_outcomes

TOMATO = (SetResponse("mean", 6, 21, 26, 33),)
SEED = EmergenceTable.of({10.0: 40.0, 15.0: 14.0, 20.0: 8.0, 25.0: 6.0}, (0.0, 5.0, 40.0))
FLEECE = Cover(frost_k=2.0, day_gain_k=4.0, longest_days=28, heat_limit_c=35.0, hot_days=3)
HOT = Rules(heat_limit_c=30.0)


def scores(weather: Weather) -> np.ndarray:
    return set_score(TOMATO, weather.t_max_c, weather.t_min_c, t_mean_c=weather.mean_c)


def one(weather: Weather, start: int, turn: int, *, crop=None, score=None, **how) -> dict:
    outcomes = planting_outcomes(
        weather, crop or tender(), score, np.array([[start]]), np.array([turn]), **how
    )
    return {each.name: getattr(outcomes, each.name)[0, 0] for each in fields(outcomes)}


# One planting, worked by hand -------------------------------------------------------------------


def test_a_planting_in_even_warmth_flowers_ripens_and_is_picked_on_the_days_of_its_heat():
    weather = level(400, 28.0, 12.0)  # 10 degree days a day, mean 20 C

    told = one(weather, 10, 100, score=np.ones(400))

    assert told["first_flower"] == 10 + 30 - 1  # 300 of 10 a day
    assert told["first_harvest"] == 39 + 60  # set on the day of flowering, then 600 of 10 a day
    assert told["days_to_harvest"] == told["first_harvest"] - 10
    assert told["last_harvest"] == told["first_harvest"] + 50 - 1
    assert told["harvest_days"] == 50
    assert told["set_days"] == told["last_harvest"] - 45 - told["first_flower"] + 1
    assert (told["killed"], told["damaged"], told["lost"], told["bolted"]) == (0, 0, 0, 0)
    assert np.isnan(told["margin"])  # no autumn frost in the record
    assert told["soil_warm"] == 1


def test_flowers_in_heat_that_lets_nothing_set_put_the_harvest_off():
    weather = level(400, 28.0, 12.0)
    score = np.ones(400)
    score[39:60] = 0.0

    told = one(weather, 10, 100, score=score)

    assert told["first_flower"] == 39
    assert told["first_harvest"] == 60 + 60


def test_half_a_days_score_counts_half_a_day():
    whole = one(level(400, 28.0, 12.0), 10, 100, score=np.ones(400))
    half = one(level(400, 28.0, 12.0), 10, 100, score=np.full(400, 0.5))

    assert half["first_harvest"] == whole["first_harvest"] + 1
    assert half["set_days"] == pytest.approx((whole["set_days"] + 1) / 2)


def test_a_spring_frost_kills_before_midsummer_and_an_autumn_frost_ends_the_picking():
    weather = level(400, 28.0, 12.0)
    weather.t_min_c[20], weather.t_min_c[120] = -1.0, -1.0
    score = np.ones(400)

    early, late = one(weather, 10, 100, score=score), one(weather, 21, 100, score=score)

    assert (early["killed"], early["lost"], early["harvest_days"]) == (1, 1, 0)
    assert early["set_days"] == 0
    assert np.isnan(early["first_harvest"])
    assert (late["killed"], late["lost"]) == (0, 0)
    assert late["last_harvest"] == 119
    assert late["margin"] == 120 - late["first_harvest"]


def test_frost_before_the_harvest_loses_a_late_planting_without_calling_it_spring_frost():
    weather = level(400, 28.0, 12.0)
    weather.t_min_c[150] = -1.0

    told = one(weather, 110, 100, score=np.ones(400))

    assert (told["killed"], told["lost"]) == (0, 1)
    assert told["margin"] < 0


def test_the_range_of_the_killing_minimum_shows():
    weather = level(400, 28.0, 12.0)
    weather.t_min_c[20] = 0.3

    told = one(weather, 10, 100, score=np.ones(400))

    assert (told["killed_low"], told["killed"], told["killed_high"]) == (0, 0, 1)
    assert told["damaged"] == 1


def test_seed_in_the_ground_does_not_freeze_but_leaves_do():
    weather = level(400, 28.0, 12.0, soil_c=20.0)
    weather.t_min_c[15] = -1.0
    sown = tender(sown=True, emergence=SEED)

    assert one(weather, 10, 100, crop=sown, score=np.ones(400))["killed"] == 0  # up on day 17
    assert one(weather, 7, 100, crop=sown, score=np.ones(400))["killed"] == 1  # up on day 14
    assert one(weather, 10, 100, score=np.ones(400))["killed"] == 1  # set out


def test_seed_in_cold_soil_never_gives_a_crop():
    told = one(level(800, 28.0, 12.0, soil_c=4.0), 10, 100, crop=tender(sown=True, emergence=SEED))

    assert told["lost"] == 1
    assert np.isnan(told["emergence"])


def test_a_cover_comes_off_at_flower_after_its_weeks_or_in_heat():
    mild, hot = level(400, 24.0, 12.0), level(400, 33.0, 12.0)

    late = tender(heat_to_flower=400.0)
    assert one(mild, 10, 100, crop=late, cover=FLEECE)["cover_off"] == 10 + 28
    assert one(hot, 10, 100, cover=FLEECE)["cover_off"] == 12  # the third day above 35 C under it
    soon = tender(heat_to_flower=50.0)
    assert one(mild, 10, 100, crop=soon, cover=FLEECE)["cover_off"] < 10 + 28
    kept = replace(FLEECE, off_at_flower=False)
    assert one(mild, 10, 100, crop=soon, cover=kept)["cover_off"] == 10 + 28


def test_warmth_under_a_cover_counts_only_while_it_lies():
    mild = level(400, 24.0, 12.0)  # 8 degree days bare; 28/14 C: 11 under the cover
    crop = tender(heat_to_flower=np.nan, heat_to_harvest=28 * 11.0 + 80.0)

    told = one(mild, 10, 100, crop=crop, cover=FLEECE)

    assert told["first_harvest"] == 10 + 28 + 10 - 1


# What cannot be told ----------------------------------------------------------------------------


def test_a_gap_in_the_record_leaves_the_planting_untold_not_unharmed():
    weather = level(400, 28.0, 12.0)
    weather.t_min_c[50] = np.nan

    assert not one(weather, 10, 100, score=np.ones(400))["known"]
    assert np.isnan(one(weather, 10, 100, score=np.ones(400))["killed"])
    assert one(weather, 60, 100, score=np.ones(400))["known"]


def test_a_record_that_ends_before_the_harvest_or_before_midsummer_tells_nothing():
    assert not one(level(80, 28.0, 12.0), 10, 70)["known"]
    assert not one(level(200, 28.0, 12.0), 10, 300)["known"]
    assert not one(level(80, 28.0, 12.0), -1, 70)["known"]


def test_a_planting_killed_within_the_record_is_told_though_the_record_ends_soon_after():
    weather = level(40, 28.0, 12.0)
    weather.t_min_c[20] = -3.0

    told = one(weather, 10, 100)

    assert told["known"]
    assert told["killed"] == 1


def test_what_is_not_known_of_a_crop_makes_no_event():
    told = one(level(400, 28.0, 12.0), 10, 100,
               crop=tender(kill_c=(np.nan,) * 3, damage_c=np.nan, soil_c=np.nan))  # fmt: skip

    assert (told["killed"], told["damaged"]) == (0, 0)
    assert np.isnan(told["soil_warm"])


def test_shapes_and_records_that_do_not_hold_together_are_refused():
    weather = level(50, 28.0, 12.0)

    with pytest.raises(ValueError, match="soil_c has the shape"):
        Weather(weather.t_max_c, weather.t_min_c, np.ones(3))
    with pytest.raises(ValueError, match="t_min_c is above t_max_c"):
        Weather(weather.t_min_c, weather.t_max_c, weather.soil_c)
    with pytest.raises(ValueError, match="not empty"):
        Weather(np.array([]), np.array([]), np.array([]))
    with pytest.raises(ValueError, match="should be \\(dates, years\\)"):
        planting_outcomes(weather, tender(), None, np.array([1]), np.array([9]))
    with pytest.raises(ValueError, match="set_score has the shape"):
        planting_outcomes(weather, tender(), np.ones(3), np.array([[1]]), np.array([9]))


# Properties over many years ---------------------------------------------------------------------

YEARS = 8
seeds = st.integers(0, 10_000)
crops = st.builds(
    tender,
    heat_to_harvest=st.floats(400, 1100),
    heat_to_flower=st.floats(60, 380),
    sown=st.booleans(),
    emergence=st.just(SEED),
    kill_c=st.sampled_from([(-0.6, 0.0, 0.6), (-4.0, -3.0, -2.0), (-7.0, -5.5, -4.0)]),
    bolting=st.just(BoltingRule((-1, 6.5, 6.5, 16), (10, 40), 10)),
)
covers = st.builds(
    Cover,
    frost_k=st.floats(0, 6),
    day_gain_k=st.floats(0, 9),
    longest_days=st.integers(0, 60),
    heat_limit_c=st.floats(25, 40),
    hot_days=st.integers(1, 5),
    off_at_flower=st.booleans(),
)


def outcomes(weather: Weather, crop, cover=Cover(), shift: int = 0) -> Outcomes:  # noqa: B008
    return planting_outcomes(
        weather,
        crop,
        scores(weather),
        dates(40, 36, 5, YEARS, shift),
        turns(YEARS, shift),
        cover=cover,
        rules=HOT,
    )


@given(seeds, crops, covers)
def test_adding_protection_never_raises_frost_risk_and_raises_heat_where_it_adds_heat(
    seed, crop, cover
):
    weather = valley(YEARS + 2, seed=seed)
    bare, covered = outcomes(weather, crop), outcomes(weather, crop, cover)

    told = bare.known & covered.known
    for risk in ("killed", "killed_low", "killed_high", "damaged", "lost"):
        assert np.all(getattr(covered, risk)[told] <= getattr(bare, risk)[told]), risk
    assert np.all(covered.hot_days[told] >= bare.hot_days[told])


def test_a_cover_that_adds_much_heat_makes_more_hot_days():
    weather = valley(YEARS + 2)

    hot = outcomes(weather, tender(), Cover(day_gain_k=9.0, longest_days=28))

    assert np.nansum(hot.hot_days) > 1.2 * np.nansum(outcomes(weather, tender()).hot_days)


@given(seeds, crops, covers)
def test_a_later_date_never_raises_the_risk_of_spring_frost(seed, crop, cover):
    told = outcomes(valley(YEARS + 2, seed=seed), crop, cover)

    for risk in (told.killed, told.killed_low, told.killed_high, told.damaged):
        both = told.known[1:] & told.known[:-1]
        assert np.all(risk[1:][both] <= risk[:-1][both])


@given(seeds, crops, covers, st.integers(1, 500))
def test_shifting_the_record_shifts_the_answers(seed, crop, cover, shift):
    plain = outcomes(valley(YEARS + 2, seed=seed), crop, cover)
    moved = outcomes(valley(YEARS + 2, seed=seed, shift=shift), crop, cover, shift)

    days = {"emergence", "cover_off", "first_flower", "first_harvest", "last_harvest"}
    for each in fields(plain):
        before, after = getattr(plain, each.name), getattr(moved, each.name)
        gone = after - shift if each.name in days else after
        np.testing.assert_allclose(gone, before, atol=1e-6, err_msg=each.name)


@given(seeds, crops)
def test_stages_follow_each_other(seed, crop):
    told = outcomes(valley(YEARS + 2, seed=seed), crop)
    start = dates(40, 36, 5, YEARS).astype(float)

    def before(a, b):
        both = ~np.isnan(a) & ~np.isnan(b)
        return np.all(a[both] <= b[both])

    assert before(start, told.emergence)
    assert before(start, told.first_flower)
    assert before(told.first_flower, told.first_harvest)
    assert before(told.first_harvest, told.last_harvest)
    assert np.all((told.lost[told.known] == 1) == np.isnan(told.first_harvest[told.known]))
    assert np.all(told.harvest_days[told.known & (told.lost == 1)] == 0)
    assert np.all((told.killed <= told.lost)[told.known])


@given(seeds)
def test_a_record_read_in_fahrenheit_gives_the_same_answers(seed):
    plain = valley(YEARS + 2, seed=seed)

    def by_way_of_fahrenheit(celsius):
        return ((celsius * 1.8 + 32) - 32) / 1.8

    other = Weather(
        by_way_of_fahrenheit(plain.t_max_c),
        by_way_of_fahrenheit(plain.t_min_c),
        by_way_of_fahrenheit(plain.soil_c),
        day_length_h=plain.day_length_h,
    )
    a, b = outcomes(plain, tender()), outcomes(other, tender())

    for each in fields(a):
        np.testing.assert_allclose(getattr(b, each.name), getattr(a, each.name), atol=1e-6)


def test_a_winter_that_spans_the_turn_of_the_year_is_one_season():
    weather = valley(YEARS + 2, noise=0.0)
    autumn_sown = tender(
        heat_to_flower=np.nan, heat_to_harvest=1500.0, base_c=5.0, kill_c=(-30.0, -25.0, -20.0)
    )
    starts = dates(280, 1, 1, YEARS)

    told = planting_outcomes(weather, autumn_sown, None, starts, turns(YEARS) + YEAR)

    assert told.known.all()
    assert np.all(told.lost == 0)
    assert np.all(told.first_harvest > starts + 150)
    assert np.all(told.first_harvest < starts - 280 + YEAR + TURN + 60)


def test_half_a_year_on_the_axis_makes_a_southern_garden():
    north = valley(YEARS + 3, noise=0.0)
    south = Weather(*(np.roll(each, 182) for each in (north.t_max_c, north.t_min_c, north.soil_c)))
    starts = dates(100, 5, 10, YEARS)

    a = planting_outcomes(north, tender(), scores(north), starts, turns(YEARS))
    b = planting_outcomes(south, tender(), scores(south), starts + 182, turns(YEARS) + 182)

    assert np.array_equal(a.days_to_harvest, b.days_to_harvest, equal_nan=True)
    np.testing.assert_allclose(a.set_days, b.set_days, atol=1e-6)

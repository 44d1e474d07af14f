"""The best date is the one with the most good days, or the earliest harvest, at accepted risk."""

from dataclasses import replace

import numpy as np
import pytest
from crop_weather import YEAR, dates, tender, turns, valley
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.choice import Limits, acceptable, best_date, last_worth_planting, shifted
from bedwright.crops.fruit_set import SetResponse, set_score
from bedwright.crops.summary import Band, DateSummary, band, stacked, summary
from bedwright.crops.windows import planting_outcomes

OFFSETS = np.array([100, 107, 114, 121, 128])


def even(*values: float) -> Band:
    array = np.array(values, float)
    return Band(array, array, array, np.full(array.size, 30))


def five(**changes: object) -> DateSummary:
    """Five dates a week apart: frost risk falls, days of set fall, the harvest comes later."""
    nothing = even(*[np.nan] * 5)
    killed = np.array([0.6, 0.3, 0.1, 0.0, 0.0])
    usual = DateSummary(
        years=np.full(5, 30),
        killed=killed,
        killed_range=(killed, killed),
        damaged=killed,
        soil_warm=np.array([0.1, 0.6, 0.9, 1.0, 1.0]),
        lost=np.array([0.6, 0.3, 0.1, 0.1, 0.4]),
        bolted=even(0, 0, 0, 0, 0),
        set_days=even(20, 34, 40, 37, 22),
        harvest_days=even(20, 30, 40, 30, 6),
        margin=nothing,
        hot_days=nothing,
        cover_off=nothing,
        first_flower=nothing,
        first_harvest=even(80, 74, 70, 67, 66),
        last_harvest=nothing,
        emergence=nothing,
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def test_the_date_with_the_most_good_days_at_the_accepted_risk_is_taken():
    assert best_date(five(), Limits(kill=0.1), OFFSETS).at == 2
    assert best_date(five(), Limits(kill=0.05), OFFSETS).at == 3
    assert best_date(five(), Limits(kill=0.1), OFFSETS).why == "set_days"


def test_a_crop_without_fruit_takes_the_earliest_harvest_not_the_earliest_planting():
    leafy = five(set_days=even(*[np.nan] * 5), first_harvest=even(90, 84, 72, 68, 66))
    choice = best_date(leafy, Limits(kill=0.1), OFFSETS)

    assert (choice.at, choice.why) == (2, "harvest")  # 114 + 72 against 121 + 68


def test_of_equal_dates_the_earlier_is_taken_and_a_turn_of_the_year_may_be_asked_alone():
    alike = five(set_days=even(40, 40, 40, 40, 40))

    assert best_date(alike, Limits(kill=0.1), OFFSETS).at == 2
    late = best_date(alike, Limits(kill=0.1, lost=0.5), OFFSETS, among=OFFSETS > 121)
    assert late.at == 4


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"killed": np.full(5, 0.5)}, "kill"),
        ({"lost": np.full(5, 0.9)}, "lost"),
        ({"soil_warm": np.zeros(5)}, "soil"),
        ({"bolted": even(1, 1, 1, 1, 1)}, "bolting"),
        ({"soil_warm": np.array([1, 1, 0, 0, 0.0]), "lost": np.zeros(5)}, "together"),
        ({"years": np.zeros(5, int), "killed": np.full(5, np.nan)}, "unknown"),
    ],
)
def test_where_no_date_will_do_it_says_what_stands_in_the_way(changes, why):
    choice = best_date(five(**changes), Limits(kill=0.1), OFFSETS)

    assert (choice.at, choice.why) == (None, why)


def test_what_is_not_known_of_soil_or_bolting_does_not_forbid_a_date():
    unknown = five(soil_warm=np.full(5, np.nan), bolted=even(*[np.nan] * 5))

    assert acceptable(unknown, Limits(kill=0.1)).tolist() == [False, False, True, True, False]


def test_a_week_earlier_or_later_is_told_as_the_difference():
    earlier, later = (shifted(five(), 2, OFFSETS, days) for days in (-7, 7))

    assert (earlier.days, later.days) == (-7, 7)
    assert earlier.killed == pytest.approx(0.2)
    assert earlier.set_days == -6
    assert earlier.harvest == 107 + 74 - (114 + 70)  # a week earlier gains three days
    assert (later.set_days, later.harvest_days, later.harvest) == (-3, -10, 4)


def test_the_last_date_worth_planting_still_has_its_picking():
    assert last_worth_planting(five(), Limits(lost=0.5), OFFSETS, 5) == 4
    assert last_worth_planting(five(), Limits(lost=0.5), OFFSETS, 10) == 3
    assert last_worth_planting(five(), Limits(lost=0.0), OFFSETS, 10) is None


def test_limits_and_offsets_that_make_no_sense_are_refused():
    with pytest.raises(ValueError, match=r"kill is 1\.5"):
        Limits(kill=1.5)
    with pytest.raises(ValueError, match="rising"):
        best_date(five(), Limits(), OFFSETS[::-1])
    with pytest.raises(ValueError, match="least_harvest_days"):
        last_worth_planting(five(), Limits(), OFFSETS, 0)


# The years together -----------------------------------------------------------------------------


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=40), st.integers(0, 5))
def test_a_band_is_that_of_the_years_that_are_known(values, gaps):
    told = band(np.array([*values, *[np.nan] * gaps]))

    assert told.years == len(values)
    assert told.mean == pytest.approx(np.mean(values), abs=1e-9)
    assert told.low == pytest.approx(np.quantile(values, 0.1), abs=1e-9)
    assert told.high == pytest.approx(np.quantile(values, 0.9), abs=1e-9)


def test_no_year_gives_no_band():
    told = band(np.full((2, 3), np.nan))

    assert np.isnan([told.mean, told.low, told.high]).all()
    assert told.years.tolist() == [0, 0]


def test_a_summary_counts_the_years_that_were_followed_and_days_from_planting():
    weather, starts = valley(12), dates(60, 20, 7, 10)
    score = set_score((SetResponse("mean", 6, 21, 26, 33),), weather.t_max_c, weather.t_min_c)
    told = planting_outcomes(weather, tender(), score, starts, turns(10))

    made = summary(told, starts)

    assert np.array_equal(made.years, told.known.sum(axis=1))
    assert np.all(np.diff(made.killed) <= 0)
    assert made.killed[0] > made.killed[-1]
    assert np.all(made.killed_range[0] <= made.killed)
    assert np.all(made.killed <= made.killed_range[1])
    ripe = made.first_harvest.years > 0
    assert np.all((made.first_harvest.mean[ripe] > 30) & (made.first_harvest.mean[ripe] < YEAR))
    both = stacked([made, made])
    assert both.killed.shape == (2, 20)
    assert both.set_days.low.shape == (2, 20)
    assert both.killed_range[1].shape == (2, 20)
    with pytest.raises(ValueError, match="no summary"):
        stacked([])


def test_a_tighter_limit_on_frost_never_brings_the_date_forward():
    weather, starts = valley(12), dates(60, 20, 7, 10)
    score = set_score((SetResponse("mean", 6, 21, 26, 33),), weather.t_max_c, weather.t_min_c)
    made = summary(planting_outcomes(weather, tender(), score, starts, turns(10)), starts)

    risks = (1.0, 0.5, 0.2, 0.0)
    found = [best_date(made, Limits(kill=risk, lost=1), starts[:, 0]).at for risk in risks]

    assert None not in found
    assert found == sorted(found)
    assert all(made.killed[at] <= risk for at, risk in zip(found, risks, strict=True))

"""Labor and lifting against published figures. Differences are told, never tuned away."""

import pytest

from bedwright.planning.work.lifting import lifting_limit_niosh
from bedwright.planning.work.rates import Rates
from bedwright.reference import Library
from bedwright.season import SeasonPlan

LB_KG = 0.45359237
FT2_M2 = 0.09290304
YD3_M3 = 0.764554857984


@pytest.mark.parametrize(("horizontal_cm", "factor"), [(25, 1.0), (50, 0.50)])
def test_the_horizontal_factor_is_that_of_the_printed_table(horizontal_cm, factor):
    """HM of the revised NIOSH lifting equation, as the CCOHS prints it (50 cm: 0.50)."""
    best = lifting_limit_niosh(horizontal_cm / 100, 0.75, 0.25, 0, 1, 1)

    assert best / 23 == pytest.approx(factor, abs=0.0051)


@pytest.mark.parametrize(
    ("changed", "factor"),
    [
        ({"height_m": 0.0}, 0.78),  # V 0 cm
        ({"travel_m": 1.0}, 0.87),  # D 100 cm
        ({"turn_deg": 45.0}, 0.86),  # A 45 degrees
    ],
)
def test_the_other_factors_are_those_of_the_printed_tables(changed, factor):
    """VM, DM and AM as the CCOHS prints them."""
    given = {"horizontal_m": 0.25, "height_m": 0.75, "travel_m": 0.25, "turn_deg": 0.0} | changed

    assert lifting_limit_niosh(**given, grip=1, often=1) / 23 == pytest.approx(factor, abs=0.0051)


def test_the_worked_example_of_a_conveyor():
    """lifting_conveyor_example: H 20, V 6, D 16 in, A 0, fair grip, 18.4 lb.

    The example works in the equation's inch form with rounded factors (51 lb, 10/H), ours in its
    metric form (23 kg, 25/H): 23 kg are 50.7 lb and 25 cm are 9.84 in, so ours is 1.6 % lower.
    """
    inch = 0.0254
    limit = lifting_limit_niosh(20 * inch, 6 * inch, 16 * inch, 0, 0.95, 1) / LB_KG

    assert limit == pytest.approx(18.4, rel=0.02)
    assert limit < 18.4


@pytest.mark.parametrize(
    ("volume_yd3", "hours"),
    [(1, 1), (5, 5)],
)
def test_spreading_takes_a_person_hour_a_cubic_yard(library: Library, volume_yd3, hours):
    """landscape_spreading_2009: 5 yd3 by barrow at 1 yd3 an hour are 5 h."""
    time = Rates(library).time("spread", "m3", volume_yd3 * YD3_M3, "bulk")

    assert time.value == pytest.approx(hours, rel=1e-3)


def test_double_digging_takes_two_to_six_hours_a_hundred_square_feet(library: Library):
    """jeavons_double_dig."""
    time = Rates(library).time("loosen", "m2", 100 * FT2_M2, "double_dig")

    assert (time.least, time.most) == pytest.approx((2.0, 6.0), rel=5e-3)


def test_four_works_of_turning_a_bed_over_come_near_a_half_day(library: Library):
    """getgrowing_beds: 12 m2 cleared, cultivated, amended and raked in half a day (4 h).

    Ours are half of it: 2.1 h typically, 3.9 h at the slow end. The guide's half day holds
    fetching, clearing away and a rest as well.
    """
    rates = Rates(library)
    parts = [
        rates.time("clear", "m2", 12),
        rates.time("loosen", "m2", 12, "fork"),
        rates.time("weigh", "material", 1),
        rates.time("spread", "m2", 12, "powder"),
        rates.time("work_in", "m2", 12, "rake"),
    ]
    typical, most = sum(each.value for each in parts), sum(each.most for each in parts)

    assert 0.4 * 4 < typical < 4
    assert most == pytest.approx(4, rel=0.15)


def test_a_season_of_weeding_by_hand_is_near_that_of_the_trial(library: Library):
    """massey_weeding: four monthly weedings of unmulched beds, about 30 min/m2 for the season.

    Ours, from another source, is 20 min/m2 (6 to 30): the trial lies at its slow end.
    """
    time = Rates(library).time("weed", "m2", 1, "hand")

    assert 4 * time.value * 60 == pytest.approx(20, rel=0.01)
    assert 4 * time.most * 60 == pytest.approx(30, rel=0.01)


def test_the_demos_whole_season_lies_between_the_published_totals(kestrel_plan: SeasonPlan):
    """Hours per 100 ft2 and season: cias_labor_2005 2.1 to 6.9 (mean 4.6) for market gardens under
    3 acres, counted on whole acres with their paths; micro_farm_2014 1.1 a week in its main season,
    33 over thirty weeks.

    Ours are about 9 on the beds alone without selling, 13 with it: twice the Wisconsin mean, a
    third of the Colorado farm. On ground of which 60 % is bed (judgement) they are 5.6 and 8.
    """
    work = kestrel_plan.work
    assert work is not None
    area = sum(each.prescription.evidence.area.value for each in kestrel_plan.plantings)
    hundreds = area / FT2_M2 / 100
    hours = sum(each.hours.value for each in work.tasks if each.kind != "sell") / hundreds

    assert 2.1 < hours < 33
    assert hours == pytest.approx(9.3, rel=0.25)

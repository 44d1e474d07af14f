"""Monthly statistics of a record, and as a garden without one states them."""

import numpy as np
import pytest

from bedwright.climate.annual_cycle import MONTH_DAYS
from bedwright.climate.monthly import MonthlyStatistics, monthly_statistics, stated_monthly
from bedwright.climate.record import DailyRecord, year_month_day
from real_records import champion

WARM = np.array([5.0, 7, 12, 17, 22, 28, 32, 31, 26, 19, 11, 5])


def test_statistics_of_a_record_are_those_of_its_days():
    record = champion()
    found = monthly_statistics(record, 0.1)
    _, month, _ = year_month_day(record.dates())
    for at in range(12):
        days = month == at + 1
        wet = record.rain_mm[days] >= 0.1

        assert found.t_max_c[at] == pytest.approx(record.t_max_c[days].mean())
        assert found.t_min_sd_c[at] == pytest.approx(record.t_min_c[days].std(ddof=1))
        assert found.wet_fraction[at] == pytest.approx(wet.mean())
        assert found.rain_wet_day_mm[at] == pytest.approx(record.rain_mm[days][wet].mean())
    assert found.years == 37
    assert found.radiation_mj_m2 is None


def test_the_rain_of_the_months_adds_up_to_the_records():
    record = champion()
    found = monthly_statistics(record, 0.1)

    # dry days hold less than 0.1 mm each, and a 29 February now and then
    assert found.rain_mm.sum() == pytest.approx(record.rain_mm.sum() / 37, rel=0.005)


def test_missing_days_are_left_out_not_taken_as_nothing():
    first = np.datetime64("2001-01-01")
    t_max = np.where(np.arange(365) % 3 == 0, np.nan, 20.0)
    rain = np.where(np.arange(365) % 2 == 0, np.nan, 5.0)
    found = monthly_statistics(
        DailyRecord("", "", None, None, None, first, t_max, t_max - 9, rain_mm=rain), 0.1
    )

    np.testing.assert_allclose(found.t_max_c, 20)
    np.testing.assert_allclose(found.wet_fraction, 1)
    np.testing.assert_allclose(found.rain_wet_day_mm, 5)


def test_a_record_without_a_month_is_told():
    days = np.full(40, 10.0)
    record = DailyRecord("", "", None, None, None, np.datetime64("2001-05-01"), days, days - 5)

    with pytest.raises(ValueError, match=r"t_max_c has no value in month\(s\) \[1, 2, 3, 4, 7"):
        monthly_statistics(record, 0.1)


def test_rain_is_stated_as_climate_tables_print_it():
    stated = stated_monthly(WARM, WARM - 14, np.full(12, 30.0), np.full(12, 6.0))

    np.testing.assert_allclose(stated.wet_fraction, 6 / MONTH_DAYS)
    np.testing.assert_allclose(stated.rain_wet_day_mm, 5)
    np.testing.assert_allclose(stated.rain_mm, 30)


def test_a_month_without_rain_is_nothing_and_rain_not_stated_is_unknown():
    rain, days = np.full(12, 30.0), np.full(12, 6.0)
    rain[6] = days[6] = 0
    dry_july = stated_monthly(WARM, WARM - 14, rain, days)

    assert dry_july.rain_mm[6] == 0
    assert stated_monthly(WARM, WARM - 14).rain_mm is None


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ({"rain_mm": np.full(12, 5.0)}, "stated together"),
        ({"rain_mm": np.full(12, 5.0), "wet_days": np.eye(12)[2]}, "month 1 has rain without"),
        ({"rain_mm": np.full(12, 500.0), "wet_days": np.full(12, 40.0)}, "wet_fraction"),
        ({"radiation_mj_m2": np.full(12, -1.0)}, "radiation_mj_m2"),
        ({"radiation_mj_m2": np.full(11, 1.0)}, "twelve"),
    ],
)
def test_what_cannot_be_is_named(statement: dict, told: str):
    with pytest.raises(ValueError, match=told):
        stated_monthly(WARM, WARM - 14, **statement)


def test_nights_warmer_than_days_are_named_with_the_month():
    with pytest.raises(ValueError, match="month 3"):
        MonthlyStatistics(WARM, WARM - 5 + 10 * (np.arange(12) == 2))

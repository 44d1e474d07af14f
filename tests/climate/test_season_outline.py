"""The year in short: against plain counts of a real record, and what moves it."""

from dataclasses import replace

import numpy as np
import pytest

from bedwright.climate.record import DailyRecord
from bedwright.climate.season_days import SeasonStart
from bedwright.climate.season_outline import OutlineRules, season_outline, turning_dates
from real_records import champion, clemson

RULES = OutlineRules((0.0,), 10, 32.2, 5, 7, 0.05, 10)


def outline_of(record: DailyRecord, rules: OutlineRules = RULES):
    return season_outline(record, *turning_dates(record), rules)


def day_of(month_day: tuple[int, int]) -> int:
    return SeasonStart(1, 1).day_of(*month_day)


def by_year(record: DailyRecord, event: np.ndarray) -> dict[int, list[int]]:
    """Days of the year on which something is so, year by year, counted one by one."""
    found: dict[int, list[int]] = {}
    for at, on in enumerate(record.dates()):
        first = on.astype("datetime64[Y]").astype("datetime64[D]")
        days = found.setdefault(int(str(on)[:4]), [])
        if event[at]:
            days.append(int((on - first).astype(int)))
    return found


def test_the_turning_dates_of_a_real_record_lie_in_january_and_july():
    winter, summer = turning_dates(champion())

    assert (winter.month, summer.month) == (1, 7)


def test_freeze_dates_are_those_counted_year_by_year():
    (found,) = outline_of(champion()).freezes
    freezing = by_year(champion(), champion().t_min_c <= 0)
    last = [max(day for day in days if day < 200) for days in freezing.values()]
    first = [min(day for day in days if day > 200) for days in freezing.values()]
    length = np.array(first) - np.array(last)

    # the agencies' method takes the dates as normal: its middle is the mean
    assert day_of(found.last.middle) == pytest.approx(np.mean(last), abs=1.0)
    assert day_of(found.first.middle) == pytest.approx(np.mean(first), abs=1.0)
    assert found.lengths[1] == pytest.approx(length.mean(), abs=1.0)
    assert np.mean(np.array(last) > day_of(found.last.late)) == pytest.approx(0.1, abs=0.08)
    assert np.mean(np.array(first) < day_of(found.first.early)) == pytest.approx(0.1, abs=0.08)
    assert np.mean(length < found.lengths[0]) == pytest.approx(0.1, abs=0.08)
    assert (found.last.seasons, found.last.share) == (37, 1.0)


def test_heat_comes_and_goes_when_five_of_seven_days_are_hot():
    found = outline_of(champion())
    hot = champion().t_max_c >= 32.2
    there = np.array([hot[max(at - 6, 0) : at + 1].sum() >= 5 for at in range(hot.size)])
    years = by_year(champion(), there)
    comes = [min(days) for days in years.values() if days]
    goes = [max(days) for days in years.values() if days]

    assert found.heat_comes.share == pytest.approx(len(comes) / len(years), abs=0.03)
    late = comes + [400] * (len(years) - len(comes))
    assert day_of(found.heat_comes.middle) == pytest.approx(np.median(late), abs=2)
    early = goes + [0] * (len(years) - len(goes))
    assert day_of(found.heat_goes.middle) == pytest.approx(np.median(early), abs=2)
    assert day_of(found.heat_comes.early) < day_of(found.heat_comes.middle)


def test_a_warming_record_moves_its_freezes_apart_and_is_told_so():
    record = champion()
    warmer = np.linspace(-4.0, 4.0, record.days)
    moved = record.with_elements(
        {"t_min_c": record.t_min_c + warmer, "t_max_c": record.t_max_c + warmer}
    )
    (still,), (found,) = outline_of(record).freezes, outline_of(moved).freezes

    assert still.last_trend.code == still.first_trend.code == "no_clear_trend"
    assert (found.last_trend.code, found.first_trend.code) == ("earlier", "later")
    assert found.length_trend.code == "later"
    assert found.length_trend.per_decade > 5


def test_a_record_half_a_year_later_has_its_year_half_a_year_later():
    """As in the other hemisphere, but for the lengths of the months."""
    record = champion()
    south = replace(record, first_day=record.first_day + np.timedelta64(182, "D"))
    (north,), (found,) = outline_of(record).freezes, outline_of(south).freezes

    for one, other in ((north.last, found.last), (north.first, found.first)):
        shift = (day_of(other.middle) - day_of(one.middle)) % 365
        assert shift == pytest.approx(182, abs=2)
    assert found.lengths[1] == pytest.approx(north.lengths[1], abs=1.5)


def test_a_colder_threshold_leaves_a_longer_season():
    rules = replace(RULES, freeze_c=(0.0, -2.0, -4.0))
    lengths = [each.lengths[1] for each in outline_of(clemson(), rules).freezes]

    assert lengths == sorted(lengths)


def test_less_than_a_year_has_no_turning_dates():
    record = champion()
    short = DailyRecord(
        "", "", None, None, None, record.first_day, record.t_max_c[:200], record.t_min_c[:200]
    )

    assert turning_dates(short) is None


def test_few_seasons_are_too_short_for_a_trend():
    record = champion()
    few = 365 * 6
    short = DailyRecord(
        "", "", None, None, None, record.first_day, record.t_max_c[:few], record.t_min_c[:few]
    )

    assert outline_of(short).freezes[0].last_trend.code == "too_short"

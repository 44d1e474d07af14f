"""Weather files as agencies, weather stations and spreadsheets write them, and as they break."""

import gzip

import numpy as np
import pytest
import weather_writers as write

from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.formats import WeatherFile, read_weather
from bedwright.climate.limits import WeatherLimits, weather_limits
from bedwright.climate.record import DailyRecord
from bedwright.reference import Library

NAN = np.nan


@pytest.fixture(scope="module")
def limits(library: Library) -> WeatherLimits:
    return weather_limits(library.rows("weather_limits"))


def year(first: str = "2023-01-01", days: int = 365, rain: bool = True) -> DailyRecord:
    """An invented year: a wave of temperatures in tenths, rain every third day."""
    at = np.arange(days)
    t_max = np.round(18 - 15 * np.cos(2 * np.pi * at / 365) + 3 * np.sin(at * 1.7), 1)
    fallen = np.where(at % 3 == 0, np.round(2.5 + 2 * np.sin(at), 1), 0.0)
    return DailyRecord(
        "USC00000000", "", None, None, None, np.datetime64(first),
        t_max, np.round(t_max - 9 - 2 * np.sin(at * 2.3), 1), None, fallen if rain else None,
    )  # fmt: skip


def codes(file: WeatherFile) -> list[str]:
    return [each.code for each in file.faults]


def one(file: WeatherFile, code: str) -> Fault:
    (found,) = (each for each in file.faults if each.code == code)
    return found


def refused(data: bytes, limits: WeatherLimits, units: str | None = None) -> Fault:
    with pytest.raises(WeatherError) as caught:
        read_weather(data, "file", limits, units)
    (fault,) = caught.value.faults
    return fault


# The agency's own formats ------------------------------------------------------------------------


def test_values_of_a_dly_file_are_tenths(limits: WeatherLimits):
    file = read_weather(write.dly(year()), "file", limits)

    assert (file.format, file.units) == ("ghcn_dly", "tenths")
    assert file.record.t_max_c[0] == 3.0
    assert file.record.station == "USC00000000"


def test_trailing_blanks_may_be_cut_off(limits: WeatherLimits):
    cut = b"\n".join(line.rstrip() for line in write.dly(year()).split(b"\n"))

    file = read_weather(cut, "file", limits)

    assert codes(file) == []
    assert np.array_equal(file.record.t_max_c, year().t_max_c)


def test_a_value_that_failed_a_check_of_the_agency_is_dropped_and_counted(limits: WeatherLimits):
    flagged = write.dly(year(), {("TMAX", "2023-03-05"): "S", ("TMAX", "2023-07-05"): "X"})

    file = read_weather(flagged, "file", limits)

    assert np.flatnonzero(np.isnan(file.record.t_max_c)).tolist() == [63, 185]
    fault = one(file, "weather_flagged")
    assert (str(fault.day), dict(fault.data)) == ("2023-03-05", {"element": "t_max_c", "count": 2})


def test_a_zero_that_was_only_presumed_is_missing(limits: WeatherLimits):
    lines = write.by_station(year()).replace(b"20230102,PRCP,0,,,0", b"20230102,PRCP,0,P,,0")

    file = read_weather(lines, "file", limits)

    assert file.record.rain_mm is not None
    assert np.isnan(file.record.rain_mm[1])
    assert one(file, "weather_presumed_zero").data["count"] == 1


def test_a_trace_of_rain_is_no_missing_value(limits: WeatherLimits):
    lines = write.by_station(year()).replace(b"20230102,PRCP,0,,,0", b"20230102,PRCP,0,T,,0")

    file = read_weather(lines, "file", limits)

    assert file.record.rain_mm is not None
    assert file.record.rain_mm[1] == 0
    assert codes(file) == []


@pytest.mark.parametrize("stated", ["0", "nothing"])
def test_rain_of_several_days_is_never_zero_on_any_of_them(stated: str, limits: WeatherLimits):
    lines = write.by_station(year()).decode().splitlines()
    days = ("20230605", "20230606", "20230607")
    kept = [line for line in lines if not ("PRCP" in line and line[12:20] in days)]
    kept += [f"USC00000000,{days[2]},MDPR,251,,,0,", f"USC00000000,{days[2]},DAPR,3,,,0,"]
    if stated == "0":
        kept += [f"USC00000000,{day},PRCP,0,,,0," for day in days]

    file = read_weather("\n".join(kept).encode(), "file", limits)

    assert file.record.rain_mm is not None
    assert np.isnan(file.record.rain_mm[155:158]).all()
    assert not np.isnan(file.record.rain_mm[[154, 158]]).any()
    assert dict(one(file, "weather_multi_day_rain").data) == {"count": 1, "days": 3}


def test_missing_rows_of_a_by_station_file_are_missing_days(limits: WeatherLimits):
    lines = [line for line in write.by_station(year()).split(b"\n") if b"20230203,TMIN" not in line]

    file = read_weather(b"\n".join(lines), "file", limits)

    assert file.format == "ghcn_by_station"
    assert np.flatnonzero(np.isnan(file.record.t_min_c)).tolist() == [33]


def test_a_file_of_several_stations_is_refused_with_their_names(limits: WeatherLimits):
    both = write.dly(year()) + write.dly(year()).replace(b"USC00000000", b"USC00000001")

    fault = refused(both, limits)

    assert fault.code == "weather_several_stations"
    assert fault.data["stations"] == "USC00000000, USC00000001"


def test_the_30th_of_february_has_no_weather(limits: WeatherLimits):
    text = write.dly(year()).decode().split("\n")
    at = next(n for n, line in enumerate(text) if "202302TMAX" in line)
    text[at] = text[at][:21] + text[at][21:].replace("-9999   ", "  100  0", 1)

    fault = one(read_weather("\n".join(text).encode(), "file", limits), "weather_cells_broken")

    assert (fault.data["element"], fault.data["count"]) == ("TMAX", 1)


# Daily summaries ---------------------------------------------------------------------------------


def test_the_access_file_is_in_tenths_and_names_its_station(limits: WeatherLimits):
    file = read_weather(write.access(year()), "file", limits)

    assert (file.format, file.units) == ("daily_summaries", "tenths")
    assert np.array_equal(file.record.t_max_c, year().t_max_c)
    assert (file.record.name, file.record.latitude_deg) == ("INVENTED, WA US", 46.1)
    assert one(file, "weather_units_assumed").data["reason"] == "beyond_fahrenheit"


def test_a_flag_among_the_attributes_drops_the_value(limits: WeatherLimits):
    text = write.access(year()).replace(b'",,0,0700"', b'",I,0,0700"', 1)

    file = read_weather(text, "file", limits)

    assert np.isnan(file.record.t_max_c[0])
    assert one(file, "weather_flagged").data["count"] == 1


@pytest.mark.parametrize(
    ("made", "units", "reason"),
    [
        (write.metric, "metric", "decimals"),
        (write.standard, "standard", "whole_beside_decimal_rain"),
    ],
)
def test_units_of_a_request_are_inferred_and_the_inference_is_told(
    made, units: str, reason: str, limits: WeatherLimits
):
    file = read_weather(made(year()), "file", limits)

    assert file.units == units
    assert dict(one(file, "weather_units_assumed").data) == {"units": units, "reason": reason}
    assert np.nanmax(np.abs(file.record.t_max_c - year().t_max_c)) <= 0.28  # half a degree F


def test_stated_units_are_taken_without_an_assumption(limits: WeatherLimits):
    file = read_weather(write.metric(year()), "file", limits, units="metric")

    assert codes(file) == []


def test_whole_fahrenheit_without_rain_is_told_by_a_year_of_it(limits: WeatherLimits):
    file = read_weather(write.standard(year(rain=False)), "file", limits)

    assert one(file, "weather_units_assumed").data["reason"] == "whole_within_fahrenheit"


def test_a_few_winter_days_in_whole_numbers_are_not_guessed_at(limits: WeatherLimits):
    text = b'"STATION","DATE","TMAX","TMIN"\n"USC00000000","2023-01-05","41","30"\n'

    assert refused(text, limits).code == "weather_units_not_clear"
    assert read_weather(text, "f", limits, "standard").record.t_max_c[0] == pytest.approx(5)
    assert read_weather(text, "f", limits, "tenths").record.t_max_c[0] == 4.1


def test_one_slip_does_not_turn_celsius_into_fahrenheit(limits: WeatherLimits):
    text = write.metric(year()).replace(b'"3.0"', b'"303.0"', 1)

    assert read_weather(text, "file", limits).units == "metric"


# A plain CSV -------------------------------------------------------------------------------------


def test_each_column_has_its_own_unit(limits: WeatherLimits):
    text = b"date,t_max [C],t_min [F],rain [in]\n2027-01-01,20,50,0.1\n2027-01-02,21,,\n"

    file = read_weather(text, "mine", limits)

    assert (file.format, file.record.name) == ("named_columns", "mine")
    assert file.record.t_min_c[0] == pytest.approx(10)
    assert file.record.rain_mm is not None
    assert file.record.rain_mm[0] == pytest.approx(2.54)
    assert np.isnan(file.record.rain_mm[1])


def test_columns_without_units_are_refused_all_at_once(limits: WeatherLimits):
    with pytest.raises(WeatherError) as caught:
        read_weather(b"date,tmax,tmin\n2027-01-01,20,10\n", "file", limits)

    assert [fault.data["column"] for fault in caught.value.faults] == ["tmax", "tmin"]


def test_columns_without_units_are_read_in_units_that_the_caller_states(limits: WeatherLimits):
    file = read_weather(b"date,tmax,tmin\n2027-01-01,50,32\n", "f", limits, units="standard")

    assert (file.record.t_max_c[0], file.record.t_min_c[0]) == (pytest.approx(10), 0)


def test_a_unit_that_is_not_one_is_told_with_those_that_fit(limits: WeatherLimits):
    fault = refused(b"date,tmax [X],tmin [C]\n2027-01-01,20,10\n", limits)

    assert fault.code == "weather_unit_unknown"
    assert dict(fault.data) == {"column": "tmax [X]", "unit": "x", "fits": "c, f, k"}


def test_two_columns_for_one_thing_are_refused(limits: WeatherLimits):
    fault = refused(b"date,tmax [C],high [C],tmin [C]\n2027-01-01,20,21,10\n", limits)

    assert (fault.code, fault.data["column"]) == ("weather_column_twice", "high [C]")


def test_semicolons_between_cells_and_decimal_commas(limits: WeatherLimits):
    file = read_weather(b"date;t_max (C);t_min (C)\n2027-01-13;20,5;-3,25\n", "f", limits)

    assert (file.record.t_max_c[0], file.record.t_min_c[0]) == (20.5, -3.25)
    assert codes(file) == ["weather_decimal_comma"]


def test_a_comma_for_both_is_refused_with_its_line(limits: WeatherLimits):
    fault = refused(b"date,t_max [C],t_min [C]\n2027-01-13,20,5,-3,25\n", limits)

    assert (fault.code, fault.data["line"]) == ("weather_comma_for_both", 2)


@pytest.mark.parametrize(
    ("written", "order"),
    [(("13/01/2027", "02/02/2027"), "day_first"), (("01/13/2027", "02/02/2027"), "month_first"),
     (("13.1.2027", "2.2.2027"), "day_first")],
)  # fmt: skip
def test_the_order_of_day_and_month_is_told_by_the_dates_themselves(
    written: tuple[str, str], order: str, limits: WeatherLimits
):
    text = f"date,t_max [C],t_min [C]\n{written[0]},20,5\n{written[1]},21,6\n"

    file = read_weather(text.encode(), "file", limits)

    assert one(file, "weather_date_order").data["order"] == order
    assert [str(file.record.dates()[at]) for at in (0, -1)] == ["2027-01-13", "2027-02-02"]


def test_dates_that_may_be_either_are_not_guessed_at(limits: WeatherLimits):
    fault = refused(b"date,t_max [C],t_min [C]\n01/02/2027,20,5\n", limits)

    assert fault.code == "weather_date_order_not_clear"


@pytest.mark.parametrize(
    "text",
    ["Day Month Year Tmin(C) Tmax(C) Prcp(mm)\n2  1 1982  -21.11  3.33  0.00\n",
     "year,doy,t_min_c,t_max_c,rain_mm\n1982,2,-21.11,3.33,0\n",
     "year\tmonth\tday\ttmin [degC]\ttmax [degC]\tprcp [mm]\n1982\t1\t2\t-21.11\t3.33\t0\n"],
)  # fmt: skip
def test_dates_in_several_columns(text: str, limits: WeatherLimits):
    file = read_weather(text.encode(), "file", limits)

    assert str(file.record.first_day) == "1982-01-02"
    assert (file.record.t_min_c[0], file.record.t_max_c[0]) == (-21.11, 3.33)


def test_words_for_missing_are_missing(limits: WeatherLimits):
    text = "date,t_max [C],t_min [C]\n2027-01-01,20,NA\n2027-01-02,-9999,5\n2027-01-03,M,-\n"

    file = read_weather(text.encode(), "file", limits)

    assert np.isnan(file.record.t_min_c).tolist() == [True, False]
    assert codes(file) == []


def test_lines_above_the_header_are_passed_over(limits: WeatherLimits):
    text = "My garden's station\n# serial 12\n\ndate,t_max [C],t_min [C]\n2027-01-01,20,9\n"

    assert read_weather(text.encode(), "f", limits).record.t_max_c[0] == 20


# Hours -------------------------------------------------------------------------------------------


def test_hours_become_days(limits: WeatherLimits):
    hours = np.arange(48.0)
    rain = np.zeros(48)
    rain[[3, 30]] = 1.5

    file = read_weather(write.hourly("2027-06-01", hours, rain), "f", limits)

    assert file.record.t_max_c.tolist() == [23, 47]
    assert file.record.t_min_c.tolist() == [0, 24]
    assert file.record.t_mean_c is not None and file.record.rain_mm is not None
    assert file.record.t_mean_c.tolist() == [11.5, 35.5]
    assert file.record.rain_mm.tolist() == [1.5, 1.5]
    assert one(file, "weather_hours_reduced").data["readings"] == 24


def test_a_day_with_an_hour_of_rain_missing_has_no_total_but_still_its_extremes(
    limits: WeatherLimits,
):
    hours, rain = np.arange(48.0), np.zeros(48)
    hours[30], rain[30] = NAN, NAN

    file = read_weather(write.hourly("2027-06-01", hours, rain), "f", limits)

    assert file.record.rain_mm is not None
    assert np.isnan(file.record.rain_mm).tolist() == [False, True]
    assert file.record.t_max_c.tolist() == [23, 47]
    assert one(file, "weather_hours_too_few").data == {"element": "rain_mm", "count": 1}


def test_a_day_of_a_few_hours_has_no_extremes(limits: WeatherLimits):
    hours = np.arange(53.0)  # five hours of a third day

    file = read_weather(write.hourly("2027-06-01", hours, np.zeros(53)), "f", limits)

    assert file.record.days == 2
    assert {each.data["element"] for each in file.faults if "few" in each.code} == {
        "t_max_c", "t_min_c", "t_mean_c", "rain_mm",
    }  # fmt: skip


def test_watts_are_a_mean_and_megajoules_a_sum(limits: WeatherLimits):
    lines = "".join(f"2027-06-0{1 + at // 24} {at % 24:02d}:00,20,100,0.36\n" for at in range(48))

    watts = read_weather(
        ("time,temperature [C],radiation [W/m2],x\n" + lines).encode(), "f", limits
    )
    sums = read_weather(
        ("time,temperature [C],x,radiation [MJ/m2]\n" + lines).encode(), "f", limits
    )

    for file in (watts, sums):
        assert file.record.radiation_mj_m2 is not None
        assert file.record.radiation_mj_m2 == pytest.approx([8.64, 8.64])


def test_times_with_a_zone_are_told(limits: WeatherLimits):
    lines = "".join(f"2027-06-0{1 + at // 24}T{at % 24:02d}:00Z,{at}\n" for at in range(48))

    file = read_weather(("time,temperature [C]\n" + lines).encode(), "f", limits)

    assert file.record.t_max_c.tolist() == [23, 47]
    assert "weather_times_with_zone" in codes(file)


# Files that are broken ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "weather_empty"),
        (b" \n\n", "weather_empty"),
        (b"PK\x03\x04\x00\x00", "weather_not_text"),
        ("date,t_max [C]\n".encode("utf-16"), "weather_not_text"),
        (b"<!DOCTYPE html><html>Service down</html>", "weather_is_a_page"),
        (b"dear gardener\n", "weather_format_unknown"),
        (gzip.compress(b"x" * 1000, mtime=0)[:-9], "weather_not_unpacked"),
        (b"date,t_max [C],t_min [C]\n", "weather_no_lines"),
        (b"STATION,DATE,TMAX,TMIN\n", "weather_no_lines"),
        (b"STATION,DATE,PRCP\nUSC00000000,2023-01-01,0.1\n", "weather_no_temperature"),
        (b"date,t_max [C],t_min [C]\n2023-01-01,,\n", "weather_no_temperature"),
        (b"year,month,t_max [C]\n2023,1,5\n", "weather_no_date_column"),
    ],
)
def test_a_file_that_cannot_be_used_says_why(data: bytes, code: str, limits: WeatherLimits):
    assert refused(data, limits).code == code


def test_tenths_are_for_the_formats_of_the_agency(limits: WeatherLimits):
    text = b"date,t_max [C],t_min [C]\n2023-01-01,5,1\n"

    assert refused(text, limits, "tenths").code == "weather_tenths_not_here"
    with pytest.raises(ValueError, match="must be one of"):
        read_weather(text, "file", limits, "kelvin")


@pytest.mark.parametrize(
    "head", [b"date,t_max [C],t_min [C]\n", b"STATION,DATE,TMAX,TMIN\n",
             b"USC00000000,20230101,TMAX,100,,,0,\n"],
)  # fmt: skip
def test_a_broken_file_of_200_000_lines_gives_one_message(head: bytes, limits: WeatherLimits):
    text = head + b"!?;;;, 12 ,,,,,, x\n" * 200_000

    try:
        found = list(read_weather(text, "file", limits).faults)
    except WeatherError as error:
        found = list(error.faults)

    (fault,) = (each for each in found if each.code != "weather_element_absent")
    assert fault.code in {"weather_lines_broken", "weather_comma_for_both"}
    assert (fault.data["count"], fault.data["line"]) == (200_000, 2)


def test_a_word_among_numbers_is_told_with_its_line(limits: WeatherLimits):
    text = b"date,t_max [C],t_min [C]\n2023-01-01,5,1\n2023-01-02,warm,2\n2023-01-03,hot,2\n"

    fault = one(read_weather(text, "file", limits), "weather_cells_broken")

    assert dict(fault.data) == {"element": "t_max [C]", "count": 2, "line": 3, "text": "warm"}


def test_a_file_that_holds_its_days_twice_is_told(limits: WeatherLimits):
    twice = write.named(year()) + b"\n".join(write.named(year()).split(b"\n")[1:])
    changed = twice.rstrip().rsplit(b"\n", 1)[0] + b"\n2023-12-31,33,,\n"

    same, other = (read_weather(text, "f", limits) for text in (twice, changed))

    assert np.array_equal(same.record.t_max_c, year().t_max_c)
    assert {each.data["count"] for each in same.faults} == {365}
    assert [each.data["differing"] for each in same.faults] == [0, 0, 0]
    assert sum(int(each.data["differing"]) for each in other.faults) == 1


def test_packed_files_and_line_ends_of_other_systems(limits: WeatherLimits):
    plain = write.named(year())

    for data in (
        gzip.compress(plain, mtime=0), plain.replace(b"\n", b"\r\n"), plain.replace(b"\n", b"\r"),
        b"\xef\xbb\xbf" + plain,
    ):  # fmt: skip
        assert np.array_equal(read_weather(data, "f", limits).record.t_max_c, year().t_max_c)

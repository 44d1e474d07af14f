"""The codes of weather files, records and the weather service in words."""

from __future__ import annotations

from bedwright.language import Words

WEATHER_FORMATS = Words(
    {
        "ghcn_dly": "GHCN-Daily, fixed width (.dly)",
        "ghcn_by_station": "GHCN-Daily by station, CSV without a header",
        "daily_summaries": "daily summaries, CSV",
        "named_columns": "CSV with named columns",
    }
)

WEATHER_ELEMENTS = Words({
    "t_max_c": "daily maximum", "t_min_c": "daily minimum", "t_mean_c": "daily mean",
    "rain_mm": "rain", "radiation_mj_m2": "solar radiation", "humidity_max_percent": "highest humidity",
    "humidity_min_percent": "lowest humidity", "wind_m_s": "wind",
})  # fmt: skip

WEATHER_UNITS = Words({
    "tenths": "tenths of C and of mm", "metric": "C and mm", "standard": "F and inches",
})  # fmt: skip

WEATHER_UNIT_REASONS = Words(
    {
        "above_celsius": "its hottest days are hotter than any place on earth if read as C",
        "decimals": "its temperatures have decimals and none is too hot for C",
        "beyond_fahrenheit": "its temperatures are whole numbers beyond any temperature in F",
        "whole_beside_decimal_rain": "its temperatures are whole numbers and its rain has decimals",
        "whole_within_fahrenheit": "a year of whole numbers this small would be a year near 0 C as tenths",
    }
)

WEATHER_DATE_ORDERS = Words({"day_first": "day before month", "month_first": "month before day"})

# A file that can't be used.
WEATHER_REFUSALS = Words(
    {
        "weather_empty": "The file is empty. It should hold lines of daily weather.",
        "weather_not_text": "The file is not plain text in UTF-8. Save it as CSV (UTF-8), not as a workbook "
        "or as 'Unicode text'.",
        "weather_not_unpacked": "The file is packed with gzip but doesn't unpack whole. Fetch it again.",
        "weather_is_a_page": "The file is a web page, not weather data: perhaps an error message of the site. "
        "Fetch it again, or look at it in a browser.",
        "weather_format_unknown": "None of the {lines} lines starts a format that is known; the first reads "
        "{text!r}. It should be GHCN-Daily (.dly or CSV), daily summaries with STATION and DATE in the header, or a "
        "CSV whose header names a date and temperatures with units, like: date,t_max [F],t_min [F],rain [in].",
        "weather_no_lines": "The file has a header but no line of data.",
        "weather_no_temperature": "There is no daily maximum or minimum on any day of the file.",
        "weather_several_stations": "The file holds {count} stations ({stations}). Save one station to a file.",
        "weather_units_not_clear": "The file doesn't say its units, and they can't be told from temperatures "
        "that lie from {low} to {high}. Say which: --file-units tenths, metric or standard.",
        "weather_tenths_not_here": "Units of tenths belong to the agency's own formats. In a CSV with named "
        "columns, write the unit beside the name, like t_max [C].",
        "weather_date_order_not_clear": "A date such as {text} may be day/month or month/day, and no date of the "
        "file tells. Write dates as year-month-day.",
        "weather_no_date_column": "The header names a year but neither month and day nor the day of the year.",
        "weather_column_without_unit": "Column {column!r} has no unit. Write it beside the name, like "
        "{column} [{first_fit}]; units that fit: {fits}.",
        "weather_unit_unknown": "The unit {unit!r} of column {column!r} is not known here; units that fit: {fits}.",
        "weather_column_twice": "Column {column!r} means the same as a column before it. Take one of them out.",
        "weather_comma_for_both": "{count} lines have more cells than the header, first line {line}: {text!r}. A comma "
        "seems to stand both between cells and before decimals. Save the file with semicolons between "
        "cells, or with decimal points.",
        "weather_unit_looks_wrong": "{count} of {known} values of the {element} can't be true, first {value} on "
        "{day}. The unit of the column must be another than it says.",
    }
)

# What was found while reading.
WEATHER_READING = Words(
    {
        "weather_lines_broken": "{count} lines can't be read and are left out, first line {line}: {text!r}. A line "
        "should have {want}.",
        "weather_cells_broken": "{count} values of {element} are no numbers and count as missing, first line {line}: "
        "{text!r}.",
        "weather_flagged": "{count} values of the {element} failed a check of the agency's own and are dropped, "
        "first on {day}.",
        "weather_presumed_zero": "{count} values of the {element} were missing and only presumed to be zero; they "
        "count as missing.",
        "weather_days_twice": "{count} days of the {element} stand more than once, first {day}; {differing} of them "
        "with another value. The first value is kept.",
        "weather_multi_day_rain": "{count} totals of rain go over several days, {days} days in all: their rain "
        "by day is not known and counts as missing.",
        "weather_element_absent": "There is no {element} in the file.",
        "weather_units_assumed": "The file doesn't say its units. Assumed: {units}, for {reason}. If that is "
        "wrong, say --file-units.",
        "weather_date_order": "Dates are read with the {order}.",
        "weather_times_with_zone": "Times are stated with a time zone; they are taken as they stand. If they are "
        "UTC, days begin and end at the wrong hour for you.",
        "weather_decimal_comma": "Decimals are read as written with a comma.",
        "weather_hours_reduced": "Readings are reduced to days: {readings} make a whole day.",
        "weather_hours_too_few": "{count} days have too few readings for the {element} and count as missing.",
        "weather_columns_ignored": "Columns that are not used: {columns}.",
    }
)

# What the checks of a record found.
WEATHER_CHECK = Words(
    {
        "weather_impossible": "The {element} of {day} is {value}, which no place on earth has; it is dropped.",
        "weather_impossible_many": "The {element} is beyond what any place on earth has on {count} days, from "
        "{day} ({value}) to {last_day}; they are dropped.",
        "weather_min_above_max": "On {day} the minimum, {value}, lies above the maximum; both are dropped.",
        "weather_min_above_max_many": "On {count} days the minimum lies above the maximum, from {day} (minimum "
        "{value}) to {last_day}; both are dropped.",
        "weather_out_of_line": "The {element} of {day}, {value}, lies {range_c} or more from what the days "
        "around it allow; it is dropped.",
        "weather_out_of_line_many": "The {element} lies {range_c} or more from what the days around it allow on "
        "{count} days, from {day} ({value}) to {last_day}; they are dropped.",
        "weather_stuck": "The {element} is {value} on {days} readings in a row from {day}: a stuck sensor or a "
        "filled gap. They are dropped.",
        "weather_columns_swapped": "Minimum and maximum were taken for each other on {share} of the days, first "
        "{day}: the columns are read the other way round.",
        "weather_block_repeated": "{days} days from {day} repeat the days from {first_day} value by value: one of "
        "the two is not what was measured there. Both are kept; look at the source.",
        "weather_station_step": "The level of the {element} jumps by {value} in {day}. Perhaps the station was moved "
        "or got another thermometer then; what is older may not hold for now.",
        "weather_whole_fahrenheit": "The station writes whole degrees F ({share} of its minima): freezes are "
        "counted on whole degrees.",
    }
)

SERVICE_REFUSALS = Words(
    {
        "service_station_name": "{station!r} is not the name of a station. It has 11 letters and digits, like "
        "USC00381770; the agency's station list has it.",
        "service_span": "The first day {start} lies after the last day {end}.",
        "service_unreachable": "{host} can't be reached ({reason}). What has come already is kept in {cache}; the "
        "same command goes on from there.",
        "service_busy": "{host} is too busy (it answers {status}) after {attempts} tries. Try again later: what has come "
        "already is kept in {cache}.",
        "service_refused": "{host} refuses the request (it answers {status}: {text}).",
        "service_answer_broken": "{host} answers for {year} with something that is not a table of days ({text!r}), "
        "{attempts} times. Try again later: what has come already is kept in {cache}.",
        "service_nothing": "{host} has no days of {station} from {start} to {end}. Is the name right? Does the "
        "station report in these years?",
        "service_not_written": "{path} can't be written ({reason}).",
    }
)

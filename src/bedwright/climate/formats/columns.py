"""Named columns with units: what the words and units of a header stand for."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bedwright.climate.faults import Fault, WeatherError

_WORDS = {
    "date": "date day datetime time timestamp dateandtime",
    "hour": "hour hr",
    "year": "year yr",
    "month": "month mo",
    "day_of_month": "dayofmonth dom",
    "day_of_year": "doy dayofyear yday julianday",
    "t_max_c": "tmax maxt maxtemp tempmax temperaturemax maxtemperature maximumtemperature tx high"
    " airtmax tmaximum",
    "t_min_c": "tmin mint mintemp tempmin temperaturemin mintemperature minimumtemperature tn low"
    " airtmin tminimum",
    "t_mean_c": "tmean tavg meant avgtemp tempavg tempmean meantemp meantemperature temp t"
    " temperature airtemperature airtemp averagetemperature",
    "rain_mm": "rain rainfall prcp precip precipitation prec ppt",
    "radiation_mj_m2": "radiation srad solar solarradiation solarrad rad rs globalradiation",
    "humidity_max_percent": "rhmax humiditymax maxhumidity maxrh",
    "humidity_min_percent": "rhmin humiditymin minhumidity minrh",
    "humidity_percent": "rh humidity relativehumidity",
    "wind_m_s": "wind windspeed ws u2 awnd meanwind windmean",
}
ROLES: Mapping[str, str] = {word: role for role, words in _WORDS.items() for word in words.split()}
DATES = frozenset("date hour year month day_of_month day_of_year".split())

WATTS = "w/m2"  # a mean over the time; every other unit of radiation is a sum
Conversion = tuple[float, float]  # ours = stated * first + second
_TEMPERATURE: Mapping[str, Conversion] = {
    "c": (1.0, 0.0), "f": (5 / 9, -32 * 5 / 9), "k": (1.0, -273.15),
}  # fmt: skip
_RAIN: Mapping[str, Conversion] = {
    "mm": (1.0, 0.0), "cm": (10.0, 0.0), "in": (25.4, 0.0), "l/m2": (1.0, 0.0),
}  # fmt: skip
# A day of 1 W/m2 is 0.0864 MJ/m2; 1 cal (thermochemical) is 4.184 J; a langley is 1 cal/cm2.
_RADIATION: Mapping[str, Conversion] = {
    "mj/m2": (1.0, 0.0), WATTS: (0.0864, 0.0), "kj/m2": (1e-3, 0.0), "j/cm2": (1e-2, 0.0),
    "ly": (0.04184, 0.0), "kwh/m2": (3.6, 0.0),
}  # fmt: skip
_WIND: Mapping[str, Conversion] = {
    "m/s": (1.0, 0.0), "km/h": (1 / 3.6, 0.0), "mph": (0.44704, 0.0), "kn": (1852 / 3600, 0.0),
}  # fmt: skip
_HUMIDITY: Mapping[str, Conversion] = {"%": (1.0, 0.0)}
_UNITS: Mapping[str, Mapping[str, Conversion]] = {
    "t_max_c": _TEMPERATURE,
    "t_min_c": _TEMPERATURE,
    "t_mean_c": _TEMPERATURE,
    "rain_mm": _RAIN,
    "radiation_mj_m2": _RADIATION,
    "wind_m_s": _WIND,
    "humidity_max_percent": _HUMIDITY,
    "humidity_min_percent": _HUMIDITY,
    "humidity_percent": _HUMIDITY,
}
_SPELLINGS = {
    "degc": "c", "celsius": "c", "degf": "f", "fahrenheit": "f", "kelvin": "k", "degk": "k",
    "inch": "in", "inches": "in", "millimeters": "mm", "millimetres": "mm", "mm/d": "mm",
    "mm/day": "mm", "mj/m2/d": "mj/m2", "mj/m2/day": "mj/m2", "mjm-2": "mj/m2", "wm-2": WATTS,
    "mj/m^2": "mj/m2", "w/m^2": WATTS, "langley": "ly", "langleys": "ly", "percent": "%",
    "pct": "%", "kph": "km/h", "kmh": "km/h", "mi/h": "mph", "knots": "kn", "kt": "kn",
    "ms-1": "m/s", "mps": "m/s", "m": "",
}  # fmt: skip
_SETS: Mapping[str, Mapping[str, str]] = {  # for columns without a unit, if the caller says so
    "metric": {"t": "c", "rain_mm": "mm", "radiation_mj_m2": "mj/m2", "wind_m_s": "m/s"},
    "standard": {"t": "f", "rain_mm": "in", "radiation_mj_m2": "ly", "wind_m_s": "mph"},
}
_BRACKETED = re.compile(r"^(.*?)\s*[\[(]\s*([^\])]*?)\s*[\])]\s*$")
_TAILED = re.compile(r"^(.*)[ _]([^ _]+)$")


@dataclass(frozen=True)
class Column:
    """A column of the file: its place, what it holds, its unit and how that becomes ours."""

    at: int
    text: str
    role: str
    unit: str = ""
    conversion: Conversion = (1.0, 0.0)


def looks_like_header(cells: Sequence[str]) -> bool:
    """Whether a line names a date and a temperature."""
    roles = {_role(cell)[0] for cell in cells}
    dated = "date" in roles or {"year", "month"} <= roles or {"year", "day_of_year"} <= roles
    return dated and bool(roles & {"t_max_c", "t_min_c", "t_mean_c"})


def columns_of(cells: Sequence[str], units: str | None = None) -> tuple[list[Column], list[str]]:
    """The columns that are understood, and the names of those that are not.

    Raises WeatherError that lists every column without a unit, with an unknown one, or named
    twice.
    """
    found: list[Column] = []
    ignored: list[str] = []
    faults: list[Fault] = []
    for at, cell in enumerate(cells):
        role, unit = _role(cell)
        if not role:
            ignored.append(cell.strip())
        elif role in DATES:
            found.append(Column(at, cell.strip(), role))
        else:
            unit = unit or _default_unit(role, units)
            known = _UNITS[role]
            if unit not in known:
                code = "weather_unit_unknown" if unit else "weather_column_without_unit"
                fits = ", ".join(known)
                faults.append(
                    Fault(code=code, data={"column": cell.strip(), "unit": unit, "fits": fits})
                )
                continue
            found.append(Column(at, cell.strip(), role, unit, known[unit]))
    roles = [each.role for each in found]
    if "date" in roles and {"year", "month"} <= set(roles) and "day_of_month" not in roles:
        found = [_as_day_of_month(each) for each in found]
        roles = [each.role for each in found]
    for column in found:
        if roles.index(column.role) != found.index(column):
            faults.append(Fault(code="weather_column_twice", data={"column": column.text}))
    if faults:
        raise WeatherError(*faults)
    return found, ignored


def _as_day_of_month(column: Column) -> Column:
    """A column called day beside year and month is the day of the month."""
    return Column(column.at, column.text, "day_of_month") if column.role == "date" else column


def _role(cell: str) -> tuple[str, str]:
    """What a header cell stands for and its unit, each empty where unknown."""
    text = cell.strip().strip('"').strip()
    bracketed = _BRACKETED.match(text)
    if bracketed:
        return ROLES.get(_bare(bracketed[1]), ""), _unit(bracketed[2])
    role = ROLES.get(_bare(text), "")
    if role:
        return role, ""
    tailed = _TAILED.match(text)
    if tailed and ROLES.get(_bare(tailed[1])):
        role, unit = ROLES[_bare(tailed[1])], _unit(tailed[2])
        if unit in _UNITS.get(role, {}):
            return role, unit
    return "", ""


def _bare(text: str) -> str:
    return re.sub(r"[\s_.\-/]+", "", text).lower()


def _unit(text: str) -> str:
    bare = re.sub(r"[\s°º]+", "", text).lower().replace("²", "2")
    return _SPELLINGS.get(bare, bare)


def _default_unit(role: str, units: str | None) -> str:
    if role.startswith("humidity"):
        return "%"
    if units is None:
        return ""
    return _SETS[units].get("t" if role.startswith("t_") else role, "")

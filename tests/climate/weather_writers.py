"""Writes a record in each format that bedwright reads, to be read back. Layouts: the agency's."""

import calendar
from collections.abc import Callable

import numpy as np

from bedwright.climate.record import DailyRecord, FloatArray, year_month_day

GHCN = {"t_max_c": "TMAX", "t_min_c": "TMIN", "rain_mm": "PRCP", "wind_m_s": "AWND"}


def tenths(value: float) -> str:
    return "-9999" if np.isnan(value) else str(round(value * 10))


def rows(record: DailyRecord) -> list[tuple[str, dict[str, float]]]:
    """Each day's date with its values by element of the agency."""
    series = {GHCN[name]: values for name, values in record.elements().items() if name in GHCN}
    return [
        (str(day), {name: float(values[at]) for name, values in series.items()})
        for at, day in enumerate(record.dates())
    ]


def dly(record: DailyRecord, quality: dict[tuple[str, str], str] | None = None) -> bytes:
    lines = []
    year, month, day = year_month_day(record.dates())
    for name, values in record.elements().items():
        if name not in GHCN:
            continue
        for key in sorted(set(zip(year.tolist(), month.tolist(), strict=True))):
            groups = ["-9999   "] * 31
            for at in np.flatnonzero((year == key[0]) & (month == key[1])):
                flag = (quality or {}).get((GHCN[name], str(record.dates()[at])), " ")
                groups[day[at] - 1] = f"{tenths(values[at]):>5} {flag}0"
            lines.append(
                f"{record.station:<11}{key[0]:04d}{key[1]:02d}{GHCN[name]}{''.join(groups)}"
            )
    return ("\n".join(lines) + "\n").encode()


def by_station(record: DailyRecord) -> bytes:
    lines = [
        f"{record.station},{day.replace('-', '')},{name},{tenths(value)},,,0,0700"
        for day, values in rows(record)
        for name, value in values.items()
        if not np.isnan(value)
    ]
    return ("\n".join(lines) + "\n").encode()


def access(record: DailyRecord) -> bytes:
    """The access folder: quoted, padded tenths with attributes."""
    names = [GHCN[name] for name in record.elements() if name in GHCN]
    header = ["STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME"]
    for name in names:
        header += [name, f"{name}_ATTRIBUTES"]
    lines = [",".join(f'"{each}"' for each in header)]
    for day, values in rows(record):
        cells = [record.station, day, "46.1", "-118.3", "180.0", "INVENTED, WA US"]
        for name in names:
            missing = np.isnan(values[name])
            cells += ["", ""] if missing else [f"{tenths(values[name]):>5}", ",,0,0700"]
        lines.append(",".join(f'"{each}"' if each else "" for each in cells))
    return ("\n".join(lines) + "\n").encode()


def _requested(record: DailyRecord, show: Callable[[str, float], str]) -> bytes:
    names = [GHCN[name] for name in record.elements() if name in GHCN]
    lines = [",".join(f'"{each}"' for each in ("STATION", "DATE", *names))]
    for day, values in rows(record):
        cells = ["" if np.isnan(values[name]) else show(name, values[name]) for name in names]
        lines.append(",".join(f'"{each}"' for each in (record.station, day, *cells)))
    return ("\n".join(lines) + "\n").encode()


def metric(record: DailyRecord) -> bytes:
    return _requested(record, lambda name, value: f"{value:.1f}")


def standard(record: DailyRecord) -> bytes:
    def show(name: str, value: float) -> str:
        if name.startswith("T"):
            return f"{round(value * 9 / 5 + 32)}"
        return f"{value / 25.4:.2f}" if name == "PRCP" else f"{value / 0.44704:.2f}"

    return _requested(record, show)


def named(record: DailyRecord, separator: str = ",", decimal: str = ".") -> bytes:
    heads = {"t_max_c": "t_max [C]", "t_min_c": "t_min [C]", "rain_mm": "rain [mm]",
             "radiation_mj_m2": "radiation [MJ/m2]", "humidity_max_percent": "rh_max [%]",
             "humidity_min_percent": "rh_min [%]", "wind_m_s": "wind [m/s]",
             "t_mean_c": "t_mean [C]"}  # fmt: skip
    series = record.elements()
    lines = [separator.join(["date", *(heads[name] for name in series)])]
    for at, day in enumerate(record.dates()):
        cells = [
            "" if np.isnan(values[at]) else repr(float(values[at])).replace(".", decimal)
            for values in series.values()
        ]
        lines.append(separator.join([str(day), *cells]))
    return ("\n".join(lines) + "\n").encode()


def hourly(first: str, t_c: FloatArray, rain_mm: FloatArray) -> bytes:
    """Rows of whole hours from midnight of a day on."""
    moments = np.datetime64(first, "h") + np.arange(len(t_c))
    lines = ["time,temperature [C],rain [mm]"]
    for moment, t, rain in zip(moments, t_c, rain_mm, strict=True):
        cells = ["" if np.isnan(each) else f"{each:.1f}" for each in (t, rain)]
        lines.append(f"{str(moment)[:10]} {str(moment)[11:13]}:00,{cells[0]},{cells[1]}")
    return ("\n".join(lines) + "\n").encode()


def days_of(year: int) -> int:
    return 366 if calendar.isleap(year) else 365

"""``bedwright weather``: what a station's record holds, and fetching one."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import DONE, command, day_like, refuse

if TYPE_CHECKING:
    from bedwright.climate.checks import Checked
    from bedwright.climate.formats import WeatherFile
    from bedwright.climate.limits import WeatherLimits
    from bedwright.units import UnitSystem

_MOST_BYTES = 300_000_000
_FREEZE_F, _FREEZE_C = (32.0, 28.0, 24.0), (0.0, -2.0, -4.0)  # what is shown, not a rule of crops
_YEARS = 50  # fetched where no first day is said


def add_weather(subparsers: object) -> None:
    """Register ``weather`` with its three commands."""
    weather = subparsers.add_parser(  # type: ignore[attr-defined]
        "weather",
        help="a station's weather record: read, summary, fetch",
        description="A station's weather record: what a file holds, in short, or fetch one.",
        epilog="example:\n  bedwright weather read station.csv\n"
        "  bedwright weather fetch USC00381770 --out station.csv --from 1961-01-01",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    commands = weather.add_subparsers(dest="weather_command", metavar="COMMAND", required=True)
    for name, words in (
        ("read", "is a weather file right? its format, days and every doubt"),
        ("summary", "a weather file in short: months, extremes, days of freeze"),
    ):
        parser = command(commands, name, words, f"bedwright weather {name} station.csv")
        parser.add_argument("file", metavar="FILE", help="GHCN-Daily, daily summaries or CSV")
        parser.add_argument(
            "--file-units",
            choices=("tenths", "metric", "standard"),
            help="the units of a file that doesn't say",
        )
        parser.add_argument(
            "--units", choices=("us", "metric"), default="us", help="units to show (default: us)"
        )
    _fetch_command(commands)


def _fetch_command(commands: object) -> None:
    fetching = command(
        commands,
        "fetch",
        "fetch a station's record from the climate agency's public service",
        "bedwright weather fetch USC00381770 --out station.csv",
    )
    day = day_like("1961-01-01")
    fetching.add_argument("station", metavar="STATION", help="like USC00381770")
    fetching.add_argument("--out", required=True, metavar="FILE", help="the file to write")
    fetching.add_argument(
        "--from", dest="start", type=day, metavar="DATE", help=f"default: {_YEARS} years ago"
    )
    fetching.add_argument("--to", dest="end", type=day, metavar="DATE", help="default: today")
    fetching.add_argument(
        "--cache", metavar="DIR", help="where finished years are kept (default: FILE.parts)"
    )
    fetching.add_argument("--service", metavar="URL", help="another server of the same service")


def weather(given: argparse.Namespace) -> int:
    """Do what ``bedwright weather`` is asked: read, summary or fetch."""
    commands = {"read": read, "summary": summary, "fetch": fetch}
    return commands[given.weather_command](given)


def read(given: argparse.Namespace) -> int:
    """Say what a weather file holds."""
    from bedwright.reports.weather_text import file_text

    found = _found(given)
    if isinstance(found, int):
        return found
    file, made, _ = found
    sys.stdout.write(file_text(file, made, Path(given.file).name, _system(given)))
    return DONE


def summary(given: argparse.Namespace) -> int:
    """Print a weather file in short."""
    from bedwright.climate.season_outline import season_outline, turning_dates
    from bedwright.climate.summary import summarized
    from bedwright.planning.weather_freezes import outline_rules
    from bedwright.reference import Library
    from bedwright.reports.weather_text import summary_text

    found = _found(given)
    if isinstance(found, int):
        return found
    _, made, limits = found
    us = given.units == "us"
    freezes = tuple((each - 32) * 5 / 9 for each in _FREEZE_F) if us else _FREEZE_C
    whole = us and made.whole_fahrenheit
    short = summarized(made.record, limits, freezes, in_whole_fahrenheit=whole)
    turning = turning_dates(made.record)
    outline = None
    if turning is not None:
        rules = outline_rules(Library(), freezes, "whole_f" if whole else "none")
        outline = season_outline(made.record, *turning, rules)
    sys.stdout.write(summary_text(short, _system(given), outline))
    return DONE


def fetch(given: argparse.Namespace) -> int:
    """Fetch a station's record."""
    from dataclasses import replace

    from bedwright.reference import Library
    from bedwright.reports.weather_text import service_refusal
    from bedwright.station_service import ServiceError, service_of
    from bedwright.station_service import fetch as fetched

    today = date.today()
    end = min(given.end or today, today)
    start = given.start or date(end.year - _YEARS, 1, 1)
    service = service_of(Library())
    if given.service:
        service = replace(service, address=given.service)
    cache = Path(given.cache) if given.cache else None
    try:
        made = fetched(
            given.station,
            Path(given.out),
            start,
            end,
            service,
            today=today,
            cache=cache,
            progress=_progress,
        )
    except ServiceError as error:
        return refuse(service_refusal(error.code, error.data))
    print(
        f"{made.path} is written: {made.days} days of {given.station} from {start} to {end}, "
        f"{made.chunks} years asked for, {made.reused} of them kept from before."
    )
    if made.empty_years:
        print(f"No day in {_shortened(made.empty_years)}.")
    print(f"Next: bedwright weather read {made.path}")
    return DONE


def _shortened(years: tuple[int, ...]) -> str:
    if len(years) <= 6:
        return ", ".join(str(each) for each in years)
    return f"{len(years)} years, the first {years[0]}, the last {years[-1]}"


def _progress(done: int, total: int, year: int) -> None:
    if sys.stderr.isatty():
        ending = "\n" if done == total else ""
        print(f"\r{year} ({done} of {total})", end=ending, file=sys.stderr, flush=True)


def _found(given: argparse.Namespace) -> tuple[WeatherFile, Checked, WeatherLimits] | int:
    """The file read and checked with the limits it was checked by, or the exit code."""
    from bedwright.climate.checks import checked
    from bedwright.climate.faults import WeatherError
    from bedwright.climate.formats import read_weather
    from bedwright.climate.limits import weather_limits
    from bedwright.reference import Library
    from bedwright.reports.weather_text import refusal

    path = Path(given.file)
    data = _bytes(path)
    if isinstance(data, int):
        return data
    limits = weather_limits(Library().rows("weather_limits"))
    try:
        file = read_weather(data, path.stem, limits, given.file_units)
        return file, checked(file.record, limits), limits
    except WeatherError as error:
        return refuse(refusal(error.faults, path.name, _system(given)))


def _bytes(path: Path) -> bytes | int:
    try:
        if path.stat().st_size > _MOST_BYTES:
            return refuse(
                f"bedwright: {path} has {path.stat().st_size / 1e6:.0f} MB: too much for a record"
            )
        return path.read_bytes()
    except FileNotFoundError:
        return refuse(f"bedwright: {path}: there is no such file")
    except OSError as error:
        return refuse(f"bedwright: {path} can't be read ({error.strerror})")
    except ValueError:  # a NUL in the name
        return refuse(f"bedwright: {str(path)!r} is not the name of a file")


def _system(given: argparse.Namespace) -> UnitSystem:
    from bedwright.units import UnitSystem

    return UnitSystem.US if given.units == "us" else UnitSystem.METRIC

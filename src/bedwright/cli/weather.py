"""``bedwright weather``: what a station's record holds, and fetching one."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused, command, day_like

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


def weather(given: argparse.Namespace) -> None:
    """Do what ``bedwright weather`` is asked: read, summary or fetch."""
    commands = {"read": read, "summary": summary, "fetch": fetch}
    commands[given.weather_command](given)


def read(given: argparse.Namespace) -> None:
    """Say what a weather file holds."""
    from bedwright.reports.weather_text import file_text

    file, made, _ = _found(given)
    sys.stdout.write(file_text(file, made, Path(given.file).name, _system(given)))


def summary(given: argparse.Namespace) -> None:
    """Print a weather file in short."""
    from bedwright.climate.season_outline import season_outline, turning_dates
    from bedwright.climate.summary import summarized
    from bedwright.planning.weather_freezes import outline_rules
    from bedwright.reference import Library
    from bedwright.reports.weather_text import summary_text

    _, made, limits = _found(given)
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


def fetch(given: argparse.Namespace) -> None:
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
        raise Refused(service_refusal(error.code, error.data)) from None
    print(
        f"{made.path} is written: {made.days} days of {given.station} from {start} to {end}, "
        f"{made.chunks} years asked for, {made.reused} of them kept from before."
    )
    if made.empty_years:
        print(f"No day in {_shortened(made.empty_years)}.")
    print(f"Next: bedwright weather read {made.path}")


def _shortened(years: tuple[int, ...]) -> str:
    if len(years) <= 6:
        return ", ".join(str(each) for each in years)
    return f"{len(years)} years, the first {years[0]}, the last {years[-1]}"


def _progress(done: int, total: int, year: int) -> None:
    if sys.stderr.isatty():
        ending = "\n" if done == total else ""
        print(f"\r{year} ({done} of {total})", end=ending, file=sys.stderr, flush=True)


def _found(given: argparse.Namespace) -> tuple[WeatherFile, Checked, WeatherLimits]:
    """The file read and checked, with the limits it was checked by."""
    from bedwright.climate.checks import checked
    from bedwright.climate.faults import WeatherError
    from bedwright.climate.formats import read_weather
    from bedwright.climate.limits import weather_limits
    from bedwright.reference import Library
    from bedwright.reports.weather_text import refusal

    path = Path(given.file)
    data = _bytes(path)
    limits = weather_limits(Library().rows("weather_limits"))
    try:
        file = read_weather(data, path.stem, limits, given.file_units)
        return file, checked(file.record, limits), limits
    except WeatherError as error:
        raise Refused(refusal(error.faults, path.name, _system(given))) from None


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise Refused(
                f"bedwright: {path} has {path.stat().st_size / 1e6:.0f} MB: too much for a record"
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise Refused(f"bedwright: {path}: there is no such file") from None
    except OSError as error:
        raise Refused(f"bedwright: {path} can't be read ({error.strerror})") from None
    except ValueError:  # a NUL in the name
        raise Refused(f"bedwright: {str(path)!r} is not the name of a file") from None


def _system(given: argparse.Namespace) -> UnitSystem:
    from bedwright.units import UnitSystem

    return UnitSystem.US if given.units == "us" else UnitSystem.METRIC

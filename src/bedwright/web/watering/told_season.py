"""What the pages say of a season: balance, use and cost of a bed, zones by month, salt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from django.utils.translation import gettext as _

from bedwright.language import named
from bedwright.planning.watering.garden_water import GardenWater
from bedwright.planning.watering.salt_years import SaltYears
from bedwright.planning.watering.stand_water import StandWater
from bedwright.planning.watering.years import Spread
from bedwright.reports.water_said import (
    depth_words,
    share_words,
    span_of,
    volume_words,
)
from bedwright.reports.water_schedule import (
    MonthTold,
    before_told,
    months_told,
    rules_told,
    zone_months,
)
from bedwright.reports.water_text import carried_lines, salt_line
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.units import UnitSystem
from bedwright.units.parse import unit_factor
from bedwright.units.show import plain
from bedwright.web.watering.told_day import short_minutes


@dataclass(frozen=True)
class PartTold:
    """Where water comes from or goes; ``range`` leaves one year in ten below and one above."""

    key: str
    mean: str
    range: str
    share: str


@dataclass(frozen=True)
class BalanceTold:
    """A planting's water on its bed's page."""

    of: StandWater
    want: int
    crop: str
    span: str
    lines: int | None
    zone: str
    months: tuple[MonthTold, ...]
    in_minutes: bool
    of_zone: bool
    parts: tuple[PartTold, ...]
    years: int
    volume: str
    cost: str
    sentences: tuple[str, ...]
    before: tuple[str, ...]
    rules: tuple[str, ...]
    unit: str

    @property
    def days(self) -> tuple[tuple[date, tuple[str, ...]], ...]:
        """The days of the chart: day, water at the roots, full, dry line, run, rain in ``unit``."""
        return _days(self.of, self.unit)


@dataclass(frozen=True)
class SaltTold:
    """A planting's salt over the years: its sentence and the years, (year, with, without)."""

    bed: str
    want: int
    crop: str
    now: str
    limit: str
    kept: str
    let: str
    sentence: str
    years: tuple[tuple[int, str, str], ...]


def balance_told(each: StandWater, system: UnitSystem, price: float | None, money: str
                 ) -> BalanceTold:  # fmt: skip
    """One planting's balance.

    Parameters
    ----------
    each : the planting's watering
    system : the reader's units
    price : of a cubic meter of water, None where it is not stated
    money : the garden's currency
    """
    stand, years = each.stand, each.years
    months = months_told(each, system)
    whole = years.transpiration.mean + years.evaporation.mean + years.drainage.mean
    parts = [
        _part("irrigation", years.irrigation, None, system),
        _part("rain", years.rain, None, system),
        _part("transpiration", years.transpiration, whole, system),
        _part("evaporation", years.evaporation, whole, system),
        _part("drainage", years.drainage, whole, system),
    ]
    return BalanceTold(
        of=each,
        want=stand.want,
        crop=named(stand.name).lower(),
        span=span_of(stand.start, stand.end - timedelta(days=1)),
        lines=None if each.lines is None else each.lines.count,
        zone=each.zone or "",
        months=months,
        in_minutes=each.lines is not None,
        of_zone=any(one.zone for one in months),
        parts=tuple(parts),
        years=years.places.shape[1],
        volume=volume_words(each.gross_m3, system),
        cost="" if price is None else f"{each.gross_m3 * price:.2f} {money}",
        sentences=tuple(carried_lines(each, system)),
        before=before_told(each, system),
        rules=rules_told(each, system),
        unit="in" if system is UnitSystem.US else "mm",
    )


def _part(key: str, spread: Spread, whole: float | None, system: UnitSystem) -> PartTold:
    mean, low, high = (depth_words(each, system) for each in (spread.mean, spread.low, spread.high))
    low, high = (each.rpartition(" ")[0] for each in (low, high))  # in the unit of the mean
    share = share_words(spread.mean / whole) if whole else ""
    return PartTold(key, mean, _("{start} to {end}").format(start=low, end=high), share)


def _days(each: StandWater, unit: str) -> tuple[tuple[date, tuple[str, ...]], ...]:
    """The middling year day by day, as the chart draws it."""
    years = each.years
    year, shape = years.middling_year, years.even.depletion_m.shape
    full = np.broadcast_to(years.days.available_m, shape)[:, year]
    columns = (
        full - years.even.depletion_m[:, year],
        full,
        full * (1 - each.stand.depletion_share),
        years.even.irrigation_m[:, year],
        np.broadcast_to(years.days.rain_m, shape)[:, year],
    )
    digits, factor = (2, unit_factor("in")[0]) if unit == "in" else (1, 1e-3)
    return tuple(
        (
            each.stand.start + timedelta(days=day),
            tuple(
                f"{column[day] / factor:.{digits}f}" if at < 3 or column[day] > 0 else ""
                for at, column in enumerate(columns)
            ),
        )
        for day in range(each.stand.days)
    )


def zone_months_told(water: GardenWater) -> list[tuple[str, list[tuple[str, int, str, str]]]]:
    """Each zone's months: name, runs a week, minutes, and minutes of the one run on a hot day."""
    return [
        (
            zone,
            [
                (
                    CHART_WORDS[f"month_{each.first.month}"],
                    each.runs,
                    "" if each.minutes is None else short_minutes(each.minutes),
                    "" if each.hot_minutes is None else short_minutes(each.hot_minutes),
                )
                for each in months
            ],
        )
        for zone, months in zone_months(water).items()
        if months
    ]


def salt_told(water: GardenWater, system: UnitSystem) -> list[SaltTold]:
    """The salt of every bed over ten years, in the order of the garden."""
    stands = {(each.stand.bed, each.stand.want): each for each in water.stands}
    return [_salt(each, stands[each.bed, each.want], system) for each in water.salt]


def _salt(each: SaltYears, of: StandWater, system: UnitSystem) -> SaltTold:
    limit = of.leaching.limit
    years = [
        (year + 1, plain(float(kept), 2), plain(float(let), 2))
        for year, (kept, let) in enumerate(zip(each.with_leaching, each.without, strict=True))
    ]
    return SaltTold(
        each.bed,
        each.want,
        named(of.stand.name).lower(),
        plain(each.start.value, 2),
        "" if limit is None else plain(limit.value, 2),
        _end(years[-1][1], each.yield_with),
        _end(years[-1][2], each.yield_without),
        salt_line(each, of.stand.name, system),
        tuple(years),
    )


def _end(salt: str, left: float | None) -> str:
    """Salt in the tenth year with what it leaves of the yield."""
    return salt if left is None else f"{salt} ({left:.0f}\N{NO-BREAK SPACE}%)"

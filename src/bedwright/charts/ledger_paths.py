"""What a bed held in past seasons and where its habit leads, nutrient by nutrient, as paths."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.ledger import Account
from bedwright.feeding.outlook import Ends
from bedwright.planning.bed_ledger import BedLedger
from bedwright.planning.ledger_outlook import BedOutlook, Level
from bedwright.planning.ledger_soil import BedSoil
from bedwright.working import Figure

Array = NDArray[np.float64]
_SHORTEST, _LONGEST = 10, 25  # years that the outlook reaches ahead: judgement
# Organic matter may gain so much [%] before the layer itself grows and the account, which holds its
# mass steady, no longer tells: judgement.
_MOST_MATTER = 5.0
# A soil test follows the balance in a straight line no further than to so many times what was
# measured: beyond, more and more is held where the test does not find it. Judgement.
_STRAIGHT = 2.0


@dataclass(frozen=True)
class Path:
    """One nutrient of one bed.

    ``past`` are (year, stock at the close of its season); ``ahead`` the years of the outlook with
    their low, typical and high stock (3, years), empty where nothing can be said. ``tested`` is
    the soil test as (year, value). ``unit`` is the engine's: kg/m2, mg/kg, dS/m or %. ``counted``
    says what the stock is: the ``level`` of the soil, the ``change`` since the start, or a level
    ``reckoned_back`` from the test. ``yearly`` are the ends of the change in a year, where that is
    the same in every year.
    """

    nutrient: str
    unit: str
    counted: str
    past: tuple[tuple[float, float], ...]
    tested: tuple[float, float] | None
    years: Array
    ahead: Array
    levels: tuple[Level, ...]
    yearly: Ends | None = None
    settles: Ends | None = None


def ledger_paths(ledger: BedLedger, bed: str) -> tuple[Path, ...]:
    """The paths of a bed, those with a test or a ceiling first; none where no season is told.

    Raises LookupError for a bed that is not there.
    """
    row = ledger.row(bed)
    if not ledger.seasons or not (ledger.told[row].any() or ledger.planned[row].any()):
        return ()
    soil, outlook = ledger.soils[row], ledger.outlooks[row]
    horizon = _horizon(outlook)
    found = [
        _olsen(soil, outlook, horizon),
        _phosphate(ledger, row, outlook, horizon),
        _salt(ledger, row, outlook, horizon),
        _matter(ledger, row, horizon),
        _balance(ledger, row, "potash", ledger.potash, horizon),
        _balance(ledger, row, "nitrogen", ledger.nitrogen, horizon),
    ]
    return tuple(each for each in found if each is not None)


def _horizon(outlook: BedOutlook | None) -> int:
    """As far ahead as the first ceilings most likely lie, within sense."""
    reached = [
        each.reach.typical
        for each in (outlook.levels if outlook is not None else ())
        if each.reach.typical <= _LONGEST
    ]
    return min(_LONGEST, max([_SHORTEST, *(int(np.ceil(each)) + 3 for each in reached)]))


def _olsen(soil: BedSoil, outlook: BedOutlook | None, horizon: int) -> Path | None:
    if soil.olsen is None or soil.sampled is None or outlook is None:
        return None
    years = np.arange(horizon + 1, dtype=np.float64)
    now, change = _ends(soil.olsen), np.array(outlook.test_change)
    ahead = np.maximum(now[:, None] + change[:, None] * years, 0.0)
    levels = tuple(each for each in outlook.levels if each.name != "ec_e_limit")
    told = max(_STRAIGHT * soil.olsen.value, *(each.level for each in levels))
    within = max(int(np.count_nonzero(ahead[1] <= told)), 2)
    years, ahead = years[:within], ahead[:, :within]
    start = float(soil.sampled.year)
    return Path("olsen", "mg/kg", "level", (), (start, soil.olsen.value), start + years, ahead,
                levels, outlook.test_change)  # fmt: skip


def _phosphate(
    ledger: BedLedger, row: int, outlook: BedOutlook | None, horizon: int
) -> Path | None:
    yearly = outlook.surplus if outlook is not None else None
    return _changing(ledger, row, "phosphate", ledger.phosphate, yearly, horizon)


def _balance(ledger: BedLedger, row: int, name: str, account: Account, horizon: int) -> Path | None:
    """An account whose outlook runs from its leanest to its richest season told."""
    net = account.net[row][ledger.told[row]]
    net = net[~np.isnan(net)]
    yearly = (float(net.min()), float(net.mean()), float(net.max())) if net.size else None
    return _changing(ledger, row, name, account, yearly, horizon)


def _changing(
    ledger: BedLedger, row: int, name: str, account: Account, yearly: Ends | None, horizon: int
) -> Path | None:
    past = _past(ledger, row, account, 1.0)
    if not past:
        return None
    years = np.arange(horizon + 1, dtype=np.float64)
    ahead = np.zeros((3, 0))
    if yearly is not None:
        ahead = past[-1][1] + np.array(yearly)[:, None] * years
    return Path(name, "kg/m2", "change", past, None, past[-1][0] + years[: ahead.shape[1]], ahead,
                (), yearly)  # fmt: skip


def _salt(ledger: BedLedger, row: int, outlook: BedOutlook | None, horizon: int) -> Path | None:
    soil = ledger.soils[row]
    if soil.ec_e is None or soil.sampled is None or soil.leached is None or soil.settles is None:
        return None
    told = ledger.told[row]
    years = np.arange(horizon + 1, dtype=np.float64)
    ahead = np.zeros((3, 0))
    if told.any() and outlook is not None:
        spread = ledger.salt.incoming["materials"][row][told]
        added = float(spread.mean()) * soil.ec_per_salt
        # Little drainage leaches little and settles high: the two ends belong together.
        pairs = list(zip(soil.leached, reversed(soil.settles), strict=True))
        paths = [
            _salt_path(now, added, leached, water, years)
            for now in _ends(soil.ec_e)
            for leached, water in pairs
        ]
        middle = _salt_path(soil.ec_e.value, added, soil.leached[1], soil.settles[1], years)
        ahead = np.stack([np.min([*paths, middle], axis=0), middle,
                          np.max([*paths, middle], axis=0)])  # fmt: skip
    levels = outlook.levels if outlook is not None else ()
    start = float(soil.sampled.year)
    return Path("salt", "dS/m", "level", _past(ledger, row, ledger.salt, soil.ec_per_salt),
                (start, soil.ec_e.value), start + years[: ahead.shape[1]], ahead,
                tuple(each for each in levels if each.name == "ec_e_limit"),
                settles=outlook.salt_settles if outlook is not None else None)  # fmt: skip


def _salt_path(now: float, added: float, leached: float, water: float, years: Array) -> Array:
    """ECe year by year: what is spread comes on top, then drainage takes its share of the excess
    over what the water alone would leave."""
    kept = 1 - leached
    settled = added * kept / leached if leached > 0 else np.inf
    if not np.isfinite(settled):
        return np.asarray(now + added * years)
    return np.asarray(water + settled + (now - water - settled) * kept**years)


def _matter(ledger: BedLedger, row: int, horizon: int) -> Path | None:
    soil, book = ledger.soils[row], ledger.organic_matter
    if soil.organic_matter is None:
        return None
    percent = 100 / soil.layer
    kept = (book.incoming["materials"][row] - book.outgoing["rotted_fresh"][row]) * percent
    opening = float(book.opening[row]) * percent
    if opening <= 0:
        return None
    share = 1 - float(book.outgoing["mineralized"][row][0]) * percent / opening
    seasons = list(ledger.seasons)
    back = soil.sampled is not None and soil.sampled.year in seasons
    tested_at = seasons.index(soil.sampled.year) + 1 if back and soil.sampled is not None else 0
    stocks = np.full(len(seasons) + 1, soil.organic_matter)
    for at in range(tested_at, 0, -1):
        stocks[at - 1] = (stocks[at] - kept[at - 1]) / share
    for at in range(tested_at, len(seasons)):
        stocks[at + 1] = stocks[at] * share + kept[at]
    past = tuple(zip([float(seasons[0] - 1), *map(float, seasons)], map(float, stocks),
                     strict=True))  # fmt: skip
    past = tuple(each for each in past if each[1] >= 0)
    years = np.arange(horizon + 1, dtype=np.float64)
    ahead = np.zeros((3, 0))
    added = kept[ledger.told[row]]
    if added.size:
        ends = np.array([added.min(), added.mean(), added.max()])
        worn = np.array([sum(share**each for each in range(int(year))) for year in years])
        ahead = past[-1][1] * share**years + ends[:, None] * worn
        ahead = ahead[:, ahead[2] <= past[-1][1] + _MOST_MATTER]
    tested = None if soil.sampled is None else (float(soil.sampled.year), soil.organic_matter)
    return Path("organic_matter", "%", "reckoned_back" if back else "level", past, tested,
                past[-1][0] + years[: ahead.shape[1]], ahead, ())  # fmt: skip


def _past(
    ledger: BedLedger, row: int, account: Account, per_unit: float
) -> tuple[tuple[float, float], ...]:
    """Opening and closing balances of the seasons, the opening as the year before the first."""
    stocks = np.concatenate([account.opening[row : row + 1], account.closing[row]])
    years = [ledger.seasons[0] - 1, *ledger.seasons]
    return tuple(
        (float(year), float(stock) * per_unit)
        for year, stock in zip(years, stocks, strict=True)
        if not np.isnan(stock)
    )


def _ends(figure: Figure) -> Array:
    return np.array([figure.least, figure.value, figure.most])

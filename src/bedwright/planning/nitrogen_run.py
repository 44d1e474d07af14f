"""One run of a bed's nitrogen: its sources as arrays of the release engine."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.pools import ammonia_share, class_parameter
from bedwright.feeding.release import Pools, SeasonNitrogen, Weeks, rates_by_week, season_nitrogen
from bedwright.feeding.response import mineralization_rate_campbell_1981
from bedwright.feeding.uptake import UptakeCurve, uptake_by_week
from bedwright.garden.model_climate import Climate
from bedwright.planning.drained import Drained
from bedwright.planning.nitrogen_sources import NitrogenSource
from bedwright.planning.soil_warmth import soil_warmth
from bedwright.reference import Library
from bedwright.working import Figure

Array = NDArray[np.float64]
CASES = ("low", "typical", "high")
_ZERO_CELSIUS = 273.15  # K
_WEEK = 7  # days


@dataclass(frozen=True)
class Setting:
    """What a run is made for, apart from its dates.

    ``wetted`` is the share of the bed in which what was spread before planting is at work;
    ``leached`` the share of the mineral nitrogen that a week's drainage takes after setting out,
    where ``drained``, the bed's water balance, does not tell it week by week.
    """

    sources: tuple[NitrogenSource, ...]
    climate: Climate
    curve: UptakeCurve
    need: Figure
    set_out: date
    season_days: float
    ph: float | None
    wetted: Figure
    leached: float
    library: Library
    drained: Drained | None = None


@dataclass(frozen=True)
class Run:
    """A run with its calendar. ``rest`` weeks lie before setting out; ``columns`` names the
    source behind each column of the engine's materials; ``credits`` are (origin, by case and
    week).
    """

    starts: tuple[date, ...]
    rest: int
    kelvin: Array
    demand: Array
    season: SeasonNitrogen
    columns: tuple[NitrogenSource, ...]
    credits: tuple[tuple[str, Array], ...]


@dataclass(frozen=True)
class _Column:
    source: NitrogenSource
    share: float
    week: int


def run_season(
    setting: Setting,
    rest: int,
    dressings: tuple[int, ...] = (),
    *,
    parts: int | None = None,
    placement: str = "in_1_day",
) -> Run:
    """Run a bed's season with so many weeks of rest and side-dressings in these weeks.

    Side-dressed material is split evenly into ``parts``, one for each dressing where None; a
    run with fewer dressings than parts leaves the rest ungiven. Weeks count from spreading.
    """
    weeks = rest + ceil(setting.season_days / _WEEK)
    first = setting.set_out - timedelta(days=_WEEK * rest)
    starts = tuple(first + timedelta(days=_WEEK * week) for week in range(weeks))
    kelvin = soil_warmth(setting.climate, starts, setting.library).kelvin
    since = np.array([_WEEK * (week - rest) for week in range(weeks)], dtype=np.float64)
    demand = uptake_by_week(setting.need.value, setting.curve, setting.season_days, since)
    columns = _columns(setting.sources, dressings, weeks, parts or len(dressings))
    pools = _pools(columns, setting, kelvin, placement)
    credits = _credits(setting, kelvin, rest)
    season = season_nitrogen(pools, _weeks(setting, kelvin, demand, starts, rest, credits))
    named = tuple(each.source for each in columns)
    return Run(starts, rest, kelvin, demand, season, named, credits)


def ends(figure: Figure) -> Array:
    """The low, typical and high value of a figure, as the cases of a run."""
    return np.array([figure.least, figure.value, figure.most])


def _columns(
    sources: tuple[NitrogenSource, ...], dressings: tuple[int, ...], weeks: int, parts: int
) -> list[_Column]:
    columns: list[_Column] = []
    for each in sources:
        if each.counted == "credit" or (each.material is not None and each.pools is None):
            continue
        if each.when != "later":
            columns.append(_Column(each, 1.0, 0))
            continue
        columns += [_Column(each, 1 / parts, min(week, weeks - 1)) for week in dressings]
    return columns


def _pools(columns: list[_Column], setting: Setting, kelvin: Array, placement: str) -> Pools:
    shape = (len(CASES), len(columns))
    arrays = {
        name: np.zeros(shape)
        for name in ("mineral", "fast", "slow", "tie_up", "wetted", "ammonia", "surface")
    }
    k_fast, k_slow = np.zeros(shape), np.zeros(shape)
    q10_fast, q10_slow = np.ones(shape), np.ones(shape)
    reference = np.full(shape, _ZERO_CELSIUS + 25.0)
    for at, column in enumerate(columns):
        total = ends(column.source.total) * column.share
        arrays["wetted"][:, at] = 1.0 if column.source.when == "later" else ends(setting.wetted)
        pools = column.source.pools
        if pools is None:
            arrays["fast"][:, at] = total
            continue
        organic = total * (1 - ends(pools.mineral))
        arrays["mineral"][:, at] = total - organic
        arrays["fast"][:, at] = organic * ends(pools.fast)
        arrays["slow"][:, at] = organic - organic * ends(pools.fast)
        arrays["tie_up"][:, at] = organic * ends(pools.tie_up)[::-1]
        k_fast[:, at], k_slow[:, at] = pools.k_fast.value, pools.k_slow.value
        q10_fast[:, at], q10_slow[:, at] = pools.q10_fast.value, pools.q10_slow.value
        reference[:, at] = _ZERO_CELSIUS + pools.reference.value
        _lose_ammonia(arrays, at, column, setting, kelvin, placement)
    moisture = np.ones_like(kelvin)
    fast_rate = rates_by_week(k_fast, q10_fast, reference, kelvin, moisture)
    for at, column in enumerate(columns):
        if column.source.pools is None:
            fast_rate[:, at, :] = _soil_rate(setting.library, kelvin)
    return Pools(
        mineral=arrays["mineral"],
        fast=arrays["fast"],
        slow=arrays["slow"],
        tie_up=arrays["tie_up"],
        fast_rate=fast_rate,
        slow_rate=rates_by_week(k_slow, q10_slow, reference, kelvin, moisture),
        wetted=arrays["wetted"],
        ammonia=arrays["ammonia"],
        surface_ammonia=arrays["surface"],
        spread=np.array([column.week for column in columns], dtype=np.int_),
    )


def _lose_ammonia(
    arrays: dict[str, Array],
    at: int,
    column: _Column,
    setting: Setting,
    kelvin: Array,
    placement: str,
) -> None:
    """Charge ammonia on what came as ammonium; on what the first week frees for other meals."""
    item = column.source.material
    if item is None:
        return
    condition = weather_of(setting.library, float(kelvin[column.week]), setting.ph)
    share = ends(ammonia_share(setting.library, item, placement, condition))[::-1]
    arrays["ammonia"][:, at] = share
    arrays["surface"][:, at] = share if placement == "surface" else 0.0


def weather_of(library: Library, kelvin: float, ph: float | None) -> str:
    """Which row of the ammonia losses holds: warm and alkaline, cold, or neither."""
    celsius = kelvin - _ZERO_CELSIUS
    alkaline = ph is not None and ph >= library.parameter("alkaline_ph", "-").value
    if alkaline and celsius >= library.parameter("warm_soil", "C").value:
        return "warm_dry"
    return "cool_wet" if celsius <= library.parameter("cold_soil", "C").value else ""


def _soil_rate(library: Library, kelvin: Array) -> Array:
    intercept = class_parameter(library, "soil_organic_matter", "rate_intercept", "-")
    slope = class_parameter(library, "soil_organic_matter", "rate_slope", "K")
    return np.asarray(mineralization_rate_campbell_1981(kelvin, intercept.value, slope.value))


def _growing(kelvin: Array, rest: int) -> Array:
    return (np.arange(len(kelvin)) >= rest).astype(np.float64)


def _credits(setting: Setting, kelvin: Array, rest: int) -> tuple[tuple[str, Array], ...]:
    """Each credit by case and week: at once, evenly with the water, or as warmth allows."""
    growing = _growing(kelvin, rest)
    warm = _soil_rate(setting.library, kelvin) * growing
    spreads = {
        "at_once": (np.arange(len(kelvin)) == 0).astype(np.float64),
        "with_water": growing / growing.sum(),
        "with_warmth": warm / warm.sum(),
    }
    return tuple(
        (each.origin, ends(each.total)[:, None] * spreads[each.when][None, :])
        for each in setting.sources
        if each.counted == "credit"
    )


def _weeks(
    setting: Setting,
    kelvin: Array,
    demand: Array,
    starts: tuple[date, ...],
    rest: int,
    credits: tuple[tuple[str, Array], ...],
) -> Weeks:
    cases, weeks = len(CASES), len(kelvin)
    income = sum((weekly for _, weekly in credits), start=np.zeros((cases, weeks)))
    if setting.drained is None:
        leached = np.tile(setting.leached * _growing(kelvin, rest), (cases, 1))
    else:
        leached = setting.drained.shares(starts)
    bound = class_parameter(setting.library, "tied_up", "k_slow", "1/week")
    q10 = class_parameter(setting.library, "tied_up", "q10_slow", "-")
    reference = class_parameter(setting.library, "tied_up", "reference_temperature", "C")
    back = rates_by_week(
        np.array([[bound.value]]),
        np.array([[q10.value]]),
        np.array([[_ZERO_CELSIUS + reference.value]]),
        kelvin,
        np.ones(weeks),
    )[0]
    return Weeks(
        demand=np.tile(demand, (cases, 1)),
        income=income,
        leached=leached,
        return_rate=np.tile(back, (cases, 1)),
    )

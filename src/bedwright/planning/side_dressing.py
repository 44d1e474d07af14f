"""When a bed runs short of nitrogen, when to side-dress with what, and how long to let it rest."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.pools import MaterialPools, material_pools
from bedwright.feeding.response import temperature_factor_q10
from bedwright.planning.nitrogen_run import CASES, Run, Setting, run_season
from bedwright.planning.nitrogen_sources import NitrogenSource
from bedwright.planning.prescription import Prescription
from bedwright.working import Figure

LONGEST_REST = 8  # weeks that are tried: judgement, longer is the season before
_LOW, _TYPICAL = CASES.index("low"), CASES.index("typical")
_WEEK = 7  # days
_ZERO_CELSIUS = 273.15  # K
_FIRST_WEEKS = 4  # after setting out, which the rest must provide for: judgement
_SAME_DAYS = 3.5  # half a week: nearer than that a rest agrees with the habit: judgement
_NOTHING = 1e-9  # kg/m2
_BURNS = frozenset({"meal", "manure"})  # kinds that give off ammonia while they rot


@dataclass(frozen=True)
class Shortage:
    """The first week in which the soil holds less nitrogen than the crop would take up.

    ``week`` counts from setting out, the first is 1. ``total`` is what is missing over the whole
    season [kg/m2]. ``case`` is low, typical or high supply.
    """

    case: str
    week: int
    on: date
    total: float


@dataclass(frozen=True)
class Dressing:
    """One side-dressing: the day, and each material with its mass for the bed [kg]."""

    on: date
    materials: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Rest:
    """The rest between spreading and setting out [day], and how the habit compares.

    ``quick_half`` is the time in which half of the quickest pool is out, ``for_roots`` what
    meals and manures need until their ammonia is past, ``for_supply`` what the crop's first
    weeks need. None where nothing of the kind is spread, or where no rest makes up for it.
    ``verdict`` says how the rest needed compares with the habit.
    """

    needed: float
    quick_half: float | None
    for_roots: float | None
    for_supply: float | None
    habit: Figure
    verdict: Literal["agrees", "less", "more"]


def first_shortage(run: Run, case: str, setting: Setting) -> Shortage | None:
    """When a run falls short, or None where less is missing than the tolerance."""
    missing = run.season.short[CASES.index(case)]
    total = float(missing.sum())
    if total <= max(_NOTHING, _tolerated(setting)):
        return None
    week = int(np.argmax(missing > _NOTHING))
    return Shortage(case, week - run.rest + 1, run.starts[week], total)


def _tolerated(setting: Setting) -> float:
    return setting.library.parameter("short_tolerance", "-").value * setting.need.value


def dressing_weeks(setting: Setting, rest: int, count: int) -> tuple[int, ...]:
    """The weeks of ``count`` side-dressings, each ahead of the week that would run short.

    They are dated by the low supply, so that a bed that frees little is not left to starve. The
    lead is that of the table, or the time in which half of the quickest side-dressed pool
    is out where that is longer. Where nothing runs short the dressings are spread evenly.
    """
    later = [each for each in setting.sources if each.when == "later" and each.pools is not None]
    if not later or count == 0:
        return ()
    growing = math.ceil(setting.season_days / _WEEK)
    last = rest + growing - 1
    weeks: list[int] = []
    for at in range(count):
        tried = run_season(setting, rest, tuple(weeks), parts=count)
        missing = tried.season.short[_LOW]
        week = rest + round((at + 1) * growing / (count + 1))
        if missing.max() > _NOTHING:
            short = int(np.argmax(missing > _NOTHING))
            week = short - _lead(setting, later, float(tried.kelvin[short]))
        floor = weeks[-1] + 1 if weeks else rest
        weeks.append(min(max(week, floor), last))
    return tuple(weeks)


def _lead(setting: Setting, later: list[NitrogenSource], kelvin: float) -> int:
    lead = setting.library.parameter("side_dress_lead", "week").value
    halves = [_half_days(each, kelvin) or 0.0 for each in later]
    return math.ceil(max(lead, min(halves) / _WEEK))


def _half_days(source: NitrogenSource, kelvin: float) -> float | None:
    """Days in which half of a source's fast pool is out; None where it has none."""
    pools = source.pools
    if pools is None or pools.fast.value == 0 or pools.k_fast.value == 0:
        return None
    factor = temperature_factor_q10(
        kelvin, _ZERO_CELSIUS + pools.reference.value, pools.q10_fast.value
    )
    return float(_WEEK * math.log(2) / (pools.k_fast.value * factor))


def dressings_of(plan: Prescription, run: Run, weeks: tuple[int, ...]) -> tuple[Dressing, ...]:
    """The side-dressings with their days and masses; every material is split evenly."""
    given = [(line.material.key, line.later.value) for line in plan.lines if line.later.value > 0]
    return tuple(
        Dressing(run.starts[week], tuple((key, mass / len(weeks)) for key, mass in given))
        for week in weeks
    )


def extra_dressing(
    plan: Prescription, setting: Setting, run: Run, short: Shortage
) -> Dressing | None:
    """One more dressing that frees what is missing before the last harvest.

    Taken from what the bed is given anyway and may be side-dressed, the material that still
    frees most of its nitrogen; None where there is none, or its greatest rate stands in the way.
    """
    short_week = run.starts.index(short.on)
    best: tuple[float, Dressing] | None = None
    for line in plan.lines:
        pools = material_pools(setting.library, line.material)
        content = line.supply.n_total.value
        if line.material.timing not in ("either", "sidedress") or pools is None or content <= 0:
            continue
        source = NitrogenSource(
            line.material.key, "pool", "later", line.supply.n_total, line.material, pools
        )
        lead = _lead(setting, [source], float(run.kelvin[short_week]))
        week = max(run.rest, short_week - lead)
        out = _out_by_the_end(pools, run.kelvin[week:])
        if out <= 0:
            continue
        per_area = short.total / (out * content)
        most = line.supply.max_rate
        if most is not None and line.per_area + per_area > most.value:
            continue
        if best is None or out > best[0]:
            mass = per_area * plan.evidence.area.value
            best = out, Dressing(run.starts[week], ((line.material.key, mass),))
    return best[1] if best is not None else None


def _out_by_the_end(pools: MaterialPools, kelvin: NDArray[np.float64]) -> float:
    """Share of a material's nitrogen that is out after these weeks in moist soil."""
    reference = _ZERO_CELSIUS + pools.reference.value

    def freed(rate: float, q10: float) -> float:
        warmth = temperature_factor_q10(kelvin, reference, q10)
        return float(-np.expm1(-rate * warmth.sum()))

    fast = freed(pools.k_fast.value, pools.q10_fast.value)
    slow = freed(pools.k_slow.value, pools.q10_slow.value)
    organic = pools.fast.value * fast + (1 - pools.fast.value) * slow - pools.tie_up.value * fast
    return pools.mineral.value + (1 - pools.mineral.value) * organic


def rest_needed(setting: Setting, run: Run, habit: Figure) -> Rest:
    """The rest that the quick pool and the crop need, beside the rule of the trade.

    Parameters
    ----------
    setting : of the bed
    run : any run of it; the soil's warmth is that of the week before setting out
    habit : the static rule [week]
    """
    kelvin = float(run.kelvin[max(0, run.rest - 1)])
    spread = [each for each in setting.sources if each.when == "preplant"]
    halves = [half for each in spread if (half := _half_days(each, kelvin)) is not None]
    roots = [_roots_days(each, setting, kelvin) for each in spread if _burns(each)]
    supply = _supply_days(setting)
    needed = max([*roots, supply or 0.0], default=0.0)
    rule = habit.value * _WEEK
    verdict: Literal["agrees", "less", "more"] = "less" if needed < rule else "more"
    if abs(needed - rule) <= _SAME_DAYS:
        verdict = "agrees"
    return Rest(
        needed=needed,
        quick_half=min(halves, default=None),
        for_roots=max(roots, default=None),
        for_supply=supply,
        habit=habit,
        verdict=verdict,
    )


def _burns(source: NitrogenSource) -> bool:
    item, pools = source.material, source.pools
    return (
        item is not None
        and pools is not None
        and item.kind in _BURNS
        and pools.fast.value + pools.mineral.value > 0
    )


def _roots_days(source: NitrogenSource, setting: Setting, kelvin: float) -> float:
    """Days until the ammonia of a meal or manure is past, longer in cold soil."""
    peak = setting.library.parameter("ammonia_peak", "day").value
    warm = setting.library.parameter("ammonia_peak_temperature", "C").value
    q10 = source.pools.q10_fast.value if source.pools is not None else 1.0
    return float(peak / temperature_factor_q10(kelvin, _ZERO_CELSIUS + warm, q10))


def _supply_days(setting: Setting) -> float | None:
    """The least rest for which the crop's first weeks find their nitrogen; None if none does."""
    for rest in range(LONGEST_REST + 1):
        run = run_season(setting, rest)
        early = run.season.short[_TYPICAL, rest : rest + _FIRST_WEEKS].sum()
        if early <= _NOTHING:
            return float(rest * _WEEK)
    return None

"""What becomes of a planting: every candidate date in every year of the record, one crop at a time.

Days are counted on one axis, the record's first day being 0. Candidates are days on that axis,
one row per date and one column per year; ``turns`` holds for each year the day at which spring
ends and autumn begins (midsummer). Nothing here knows of months or hemispheres.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.bolting import BoltingRule, bolting_risk
from bedwright.crops.bulbing import BulbingRule, bulb_harvest
from bedwright.crops.emergence import EmergenceTable, emergence_day, soil_ready
from bedwright.crops.frost_damage import Cover, FrostAhead
from bedwright.crops.stages import day_reached, degree_days_held, running_total, sum_between

FloatArray = NDArray[np.float64]
_NO_COVER = Cover()
_NO_RULE = BoltingRule()


@dataclass(frozen=True)
class Weather:
    """The continuous record: daily arrays of one length, unknown days NaN.

    ``soil_c`` [C] is the daily mean at the depth of seed and root; ``t_mean_c`` [C] is taken as
    the middle of maximum and minimum where it is None; ``day_length_h`` [h] may be None.
    """

    t_max_c: FloatArray
    t_min_c: FloatArray
    soil_c: FloatArray
    t_mean_c: FloatArray | None = None
    day_length_h: FloatArray | None = None

    def __post_init__(self) -> None:
        wrong = [
            f"{each.name} has the shape {np.shape(value)}, should have {self.t_max_c.shape}"
            for each in fields(self)
            if (value := getattr(self, each.name)) is not None
            and np.shape(value) != self.t_max_c.shape
        ]
        if wrong or self.t_max_c.ndim != 1 or self.t_max_c.size == 0:
            raise ValueError("; ".join(wrong) or "the record must be one row of days, not empty")
        with np.errstate(invalid="ignore"):
            if np.any(self.t_min_c > self.t_max_c):
                raise ValueError("t_min_c is above t_max_c on some day")

    @property
    def mean_c(self) -> FloatArray:
        """The daily mean of the air [C]."""
        if self.t_mean_c is not None:
            return self.t_mean_c
        return np.asarray((self.t_max_c + self.t_min_c) / 2)


@dataclass(frozen=True)
class Crop:
    """What a planting of one crop needs and stands. What is not known is NaN or None.

    ``heat_to_flower``, ``heat_to_harvest`` [degC d] count from planting above ``base_c``, extremes
    held below ``upper_c`` [C]; without flowers to wait for, ``heat_to_flower`` is NaN. ``kill_c``:
    low, usual and high end of the killing minimum [C]; ``damage_c`` [C]. The soil must have had
    ``soil_c`` [C] on each of the last ``soil_days``. ``fruit_days``: from set
    to picking [days]. ``sown``: in the place where it grows, exposed to frost when it is up.
    ``bulbing``: of a bulb that waits for long days; it counts where the length of days is known.
    """

    base_c: float
    upper_c: float
    heat_to_harvest: float
    heat_to_flower: float = np.nan
    fruit_days: float = 0.0
    span_days: float = 0.0
    kill_c: tuple[float, float, float] = (np.nan, np.nan, np.nan)
    damage_c: float = np.nan
    soil_c: float = np.nan
    soil_days: int = 3
    sown: bool = False
    emergence: EmergenceTable | None = None
    bolting: BoltingRule = _NO_RULE
    bulbing: BulbingRule | None = None


@dataclass(frozen=True)
class Rules:
    """How the planting is judged: the longest a crop may take [days], the days over which heat
    at the start (under a cover or bare) is counted, and the maximum above which it counts [C].
    """

    longest_days: int = 400
    heat_watch_days: int = 42
    heat_limit_c: float = np.inf


_USUAL = Rules()


@dataclass(frozen=True)
class Outcomes:
    """What became of each planting, (dates, years); NaN where the record cannot tell.

    Days are indices on the record's axis. ``killed``, ``killed_low``, ``killed_high``: 1 where
    spring frost kills (low: only where it is surely cold enough; high: where it may be), else 0.
    ``damaged``: leaves or growth hurt by spring frost, death included. ``soil_warm``: 1 or 0.
    ``lost``: 1 where no harvest comes (killed in spring, or by frost before it, or not ripe in
    time). ``hot_days``: days too hot for the plants as covered or bare. ``set_days``: days of
    good set, whose fruit still ripens [full days' worth]. ``bolted``: share. ``margin``: days
    from first harvest to the first autumn frost. ``harvest_days``: days on which it is picked, 0
    where lost. ``first_flower``, ``first_harvest``, ``last_harvest`` and ``days_to_harvest`` are
    NaN where it is lost or never comes. ``known`` says which plantings could be followed.
    """

    killed: FloatArray
    killed_low: FloatArray
    killed_high: FloatArray
    damaged: FloatArray
    soil_warm: FloatArray
    lost: FloatArray
    emergence: FloatArray
    cover_off: FloatArray
    hot_days: FloatArray
    first_flower: FloatArray
    first_harvest: FloatArray
    last_harvest: FloatArray
    days_to_harvest: FloatArray
    set_days: FloatArray
    bolted: FloatArray
    margin: FloatArray
    harvest_days: FloatArray
    known: NDArray[np.bool_]


def planting_outcomes(
    weather: Weather,
    crop: Crop,
    set_score: FloatArray | None,
    starts: NDArray[np.int_],
    turns: NDArray[np.int_],
    *,
    cover: Cover = _NO_COVER,
    rules: Rules = _USUAL,
) -> Outcomes:
    """Follow a planting of one crop on each date in each year.

    Parameters
    ----------
    weather : the record
    crop : what it needs and stands
    set_score : score of each day for fruit set [-], (days,); None for a crop without fruit
    starts : days of sowing or setting out [index], (dates, years); below 0: not in the record
    turns : midsummer of each year [index], (years,)
    cover : over the plants from the day of planting
    rules : how it is judged

    Raises ValueError where shapes do not agree.
    """
    _check(weather, set_score, starts, turns)
    days = weather.t_max_c.size
    inside = (starts >= 0) & (starts < days)
    start = np.where(inside, starts, np.nan)
    turn = np.broadcast_to(turns.astype(np.float64), starts.shape)
    up = _emerged(weather, crop, start)
    heat = _Heat.of(weather, crop, cover)
    off = heat.cover_off(start, crop, cover)
    flower = heat.reached(start, off, crop.heat_to_flower)
    score = None if set_score is None else running_total(set_score)
    harvest = _first_harvest(heat, crop, score, start, off, flower, weather.day_length_h)
    harvest = np.where(harvest - start <= rules.longest_days, harvest, np.nan)
    death = {
        each: FrostAhead.of(weather.t_min_c, threshold, cover.frost_k)
        for each, threshold in zip(("low", "usual", "high"), crop.kill_c, strict=True)
    }
    damage = FrostAhead.of(weather.t_min_c, crop.damage_c, cover.frost_k)
    spring_end = np.minimum(turn, days)
    spring = {name: ahead.first(up, off) < spring_end for name, ahead in death.items()}
    dies = death["usual"].first(up, off)
    hurt = np.minimum(damage.first(up, off), dies) < spring_end
    autumn = death["usual"].first(np.fmax(up, turn), off)
    alive = ~np.isnan(up) & ~np.isnan(harvest) & (harvest < dies)
    wanted = np.where(alive, harvest + np.maximum(crop.span_days, 1) - 1, np.nan)
    last = np.minimum(wanted, dies - 1)
    known = inside & _told(weather, crop, start, up, dies, wanted, turn, rules)
    lost = ~alive
    end = np.where(alive, harvest, np.minimum(dies, start + rules.longest_days))
    return Outcomes(
        killed=_flag(spring["usual"], known),
        killed_low=_flag(spring["low"], known),
        killed_high=_flag(spring["high"], known),
        damaged=_flag(hurt, known),
        soil_warm=soil_ready(weather.soil_c, start, crop.soil_c, crop.soil_days),
        lost=_flag(lost, known),
        emergence=_kept(up, known),
        cover_off=_kept(off, known),
        hot_days=_kept(_hot(weather, start, cover, rules), known),
        first_flower=_kept(np.where(flower < dies, flower, np.nan), known),
        first_harvest=_kept(np.where(alive, harvest, np.nan), known),
        last_harvest=_kept(last, known),
        days_to_harvest=_kept(np.where(alive, harvest - start, np.nan), known),
        set_days=_kept(_set_days(score, crop, flower, last, alive), known),
        bolted=_kept(
            bolting_risk(crop.bolting, weather.mean_c, weather.day_length_h, start, end), known
        ),
        margin=_kept(np.where(autumn < days, autumn - harvest, np.nan), known),
        harvest_days=_kept(np.where(alive, last - harvest + 1, 0.0), known),
        known=known,
    )


@dataclass(frozen=True)
class _Heat:
    """Running totals of a crop's heat [degC d], bare and under the cover, and of hot days there."""

    bare: FloatArray
    covered: FloatArray
    hot: FloatArray

    @staticmethod
    def of(weather: Weather, crop: Crop, cover: Cover) -> _Heat:
        t_max, t_min = weather.t_max_c, weather.t_min_c
        bare = running_total(degree_days_held(t_max, t_min, crop.base_c, crop.upper_c))
        hot = running_total(t_max + cover.day_gain_k > cover.heat_limit_c)
        if cover.day_gain_k == 0 and cover.frost_k == 0:
            return _Heat(bare, bare, hot)
        warm = degree_days_held(
            t_max + cover.day_gain_k, t_min + cover.frost_k, crop.base_c, crop.upper_c
        )
        return _Heat(bare, running_total(warm), hot)

    def cover_off(self, start: FloatArray, crop: Crop, cover: Cover) -> FloatArray:
        """The first day without the cover [index]."""
        off = start + cover.longest_days
        off = np.fmin(off, day_reached(self.hot, start, cover.hot_days))
        if cover.off_at_flower:
            off = np.fmin(off, day_reached(self.covered, start, crop.heat_to_flower))
        return np.where(np.isnan(start), np.nan, np.maximum(off, start))

    def reached(self, start: FloatArray, off: FloatArray, required: float) -> FloatArray:
        """The day on which the heat since planting reaches what is required [index]."""
        under = day_reached(self.covered, start, required)
        gained = sum_between(self.covered, start, off)
        after = day_reached(self.bare, off, required - gained)
        return np.where(under < off, under, after)


def _check(
    weather: Weather,
    set_score: FloatArray | None,
    starts: NDArray[np.int_],
    turns: NDArray[np.int_],
) -> None:
    if starts.ndim != 2 or turns.shape != starts.shape[1:]:
        raise ValueError(
            f"starts has the shape {starts.shape} and turns {turns.shape}; "
            "should be (dates, years) and (years,)"
        )
    if set_score is not None and set_score.shape != weather.t_max_c.shape:
        raise ValueError(f"set_score has the shape {set_score.shape}, not that of the record")


def _emerged(weather: Weather, crop: Crop, start: FloatArray) -> FloatArray:
    """The day from which frost finds leaves; with no table of emergence, from sowing on."""
    if not crop.sown or crop.emergence is None:
        return start
    return emergence_day(crop.emergence, weather.soil_c, start)


def _first_harvest(
    heat: _Heat,
    crop: Crop,
    score: FloatArray | None,
    start: FloatArray,
    off: FloatArray,
    flower: FloatArray,
    day_length_h: FloatArray | None,
) -> FloatArray:
    """The first picking: by heat alone, by heat after the first full day's worth of set, or by
    heat after the days have become long enough for a bulb."""
    if crop.bulbing is not None and day_length_h is not None:
        return bulb_harvest(
            crop.bulbing,
            day_length_h,
            heat.bare,
            start,
            lambda need: heat.reached(start, off, need),
        )
    if np.isnan(crop.heat_to_flower) or score is None:
        return heat.reached(start, off, crop.heat_to_harvest)
    first_set = day_reached(score, flower, 1.0)
    return day_reached(heat.bare, first_set + 1, crop.heat_to_harvest - crop.heat_to_flower)


def _set_days(
    score: FloatArray | None,
    crop: Crop,
    flower: FloatArray,
    last: FloatArray,
    alive: NDArray[np.bool_],
) -> FloatArray:
    """Days of good set from the first flower to the last whose fruit is still picked; 0 if lost."""
    if score is None or np.isnan(crop.heat_to_flower):
        return np.full(flower.shape, np.nan)
    total = sum_between(score, flower, last - crop.fruit_days + 1)
    return np.where(alive, total, 0.0)


def _hot(weather: Weather, start: FloatArray, cover: Cover, rules: Rules) -> FloatArray:
    """Days above the heat limit while a cover could stand, with its gain; a fixed count of days."""
    stands = min(cover.longest_days, rules.heat_watch_days)
    bare = running_total(weather.t_max_c > rules.heat_limit_c)
    covered = running_total(weather.t_max_c + cover.day_gain_k > rules.heat_limit_c)
    under = sum_between(covered, start, start + stands)
    return np.asarray(under + sum_between(bare, start + stands, start + rules.heat_watch_days))


def _told(
    weather: Weather,
    crop: Crop,
    start: FloatArray,
    up: FloatArray,
    dies: FloatArray,
    wanted: FloatArray,
    turn: FloatArray,
    rules: Rules,
) -> NDArray[np.bool_]:
    """Whether the record is whole and long enough to say what became of the planting."""
    days = weather.t_max_c.size
    latest = start + rules.longest_days
    end = np.fmin(np.where(np.isnan(wanted), latest, wanted), dies)
    enough = (dies < days) | ((end < days) & (turn <= days))
    gaps = running_total(np.isnan(weather.t_max_c) | np.isnan(weather.t_min_c))
    whole = sum_between(gaps, start, end + 1) == 0
    if crop.sown and crop.emergence is not None:
        soil = running_total(np.isnan(weather.soil_c))
        risen = np.fmin(np.where(np.isnan(up), latest, up), latest)
        whole &= sum_between(soil, start, risen + 1) == 0
    return np.asarray(whole & enough)


def _flag(happens: NDArray[np.bool_], known: NDArray[np.bool_]) -> FloatArray:
    return np.where(known, happens.astype(np.float64), np.nan)


def _kept(values: FloatArray, known: NDArray[np.bool_]) -> FloatArray:
    return np.where(known, values, np.nan)

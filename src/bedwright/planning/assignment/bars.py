"""What keeps a crop from a bed before anything is chosen: each rule with its reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from bedwright.crops.growing import growing
from bedwright.crops.soil_borne import SoilBorne
from bedwright.garden import Document
from bedwright.planning.assignment.intervals import Intervals, years_of
from bedwright.planning.assignment.model import Bar, Candidate, Option, Past, Unit
from bedwright.planning.findings import Finding, finding
from bedwright.planning.rotation.problem import BoolArray
from bedwright.reference import Library
from bedwright.working import Figure, Source

Light = Callable[[str], Sequence[float] | None]
_DAYS_OF_MONTH = 30.4


@dataclass(frozen=True, eq=False)
class Setting:
    """What the rules look at: units, crops, options, and what grew and stands on the units."""

    document: Document
    library: Library
    units: tuple[Unit, ...]
    candidates: tuple[Candidate, ...]
    options: tuple[Option, ...]
    pasts: tuple[Past, ...]

    def crop(self, option: int) -> Candidate:
        """The crop of an option."""
        return self.candidates[self.options[option].candidate]

    def by_crop(self, told: Callable[[int, Candidate], bool]) -> BoolArray:
        """Whether a rule of unit and crop holds, (units, options)."""
        table = np.array(
            [[told(unit, each) for each in self.candidates] for unit in range(len(self.units))],
            dtype=bool,
        ).reshape(len(self.units), len(self.candidates))
        return table[:, [each.candidate for each in self.options]]

    def none(self) -> BoolArray:
        """Nothing barred, (units, options)."""
        return np.zeros((len(self.units), len(self.options)), dtype=bool)


def family_bar(setting: Setting, intervals: Intervals) -> Bar:
    """A crop of the same family stood here too few years ago."""
    years = np.array([each.year for each in setting.options], dtype=np.int64)
    barred = setting.none()
    for past in setting.pasts:
        away = intervals.families.get(past.family)
        if away is None:
            continue
        alike = np.array([setting.crop(at).family == past.family for at in range(years.size)])
        barred[past.unit] |= alike & (np.abs(years - past.year) <= away)

    def say(unit: int, option: int) -> Finding:
        crop, year = setting.crop(option), setting.options[option].year
        away = intervals.families[crop.family]
        last = max(
            (p for p in setting.pasts if p.unit == unit and p.family == crop.family
             and abs(year - p.year) <= away),
            key=lambda each: each.year,
        )  # fmt: skip
        return finding("rotation_family_back", "note", crop=crop.name.lower(), family=crop.family,
                       past=last.name.lower(), year=str(last.year), away=float(away))  # fmt: skip

    return Bar("family", barred, say)


def problem_bars(setting: Setting, intervals: Intervals) -> tuple[Bar, ...]:
    """A recorded disease or pest: crops that never come back, and those that must wait longer."""
    banned, waits = setting.none(), setting.none()
    for unit, found in intervals.problems.items():
        for option, each in enumerate(setting.options):
            crop = setting.crop(option).key
            for problem, _ in found:
                banned[unit, option] |= problem.banned(crop)
                waits[unit, option] |= _waits(setting, unit, each.year, crop, problem, found)

    def say_banned(unit: int, option: int) -> Finding:
        crop = setting.crop(option)
        problem, year = next((p, y) for p, y in intervals.problems[unit] if p.banned(crop.key))
        return finding("rotation_banned", "note", crop=crop.name.lower(), problem=problem.name,
                       year=str(year), sources=_sources(problem.bans.values()))  # fmt: skip

    def say_waits(unit: int, option: int) -> Finding:
        crop, year = setting.crop(option), setting.options[option].year
        found = intervals.problems[unit]
        problem = next(p for p, _ in found if _waits(setting, unit, year, crop.key, p, found))
        return finding("rotation_problem_waits", "note", crop=crop.name.lower(),
                       problem=problem.name, away=float(years_of(problem, crop.key) or 0),
                       year=str(_last_host(setting, unit, problem, found)),
                       sources=_sources(problem.years.values()))  # fmt: skip

    return Bar("banned", banned, say_banned), Bar("problem", waits & ~banned, say_waits)


def _last_host(
    setting: Setting, unit: int, problem: SoilBorne, found: tuple[tuple[SoilBorne, int], ...]
) -> int:
    seen = max(year for each, year in found if each.key == problem.key)
    fed = [p.year for p in setting.pasts if p.unit == unit and problem.feeds(p.crop)]
    return max([seen, *fed])


def _waits(
    setting: Setting,
    unit: int,
    year: int,
    crop: str,
    problem: SoilBorne,
    found: tuple[tuple[SoilBorne, int], ...],
) -> bool:
    if crop not in problem.hosts:
        return False
    away = years_of(problem, crop)
    return away is not None and abs(year - _last_host(setting, unit, problem, found)) <= away


def _sources(figures: Iterable[Figure]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(source for each in figures for source in each.sources))


def occupied_bars(
    setting: Setting, free: tuple[tuple[int, int, str | None], ...], without: frozenset[str]
) -> tuple[Bar, ...]:
    """Perennials that still stand, crops not yet cleared, beds kept free, and beds out of use."""
    perennial, standing, kept, out = (setting.none() for _ in range(4))
    starts = np.array([each.start.toordinal() for each in setting.options], dtype=np.int64)
    years = np.array([each.year for each in setting.options], dtype=np.int64)
    turns = np.array([each.turn or "" for each in setting.options])
    lasting: dict[int, Past] = {}
    for unit, each in enumerate(setting.units):
        own = [past for past in setting.pasts if past.unit == unit and past.until is None]
        last = max(own, key=lambda past: past.year, default=None)
        if last is not None and setting.library.crop(last.crop)["kind"] == "perennial":
            perennial[unit] = True
            lasting[unit] = last
        out[unit] = each.bed in without
    for past in setting.pasts:
        if past.until is not None:
            standing[past.unit] |= starts < past.until.toordinal()
    for unit, year, turn in free:
        kept[unit] |= (years == year) & ((turns == (turn or "")) | (turn is None))

    def say_perennial(unit: int, _: int) -> Finding:
        return finding("rotation_perennial", "note", past=lasting[unit].name.lower())

    def say_standing(unit: int, option: int) -> Finding:
        past = next(p for p in setting.pasts if p.unit == unit and p.until is not None
                    and starts[option] < p.until.toordinal())  # fmt: skip
        assert past.until is not None
        return finding("rotation_standing", "note", past=past.name.lower(),
                       until=past.until.isoformat())  # fmt: skip

    return (
        Bar("perennial", perennial, say_perennial),
        Bar("standing", standing, say_standing),
        Bar("kept_free", kept, lambda unit, option: finding("rotation_kept_free", "note",
            year=str(setting.options[option].year))),
        Bar("out", out, lambda unit, _: finding("rotation_bed_out", "note",
            bed=setting.units[unit].bed)),
    )  # fmt: skip


def light_bar(setting: Setting, light: Light | None) -> Bar:
    """Less light, over the months in which the crop stands, than the least that it needs."""
    barred = setting.none()
    needs = [_need(setting, each) for each in setting.candidates]
    found: dict[tuple[int, int], float] = {}
    if light is not None:
        by_bed = {unit.bed: light(unit.bed) for unit in setting.units}
        for option, each in enumerate(setting.options):
            need = needs[each.candidate]
            if need is None or each.on is None:
                continue
            shares = _months(each)
            for unit, place in enumerate(setting.units):
                months = by_bed[place.bed]
                if months is not None:
                    has = sum(share * months[month] for month, share in shares.items())
                    found[unit, option] = has
                    barred[unit, option] = has < need.least

    def say(unit: int, option: int) -> Finding:
        need = needs[setting.options[option].candidate]
        assert need is not None
        return finding("rotation_too_dark", "note", crop=setting.crop(option).name.lower(),
                       has=found[unit, option], need=need.least, sources=need.sources)  # fmt: skip

    return Bar("light", barred, say)


def _need(setting: Setting, candidate: Candidate) -> Figure | None:
    if candidate.own is not None:
        stated = setting.document.garden.crop[candidate.own].daily_light
        if stated is not None:
            return Figure("daily_light_need", stated, "mol/m2/d", "stated")
    if candidate.life == "plastic":
        return None
    return growing(setting.library, candidate.key).daily_light_need


def _months(option: Option) -> Mapping[int, float]:
    """The share of its days that an option spends in each month, 0 for January."""
    assert option.on is not None
    end = option.last_harvest or option.free_from
    days = max((end - option.on).days, 1)
    counts: dict[int, int] = {}
    for day in range(days):
        month = (option.on + timedelta(days=day)).month - 1
        counts[month] = counts.get(month, 0) + 1
    return {month: count / days for month, count in counts.items()}

"""What stands in each bed and each part of a bed: crop by crop, and month by month."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from typing import Literal

from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document
from bedwright.garden.ground import meet
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.model import Candidate, Unit
from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.assignment.units import units_of
from bedwright.planning.harvest.model import HarvestPlan
from bedwright.planning.harvest.pickings import companion_pickings, pickings_of
from bedwright.planning.harvest.wants import companion_at, want_at
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.turnover.left import left_of
from bedwright.planning.turnover.model import Turnover
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.reference import Library
from bedwright.working import Figure

_DAY = timedelta(days=1)
_MONTHS = 12
_END = date.max


class Doing(StrEnum):
    """What a bed does; where a month sees several, the last of these tells it."""

    EMPTY = "empty"
    RESTING = "resting"  # something was spread and the crop is not in yet
    COVER = "cover"  # a cover crop or plastic
    GROWING = "growing"
    PICKED = "picked"


@dataclass(frozen=True)
class Spell:
    """One crop's time in a bed, or in one ``part`` of it (None: all of it).

    ``first`` is the day of planting, None where it stands already and the day is not stated;
    ``last`` the day by which it is out, None where it stays or nothing tells. ``spread`` is the
    day from which the bed lies made ready for it. ``picked`` are spans of days.
    ``told`` by: the document's ``standing`` crops, the season's ``plan``, or the ``years`` ahead.
    """

    bed: str
    part: int | None
    crop: str
    name: str
    first: date | None
    last: date | None
    spread: date | None
    picked: tuple[tuple[date, date], ...]
    cover: bool
    told: Literal["standing", "plan", "years"]

    def doing(self, begin: date, end: date) -> Doing:
        """What the bed does for this crop from one day to another; what counts most of it."""
        first, last = self.first or date.min, self.last or _END
        if any(a <= end and begin <= min(b, last) for a, b in self.picked):
            return Doing.PICKED
        if first <= end and begin <= last:
            return Doing.COVER if self.cover else Doing.GROWING
        if self.spread is not None and self.spread <= end and begin < first:
            return Doing.RESTING
        return Doing.EMPTY


@dataclass(frozen=True)
class Occupancy:
    """Every crop's time in its bed, in the garden's order and by day.

    ``undated`` are plantings (bed, crop's name) whose day nothing tells: they are in no month.
    ``open_ended`` are standing crops (bed, crop's name) of which no day tells when they are out.
    """

    units: tuple[Unit, ...]
    spells: tuple[Spell, ...]
    undated: tuple[tuple[str, str], ...]
    open_ended: tuple[tuple[str, str], ...]

    def of(self, unit: Unit) -> tuple[Spell, ...]:
        """The crops of a bed or of a part of it, by day."""
        return tuple(
            each
            for each in self.spells
            if each.bed == unit.bed and (each.part is None or each.part == unit.part)
        )


@dataclass(frozen=True)
class Held:
    """One crop in a month: what is done with it, and whether the years ahead alone tell it."""

    crop: str
    name: str
    doing: Doing
    proposed: bool


@dataclass(frozen=True)
class Cell:
    """A bed, or a part of it, in a month. ``held`` are its crops, the earlier first.

    ``beside`` tells that two of them stand there at the same time.
    """

    doing: Doing
    held: tuple[Held, ...]
    beside: bool = False


@dataclass(frozen=True)
class Months:
    """Months by their first days; ``cells`` in the order of ``units``, each with every month."""

    months: tuple[date, ...]
    units: tuple[Unit, ...]
    cells: tuple[tuple[Cell, ...], ...]
    undated: tuple[tuple[str, str], ...]
    open_ended: tuple[tuple[str, str], ...]


def occupancy(
    document: Document,
    library: Library,
    as_of: date,
    plantings: Sequence[Grown],
    turnover: Sequence[Turnover] = (),
    harvest: HarvestPlan | None = None,
    years: YearsAhead | None = None,
) -> Occupancy:
    """What stands where and when.

    A standing crop is out by the day on which the plan has its bed cleared. What the years ahead
    propose is counted in beyond what the season's plan holds itself.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    as_of : the day of reading
    plantings : first crops and second ones, with their days
    turnover : of the standing crops whose beds are needed
    harvest : tells which perennials are not picked yet
    years : the years ahead, None where they are not planned
    """
    tables = timing_tables(library)
    spells: list[Spell] = []
    undated: list[tuple[str, str]] = []
    young = {
        (each.bed, each.crop)
        for crop in (() if harvest is None else harvest.crops)
        for each in crop.plantings
        if each.bears is not None
    }
    for each in plantings:
        crop = candidate_at(document, library, "want", want_at(document, each))
        found = tuple(_planned(each, crop, document, library, tables, young))
        spells += found
        if not found:
            undated.append((each.bed, crop.name))
    standing = list(_standing(document, library, as_of, spells, turnover, tables))
    spells += standing
    if years is not None:
        spells += _proposed(years, tuple(spells))
    units = units_of(document)
    order = {each.id: at for at, each in enumerate(document.garden.bed)}
    spells.sort(key=lambda each: (order[each.bed], each.first or date.min, each.part or 0))
    return Occupancy(
        units,
        tuple(_ended(each, spells) for each in spells),
        tuple(undated),
        tuple(
            (each.bed, each.name)
            for each in standing
            if each.last is None and _ended(each, spells).last is None
        ),
    )


def months_of(found: Occupancy, first: date, count: int = _MONTHS) -> Months:
    """What each bed and part of a bed does in so many months, 1 to 120, from that of ``first``.

    Raises ValueError for another count.
    """
    if not 1 <= count <= 10 * _MONTHS:
        raise ValueError(f"{count} months; there are 1 to {10 * _MONTHS}")
    months = tuple(_month(first, at) for at in range(count))
    return Months(
        months,
        found.units,
        tuple(
            tuple(_cell(found.of(unit), month, _month(month, 1) - _DAY) for month in months)
            for unit in found.units
        ),
        found.undated,
        found.open_ended,
    )


def _month(first: date, ahead: int) -> date:
    years, month = divmod(first.month - 1 + ahead, _MONTHS)
    return date(first.year + years, month + 1, 1)


def _cell(spells: Sequence[Spell], begin: date, end: date) -> Cell:
    seen = [(each, each.doing(begin, end)) for each in spells]
    seen = [(each, doing) for each, doing in seen if doing is not Doing.EMPTY]
    there = [each for each, doing in seen if doing is not Doing.RESTING]
    rank = list(Doing).index
    return Cell(
        max((doing for _, doing in seen), key=rank, default=Doing.EMPTY),
        tuple(Held(each.crop, each.name, doing, each.told == "years") for each, doing in seen),
        any(
            _overlap(one, other, begin, end)
            for at, one in enumerate(there)
            for other in there[at + 1 :]
        ),
    )


def _overlap(one: Spell, other: Spell, begin: date, end: date) -> bool:
    """Whether two crops stand at the same time on some day of a span."""
    first = max(one.first or date.min, other.first or date.min, begin)
    return first <= min(one.last or _END, other.last or _END, end)


def _planned(
    grown: Grown,
    crop: Candidate,
    document: Document,
    library: Library,
    tables: TimingTables,
    young: set[tuple[str, str]],
) -> Iterator[Spell]:
    """A planting of the season's plan and the crop that shares its bed."""
    days = bed_days(grown, tables, library)
    if days is None:
        return
    picked: tuple[tuple[date, date], ...] = ()
    if not grown.covers_ground and (grown.bed, crop.id) not in young:
        picked = tuple((each.first, each.last) for each in pickings_of(days, grown.dates))
    last = max((days.end, *(end for _, end in picked)))
    spread = days.turns[0][0] if days.turns else None
    yield Spell(
        grown.bed, None, crop.key, crop.name, days.start,
        None if crop.life == "perennial" else last, spread, picked, grown.covers_ground, "plan",
    )  # fmt: skip
    layout = grown.layout
    if layout is None or layout.companion_days is None:
        return
    beside = companion_at(document, library, want_at(document, grown))
    both = layout.companion_days
    spans = tuple((each.first, each.last) for each in companion_pickings(both))
    yield Spell(grown.bed, None, beside.key, beside.name, both.start, both.end, None, spans, False,
                "plan")  # fmt: skip


def _standing(
    document: Document,
    library: Library,
    as_of: date,
    planned: Sequence[Spell],
    turnover: Sequence[Turnover],
    tables: TimingTables,
) -> Iterator[Spell]:
    """The crops that the document says stand now, without those that the plan holds itself."""
    ways = {each.at: each for each in turnover}
    beds = {each.id: each for each in document.garden.bed}
    for at, stated in enumerate(document.garden.standing):
        crop = candidate_at(document, library, "standing", at)
        if any(
            (each.bed, each.crop) == (stated.bed, crop.key)
            and each.first is not None
            and each.first <= as_of
            for each in planned
        ):
            continue
        clear = ways[at].next.clear if at in ways else None
        bed = beds[stated.bed]
        share = 1 if stated.part is None else bed.parts
        area = Figure("area", bed.area_m2 / share, "m2", "stated")
        left = left_of(stated, crop.key, area, clear, as_of, library, tables)
        begin = as_of if stated.pick_per_week is not None else left.first
        end = min((each for each in (left.last, clear) if each is not None), default=_END)
        picks = begin is not None and not crop.resting and begin <= end
        last = None if clear is None else max(clear, as_of)
        if last is None and at not in ways and left.last is not None:
            last = max(left.last, as_of)  # picked out, and nothing needs the bed
        yield Spell(
            stated.bed, stated.part, crop.key, crop.name, stated.since, last, None,
            ((begin, end),) if picks and begin is not None else (), crop.resting, "standing",
        )  # fmt: skip


def _proposed(years: YearsAhead, known: Sequence[Spell]) -> Iterator[Spell]:
    """What the years ahead place, without the season's own wants and what stands in their way."""
    for each in years.placements:
        if each.settled == "want":
            continue
        first = each.on or each.start
        last = each.last_harvest or each.free_from - _DAY
        picked: tuple[tuple[date, date], ...] = ()
        if not each.crop.resting and each.first_harvest is not None:
            picked = ((each.first_harvest, max(last, each.first_harvest)),)
        made = Spell(
            each.unit.bed, each.unit.part, each.crop.key, each.crop.name, first, max(last, first),
            None, picked, each.crop.resting, "years",
        )  # fmt: skip
        if not any(_clash(made, other) for other in known):
            yield made


def _clash(made: Spell, other: Spell) -> bool:
    """Whether a proposal stands where the season's plan has a crop: of an older plan of the years.

    A standing crop that nothing clears gives way.
    """
    if other.told != "plan" or other.bed != made.bed or not meet(other.part, made.part):
        return False
    return _overlap(made, other, date.min, _END)


def _ended(spell: Spell, spells: Iterable[Spell]) -> Spell:
    """A standing crop that nothing ends is out when the next crop of its ground comes."""
    if spell.told != "standing" or spell.last is not None:
        return spell
    after = [
        (each.spread or each.first) - _DAY
        for each in spells
        if each.told != "standing" and each.bed == spell.bed and meet(each.part, spell.part)
        and each.first is not None and each.first > (spell.first or date.min)
    ]  # fmt: skip
    return replace(spell, last=min(after)) if after else spell

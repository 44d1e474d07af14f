"""The harvest that a season's plantings are expected to give."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document
from bedwright.planning.assignment.bars import Setting
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.ground_bars import salt_yields
from bedwright.planning.assignment.harvests import Harvests, Yield, harvests_of
from bedwright.planning.assignment.model import Candidate, Claim, Option
from bedwright.planning.assignment.units import units_at, units_of
from bedwright.planning.findings import Finding
from bedwright.planning.harvest.by_crop import crop_harvest
from bedwright.planning.harvest.model import CropHarvest, HarvestPlan, Picking, PlantingHarvest
from bedwright.planning.harvest.pickings import companion_pickings, pickings_of
from bedwright.planning.harvest.told import harvest_findings
from bedwright.planning.harvest.wants import companion_at, want_at
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.reference import Library
from bedwright.working import Figure


@dataclass(frozen=True)
class _Stand:
    """A crop on a bed before its yield is known."""

    bed: str
    candidate: Candidate
    at: int
    companion: bool
    area: Figure
    pickings: tuple[Picking, ...]
    year: int
    bears: int | None = None


def expected_harvest(
    document: Document, library: Library, plantings: Sequence[Grown]
) -> HarvestPlan:
    """What the season's plantings give, by crop and week, against the wishes by the week.

    The yield of each is that by which the years ahead are planned: the goal where one is stated
    for its bed, else own harvests weighed beside the table, less what the bed's salt takes. It is
    spread evenly over the days of picking.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    plantings : first crops and second ones
    """
    tables = timing_tables(library)
    stands = [stand for each in plantings for stand in _stands(each, document, library, tables)]
    wishes = [
        (candidate_at(document, library, "wish", at), each)
        for at, each in enumerate(document.garden.wish)
        if each.a_week is not None
    ]
    grown = {each.id: each for each in (stand.candidate for stand in stands)}
    asked = {each.id: each for each, _ in wishes}
    if not grown and not asked:
        return HarvestPlan((), ())
    harvests = _harvests(document, library, tuple((grown | asked).values()), stands)
    year = _year(stands, plantings)
    crops: list[CropHarvest] = []
    groups = {each.id: each for each in (_group(e, asked) for e in grown.values())}
    for group in (groups | {k: e for k, e in asked.items() if k not in groups}).values():
        own = tuple(
            _planting(stand, harvests, option)
            for option, stand in enumerate(stands)
            if _group(stand.candidate, asked).id == group.id
        )
        wanted = [wish for wished, wish in wishes if _group(wished, asked).id == group.id]
        if own or wanted:
            crops.append(crop_harvest(group, own, wanted, year, document, library))
    return HarvestPlan(tuple(crops), _findings(crops))


def _group(crop: Candidate, asked: Mapping[str, Candidate]) -> Candidate:
    """What a crop is counted with: its cultivars together where the crop itself is wished for."""
    return asked.get(crop.key, crop)


def _findings(crops: Sequence[CropHarvest]) -> tuple[Finding, ...]:
    return tuple(each for crop in crops for each in harvest_findings(crop))


def _year(stands: Sequence[_Stand], plantings: Sequence[Grown]) -> int:
    """The year of most harvests, by which wishes are read; the earlier of two."""
    years = Counter(each.year for each in stands)
    if not years:
        years = Counter(each.prescription.season.year for each in plantings)
    return min(years, key=lambda year: (-years[year], year), default=date.min.year)


def _stands(
    grown: Grown, document: Document, library: Library, tables: TimingTables
) -> Iterator[_Stand]:
    """A bed's own crop and the companion that is laid beside it; covers give nothing to pick."""
    at = want_at(document, grown)
    area = grown.prescription.evidence.area
    layout = grown.layout
    if not grown.covers_ground:
        pickings = pickings_of(bed_days(grown, tables, library), grown.dates)
        crop = candidate_at(document, library, "want", at)
        part = _part(area, layout, grown.prescription.crop.key)
        year = pickings[0].first.year if pickings else grown.prescription.season.year
        bears = _bears(document, library, tables, crop, grown)
        yield _Stand(
            grown.bed, crop, at, False, part, pickings, year, bears if bears > year else None
        )
    if layout is not None and layout.planting.companion is not None:
        key = layout.planting.companion.key
        if any(each.crop == key for each in layout.counts):
            days = companion_pickings(layout.companion_days)
            yield _Stand(
                grown.bed, companion_at(document, library, at), at, True, _part(area, layout, key),
                days, days[0].first.year if days else grown.prescription.season.year,
            )  # fmt: skip


def _bears(
    document: Document, library: Library, tables: TimingTables, crop: Candidate, grown: Grown
) -> int:
    """The first year in which a perennial is picked: it was planted in the first of the years
    without a break in which the bed's history has it, else now."""
    past = {
        each.year
        for at, each in enumerate(document.garden.history)
        if each.bed == grown.bed
        and each.crop is not None
        and candidate_at(document, library, "history", at).id == crop.id
    }
    planted = grown.prescription.season.year
    while crop.life == "perennial" and planted - 1 in past:
        planted -= 1
    row = tables.facts.get((crop.key, "years_to_harvest", ""))
    return planted + (0 if row is None else round(row.typical()))


def _part(area: Figure, layout: BedLayout | None, crop: str) -> Figure:
    """What a crop takes of its bed: all of it alone, beside a companion by its rows' room."""
    if layout is None or layout.planting.companion is None or len(layout.counts) < 2:
        return area
    planting = layout.planting
    apart = {
        each.key: each.between_rows.value
        for each in (planting.crop, planting.companion)
        if each is not None
    }
    room = {each.crop: each.row_length_m * apart[each.crop] for each in layout.counts}
    whole = sum(room.values())
    if whole <= 0 or crop not in room:
        return area
    share = Figure(
        "share", room[crop] / whole, "-", "computed",
        formula="length of rows x distance between them / that of all crops",
    )  # fmt: skip
    return Figure("area", area.value * share.value, "m2", "computed", inputs=(area, share),
                  formula="area of the bed x share")  # fmt: skip


def _harvests(
    document: Document,
    library: Library,
    candidates: tuple[Candidate, ...],
    stands: Sequence[_Stand],
) -> Harvests:
    """The yields by the same rules as the years ahead: one option for each stand."""
    units = units_of(document)
    places = {each.id: at for at, each in enumerate(candidates)}
    options, claims = [], []
    for stand in stands:
        start = date(stand.year, 1, 1)
        first = stand.pickings[0].first if stand.pickings else None
        last = stand.pickings[-1].last if stand.pickings else None
        options.append(
            Option(places[stand.candidate.id], stand.year, None, start, start, start, first, last)
        )
        if not stand.companion:
            on = units_at(units, stand.bed, None)
            claims.append(Claim("want", stand.at, on, stand.candidate.id, stand.year, None, None))
    setting = Setting(document, library, units, candidates, tuple(options), ())
    return harvests_of(setting, claims, salt_yields(setting))


def _planting(stand: _Stand, harvests: Harvests, option: int) -> PlantingHarvest:
    unit = units_at(harvests.setting.units, stand.bed, None)[0]
    known = harvests.of(unit, option)
    mass = None
    if known is not None and stand.bears is None:
        known = _spread(known, harvests.setting.library, stand.candidate.key)
        low, high = (end * stand.area.value for end in (known.figure.least, known.figure.most))
        mass = Figure(
            "mass", known.figure.value * stand.area.value, "kg", "computed", low=low, high=high,
            formula="yield x area", inputs=(known.figure, stand.area),
        )  # fmt: skip
    return PlantingHarvest(
        stand.bed, stand.candidate.id, known, stand.area, mass, stand.pickings, stand.bears
    )


def _spread(known: Yield, library: Library, crop: str) -> Yield:
    """A yield with a spread: a goal takes that of the table, in proportion."""
    figure = known.figure
    table = library.fact("crop_facts", crop, "yield", "kg/m2")
    if figure.low is not None or figure.high is not None or table is None or table.value <= 0:
        return known
    low, high = (figure.value * end / table.value for end in (table.least, table.most))
    made = Figure("yield", figure.value, "kg/m2", "computed", low=low, high=high,
                  formula="the goal, with the table's spread in proportion",
                  inputs=(figure, table))  # fmt: skip
    return Yield(made, known.by, known.years, known.weight)

"""The standing crops of a garden in the beds that are needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from bedwright.crops.covers import wait_after
from bedwright.crops.growing import growing
from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.harvest.wants import want_at
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.second_crops import turnover_days
from bedwright.planning.turnover.case import Case
from bedwright.planning.turnover.facts import rule
from bedwright.planning.turnover.left import left_of, over_on
from bedwright.planning.turnover.model import Left, Next, Turnover
from bedwright.planning.turnover.next_crop import next_of, price_per_kg, worth_of
from bedwright.planning.turnover.remains import residue_of
from bedwright.planning.turnover.ways import ways_of
from bedwright.planning.work.bed_days import Grown
from bedwright.reference import Library
from bedwright.working import Figure


def turnovers(
    document: Document, library: Library, as_of: date, plantings: Sequence[Grown]
) -> tuple[Turnover, ...]:
    """What to do with each standing crop whose bed is needed, in the document's order.

    A standing crop in a bed for which nothing is to come is left out: it may stay.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    as_of : the day of reading
    plantings : first crops and second ones, with their days
    """
    tables = timing_tables(library)
    own = {
        f"{each.bed}/{each.crop}": document.cultivar("want", want_at(document, each), "crop")
        for each in plantings
    }
    made = []
    for at, standing in enumerate(document.garden.standing):
        found = next_of(
            standing.bed, standing.part, plantings, own, turnover_days(document.garden), as_of,
            library, tables,
        )  # fmt: skip
        if found is not None:
            made.append(_turnover(document, at, *found, as_of, library, tables))
    return tuple(made)


def _turnover(
    document: Document,
    at: int,
    following: Next,
    grown: Grown,
    as_of: date,
    library: Library,
    tables: TimingTables,
) -> Turnover:
    standing = document.garden.standing[at]
    crop = document.key("standing", at, "crop")
    stated = document.cultivar("standing", at, "crop")
    row = library.crop(crop)
    name = row["name"] if stated is None else stated.name or (
        stated.crop if stated.like else row["name"]
    )  # fmt: skip
    bed = next(each for each in document.garden.bed if each.id == standing.bed)
    area = Figure("area", bed.area_m2 / (1 if standing.part is None else bed.parts), "m2", "stated")
    facts = growing(library, crop)
    sown = _sown(grown, tables)
    small = sown and _small(following.crop, library)
    residue = residue_of(crop, area, small, library, tables)
    left = left_of(standing, crop, area, following.clear, as_of, library, tables)
    case = Case(
        standing=standing, crop=crop, name=name, life=facts.life, cover=row["kind"] == "cover",
        left=left, residue=residue, next=following, sown=sown, as_of=as_of, library=library,
        stock=tuple(document.garden.animals.kinds),
        wait=Figure("wait", wait_after(tables, crop, None, dead=False), "day", "table")
        if residue is None else residue.wait,
    )  # fmt: skip
    ways, refused = ways_of(case)
    money = worth_of(left.per_week, price_per_kg(stated, crop, library))
    return Turnover(
        at, standing.bed, standing.part, crop, name, case.healthy, following, left, residue, ways,
        refused, money,
        (*_days_said(case), *_left_said(case), *_waiting(left, following, money)),
    )  # fmt: skip


def _sown(grown: Grown, tables: TimingTables) -> bool:
    if grown.dates is not None:
        return grown.dates.start == "sown"
    row = tables.words.get((grown.prescription.crop.key, "start"))
    return row is None or row["word"] == "sown"


def _small(crop: str, library: Library) -> bool:
    depth = growing(library, crop).sowing_depth
    return depth is not None and depth.value <= rule(library, "small_seed_depth", "m").value


def _days_said(case: Case) -> Iterator[Finding]:
    clear, crop = case.next.clear, case.name
    if clear is None:
        yield finding("turnover_undated", "assumed", next=case.next.name)
    elif clear < case.as_of:
        yield finding("turnover_overdue", "act", crop=crop, next=case.next.name,
                      clear=clear.isoformat())  # fmt: skip
    if not case.healthy:
        yield finding("turnover_diseased", "caution")


def _left_said(case: Case) -> Iterator[Finding]:
    left = case.left
    if case.cover:
        return
    over = over_on(left)
    if over is not None and over < case.as_of:
        return
    told = left.per_week or left.at_once
    if told is None:
        yield finding("turnover_left_unknown", "doubt", crop=case.name)
        return
    if told.origin != "stated":
        yield finding("turnover_by_table", "assumed", crop=case.name)
        if case.standing.since is None:
            yield finding("turnover_since_unknown", "assumed", crop=case.name)
    if left.hold is not None:
        yield finding("turnover_holds", "note", sources=left.hold.sources, hold=left.hold)


def _waiting(left: Left, following: Next, money: Figure | None) -> Iterator[Finding]:
    """Whether to go on picking beyond the last day to clear: a week's picking against a week's
    delay, in money where both prices are stated; masses of two crops are not compared."""
    lost = following.a_week_late
    if following.last is None:
        return
    if lost is None:
        yield finding("turnover_delay_unknown", "doubt", next=following.name)
    over = over_on(left)
    if left.per_week is None or lost is None or (over is not None and over < following.last):
        return
    if following.money is None or money is None:
        yield finding("turnover_not_weighed", "note", next=following.name)
    elif money.value > following.money.value:
        yield finding("turnover_waiting_pays", "note", next=following.name)
    else:
        yield finding("turnover_waiting_costs", "note", next=following.name)

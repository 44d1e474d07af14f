"""The days of work of the whole garden, in the calendar's order, from its season plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.language import named
from bedwright.planning.timing_model import Judged
from bedwright.planning.work.planting_days import PlantingDay
from bedwright.reports.dates_text import planting
from bedwright.reports.words_dates import COVERS
from bedwright.season import BedPlan, SeasonPlan
from bedwright.sheets.days import dressing_days, spread_day

# What is done on a day that the planting dates tell of; spreading and side-dressing are dated by
# the bed's nitrogen.
_OF_DATES = frozenset(
    "order_by sow_under_cover harden_from lay_drip_by first_picking last_picking".split()
)
_PLANTED = {"sown": "sow", "pieces": "plant_pieces"}


@dataclass(frozen=True)
class Coming:
    """Something to do on or by a day, for one crop on some beds; ``crop`` is empty for all."""

    on: date
    code: str
    crop: str
    beds: tuple[str, ...]

    def away(self, day: date) -> int:
        """The days from a day to this one; less than 0 where it is past."""
        return (self.on - day).days


def coming(plan: SeasonPlan, done: frozenset[tuple[str, str]] = frozenset()) -> tuple[Coming, ...]:
    """All days of the plan; those of one kind and crop on one day are told together.

    ``done`` has what the journal tells of already: (bed, code).
    """
    beds: dict[tuple[date, str, str], list[str]] = {}
    for bed in plan.plantings:
        bed_id = bed.prescription.bed.id
        for on, code in _of_bed(bed, plan.planting_days_of(bed)):
            if (bed_id, code) not in done:
                crop = "" if code == "no_raw_manure" else named(bed.prescription.crop.name).lower()
                beds.setdefault((on, code, crop), []).append(bed_id)
    return tuple(
        Coming(on, code, crop, tuple(ids)) for (on, code, crop), ids in sorted(beds.items())
    )


def within(days: Iterable[Coming], first: date, last: date) -> tuple[Coming, ...]:
    """Those that lie from one day to another, both counted."""
    return tuple(each for each in days if first <= each.on <= last)


def done_acts(acts: Iterable[tuple[str, str, bool, bool]]) -> frozenset[tuple[str, str]]:
    """Which codes of which beds are done, of (bed, what, later, written) of planned acts.

    Spreading counts as done where every material of its round is written down.
    """
    names = {"sowed": ("sow", "plant_pieces"), "set out": ("set_out", "plant_pieces")}
    state: dict[tuple[str, str], bool] = {}
    for bed, what, later, written in acts:
        for code in names.get(what, ("side_dress",) if later else ("spread",)):
            state[bed, code] = state.get((bed, code), True) and written
    return frozenset(key for key, whole in state.items() if whole)


def _of_bed(bed: BedPlan, days: Sequence[PlantingDay]) -> Iterator[tuple[date, str]]:
    course, prescribed = bed.nitrogen, bed.prescription
    judged = _judged(bed)
    start = bed.dates.start if bed.dates is not None else "set_out"
    own = [each.day for each in days if not each.companion]
    yield from ((on, _PLANTED.get(start, "set_out")) for on in own[:1])
    spread = spread_day(bed)
    if spread is not None and any(line.preplant.value > 0 for line in prescribed.lines):
        yield spread, "spread"
    if any(line.later.value > 0 for line in prescribed.lines):
        yield from ((on, "side_dress") for on in dressing_days(bed))
    if course.extra is not None:
        yield course.extra.on, "side_dress_more"
    if bed.manure is not None and bed.manure.forbidden_from is not None:
        yield bed.manure.forbidden_from, "no_raw_manure"
    if judged is None:
        return
    work = dict(judged.work)
    picked_once = work.get("first_picking") == work.get("last_picking")
    for code, on in judged.work:
        if code in _OF_DATES and not (picked_once and code == "last_picking"):
            yield on, code
    if "clear_by" in work:
        yield _clear_by(work["clear_by"], work.get("spread_by"), spread), "clear_by"
    yield from ((on, "sow_again") for on in own[1:])
    covered = bed.dates is not None and bed.dates.cover in COVERS
    if covered and judged.chosen.cover_off is not None:
        off = timedelta(days=round(judged.chosen.cover_off.mean))
        yield judged.chosen.on + off, "cover_off"


def _clear_by(clear: date, by_dates: date | None, spread: date | None) -> date:
    """A bed is cleared before it is spread on: a longer rest moves the clearing as well."""
    if by_dates is None or spread is None:
        return clear
    return min(clear, spread - (by_dates - clear))


def _judged(bed: BedPlan) -> Judged | None:
    judged = planting(bed.dates) if bed.dates is not None and bed.dates.turns else None
    return judged if judged is not None and judged.chosen.on == bed.nitrogen.set_out else None

"""What differs between two season plans in the reader's words and units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.reports.days_said import day_year_words
from bedwright.reports.differences.model import (
    Amount,
    BedDifferences,
    Dropped,
    Moved,
    PlanDifferences,
    Room,
    Said,
)
from bedwright.reports.fill import sentence, value
from bedwright.reports.harvest_text import harvest_sentence
from bedwright.reports.layout_text import layout_sentence
from bedwright.reports.purchases_text import purchases_sentence
from bedwright.reports.rotation_words import rotation_sentence
from bedwright.reports.summer_said import summer_sentence
from bedwright.reports.turnover_said import turnover_sentence
from bedwright.reports.water_said import volume_words, water_sentence
from bedwright.reports.words_differences import DIFFERENCES
from bedwright.reports.words_work import TASKS, WEEK
from bedwright.reports.work_said import hours_words, work_sentence
from bedwright.units import UnitSystem, show

_SENTENCES: Mapping[Room, Callable[[Finding, UnitSystem], str]] = {
    "bed": sentence,
    "dates": sentence,
    "layout": layout_sentence,
    "water": water_sentence,
    "summer": summer_sentence,
    "turnover": turnover_sentence,
    "work": work_sentence,
    "harvest": harvest_sentence,
    "purchases": purchases_sentence,
    "rotation": rotation_sentence,
}
_URGENT = ("act", "caution")
_IN_HEAD = 3  # rows that a bed's headline tells


@dataclass(frozen=True)
class Row:
    """One thing by either plan, in words, and by how much it differs; empty where nothing is."""

    what: str
    before: str
    after: str
    by: str

    @property
    def changed(self) -> bool:
        """Whether the two are told apart."""
        return bool(self.by)


@dataclass(frozen=True)
class BedTold:
    """What changes on a bed: in few words, as rows, and as sentences, the urgent apart."""

    bed: str
    headline: str
    rows: tuple[Row, ...]
    gained: tuple[str, ...]
    gained_notes: tuple[str, ...]
    lost: tuple[str, ...]
    lost_notes: tuple[str, ...]


@dataclass(frozen=True)
class DifferencesTold:
    """Two plans beside each other in words; ``none`` tells that they are alike."""

    garden: tuple[Row, ...]
    harvest: tuple[Row, ...]
    beds: tuple[BedTold, ...]
    gained: tuple[str, ...]
    gained_notes: tuple[str, ...]
    lost: tuple[str, ...]
    lost_notes: tuple[str, ...]
    dropped: tuple[str, ...]
    fitted: tuple[str, ...]
    none: bool


def differences_told(found: PlanDifferences, system: UnitSystem, currency: str) -> DifferencesTold:
    """The differences in words.

    Parameters
    ----------
    found : two plans of one garden
    system : units of the reader
    currency : of the garden, such as ``USD``
    """
    return DifferencesTold(
        tuple(_amount(e, system, currency) for e in found.garden if not _silent(e)),
        tuple(_amount(e, system, currency) for e in found.harvest),
        tuple(_bed(each, system, currency) for each in found.beds),
        *_sentences(found.gained, system),
        *_sentences(found.lost, system),
        tuple(map(_task, found.dropped)),
        tuple(map(_task, found.fitted)),
        found.none,
    )


def _task(each: Dropped) -> str:
    place = WEEK["whole_garden"]
    if each.bed:
        crop = named(each.crop).lower()
        place = WEEK["place"].format(bed=each.bed, crop=crop) if crop else each.bed
    key = "task" if each.times == 1 else "task_times"
    return DIFFERENCES[key].format(place=place, task=TASKS[each.kind], times=each.times)


def _silent(each: Amount) -> bool:
    """Whether there is nothing to tell by either plan: not known, or none of it."""
    return not each.before and not each.after


def _bed(each: BedDifferences, system: UnitSystem, currency: str) -> BedTold:
    rows = []
    if each.other_crops:
        said = [
            ", ".join(named(name).lower() for name in names) or DIFFERENCES["crops_none"]
            for names in each.crops
        ]
        rows.append(Row(DIFFERENCES["crops"], said[0], said[1], said[1]))
    rows += [_moved(day) for day in each.days]
    rows += [_amount(amount, system, currency) for amount in each.amounts]
    gained, lost = _sentences(each.gained, system), _sentences(each.lost, system)
    return BedTold(each.bed, _headline(rows, len(gained[0])), tuple(rows), *gained, *lost)


def _headline(rows: Sequence[Row], warnings: int) -> str:
    """The first few things that change, and how many warnings are new."""
    said = [DIFFERENCES["head"].format(what=each.what, by=each.by) for each in rows[:_IN_HEAD]]
    more = len(rows) - _IN_HEAD
    if more > 0:
        said.append(DIFFERENCES["more_one" if more == 1 else "more_many"].format(count=more))
    if warnings:
        key = "warning_one" if warnings == 1 else "warnings"
        said.append(DIFFERENCES[key].format(count=warnings))
    return "; ".join(said) or DIFFERENCES["notes_alone"]


def _sentences(
    said: tuple[Said, ...], system: UnitSystem
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    told = [(each.finding.weight, _SENTENCES[each.room](each.finding, system)) for each in said]
    urgent = tuple(text for weight, text in told if weight in _URGENT)
    return urgent, tuple(text for weight, text in told if weight not in _URGENT)


def _amount(each: Amount, system: UnitSystem, currency: str) -> Row:
    what = named(each.of).lower() if each.of else DIFFERENCES[each.what]

    def words(number: float | None) -> str:
        return "" if number is None else _number(number, each.unit, system, currency)

    before, after = words(each.before), words(each.after)
    if not each.changed or before == after:
        return Row(what, before, after, "")
    if each.before is None:
        return Row(what, before, after, DIFFERENCES["new"])
    if each.after is None:
        return Row(what, before, after, DIFFERENCES["gone"])
    key = "more" if each.after > each.before else "less"
    by = DIFFERENCES[key].format(amount=words(abs(each.after - each.before)))
    return Row(what, before, after, by)


def _number(number: float, unit: str, system: UnitSystem, currency: str) -> str:
    if unit == "money":
        return f"{number:.2f} {currency}"
    if unit == "h":
        return DIFFERENCES["hour_unit"].format(hours=hours_words(number) if number else "0")
    if unit == "m3":
        return volume_words(number, system)
    if unit == "kg":
        return show(number, "mass", system)
    if unit == "%":
        return DIFFERENCES["per_cent"].format(share=f"{number:.0f}")
    return value(number, unit, system)


def _moved(each: Moved) -> Row:
    what = DIFFERENCES[f"day_{each.what}"].format(crop=named(each.crop).lower())
    before, after = _day(each.before), _day(each.after)
    if each.before is None or each.after is None:
        return Row(what, before, after, DIFFERENCES["gone" if each.after is None else "new"])
    days = (each.after - each.before).days
    key = "later" if days > 0 else "earlier"
    key += "_one" if abs(days) == 1 else ""
    return Row(what, before, after, DIFFERENCES[key].format(days=abs(days)))


def _day(on: date | None) -> str:
    return "" if on is None else day_year_words(on)

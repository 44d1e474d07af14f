"""A planting, a bed's next best and a wish in sentences: for the text and the pages alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from bedwright.garden import Document
from bedwright.language import named, said
from bedwright.planning.assignment.model import Unit
from bedwright.planning.assignment.result import Instead, Placement, Rest, WishMet, YearsAhead
from bedwright.reports.days_said import day_words, day_year_words, span_words
from bedwright.reports.fill import figure
from bedwright.reports.rotation_words import beds_words, joined_words, per_cent
from bedwright.reports.words_dates import STARTS
from bedwright.reports.words_rotation import BARRED, ROTATION
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_SAME = 1e-6
_LITTLE = 0.05  # of a bed: a cost below it is next to nothing


def unit_words(unit: Unit) -> str:
    """A bed's name, with its part where it has parts."""
    if unit.part is None:
        return unit.bed
    return ROTATION["part"].format(bed=unit.bed, part=unit.part)


def content_of(ahead: YearsAhead, unit: Unit) -> list[Placement | Rest]:
    """What a unit holds in the years ahead, its rests among it, in the calendar's order."""
    content: list[Placement | Rest] = [each for each in ahead.placements if each.unit == unit]
    content += [each for each in ahead.rests if each.unit == unit]
    return sorted(content, key=_when)


def _when(each: Placement | Rest) -> tuple[int, date]:
    return each.year, each.start if isinstance(each, Placement) else date(each.year, 1, 1)


def planting_words(each: Placement | Rest, starts: Mapping[str, str]) -> str:
    """A planting with its days, or a rest, without a full stop.

    ``starts`` says how each crop is begun, by its key: sown, set_out or pieces.
    """
    if isinstance(each, Rest):
        return ROTATION["rest"].format(year=each.year)
    crop = named(each.crop.name).lower()
    if each.on is None:
        return ROTATION["whole_year"].format(year=each.year, crop=crop)
    start = STARTS[starts.get(each.crop.key, "sown")][1]
    on = day_words(each.on) if each.on.year == each.year else day_year_words(each.on)
    if each.crop.life == "perennial":
        return ROTATION["perennial"].format(year=each.year, crop=crop, start=start, on=on)
    if each.first_harvest is None or each.last_harvest is None:
        end = each.last_harvest or each.free_from
        span = span_words(each.on, end, year=each.on.year != each.year)
        return ROTATION["covers"].format(year=each.year, crop=crop, span=span)
    key = "one_day" if each.first_harvest == each.last_harvest else "dated"
    otherwise = each.last_harvest.year != each.year
    span = span_words(each.first_harvest, each.last_harvest, year=otherwise)
    return ROTATION[key].format(year=each.year, crop=crop, start=start, on=on, span=span)


def amount_sentences(each: Placement, document: Document) -> list[str]:
    """What a planting is expected to give, and to bring by the gardener's prices."""
    place = document.garden.garden
    told = []
    if each.expected is not None:
        told.append(ROTATION["expected"].format(mass=figure(each.expected, place.units)))
    if each.income is not None and each.income_a_week is not None:
        whole = each.saleable is None or each.saleable > 1 - _SAME
        money = ROTATION["income" if whole else "income_share"].format(
            share=per_cent(each.saleable or 1.0),
            money=plain(each.income, 2),
            currency=place.currency,
            a_week=plain(each.income_a_week, 2),
        )
        told.append(money)
    return told


def barred_sentences(each: Placement | Rest) -> list[str]:
    """Which other crops could not stand there, each group with its rule; nothing where none."""
    if not each.barred:
        return []
    groups = "; ".join(
        ROTATION["barred_group"].format(
            crops=", ".join(said(crop, "name") for crop in crops), why=BARRED[code]
        )
        for code, crops in each.barred
    )
    return [ROTATION["barred"].format(groups=groups)]


def instead_sentence(ahead: YearsAhead, unit: Unit) -> str:
    """What the best other content of a unit changes: crops that come against crops that go."""
    each: Instead | None = next((x for x in ahead.instead if x.unit == unit), None)
    if each is None:
        return ROTATION["no_instead"]
    own = (x for x in ahead.placements if x.unit == unit)
    now = {(x.year, x.crop.id): x.crop for x in own if not x.crop.resting}
    then = {(x.year, x.crop.id): x.crop for x in each.content if not x.crop.resting}
    come, gone = (
        joined_words(
            [f"{key[0]} {named(crop.name).lower()}" for key, crop in one.items() if key not in two]
        )
        for one, two in ((then, now), (now, then))
    )
    nothing = ROTATION["instead_nothing"]
    content = ROTATION["instead_of"].format(come=come or nothing, gone=gone or nothing)
    if not gone:
        content = ROTATION["instead_too"].format(come=come)
    if each.cost <= _SAME:
        return ROTATION["instead_free"].format(content=content)
    cost = ROTATION["cost_little"]
    if each.cost_beds >= _LITTLE:
        cost = ROTATION["cost_beds"].format(beds=beds_words(each.cost_beds))
    return ROTATION["instead"].format(content=content, cost=cost)


def is_met(each: WishMet) -> bool:
    """Whether a wish lacks nothing in its year."""
    return each.short <= _SAME


def became_words(each: WishMet, system: UnitSystem) -> str:
    """What became of a wish in its year: met, or how much of it there is, and what is too much."""
    told = _met_words(each, system)
    if not each.weeks_over:
        return told
    key = "over_week" if len(each.weeks_over) == 1 else "over"
    mass = show(each.over, "mass", system)
    return ROTATION[key].format(told=told, mass=mass, weeks=len(each.weeks_over))


def _met_words(each: WishMet, system: UnitSystem) -> str:
    if is_met(each):
        return ROTATION["met"]
    if each.weeks_short:
        met = each.weeks - len(each.weeks_short)
        told = ROTATION["short_weeks"].format(met=met, weeks=each.weeks)
        if not each.weeks_out:
            return told
        return f"{told} ({ROTATION['weeks_out'].format(weeks=len(each.weeks_out))})"
    if each.measure == "beds":
        given, wanted = plain(each.given, 2), plain(each.wanted, 2)
    else:
        kind = "area" if each.measure == "area" else "mass"
        given = show(each.given, kind, system) if each.given > _SAME else ROTATION["none"]
        wanted = show(each.wanted, kind, system)
    return ROTATION["short"].format(given=given, wanted=wanted)


def proof_sentences(ahead: YearsAhead) -> list[str]:
    """How good the plan is proven to be, and what else is to be known of it."""
    told = [ROTATION["best"]]
    if ahead.gap > _SAME:
        told = [ROTATION["proof"].format(gap=per_cent(ahead.gap))]
    if not ahead.repeatable:
        told.append(ROTATION["stopped"])
    if ahead.near_cost is not None and ahead.near_gain:
        told.append(ROTATION["near"].format(cost=per_cent(ahead.near_cost)))
    return told


def money_lines(placements: Iterable[Placement], currency: str) -> list[str]:
    """Income by the gardener's own prices, year by year; nothing where no price is stated."""
    by_year: dict[int, float] = {}
    for each in placements:
        if each.income is not None:
            by_year[each.year] = by_year.get(each.year, 0.0) + each.income
    return [
        ROTATION["money_year"].format(year=year, money=plain(money, 2), currency=currency)
        for year, money in sorted(by_year.items())
    ]

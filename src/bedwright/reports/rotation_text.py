"""The years ahead as text: wishes, clashes, and each bed with its crops and reasons."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from bedwright.garden import Document
from bedwright.language import named, said
from bedwright.planning.assignment.model import Unit
from bedwright.planning.assignment.result import (
    Instead,
    Placement,
    Rest,
    WishMet,
    YearsAhead,
)
from bedwright.planning.findings import Finding
from bedwright.reports.days_said import day_words, day_year_words, days_said, span_words
from bedwright.reports.fill import figure
from bedwright.reports.layout import wrapped
from bedwright.reports.rotation_words import (
    beds_words,
    clash_words,
    family_words,
    joined_words,
    per_cent,
    rotation_sentence,
)
from bedwright.reports.words_dates import STARTS
from bedwright.reports.words_rotation import BARRED, ROTATION, WEIGHTS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_WIDTH = 78
_SAME = 1e-6
_LITTLE = 0.05  # beds
_RESTING = ("cover", "plastic")
_MOST_NAMED = 6  # beds in a line; more are counted


def years_text(
    ahead: YearsAhead, document: Document, starts: dict[str, str], bed: str | None = None
) -> str:
    """The whole page, or that of one bed.

    Parameters
    ----------
    ahead : the plan
    document : the garden, for its name and units
    starts : how each crop is begun, by its key: sown, set_out or pieces
    bed : this one alone; None for all
    """
    place = document.garden.garden
    years = ROTATION["years"].format(first=ahead.years[0], last=ahead.years[-1])
    title = ROTATION["title"].format(
        garden=place.name, years=years, as_of=days_said(ahead.as_of.isoformat())
    )
    lines = [*wrapped(title), "=" * min(len(title), _WIDTH)]
    if bed is None:
        lines += _head(ahead, place.units)
    lines += ["", ROTATION["plan"]]
    for unit in ahead.units:
        if bed in (None, unit.bed):
            lines += ["", *_unit(ahead, unit, document, starts, in_full=bed is not None)]
    if bed is None:
        lines += _changes(ahead)
        lines += _money(ahead, place.currency)
        lines += ["", ROTATION["assumed"], *_assumed(ahead, document)]
    return "\n".join(lines).rstrip() + "\n"


def _head(ahead: YearsAhead, system: UnitSystem) -> list[str]:
    weights = "; ".join(
        ROTATION["weight"].format(name=WEIGHTS[name], value=plain(value))
        for name, value in ahead.weights.model_dump().items()
    )
    lines = wrapped(ROTATION["weights"].format(weights=weights))
    proof = ROTATION["best"]
    if ahead.gap > _SAME:
        proof = ROTATION["proof"].format(gap=per_cent(ahead.gap))
    lines += wrapped(proof)
    if not ahead.repeatable:
        lines += wrapped(ROTATION["stopped"])
    if ahead.near_cost is not None and ahead.near_gain:
        lines += wrapped(ROTATION["near"].format(cost=per_cent(ahead.near_cost)))
    if ahead.clashes:
        lines += ["", ROTATION["clashes"]]
        for each in ahead.clashes:
            first, *others = clash_words(each)
            lines += wrapped(first, "* ")
            lines += [line for text in others for line in wrapped(text, "  ", "    ")]
        if any(each.must for each in ahead.clashes):
            lines += wrapped(ROTATION["nearest"])
    acts = [each for each in ahead.findings if each.weight in ("act", "caution")]
    for found in acts:
        lines += wrapped(rotation_sentence(found, system), "* ")
    if ahead.wishes:
        lines += ["", ROTATION["wishes"], *_wishes(ahead, system)]
    return lines


def _wishes(ahead: YearsAhead, system: UnitSystem) -> list[str]:
    lines = []
    for at in dict.fromkeys(each.at for each in ahead.wishes):
        own = [each for each in ahead.wishes if each.at == at]
        wanted = _wanted(own[0], system)
        head = ROTATION["wish"].format(crop=named(own[0].crop.name).lower(), wanted=wanted)
        told = [_in_year(each, system) for each in own]
        lines += wrapped(f"{head}: {'; '.join(told)}.", "  ", "    ")
    return lines


def _wanted(each: WishMet, system: UnitSystem) -> str:
    if each.measure == "beds":
        return beds_words(each.wanted)
    if each.measure == "area":
        return show(each.wanted, "area", system)
    a_week = show(each.wanted / each.weeks, "mass", system)
    return ROTATION["a_week"].format(mass=a_week, weeks=each.weeks)


def _in_year(each: WishMet, system: UnitSystem) -> str:
    what = ROTATION["met"]
    if each.short > _SAME and each.weeks_short:
        met = each.weeks - len(each.weeks_short)
        what = ROTATION["short_weeks"].format(met=met, weeks=each.weeks)
        if each.weeks_out:
            out = ROTATION["weeks_out"].format(weeks=len(each.weeks_out))
            return ROTATION["in_year"].format(year=each.year, what=f"{what} ({out})")
    elif each.short > _SAME:
        given, wanted = _amounts(each, system)
        what = ROTATION["short"].format(given=given, wanted=wanted)
    if each.short > _SAME:
        opened = ROTATION["open_none"].format(year=each.year)
        if each.open_beds:
            named_beds = joined_words(each.open_beds)
            if len(each.open_beds) > _MOST_NAMED:
                named_beds = beds_words(len(each.open_beds))
            opened = ROTATION["open"].format(year=each.year, beds=named_beds)
        what = f"{what} ({opened})"
    return ROTATION["in_year"].format(year=each.year, what=what)


def _amounts(each: WishMet, system: UnitSystem) -> tuple[str, str]:
    if each.measure == "beds":
        return plain(each.given, 2), plain(each.wanted, 2)
    kind = "area" if each.measure == "area" else "mass"
    given = show(each.given, kind, system) if each.given > _SAME else ROTATION["none"]
    return given, show(each.wanted, kind, system)


def _unit(
    ahead: YearsAhead, unit: Unit, document: Document, starts: dict[str, str], *, in_full: bool
) -> list[str]:
    system = document.garden.garden.units
    lines = [f"{_name(unit)} ({show(unit.area_m2, 'area', system)})"]
    content: list[Placement | Rest] = [each for each in ahead.placements if each.unit == unit]
    content += [each for each in ahead.rests if each.unit == unit]
    for each in sorted(content, key=_when):
        lines += wrapped(f"{_said(each, starts)}.", "  ", "    ")
        told = [rotation_sentence(found, system) for found in each.reasons]
        if isinstance(each, Placement):
            told += _amount(each, document)
        told += _barred(each) if in_full else []
        lines += wrapped(" ".join(told), "    ")
    other = next((x for x in ahead.instead if x.unit == unit), None)
    own = [each for each in content if isinstance(each, Placement)]
    lines += wrapped(_instead(other, own), "  ", "    ")
    return lines


def _when(each: Placement | Rest) -> tuple[int, date]:
    return each.year, each.start if isinstance(each, Placement) else date(each.year, 1, 1)


def _said(each: Placement | Rest, starts: dict[str, str]) -> str:
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
        span = span_words(each.on, each.last_harvest or each.free_from,
                          year=each.on.year != each.year)  # fmt: skip
        return ROTATION["covers"].format(year=each.year, crop=crop, span=span)
    one = each.first_harvest == each.last_harvest
    key = "one_day" if one else "dated"
    span = span_words(each.first_harvest, each.last_harvest,
                      year=each.last_harvest.year != each.year)  # fmt: skip
    return ROTATION[key].format(year=each.year, crop=crop, start=start, on=on, span=span)


def _amount(each: Placement, document: Document) -> list[str]:
    place = document.garden.garden
    told = []
    if each.expected is not None:
        told.append(ROTATION["expected"].format(mass=figure(each.expected, place.units)))
    if each.income is not None and each.income_a_week is not None:
        money = ROTATION["income"].format(
            money=plain(each.income, 2),
            currency=place.currency,
            a_week=plain(each.income_a_week, 2),
        )
        told.append(money)
    return told


def _barred(each: Placement | Rest) -> list[str]:
    if not each.barred:
        return []
    groups = "; ".join(
        ROTATION["barred_group"].format(
            crops=", ".join(said(crop, "name") for crop in crops), why=BARRED[code]
        )
        for code, crops in each.barred
    )
    return [ROTATION["barred"].format(groups=groups)]


def _instead(each: Instead | None, own: list[Placement]) -> str:
    """What the best other content changes: crops that come against crops that go."""
    if each is None:
        return ROTATION["no_instead"]
    now = {(x.year, x.crop.id): x.crop for x in own if x.crop.life not in _RESTING}
    then = {(x.year, x.crop.id): x.crop for x in each.content if x.crop.life not in _RESTING}
    come, gone = ([f"{year} {named(crops[year, key].name).lower()}" for year, key in crops
                   if (year, key) not in others]
                  for crops, others in ((then, now), (now, then)))  # fmt: skip
    nothing = ROTATION["instead_nothing"]
    content = ROTATION["instead_of"].format(
        come=joined_words(come) or nothing, gone=joined_words(gone) or nothing
    )
    if not gone:
        content = ROTATION["instead_too"].format(come=joined_words(come))
    if each.cost <= _SAME:
        return ROTATION["instead_free"].format(content=content)
    cost = ROTATION["cost_little"]
    if each.cost_beds >= _LITTLE:
        cost = ROTATION["cost_beds"].format(beds=beds_words(each.cost_beds))
    return ROTATION["instead"].format(content=content, cost=cost)


def _changes(ahead: YearsAhead) -> list[str]:
    if not ahead.changes:
        return []
    lines = ["", ROTATION["changes"]]
    for each in ahead.changes:
        text = ROTATION["change"].format(
            bed=each.unit.bed, year=each.year, after=each.after or ROTATION["nothing"],
            before=each.before or ROTATION["nothing"],
        )  # fmt: skip
        lines += wrapped(text, "  ", "    ")
    return lines


def _money(ahead: YearsAhead, currency: str) -> list[str]:
    by_year: dict[int, float] = {}
    for each in ahead.placements:
        if each.income is not None:
            by_year[each.year] = by_year.get(each.year, 0.0) + each.income
    if not by_year:
        return []
    return ["", ROTATION["money"], *(
        f"  {ROTATION['money_year'].format(year=year, money=plain(money, 2), currency=currency)}"
        for year, money in sorted(by_year.items()))]  # fmt: skip


def _assumed(ahead: YearsAhead, document: Document) -> list[str]:
    stated = document.garden.rotation
    away = 3 if stated is None else stated.years_away
    texts = [ROTATION["convention"].format(away=away), ROTATION["mean_dates"]]
    texts += _sentences(ahead.findings, document.garden.garden.units)
    return [line for text in texts for line in wrapped(text, "* ")]


def _sentences(findings: Iterable[Finding], system: UnitSystem) -> list[str]:
    return [
        rotation_sentence(each, system)
        for each in findings
        if each.weight not in ("act", "caution")
    ]


def one_line(ahead: YearsAhead, units: Sequence[Unit]) -> list[str]:
    """Each unit's crops in one line, year by year: for a table or a drawing's caption."""
    lines = []
    for unit in units:
        own = [each for each in ahead.placements if each.unit == unit]
        crops = ", ".join(f"{each.year} {named(each.crop.name).lower()}" for each in own)
        lines.append(f"{_name(unit)}: {crops or ROTATION['none']}")
    return lines


def _name(unit: Unit) -> str:
    if unit.part is None:
        return unit.bed
    return ROTATION["part"].format(bed=unit.bed, part=unit.part)


__all__ = ["family_words", "one_line", "years_text"]

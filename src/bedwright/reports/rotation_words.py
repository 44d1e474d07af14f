"""Sentences of the years ahead: findings, beds and families, and what clashes."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from datetime import date

from bedwright.language import named, names_said
from bedwright.planning.assignment.ahead import Step
from bedwright.planning.assignment.result import ClashMember, ClashTold
from bedwright.planning.findings import Finding
from bedwright.reference import Library
from bedwright.reports.days_said import day_year_words
from bedwright.reports.fill import figure, sentence
from bedwright.reports.words import FINDINGS
from bedwright.reports.words_rotation import FAMILIES, ROTATION, ROTATION_FINDINGS, RULES
from bedwright.units import UnitSystem
from bedwright.units.show import plain
from bedwright.working import Figure

_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_AS_WRITTEN = frozenset({"bed", "kind", "year"})
_OF_THE_SOIL = "screening_"  # said in the words of the bed's own page
_WHOLE = 0.05  # of a bed: nearer to a whole one than anybody measures


def rotation_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding as a sentence. Raises KeyError for a code without words."""
    if found.code.startswith(_OF_THE_SOIL):
        return sentence(found, system)
    values = {key: _value(key, each, system) for key, each in found.values.items()}
    text = ROTATION_FINDINGS[found.code].format(**values)
    return text[:1].upper() + text[1:]


def _value(key: str, each: object, system: UnitSystem) -> str:
    if isinstance(each, Figure):
        return figure(each, system)
    text = str(each)
    if key in _SPOKEN:
        return _SPOKEN[key](text)
    if isinstance(each, float):
        return plain(each)
    if key in _AS_WRITTEN:
        return text
    if _DAY.fullmatch(text):
        return day_year_words(date.fromisoformat(text))
    return named(text)


def full_years_words(count: int) -> str:
    """A number of full years."""
    return ROTATION["full_year"] if count == 1 else ROTATION["full_years"].format(n=count)


def starts_of(library: Library) -> dict[str, str]:
    """How each crop is begun, by its key: sown, set_out or pieces."""
    return {
        row["crop"]: row["word"]
        for row in library.rows("crop_habits")
        if row["property"] == "start" and row.used
    }


def family_words(family: str) -> str:
    """A family as gardeners call it."""
    return FAMILIES.get(family, family)


def beds_words(count: float) -> str:
    """A number of beds: 3 beds, 1 bed, 0.5 beds."""
    whole = round(count)
    if abs(count - whole) < _WHOLE:
        return ROTATION["bed"] if whole == 1 else ROTATION["beds"].format(n=whole)
    return ROTATION["beds"].format(n=plain(count, 2))


def joined_words(each: Sequence[str]) -> str:
    """A list in words: B4, B9 and B12."""
    if len(each) < 2:
        return "".join(each)
    return ROTATION["and"].format(first=", ".join(each[:-1]), last=each[-1])


def per_cent(share: float) -> str:
    """A share in percent, to two digits."""
    return f"{plain(100 * share, 2)} %"


def years_words(count: int) -> str:
    """A number of years."""
    return ROTATION["year"] if count == 1 else ROTATION["n_years"].format(n=count)


def clash_words(clash: ClashTold) -> list[str]:
    """What clashes, then what giving up each of its wishes gains: sentences.

    Two crops on the same ground take one: it says what would be right.
    """
    if clash.ground is not None:
        return [_ground(clash.ground)]
    said = [_what(clash)]
    if len(clash.members) > 1 or clash.members[0].beds > 1:
        said += [_given_up(each, alone=len(clash.members) == 1) for each in clash.members]
    return said


def _ground(found: Finding) -> str:
    values = {key: _value(key, each, UnitSystem.METRIC) for key, each in found.values.items()}
    return FINDINGS[found.code].format(**values)


def _what(clash: ClashTold) -> str:
    if clash.family is None or clash.wanted <= len(clash.free):
        members = "; ".join(_member(each) for each in clash.members)
        return ROTATION["clash"].format(members=members)
    free = ROTATION["no_bed"]
    if clash.free:
        have = ROTATION["has" if len(clash.free) == 1 else "have"]
        free = ROTATION["only"].format(beds=_beds_named(clash.free), have=have)
    values = {
        "wanted": beds_words(clash.wanted),
        "family": family_words(clash.family),
        "free": free,
        "away": years_words(clash.away),
    }
    if len(clash.years) == 1:
        return ROTATION["family_clash"].format(**values)
    return ROTATION["family_clash_years"].format(
        **values, years=_span(clash.years), again=years_words(clash.away + 1)
    )


def _beds_named(beds: Sequence[str]) -> str:
    """Beds by their names, called beds where a name alone would read as a number."""
    names = joined_words(beds)
    if any(not each.isdigit() for each in beds):
        return names
    return ROTATION["named_bed" if len(beds) == 1 else "named_beds"].format(beds=names)


def _span(years: Sequence[int]) -> str:
    if len(years) == 1:
        return str(years[0])
    return ROTATION["years"].format(first=years[0], last=years[-1])


def _member(each: ClashMember) -> str:
    crop = named(each.crop.name).lower()
    if each.on:
        on = joined_words(each.on)
        if each.parts:
            on = ROTATION["part"].format(bed=on, part=joined_words([str(at) for at in each.parts]))
        return ROTATION["member_on"].format(crop=crop, on=on, years=_span(each.years))
    return ROTATION["member"].format(crop=crop, beds=beds_words(each.beds), years=_span(each.years))


def _given_up(each: ClashMember, *, alone: bool) -> str:
    """What can be had where one of them gives way."""
    rest = ROTATION["given_up_none"]
    if each.possible > _WHOLE:
        rest = ROTATION["given_up_some"].format(
            possible=plain(each.possible, 2), beds=beds_words(each.beds)
        )
    if alone:
        return ROTATION["given_up_alone"].format(member=_member(each), rest=rest)
    key = "given_up" if each.worth is not None else "given_up_in_vain"
    return ROTATION[key].format(member=_member(each), rest=rest)


def step_words(step: Step) -> str:
    """How far the search is, in one line."""
    if not math.isfinite(step.gap):
        return ROTATION["progress_first"].format(objective=plain(step.objective))
    return ROTATION["progress"].format(
        objective=plain(step.objective),
        bound=plain(step.bound),
        gap=per_cent(step.gap),
    )


_SPOKEN: dict[str, Callable[[str], str]] = {
    "family": family_words,
    "rule": RULES.__getitem__,
    "crops": names_said,
    "away": lambda count: full_years_words(round(float(count))),
    "own": lambda count: years_words(round(float(count))),
}

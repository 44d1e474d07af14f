"""The years ahead as text: wishes, clashes, and each bed with its crops and reasons."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bedwright.garden import Document
from bedwright.language import named
from bedwright.planning.assignment.model import Unit
from bedwright.planning.assignment.result import Placement, WishMet, YearsAhead
from bedwright.planning.findings import Finding
from bedwright.reports.days_said import days_said
from bedwright.reports.layout import wrapped
from bedwright.reports.rotation_told import (
    amount_sentences,
    barred_sentences,
    became_words,
    content_of,
    instead_sentence,
    is_met,
    money_lines,
    planting_words,
    proof_sentences,
    unit_words,
)
from bedwright.reports.rotation_words import (
    beds_words,
    clash_words,
    family_words,
    full_years_words,
    joined_words,
    rotation_sentence,
)
from bedwright.reports.words_rotation import ROTATION, WEIGHTS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_WIDTH = 78
_MOST_NAMED = 6  # beds in a line; more are counted
_ONCE = ("rotation_why_wish", "rotation_expected_goal", "rotation_expected_record")


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
    told_once: set[str] = set()
    for unit in ahead.units:
        if bed in (None, unit.bed):
            lines += ["", *_unit(ahead, unit, document, starts, told_once, in_full=bed is not None)]
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
    for proof in proof_sentences(ahead):
        lines += wrapped(proof)
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
    what = became_words(each, system)
    if not is_met(each) and not (each.weeks_short and each.weeks_out):
        opened = ROTATION["open_none"].format(year=each.year)
        if each.open_beds:
            named_beds = joined_words(each.open_beds)
            if len(each.open_beds) > _MOST_NAMED:
                named_beds = beds_words(len(each.open_beds))
            opened = ROTATION["open"].format(year=each.year, beds=named_beds)
        what = f"{what} ({opened})"
    return ROTATION["in_year"].format(year=each.year, what=what)


def _unit(
    ahead: YearsAhead,
    unit: Unit,
    document: Document,
    starts: dict[str, str],
    told_once: set[str],
    *,
    in_full: bool,
) -> list[str]:
    """One bed; ``told_once`` gains the sentences that need not be told again."""
    system = document.garden.garden.units
    lines = [f"{unit_words(unit)} ({show(unit.area_m2, 'area', system)})"]
    for each in content_of(ahead, unit):
        lines += wrapped(f"{planting_words(each, starts)}.", "  ", "    ")
        told = [text for found in each.reasons if (text := _told_once(found, system, told_once))]
        if isinstance(each, Placement):
            told += amount_sentences(each, document)
        told += barred_sentences(each) if in_full else []
        lines += wrapped(" ".join(told), "    ")
    lines += wrapped(instead_sentence(ahead, unit), "  ", "    ")
    return lines


def _told_once(found: Finding, system: UnitSystem, told_once: set[str]) -> str:
    """A reason. How many beds were open to a wish, and what a crop's yield goes by, is told with
    the first of them; "" where nothing is left to say."""
    text = rotation_sentence(found, system)
    if found.code not in _ONCE:
        return text
    if text not in told_once:
        told_once.add(text)
        return text
    wish = found.code == "rotation_why_wish"
    return ROTATION["wished"].format(crop=named(str(found.values["crop"]))) if wish else ""


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
    told = money_lines(ahead.placements, currency)
    return ["", ROTATION["money"], *(f"  {line}" for line in told)] if told else []


def _assumed(ahead: YearsAhead, document: Document) -> list[str]:
    stated = document.garden.rotation
    away = 3 if stated is None else stated.years_away
    texts = [ROTATION["convention"].format(away=full_years_words(away)), ROTATION["mean_dates"]]
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
        lines.append(f"{unit_words(unit)}: {crops or ROTATION['none']}")
    return lines


__all__ = ["family_words", "one_line", "years_text"]

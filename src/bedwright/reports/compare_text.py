"""Comparisons as plain text: how they lie, what they can show, what they say; then the years."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bedwright.language import named
from bedwright.planning.compare.model import Compared
from bedwright.planning.compare.own_figures import OwnFigure
from bedwright.planning.compare.years import CropYears
from bedwright.reference import Library
from bedwright.reports.compare_own import own_said
from bedwright.reports.compare_said import (
    compare_sentence,
    days_told,
    laid_said,
    plot_said,
    power_said,
    result_said,
    values_said,
    ways_said,
)
from bedwright.reports.compare_years import harvest_counts, split_said, year_rows
from bedwright.reports.days_said import day_year_words
from bedwright.reports.layout import wrapped
from bedwright.reports.words_compare import COMPARE
from bedwright.units import UnitSystem


def compare_text(
    found: Sequence[Compared],
    years: Sequence[CropYears],
    own: Sequence[OwnFigure],
    garden: str,
    as_of: date,
    system: UnitSystem,
    library: Library,
) -> str:
    """The page of all comparisons, then what the years have shown, then one's own figures.

    Parameters
    ----------
    found, years, own : what was worked
    garden, as_of, system : the garden's name, the day, and the reader's units
    library : the tables under the garden's own facts
    """
    title = COMPARE["title"].format(garden=garden, day=day_year_words(as_of))
    lines = [*wrapped(title), "=" * min(len(title), 78)]
    if not found:
        lines += ["", *wrapped(COMPARE["none"])]
    for each in found:
        lines += ["", *one_text(each)]
    lines += ["", *_head(COMPARE["years_title"]), *wrapped(COMPARE["years_about"])]
    if not years:
        lines += wrapped(COMPARE["years_none"])
    for crop in years:
        lines += ["", *_years(crop, system, library)]
    lines += ["", *_head(COMPARE["own_title"]), *wrapped(COMPARE["own_about"])]
    lines += [line for each in own for line in wrapped(own_said(each, system), "- ")]
    if not own:
        lines += wrapped(COMPARE["own_none"])
    return "\n".join(lines) + "\n"


def one_text(each: Compared) -> list[str]:
    """One comparison as lines."""
    stated = each.stated
    lines = [*_head(stated.id), *wrapped(stated.question)]
    about = COMPARE["crop"].format(
        crop=named(each.crop), measured=stated.measured, unit=stated.unit
    )
    lines += wrapped(f"{about} {ways_said(each)}")
    if each.shown is not None:
        lines += ["", COMPARE["said"].upper()]
    else:
        lines.append("")
    for one in each.findings:
        lines += wrapped(compare_sentence(one), "* " if one.weight == "act" else "- ")
    if each.shown is not None:
        lines += ["", COMPARE["results"].upper(), *wrapped(days_told(each))]
        for label, row in values_said(each):
            lines += wrapped(f"{label}: {'; '.join(row)}", "  ")
        for told in result_said(each):
            lines += wrapped(told)
    lines += ["", COMPARE["layout"].upper()]
    for block, held in each.groups:
        plots = "; ".join(plot_said(plot) for plot in held)
        label = "" if block is None else f"{COMPARE['block'].format(block=block)}: "
        lines += wrapped(f"{label}{plots}", "  ", "      ")
    for told in laid_said(each):
        lines += wrapped(told)
    lines += ["", COMPARE["before"].upper()]
    for told in power_said(each):
        lines += wrapped(told)
    return lines


def _years(crop: CropYears, system: UnitSystem, library: Library) -> list[str]:
    lines = wrapped(harvest_counts(crop))
    for row in year_rows(crop, system):
        lines += wrapped(row, "  ")
    for split in crop.splits:
        lines += wrapped(" ".join(split_said(split, system, library)), "  - ")
    return lines


def _head(text: str) -> list[str]:
    return [*wrapped(text), "-" * min(len(text), 78)]

"""The garden month by month from a season plan: as a drawing, and as a table of the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from bedwright.drawings.months import months_drawing
from bedwright.drawings.months_ground import Size
from bedwright.drawings.months_said import cell_words, held_of, letters_of, month_title
from bedwright.language import named
from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.occupancy import Doing, Months, months_of, occupancy
from bedwright.reports.words_months import MONTH_WORDS
from bedwright.season import SeasonPlan

LANDSCAPE = Size(width=960.0, height=690.0, letters=8.0)  # a page of US letter or A4, with its rim


@dataclass(frozen=True)
class MonthRow:
    """A bed or a part of it in the table: what it does in each month, and that in words."""

    bed: str
    part: int | None
    cells: tuple[tuple[Doing, str], ...]


def garden_months(
    plan: SeasonPlan, *, years: YearsAhead | None = None, first: date | None = None
) -> Months:
    """What stands in each bed of a plan in twelve months.

    Parameters
    ----------
    plan : of the garden
    years : the years ahead where the plan does not hold them itself
    first : a day of the first month; left out, the month of the plan's day
    """
    found = occupancy(
        plan.document,
        plan.library,
        plan.as_of,
        plan.grown,
        plan.turnover,
        plan.harvest,
        plan.years or years,
    )
    return months_of(found, first or plan.as_of)


def months_svg(
    plan: SeasonPlan,
    *,
    months: Months | None = None,
    years: YearsAhead | None = None,
    first: date | None = None,
    size: Size = LANDSCAPE,
    link: Callable[[str], str] | None = None,
    id_prefix: str = "months",
) -> str:
    """Twelve small drawings of the garden as SVG text, made for one landscape page as it comes.

    Parameters
    ----------
    plan, years, first : as for :func:`garden_months`
    months : what stands where, if it is known already
    size : of the paper, see :class:`bedwright.drawings.months_ground.Size`
    link : the address of a bed's page by its id
    id_prefix : begins every id in the drawing

    Raises ValueError for paper that is too small.
    """
    shown = months or garden_months(plan, years=years, first=first)
    names = dict.fromkeys(each.name for each in held_of(shown))
    letters = letters_of(_called(each) for each in names)
    return months_drawing(
        plan.document,
        shown,
        words=MONTH_WORDS,
        called=_called,
        codes={name: letters[_called(name)] for name in names},
        size=size,
        link=link,
        id_prefix=id_prefix,
    )


def months_table(months: Months) -> tuple[tuple[str, ...], tuple[MonthRow, ...]]:
    """The months by name, and for each bed and part of a bed what it does in each, in words."""
    heads = tuple(month_title(each, MONTH_WORDS) for each in months.months)
    rows = tuple(
        MonthRow(
            unit.bed,
            unit.part,
            tuple((cell.doing, cell_words(cell, MONTH_WORDS, _called)) for cell in row),
        )
        for unit, row in zip(months.units, months.cells, strict=True)
    )
    return heads, rows


def _called(name: str) -> str:
    return named(name).lower()

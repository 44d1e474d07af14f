"""Years ahead made by hand for the demo's beds, so that pages are tested without a search."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bedwright.garden.model_rotation import Weights
from bedwright.planning.assignment.model import Candidate, Unit
from bedwright.planning.assignment.result import (
    ClashMember,
    ClashTold,
    Content,
    Instead,
    Placement,
    Rest,
    WishMet,
    YearsAhead,
)
from bedwright.planning.findings import finding
from bedwright.working import Figure

PEPPER = Candidate("pepper_sweet", "pepper_sweet", None, "Sweet pepper", "Solanaceae", "annual")
GARLIC = Candidate("garlic", "garlic", None, "Garlic", "Amaryllidaceae", "overwintered")
W2, W3 = Unit("W2", None, 12.0, 1.0), Unit("W3", None, 12.0, 1.0)


def placed(unit: Unit, crop: Candidate, year: int, **other: object) -> Placement:
    made = Placement(
        unit=unit, crop=crop, year=year, turn="spring", start=date(year, 5, 15),
        free_from=date(year, 10, 10), on=date(year, 5, 15), first_harvest=date(year, 7, 20),
        last_harvest=date(year, 10, 3), settled=None,
        reasons=(finding("rotation_why_family_never", "note", family=crop.family),),
        barred=(("family", ("tomato", "eggplant")),),
        expected=Figure("harvest", 42.0, "kg", "computed"), income=130.5, income_a_week=6.2,
        yield_left=None,
    )  # fmt: skip
    return replace(made, **other)


def years_made(**other: object) -> YearsAhead:
    """Two beds over two years: peppers in W2, garlic in W3, a wish short by a bed."""
    wish = WishMet(
        at=0, crop=PEPPER, year=2027, measure="beds", must=False, wanted=2.0, given=1.0, short=1.0,
        short_beds=1.0, weeks=0, weeks_short=(), weeks_out=(), open_beds=("W2",),
        barred=(("family", 3),),
    )  # fmt: skip
    member = ClashMember("wish", 0, PEPPER, (2027,), 1.5, (), 1.0, 2.0)
    made = YearsAhead(
        as_of=date(2026, 11, 25), years=(2027, 2028), weights=Weights(), units=(W2, W3),
        placements=(placed(W2, PEPPER, 2027), placed(W3, GARLIC, 2028, settled="pin")),
        rests=(Rest(W3, 2027, (finding("rotation_rest_not_wished", "note", year="2027"),), ()),),
        wishes=(wish, replace(wish, year=2028, given=2.0, short=0.0, short_beds=0.0)),
        clashes=(
            ClashTold((member, replace(member, at=1)), "Solanaceae", (2027,), 3.0,
                      ("B4", "B9"), 3, False),
        ),
        instead=(Instead(W2, (Content(GARLIC, 2027, date(2026, 10, 10)),), 4.0, 0.4),),
        changes=(), findings=(finding("rotation_light_not_asked", "note"),), objective=31.0,
        bound=31.2, gap=0.0065, repeatable=True, near_gain=None, near_cost=None,
    )  # fmt: skip
    return replace(made, **other)

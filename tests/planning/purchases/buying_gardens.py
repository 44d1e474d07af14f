"""Small gardens with something to buy; no weather, so that they are quick."""

from datetime import date
from pathlib import Path

from bedwright.garden.load import load_text
from bedwright.planning.purchases.model import Buy, Purchases
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan

AS_OF = date(2027, 2, 1)
LIBRARY = Library()
FOOT = 0.3048
TOMATO = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
CARROT = '[[want]]\ncrop = "carrot"\nbeds = ["B"]\nset_out = 2027-04-20\n'
SHED = "".join(
    f'[[stock]]\nmaterial = "{each}"\n{more}'
    for each, more in (
        ("blood meal", 'package = "50 lb"\nprice = "60 USD"\non_hand = "2 lb"\n'),
        ("steamed bone meal", 'package = "25 lb"\n'),
    )
)


def plan_of(body: str, beds: tuple[str, ...] = ("A",), bed: str = "") -> SeasonPlan:
    ground = "".join(
        f'[[bed]]\nid = "{each}"\nlength = "20 ft"\nwidth = "4 ft"\ntexture = "loam"\n{bed}\n'
        for each in beds
    )
    text = f'format = 2\n[garden]\nname = "Small"\n{ground}{body}'
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF, ahead=False)


def bought_of(body: str, beds: tuple[str, ...] = ("A",), bed: str = "") -> Purchases:
    found = plan_of(body, beds, bed).purchases
    assert found is not None
    return found


def item(found: Purchases, kind: str, key: str = "") -> Buy:
    (one,) = [each for each in found.buys if (each.item.kind, each.item.key) == (kind, key)]
    return one


def kinds(found: Purchases) -> set[str]:
    return {each.item.kind for each in found.buys}


def codes(found: Purchases) -> set[str]:
    return {each.code for each in found.findings}


def supply(kind: str, crop: str = "", **fields: str) -> str:
    named = f'crop = "{crop}"\n' if crop else ""
    rest = "".join(f"{key} = {value}\n" for key, value in fields.items())
    return f'[[supply]]\nitem = "{kind}"\n{named}{rest}'

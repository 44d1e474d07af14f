"""Small gardens with something to pick; no weather, so that they are quick."""

from datetime import date
from pathlib import Path

from bedwright.garden.load import load_text
from bedwright.planning.harvest.model import CropHarvest, HarvestPlan
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan

AS_OF = date(2027, 2, 1)
LIBRARY = Library()
POUND = 0.45359237
AREA = 80 * 0.3048**2  # of a bed, 20 ft by 4 ft [m2]
TOMATO = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
ONION = '[[want]]\ncrop = "onion"\nbeds = ["A"]\nset_out = 2027-03-20\n'
CARROT = '[[want]]\ncrop = "carrot"\nbeds = ["A"]\nset_out = 2027-04-20\n'


def plan_of(body: str, beds: tuple[str, ...] = ("A",)) -> SeasonPlan:
    ground = "".join(
        f'[[bed]]\nid = "{each}"\nlength = "20 ft"\nwidth = "4 ft"\ntexture = "loam"\n'
        for each in beds
    )
    text = f'format = 2\n[garden]\nname = "Small"\n{ground}{body}'
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF, ahead=False)


def harvest_of(body: str, beds: tuple[str, ...] = ("A",)) -> HarvestPlan:
    found = plan_of(body, beds).harvest
    assert found is not None
    return found


def only(body: str, beds: tuple[str, ...] = ("A",)) -> CropHarvest:
    (found,) = harvest_of(body, beds).crops
    return found


def season(year: int, mass: str, crop: str = "tomato", bed: str = "A") -> str:
    return f'[[history]]\nbed = "{bed}"\nyear = {year}\ncrop = "{crop}"\nharvested = "{mass}"\n'


def weekly(mass: str, first: str, last: str, crop: str = "tomato") -> str:
    return (
        f'[[wish]]\ncrop = "{crop}"\na_week = "{mass}"\nfrom_day = "{first}"\nto_day = "{last}"\n'
    )


def codes(plan: HarvestPlan) -> set[str]:
    return {each.code for each in plan.findings}

"""Small gardens with work to do, and their schedules; no weather, so that they are quick."""

import random
from datetime import date, timedelta
from pathlib import Path

from bedwright.garden.load import load_text
from bedwright.planning.work.hours import hours_of_week
from bedwright.planning.work.making import monday
from bedwright.planning.work.model import Task, Work
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan

AS_OF = date(2027, 2, 1)
LIBRARY = Library()
SHED = "".join(
    f'[[stock]]\nmaterial = "{each}"\npackage = "50 lb"\n'
    for each in ("blood meal", "feather meal", "steamed bone meal", "calcitic lime", "gypsum")
)
BED = 'length = "20 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
CROPS = ("tomato", "lettuce", "carrot", "potato", "pole bean", "onion", "cabbage", "cucumber")


def garden(
    wants: str = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n',
    work: str = "",
    beds: tuple[str, ...] = ("A",),
    place: str = "",
    more: str = "",
) -> str:
    ground = "".join(f'[[bed]]\nid = "{each}"\n{BED}' for each in beds)
    return (
        f'format = 2\n[garden]\nname = "Small"\n{place}\n{ground}{SHED}{wants}\n'
        f"[work]\n{work}\n{more}\n"
    )


def plan_of(text: str, as_of: date = AS_OF, acts: tuple = ()) -> SeasonPlan:
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, as_of)
    return season_plan(document, LIBRARY, as_of, ahead=False, acts=acts)


def work_of(text: str, as_of: date = AS_OF, acts: tuple = ()) -> Work:
    work = plan_of(text, as_of, acts).work
    assert work is not None
    return work


def task(work: Work, kind: str, number: int = 1, bed: str = "A") -> Task:
    """The task of this kind in a bed."""
    (found,) = [
        each
        for each in work.tasks
        if each.kind == kind and each.bed == bed and each.id.endswith(f"/{number}")
    ]
    return found


def hours_there(plan: SeasonPlan) -> dict[date, float]:
    """The hours of each week from the day of planning on."""
    begin = monday(plan.as_of)
    return {
        begin + timedelta(days=7 * at): hours_of_week(
            plan.document.garden.work, begin + timedelta(days=7 * at), plan.as_of
        )
        for at in range(120)
    }


def random_garden(seed: int) -> str:
    """A garden of one to three beds with random crops, days, hours and benches."""
    dice = random.Random(seed)
    beds = tuple("ABC"[: dice.randint(1, 3)])
    wants = "".join(
        f'[[want]]\ncrop = "{dice.choice(CROPS)}"\nbeds = ["{bed}"]\n'
        f"set_out = {date(2027, 3, 1) + timedelta(days=dice.randint(0, 100))}\n"
        for bed in beds
    )
    work = [f"hours_per_week = {dice.choice([0.5, 1, 2, 3, 5, 12])}"]
    if dice.random() < 0.5:
        work.append(f"bench_trays = {dice.randint(1, 4)}")
    if dice.random() < 0.5:
        work.append('tools = ["broadfork", "wheel hoe"]\nmarket_hours = 1')
    if dice.random() < 0.5:
        day = date(2027, 3, 1) + timedelta(days=dice.randint(0, 150))
        work.append(
            f"[[work.other_hours]]\nfirst = {day}\nlast = {day + timedelta(days=9)}\n"
            "hours_per_week = 0"
        )
    done = ""
    if dice.random() < 0.4:
        done = f'[[labor_done]]\ntask = "clear"\nbed = "A"\non = {AS_OF - timedelta(days=1)}\n'
    return garden(wants, "\n".join(work), beds, more=done)

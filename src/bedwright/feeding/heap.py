"""The compost heap: moisture, carbon and nitrogen of mixtures."""

from __future__ import annotations

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

_MASS = ("mass", "kg")
_PERCENT = ("fraction", "%")

_MOISTURE = (Source("cornell_cwmi", "moisture content", "worked text on grass and leaves"),)
_RATIO = (Source("cornell_cwmi", "carbon to nitrogen ratio", "weighted by mass, never by volume"),)


@formula(
    "dry matter = mass x (1 - moisture)",
    result=_MASS,
    sources=_MOISTURE,
    example={"mass": "3090 lb", "moisture": "35 %"},
    mass=_MASS,
    moisture=_PERCENT,
)
def dry_matter(mass: float, moisture: float) -> float:
    """Dry matter in a moist mass [kg].

    Parameters
    ----------
    mass : as it lies [kg], 0 and up
    moisture : water in the moist mass [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    not_negative(mass=mass)
    within(0, 100, moisture=moisture)
    return mass * (1 - moisture / 100)


@formula(
    "moisture = 100 x (moist mass - dry mass) / moist mass",
    result=_PERCENT,
    sources=_MOISTURE,
    example={"moist": "10 g", "dry": "2.3 g"},
    moist=_MASS,
    dry=_MASS,
)
def moisture_of_sample(moist: float, dry: float) -> float:
    """Water in a sample that was weighed moist and again dried [% of the moist mass].

    Parameters
    ----------
    moist : mass before drying, without the dish [kg], above 0
    dry : mass after drying, without the dish [kg], 0 to the moist mass

    Raises ValueError for an input outside its range.
    """
    positive(moist=moist)
    within(0, moist, dry=dry)
    return 100 * (moist - dry) / moist


@formula(
    "moisture of the mixture = sum of mass x moisture / sum of mass",
    result=_PERCENT,
    sources=_MOISTURE,
    masses=("word", "masses in order"),
    moistures=("word", "moistures in the same order"),
    example={"masses": "10,6.8", "moistures": "77,35"},
)
def moisture_of_mixture(masses: tuple[float, ...], moistures: tuple[float, ...]) -> float:
    """Water in a mixture of moist materials [%].

    Parameters
    ----------
    masses : of the materials as they lie [kg], 0 and up, together above 0
    moistures : of the materials in the same order [%], 0 to 100

    Raises ValueError for lists of unlike length or an input outside its range.
    """
    _same_length(masses, moistures=moistures)
    within(0, 100, moistures=moistures)
    water = sum(mass * each for mass, each in zip(masses, moistures, strict=True))
    return water / sum(masses)


@formula(
    "second material = mass x (moisture - goal) / (goal - moisture of the second material)",
    result=_MASS,
    sources=_MOISTURE,
    example={"mass": "10 kg", "moisture": "77 %", "other_moisture": "35 %", "goal": "60 %"},
    mass=_MASS,
    moisture=_PERCENT,
    other_moisture=_PERCENT,
    goal=_PERCENT,
)
def mass_to_reach_moisture(
    mass: float, moisture: float, other_moisture: float, goal: float
) -> float:
    """Mass of a second material that brings a mixture to the moisture wanted [kg].

    Parameters
    ----------
    mass : of the first material as it lies [kg], 0 and up
    moisture : of the first material [%], 0 to 100
    other_moisture : of the second material [%], 0 to 100
    goal : moisture wanted [%], 0 to 100

    Raises ValueError where the goal does not lie between the two moistures.
    """
    not_negative(mass=mass)
    within(0, 100, moisture=moisture, other_moisture=other_moisture, goal=goal)
    if goal == moisture:
        return 0.0
    if not min(moisture, other_moisture) <= goal <= max(moisture, other_moisture) or (
        goal == other_moisture
    ):
        raise ValueError(
            f"goal is {goal:g} %; it does not lie between {moisture:g} % and {other_moisture:g} %"
        )
    return mass * (moisture - goal) / (goal - other_moisture)


@formula(
    "water = mass x (goal - moisture) / (100 - goal)",
    result=_MASS,
    sources=_MOISTURE,
    example={"mass": "100 lb", "moisture": "35 %", "goal": "50 %"},
    mass=_MASS,
    moisture=_PERCENT,
    goal=_PERCENT,
)
def water_needed(mass: float, moisture: float, goal: float) -> float:
    """Water that brings a material to a moisture [kg]; 0 where it is moist enough.

    Parameters
    ----------
    mass : of the material as it lies [kg], 0 and up
    moisture : now [%], 0 to 100
    goal : wanted [%], 0 to below 100

    Raises ValueError for an input outside its range.
    """
    not_negative(mass=mass)
    within(0, 100, moisture=moisture, goal=goal)
    positive(room_above_goal=100 - goal)
    return max(0.0, mass * (goal - moisture) / (100 - goal))


@formula(
    "C:N = sum of mass x carbon / sum of mass x nitrogen",
    result=("ratio", "-"),
    sources=_RATIO,
    masses=("word", "masses in order"),
    carbons=("word", "carbon contents in the same order"),
    nitrogens=("word", "nitrogen contents in the same order"),
    example={"masses": "50,10,2", "carbons": "40,10,25", "nitrogens": "1,1,1"},
)
def carbon_to_nitrogen_of_mixture(
    masses: tuple[float, ...], carbons: tuple[float, ...], nitrogens: tuple[float, ...]
) -> float:
    """Mass of carbon for each mass of nitrogen in a mixture [-].

    Parameters
    ----------
    masses : of the materials [kg], 0 and up, together above 0; on the basis of the contents
    carbons : carbon content in the same order [%], 0 to 100
    nitrogens : nitrogen content in the same order [%], 0 to 100

    Raises ValueError for lists of unlike length, an input outside its range or no nitrogen.
    """
    _same_length(masses, carbons=carbons, nitrogens=nitrogens)
    within(0, 100, carbons=carbons, nitrogens=nitrogens)
    carbon = sum(mass * each for mass, each in zip(masses, carbons, strict=True))
    nitrogen = sum(mass * each for mass, each in zip(masses, nitrogens, strict=True))
    positive(nitrogen_of_the_mixture=nitrogen)
    return carbon / nitrogen


def _same_length(masses: tuple[float, ...], **lists: tuple[float, ...]) -> None:
    """Check that each list goes with the masses, and that there is something to mix."""
    not_negative(masses=masses)
    positive(mass_of_the_mixture=sum(masses))
    for name, each in lists.items():
        if len(each) != len(masses):
            raise ValueError(f"{name} has {len(each)} entries for {len(masses)} masses")

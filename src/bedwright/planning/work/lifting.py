"""What may be lifted: the revised lifting equation, and bags held against it."""

from __future__ import annotations

import math

from bedwright.guards import not_negative, positive, within
from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.working import Figure, Source, formula, work_on

_NIOSH = Source("niosh_lifting_1994", "RWL", "0.45 kg to the pound, 2.54 cm to the inch")
_LENGTH = ("length", "m")
_PLAIN = ("ratio", "-")
_LOAD_KG = 23.0
_NEAREST_M, _FARTHEST_M = 0.25, 0.63  # the farther end is from memory: beyond it nothing is allowed
_KNUCKLES_M, _HIGHEST_M = 0.75, 1.75
_LEAST_TRAVEL_M, _MOST_TRAVEL_M = 0.25, 1.75
_MOST_TURN_DEG = 135.0


@formula(
    "limit = 23 kg x 25 / H x (1 - 0.003 |V - 75|) x (0.82 + 4.5 / D) x (1 - 0.0032 A) x F x C, "
    "lengths in cm, A in degrees",
    result=("mass", "kg"),
    sources=(_NIOSH,),
    example={
        "horizontal_m": "40 cm", "height_m": "20 cm", "travel_m": "60 cm", "turn_deg": "30",
        "grip": "0.9", "often": "1",
    },
    horizontal_m=_LENGTH,
    height_m=_LENGTH,
    travel_m=_LENGTH,
    turn_deg=_PLAIN,
    grip=_PLAIN,
    often=_PLAIN,
)  # fmt: skip
def lifting_limit_niosh(
    horizontal_m: float,
    height_m: float,
    travel_m: float,
    turn_deg: float,
    grip: float,
    often: float,
) -> float:
    """Mass that nearly all healthy people may lift in a lift like this [kg].

    Parameters
    ----------
    horizontal_m : from the ankles to the hands [m], above 0; nearer than 0.25 counts as 0.25,
        farther than 0.63 allows nothing
    height_m : of the hands above the floor at the start [m], 0 and up; above 1.75 allows nothing
    travel_m : how far the load goes up or down [m], 0 and up; less than 0.25 counts as 0.25,
        more than 1.75 allows nothing
    turn_deg : turn of the body away from straight ahead [degrees], 0 and up; above 135 allows
        nothing
    grip : factor of the coupling [-], 0.9 poor to 1 good
    often : factor of frequency [-], 0 to 1; 1 for a lift every five minutes or fewer

    Raises ValueError for an input outside its range.
    """
    positive(horizontal_m=horizontal_m)
    not_negative(height_m=height_m, travel_m=travel_m, turn_deg=turn_deg)
    within(0, 1, grip=grip, often=often)
    if (
        horizontal_m > _FARTHEST_M
        or height_m > _HIGHEST_M
        or travel_m > _MOST_TRAVEL_M
        or turn_deg > _MOST_TURN_DEG
    ):
        return 0.0
    horizontal = _NEAREST_M / max(horizontal_m, _NEAREST_M)
    vertical = 1 - 0.003 * abs(height_m - _KNUCKLES_M) * 100
    distance = min(0.82 + 4.5 / (max(travel_m, _LEAST_TRAVEL_M) * 100), 1.0)
    turn = 1 - 0.0032 * turn_deg
    return _LOAD_KG * horizontal * vertical * distance * turn * grip * often


def bag_limit(situation: str, library: Library) -> Figure:
    """The limit for a bag lifted as ``work_lifts.csv`` tells of a situation [kg].

    A bag now and then: its frequency costs nothing. Raises LookupError for another situation.
    """
    rows = {
        row["property"]: row for row in library.rows("work_lifts") if row["situation"] == situation
    }
    if not rows or situation == "equation":
        raise LookupError(f"work_lifts.csv knows no situation {situation!r}")
    turn = rows["turn"]
    figures = {
        "horizontal_m": figure_of("horizontal_m", rows["horizontal"], "m"),
        "height_m": figure_of("height_m", rows["height"], "m"),
        "travel_m": figure_of("travel_m", rows["travel"], "m"),
        "turn_deg": Figure("turn_deg", turn.typical(), "-", "table", sources=(turn.source,)),
        "grip": figure_of("grip", rows["grip"], "1"),
        "often": Figure("often", 1.0, "-", "assumed", note="a lift now and then"),
    }
    return work_on(lifting_limit_niosh, figures, "lifting_limit")


def parts_to_lift(mass_kg: float, limit_kg: float) -> int:
    """In how many parts a mass is to be lifted so that none is above the limit."""
    positive(limit_kg=limit_kg)
    not_negative(mass_kg=mass_kg)
    return max(1, math.ceil(mass_kg / limit_kg - 1e-9))

"""Invented gardens for the rotation benchmarks: beds in zones, nine families, three years behind.

Crops, spans and incomes are made up in likely proportions; nothing here is a recommendation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.planning.rotation.problem import KeepApart, RotationProblem, Succession, Wish

# name, family, feeding, income of a bed (of the best crop's), spans by turn (first day, last day)
CROPS = (
    ("tomato", "nightshade", "heavy", 1.00, ((115, 290),)),
    ("lettuce", "daisy", "light", 0.55, ((60, 125), (235, 300))),
    ("carrot", "carrot", "light", 0.50, ((60, 165), (215, 320))),
    ("onion", "onion", "medium", 0.45, ((60, 190),)),
    ("cabbage", "cabbage", "heavy", 0.40, ((70, 160), (215, 310))),
    ("bean", "pea", "giver", 0.50, ((120, 195), (205, 280))),
    ("squash", "gourd", "heavy", 0.55, ((120, 205),)),
    ("beet", "beet", "medium", 0.42, ((60, 140), (215, 310))),
    ("sweet corn", "grass", "heavy", 0.25, ((115, 203),)),
    ("pepper", "nightshade", "heavy", 0.90, ((125, 285),)),
    ("spinach", "beet", "light", 0.48, ((50, 110), (240, 310))),
    ("broccoli", "cabbage", "heavy", 0.45, ((65, 150), (220, 310))),
    ("cucumber", "gourd", "heavy", 0.80, ((125, 208),)),
    ("pea", "pea", "giver", 0.40, ((50, 150),)),
    ("garlic", "onion", "medium", 0.60, ((290, 530),)),
    ("melon", "gourd", "heavy", 0.60, ((130, 240),)),
    ("potato", "nightshade", "heavy", 0.38, ((80, 190),)),
    ("radish", "cabbage", "light", 0.40, ((60, 105), (240, 290))),
    ("sudangrass", "grass", "light", 0.05, ((130, 205),)),
    ("cowpea", "pea", "giver", 0.06, ((125, 210),)),
    ("eggplant", "nightshade", "heavy", 0.70, ((130, 280),)),
    ("kale", "cabbage", "medium", 0.52, ((60, 150), (225, 330))),
    ("leek", "onion", "medium", 0.55, ((100, 280),)),
    ("chard", "beet", "medium", 0.50, ((70, 200), (212, 320))),
    ("chicory", "daisy", "medium", 0.50, ((210, 310),)),
)
YEARS_AWAY = {
    "nightshade": 3, "cabbage": 2, "gourd": 2, "pea": 1, "onion": 3,
    "carrot": 2, "daisy": 1, "beet": 1, "grass": 1,
}  # fmt: skip
FEEDING = ("giver", "light", "medium", "heavy")
# Gained by a row's crop before a column's, in FEEDING's order: invented, legumes before the hungry.
SCORES = np.array([[-2, 0, 2, 4], [0, 0, 0, -1], [1, 1, 0, -1], [2, 1, 0, -3]]) * 0.05
TURNOVER = 7
SPARE = 0.85  # of a season's beds that the wishes ask for


@dataclass(frozen=True)
class Size:
    """How large a garden is, and which wishes it has."""

    beds: int
    years: int
    crops: int
    successions: bool = False
    by_area: float = 0.0  # share of the crops that are wished for by area, the others by beds


def garden(size: Size, seed: int = 0) -> RotationProblem:
    """One invented garden; the same for the same size and seed."""
    dice = np.random.default_rng(seed)
    rows = [
        (at, turn, year, 365 * year + first, 365 * year + last + TURNOVER)
        for year in range(size.years)
        for at, crop in enumerate(CROPS[: size.crops])
        for turn, (first, last) in enumerate(crop[4])
    ]
    crop, turn, years, starts, ends = (np.array(each) for each in zip(*rows, strict=True))
    family = np.array([each[1] for each in CROPS[: size.crops]])
    allowed, last_fed = _history(dice, size, crop, years, family)
    light = dice.choice([0.6, 0.8, 0.9, 1.0], size.beds, p=[0.1, 0.2, 0.3, 0.4])
    area = dice.choice([8.0, 10.0, 12.0, 15.0], size.beds) / 10
    sun = np.array([each[3] for each in CROPS[: size.crops]]) > 0.55  # the dear ones need it
    income = np.array([each[3] for each in CROPS[: size.crops]])
    in_light = np.where(sun[None, :], light[:, None] ** 2, light[:, None] ** 0.5)
    soil = dice.uniform(0.9, 1.1, (8, size.crops))[dice.integers(0, 8, size.beds)]
    worth = (income[None, :] * in_light * soil * area[:, None])[:, crop]
    apart = tuple(
        KeepApart(name, family[crop] == name, np.full(size.beds, YEARS_AWAY[name]))
        for name in YEARS_AWAY
    )
    side = int(np.ceil(np.sqrt(size.beds)))
    place = np.stack([np.arange(size.beds) // side, np.arange(size.beds) % side], 1)
    far = np.abs(place[:, None] - place[None, :]).sum(-1)
    return RotationProblem(
        starts, ends, years, allowed, worth, apart,
        _demand(dice, size, crop, turn, years, area),
        successions=_feeding(size, crop, last_fed) if size.successions else (),
        beside=tuple((int(a), int(b)) for a, b in zip(*np.nonzero(np.triu(far == 1)), strict=True)),
        nearness=np.where(far == 1, 1.0, np.where(far == 2, 0.3, 0.0)),
        crop=crop,
        nearness_weight=0.05,
    )  # fmt: skip


def _history(dice, size, crop, years, family):  # type: ignore[no-untyped-def]
    """What three years behind leave: two families a year on each bed; the last crop's feeding."""
    names = sorted(YEARS_AWAY)
    allowed = np.ones((size.beds, crop.size), dtype=bool)
    for bed in range(size.beds):
        for back in (1, 2, 3):
            for name in dice.choice(names, 2, replace=False):
                near = years + back <= YEARS_AWAY[str(name)]
                allowed[bed, near & (family[crop] == name)] = False
    return allowed, dice.integers(0, len(FEEDING), size.beds)


def _demand(dice, size, crop, turn, years, area):  # type: ignore[no-untyped-def]
    """How much of each crop and turn in each year: a soft least, a hard most."""
    wishes = []
    share = dice.uniform(0.5, 1.5, size.crops)
    spans = np.array([len(each[4]) for each in CROPS[: size.crops]])
    share *= SPARE * 2 / (share * spans).sum()  # of the garden, each turn of a year
    in_area = np.arange(size.crops) < size.by_area * size.crops
    for at in range(size.crops):
        each = area if in_area[at] else np.ones(size.beds)
        for one in range(spans[at]):
            for year in range(size.years):
                members = (crop == at) & (turn == one) & (years == year)
                amount = np.where(members[None, :], each[:, None], 0.0)
                wanted = share[at] * float(each.sum()) * dice.uniform(0.8, 1.2)
                wanted = float(np.round(wanted, 1 if in_area[at] else 0))
                most = float(np.ceil(wanted * 1.5 + 1))
                wishes.append(Wish(f"{at}/{one}/{year}", amount, wanted, most, 1.0, False))
    return tuple(wishes)


def _feeding(size, crop, last_fed):  # type: ignore[no-untyped-def]
    kind = np.array([FEEDING.index(each[2]) for each in CROPS[: size.crops]])[crop]
    return (Succession(kind, kind, SCORES, SCORES[last_fed][:, kind]),)

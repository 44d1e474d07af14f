"""Random bed-seasons, and the same balance written plainly, one bed and one day at a time."""

from __future__ import annotations

from typing import Any

import numpy as np

from bedwright.water.beds import BedDays, Ground, Refill, Start
from bedwright.water.coefficients import Stages
from bedwright.water.crop_water import Plants, SeasonWeather, crop_days
from bedwright.water.root_zone import BedLayers

Season = dict[str, Any]


def season(seed: int, beds: int, days: int = 120, *, refill: bool = False) -> Season:
    """What :func:`daily_balance` takes, drawn at random over all that a garden may bring."""
    dice = np.random.default_rng(seed)
    ends = np.cumsum(dice.uniform(0, 50, (4, beds)), axis=0)
    wet = dice.uniform(0, 0.5)
    rain = np.where(
        dice.random((days, beds)) < wet,
        dice.exponential(dice.choice([0.002, 0.05]), (days, beds)),
        0,
    )
    layers = BedLayers(
        dice.uniform(0.03, 0.22, beds),
        depth_m=dice.uniform(0.1, 1.0, beds),
        below=np.where(dice.random(beds) < 0.5, 0.0, dice.uniform(0.03, 0.2, beds)),
    )
    plants = Plants(
        (0.15, dice.uniform(0.3, 1.2, beds), dice.uniform(0.2, 1.1, beds)),
        (0.05, dice.uniform(0.1, 2.0, beds)),
        (0.1, dice.uniform(0.1, 1.2, beds)),
        least_kcb=0.15,
        ceiling_base=dice.uniform(1.0, 2.5, beds),
    )
    weather = SeasonWeather(
        dice.uniform(0, 0.015, (days, beds)) * (dice.random((days, beds)) > 0.05),
        rain,
        dice.uniform(0, 8, (days, beds)),
        dice.uniform(5, 95, (days, beds)),
    )
    made = crop_days(
        np.arange(days),
        Stages(*ends),
        plants,
        layers,
        weather,
        salt_stress=dice.uniform(0, 1, (1, beds)) if dice.random() < 0.5 else None,
        dryness_below=dice.choice([0.0, 0.6, 1.0]),
        wetted_share=dice.uniform(0.05, 1, (days, beds)) if dice.random() < 0.3 else None,
    )
    total = dice.uniform(0.006, 0.03, beds)
    ground = Ground(
        total,
        total * dice.uniform(0.2, 0.95, beds),
        dice.uniform(0.1, 0.8, beds),
        wetted_share=dice.uniform(0.05, 1, beds),
        drip_under_canopy=(dice.random(beds) < 0.5).astype(float),
        open_share=np.where(dice.random(beds) < 0.3, dice.uniform(0.01, 1, beds), 1.0),
        evaporation_factor=np.where(dice.random(beds) < 0.3, dice.uniform(0, 1, beds), 1.0),
    )
    start = Start(
        dice.uniform(0, 1, beds) * made.available_m[0],
        dice.uniform(0, 1, beds) * total,
        (dice.random(beds) < 0.5).astype(float),
    )
    water: Any = np.where(dice.random((days, beds)) < 0.4, dice.uniform(0, 0.03, (days, beds)), 0.0)
    if refill:
        water = Refill(
            dice.random((days, beds)) < 0.6,
            dice.uniform(0, 1.2, beds),
            most_m=dice.uniform(0.001, 0.05, beds),
            leaching_share=dice.uniform(0, 0.4, beds),
        )
    return {
        "days": made,
        "ground": ground,
        "start": start,
        "irrigation": water,
        "timing": str(dice.choice(["early", "late"])),
        "fixed_depletion_share": bool(dice.random() < 0.3),
        "rain_outranks_drip": bool(dice.random() < 0.5),
    }


def plain_balance(given: Season, bed: int) -> dict[str, list[float]]:
    """FAO-56 equations 71 to 88 for one bed, in plain numbers; a second, independent way."""
    days: BedDays = given["days"]
    ground: Ground = given["ground"]
    early = given["timing"] == "early"

    def of(values: Any, day: int = 0) -> float:
        array = np.asarray(values, dtype=float)
        if array.ndim == 2:
            return float(array[min(day, len(array) - 1), min(bed, array.shape[1] - 1)])
        return float(array[bed] if array.ndim else array)

    total, ready = of(ground.total_evaporable_m), of(ground.readily_evaporable_m)
    wetted, by_rain = of(ground.wetted_share), of(given["start"].all_wetted) > 0
    drawn, surface = of(given["start"].depletion_m), of(given["start"].surface_depletion_m)
    found: dict[str, list[float]] = {
        name: [] for name in ("crop", "bare", "drained", "depletion", "irrigation")
    }
    for day in range(days.shape[0]):
        et0, rain = of(days.et0_m, day), of(days.rain_m, day)
        kcb, top = of(days.basal, day), of(days.ceiling, day)
        cover, held = of(days.cover, day), of(days.available_m, day)
        drawn += of(days.growth_m, day) if days.growth_m is not None else 0.0
        rule = given["irrigation"]
        if isinstance(rule, Refill):
            ready_m = of(rule.trigger_share) * of(ground.depletion_share) * held
            wanted = min(drawn / (1 - of(rule.leaching_share)), of(rule.most_m))
            water = wanted if of(rule.allowed, day) > 0 and drawn >= ready_m else 0.0
        else:
            water = of(rule, day)
        soaked = rain >= 0.003
        if water > 0:
            by_rain = False
            if days.wetted_share is not None:
                wetted = of(days.wetted_share, day)
            if soaked and given["rain_outranks_drip"]:
                by_rain = True
        elif soaked:
            by_rain = True
        strip = wetted * (1 - 2 / 3 * cover * of(ground.drip_under_canopy))
        few = min(1 - cover, of(ground.open_share), 1.0 if by_rain else strip)
        fallen = rain + water / wetted
        dry = max(surface - fallen, 0.0)
        reduction = min((total - (dry if early else surface)) / (total - ready), 1.0)
        ke = min(reduction * max(top - kcb, 0.0), few * top) * of(ground.evaporation_factor)
        bare, wish = ke * et0, kcb * et0
        share = of(ground.depletion_share)
        if not given["fixed_depletion_share"]:
            share = min(max(share + 0.04 * (5 - 1000 * (bare + wish)), 0.1), 0.8)
        drained = 0.0
        if early:
            drawn -= rain + water
            drained, drawn = max(-drawn, 0.0), max(drawn, 0.0)
        ks = min(max((held - drawn) / ((1 - share) * held), 0.0), 1.0)
        crop = wish * ks * (of(days.salt_stress, day) if days.salt_stress is not None else 1.0)
        drawn += crop + bare
        if not early:
            drawn -= rain + water
            drained, drawn = max(-drawn, 0.0), max(drawn, 0.0)
        if drawn > held:
            short = drawn - held
            drawn -= short
            cut = min(short, bare)
            bare, crop = bare - cut, crop - (short - cut)
        surface = min(dry + bare / few, total)
        for name, value in (
            ("crop", crop), ("bare", bare), ("drained", drained), ("depletion", drawn),
            ("irrigation", water),
        ):  # fmt: skip
            found[name].append(value)
    return found

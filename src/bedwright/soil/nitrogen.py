"""Nitrogen that a bed already holds or will be given, and what is left to supply."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula, step

_AREA_MASS = ("mass_per_area", "kg/m2")
_MG_PER_L_MM = 1e-6  # 1 mg/l in 1 mm (1 l/m2) is 1 mg/m2 = 1e-6 kg/m2


@formula(
    "credit = organic matter, up to the rule's ceiling, x release per percent and season",
    result=_AREA_MASS,
    sources=(Source("umd_traunfeld", "", "0.4 lb N per 1000 ft2, percent and year"),),
    example={"organic_matter": "3 %"},
    organic_matter=("fraction", "%"),
    release_per_percent=("parameter", "om_n_release kg/m2/%"),
    ceiling=("parameter", "om_rule_ceiling %"),
)
def organic_matter_credit(
    organic_matter: float, release_per_percent: float, ceiling: float
) -> float:
    """Nitrogen that the soil's organic matter releases in a season [kg/m2].

    Parameters
    ----------
    organic_matter : of the soil [%], 0 to 100
    release_per_percent : nitrogen released in a season [kg/m2 per %], 0 and up
    ceiling : organic matter above which the rule is not carried on [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    within(0, 100, organic_matter=organic_matter, ceiling=ceiling)
    not_negative(release_per_percent=release_per_percent)
    return min(organic_matter, ceiling) * release_per_percent


@formula(
    "credit = nitrate-N in the water x depth of water the crop uses",
    result=_AREA_MASS,
    sources=(
        Source("uc_nitrogen_water", "", "ppm x 2.72 = lb N per acre-foot"),
        Source("computed", "", "1 mg/l in 1 mm is 1 mg/m2"),
    ),
    example={"nitrate_n": "10 ppm", "water_depth": "12 in"},
    nitrate_n=("concentration", "mg/l"),
    water_depth=("depth", "mm"),
)
def irrigation_credit(nitrate_n: float, water_depth: float) -> float:
    """Nitrogen that irrigation water brings [kg/m2].

    Parameters
    ----------
    nitrate_n : nitrate nitrogen in the water [mg/l], 0 and up
    water_depth : of irrigation that the crop takes up, drainage left out [mm], 0 and up
    """
    not_negative(nitrate_n=nitrate_n, water_depth=water_depth)
    return nitrate_n * water_depth * _MG_PER_L_MM


@formula(
    "nitrate-N = nitrate x 0.2259",
    result=("concentration", "mg/l"),
    sources=(Source("iupac_2021", "abridged table", "14.007 / 62.004"),),
    example={"nitrate": "45 ppm"},
    nitrate=("concentration", "mg/l"),
)
def nitrate_n_of_nitrate(nitrate: float) -> float:
    """Nitrate nitrogen in a concentration printed as nitrate [mg/l].

    Parameters
    ----------
    nitrate : as nitrate [mg/l], 0 and up

    Raises ValueError for a negative input.
    """
    from bedwright.soil.forms import form_factor

    not_negative(nitrate=nitrate)
    return nitrate * form_factor("NO3", "N")


@formula(
    "credit = organic nitrogen spread x share released in this year",
    result=_AREA_MASS,
    sources=(Source("cornell_css412", "module 2", "shares of the original organic nitrogen"),),
    example={"organic_n": "50 lb/ac", "share": "12 %"},
    organic_n=_AREA_MASS,
    share=("fraction", "-"),
)
def carry_over_credit(organic_n: float, share: float) -> float:
    """Nitrogen released this season from manure or compost of an earlier one [kg/m2].

    Parameters
    ----------
    organic_n : organic nitrogen that was spread [kg/m2], 0 and up
    share : of the original, released in this year of its decay series [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(organic_n=organic_n)
    within(0, 1, share=share)
    return organic_n * share


@formula(
    "plant-available N per dry mass = 17.5 lb/ton per percent of N above 1.5 %, up to 3.5 %",
    result=("mass_per_mass", "kg/kg"),
    sources=(
        Source("sullivan_andrews_2012", "", "0 below 1.5 % N, 35 lb/ton at 3.5 %, a line between"),
    ),
    example={"tissue_n": "2.5 %"},
    tissue_n=("fraction", "%"),
)
def cover_crop_available_n(tissue_n: float) -> float:
    """Nitrogen available from a killed cover crop, per dry mass [kg/kg].

    Parameters
    ----------
    tissue_n : nitrogen in its dry matter [%], 0 to 10; above 3.5 % the line is not carried on
    """
    within(0, 10, tissue_n=tissue_n)
    slope_lb_ton, start, end = 17.5, 1.5, 3.5  # sullivan_andrews_2012
    lb_ton = 1 / 2000  # a short ton
    return slope_lb_ton * max(0.0, min(tissue_n, end) - start) * lb_ton


@formula(
    "four-week plant-available share = 15 x N % - 30, at most 60 %",
    result=("ratio", "%"),
    sources=(Source("pecan_amendments", "", "pattern of the open table after Eghball and Rynk"),),
    example={"n_of_dry_matter": "6 %"},
    n_of_dry_matter=("fraction", "%"),
)
def four_week_available_share(n_of_dry_matter: float) -> float:
    """Share of a fresh organic's nitrogen that is available after four weeks [%].

    Negative where the material ties nitrogen up.

    Parameters
    ----------
    n_of_dry_matter : nitrogen in the dry matter [%], 0 to 20
    """
    within(0, 20, n_of_dry_matter=n_of_dry_matter)
    slope, intercept, cap = 15.0, 30.0, 60.0  # pecan_amendments
    return min(cap, slope * n_of_dry_matter - intercept)


@dataclass(frozen=True)
class ManureNitrogen:
    """Plant-available nitrogen of a manure, with its three parts [kg/kg]."""

    value: float
    from_ammonium: float = step("kg/kg")
    from_nitrate: float = step("kg/kg")
    from_organic: float = step("kg/kg")


@formula(
    "available N = ammonium-N x share kept + nitrate-N + organic N x share released",
    result=("mass_per_mass", "kg/kg"),
    sources=(Source("montana_cnmp", "worked example", ""),),
    example={
        "total_n": "21 lb/ton",
        "ammonium_n": "8 lb/ton",
        "nitrate_n": "0 lb/ton",
        "ammonium_kept": "66 %",
        "organic_released": "25 %",
    },
    total_n=("mass_per_mass", "kg/kg"),
    ammonium_n=("mass_per_mass", "kg/kg"),
    nitrate_n=("mass_per_mass", "kg/kg"),
    ammonium_kept=("fraction", "-"),
    organic_released=("fraction", "-"),
)
def manure_available_n(
    total_n: float,
    ammonium_n: float,
    nitrate_n: float,
    ammonium_kept: float,
    organic_released: float,
) -> ManureNitrogen:
    """First-season plant-available nitrogen of a manure [kg per kg].

    Parameters
    ----------
    total_n, ammonium_n, nitrate_n : content [kg/kg], 0 and up; the rest of the total is organic
    ammonium_kept : share of the ammonium that is not lost to the air [-], 0 to 1
    organic_released : share of the organic nitrogen released in the first season [-], 0 to 1

    Raises ValueError when ammonium and nitrate are more than the total.
    """
    not_negative(total_n=total_n, ammonium_n=ammonium_n, nitrate_n=nitrate_n)
    within(0, 1, ammonium_kept=ammonium_kept, organic_released=organic_released)
    organic = total_n - ammonium_n - nitrate_n
    if organic < -1e-12:
        raise ValueError("ammonium_n and nitrate_n together are more than total_n")
    ammonium, released = ammonium_n * ammonium_kept, organic * organic_released
    return ManureNitrogen(ammonium + nitrate_n + released, ammonium, nitrate_n, released)


@dataclass(frozen=True)
class SeasonNeed:
    """The crop's nitrogen for the season [kg/m2], with the range of the guideline."""

    value: float
    low: float
    high: float


@formula(
    "need = guideline x yield goal / guideline's yield, kept within the guideline's range",
    result=_AREA_MASS,
    sources=(Source("judgement", "", "scaling by yield is common; the range caps it"),),
    example={
        "guideline": "210 lb/ac",
        "low": "180 lb/ac",
        "high": "240 lb/ac",
        "yield_goal": "20 ton/ac",
        "guideline_yield": "25 ton/ac",
    },
    guideline=_AREA_MASS,
    low=_AREA_MASS,
    high=_AREA_MASS,
    yield_goal=("mass_per_area", "kg/m2"),
    guideline_yield=("mass_per_area", "kg/m2"),
)
def season_need(
    guideline: float, low: float, high: float, yield_goal: float, guideline_yield: float
) -> SeasonNeed:
    """Nitrogen that the crop should find over the season, before credits [kg/m2].

    Parameters
    ----------
    guideline, low, high : published season rate and its range [kg/m2], low <= guideline <= high
    yield_goal : fresh yield hoped for [kg/m2], 0 and up
    guideline_yield : fresh yield that the guideline speaks of [kg/m2], above 0

    Raises ValueError where low, guideline and high are not in order or a yield is out of range.
    """
    not_negative(low=low, guideline=guideline, high=high, yield_goal=yield_goal)
    positive(guideline_yield=guideline_yield)
    if not low <= guideline <= high:
        raise ValueError(f"low {low:g}, guideline {guideline:g} and high {high:g} are not in order")
    scaled = guideline * yield_goal / guideline_yield
    return SeasonNeed(min(max(scaled, low), high), low, high)

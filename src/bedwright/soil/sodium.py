"""Sodium: how sodic a soil or water is, and the gypsum that displaces the sodium."""

from __future__ import annotations

import math

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

_MEQ_L = ("charge_concentration", "meq/l")
_PERCENT = ("fraction", "%")


@formula(
    "SAR = Na / square root of ((Ca + Mg) / 2)",
    result=("ratio", "-"),
    sources=(Source("handbook_60", "", "definition"),),
    example={"sodium": "43.5 meq/l", "calcium": "9.98 meq/l", "magnesium": "8.23 meq/l"},
    sodium=_MEQ_L,
    calcium=_MEQ_L,
    magnesium=_MEQ_L,
)
def sodium_adsorption_ratio(sodium: float, calcium: float, magnesium: float) -> float:
    """Sodium adsorption ratio [(meq/l)^0.5].

    Parameters
    ----------
    sodium, calcium, magnesium : in the saturation extract or the water [meq/l], 0 and up;
        calcium and magnesium not both 0

    Raises ValueError for an input outside its range.
    """
    not_negative(sodium=sodium, calcium=calcium, magnesium=magnesium)
    positive(calcium_and_magnesium=calcium + magnesium)
    return sodium / math.sqrt((calcium + magnesium) / 2)


@formula(
    "ESP = 100 x (-0.0126 + 0.01475 SAR) / (1 + (-0.0126 + 0.01475 SAR)), not below 0",
    result=("ratio", "%"),
    sources=(Source("oklahoma_code_165_10", "ESP definition", "the form of USDA Handbook 60"),),
    example={"sar": "13"},
    sar=("ratio", "-"),
)
def exchangeable_sodium_percentage(sar: float) -> float:
    """Exchangeable sodium percentage in balance with a SAR [%].

    Parameters
    ----------
    sar : sodium adsorption ratio [(meq/l)^0.5], 0 and up

    Raises ValueError for a negative input.
    """
    not_negative(sar=sar)
    ratio = -0.0126 + 0.01475 * sar
    return max(0.0, 100 * ratio / (1 + ratio))


@formula(
    "gypsum = (ESP now - ESP wanted) / 100 x CEC x 86.1 mg per meq x soil in the layer",
    result=("mass_per_area", "kg/m2"),
    sources=(
        Source("ali_2011", "p. 344, example 8.7", ""),
        Source("oster_1999_ndsu", "", "agrees within 0.2 %"),
    ),
    example={
        "esp": "35 %",
        "target_esp": "15 %",
        "cec": "22 meq/100 g",
        "bulk_density": "1.49 kg/l",
        "depth": "40 cm",
    },
    esp=_PERCENT,
    target_esp=_PERCENT,
    cec=("charge_fraction", "meq/100 g"),
    bulk_density=("density", "kg/m3"),
    depth=("depth", "m"),
)
def gypsum_requirement(
    esp: float, target_esp: float, cec: float, bulk_density: float, depth: float
) -> float:
    """Pure gypsum that displaces the surplus sodium of a layer [kg/m2].

    Parameters
    ----------
    esp, target_esp : exchangeable sodium now and wanted [%], 0 to 100
    cec : cation exchange capacity [meq/100 g], above 0
    bulk_density : of the dry soil [kg/m3], above 0
    depth : of the layer [m], above 0

    Raises ValueError for an input outside its range.
    """
    from bedwright.soil.forms import CALCIUM, HYDROGEN, OXYGEN, SULFUR

    within(0, 100, esp=esp, target_esp=target_esp)
    positive(cec=cec, bulk_density=bulk_density, depth=depth)
    gypsum = CALCIUM + SULFUR + 4 * OXYGEN + 2 * (2 * HYDROGEN + OXYGEN)
    surplus_meq_100g = max(0.0, esp - target_esp) / 100 * cec
    kg_per_kg = surplus_meq_100g * gypsum / 2 * 1e-3 / 100  # meq/100 g x mg/meq
    return kg_per_kg * bulk_density * depth


@formula(
    "gypsum, t/ha and 15 cm = 0.00335 Na^2 (1/wanted SAR^2 - 1/SAR^2) x saturation %",
    result=("mass_per_area", "kg/m2"),
    sources=(Source("soil_laboratory_sodicity_note", "", "rule for soils with soluble sodium"),),
    example={"sodium": "40 meq/l", "sar": "18", "target_sar": "8", "saturation_water": "40 %"},
    sodium=_MEQ_L,
    sar=("ratio", "-"),
    target_sar=("ratio", "-"),
    saturation_water=_PERCENT,
)
def gypsum_for_soluble_sodium(
    sodium: float, sar: float, target_sar: float, saturation_water: float
) -> float:
    """Gypsum that brings the saturation extract to a lower SAR, for 15 cm of soil [kg/m2].

    Parameters
    ----------
    sodium : in the saturation extract [meq/l], 0 and up
    sar, target_sar : sodium adsorption ratio now and wanted [(meq/l)^0.5], above 0
    saturation_water : water in the saturated paste [% of dry soil], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(sodium=sodium)
    positive(sar=sar, target_sar=target_sar, saturation_water=saturation_water)
    factor = 0.00335  # t/ha per 15 cm: exova_soil_salinity
    need = factor * sodium**2 * (1 / target_sar**2 - 1 / sar**2) * saturation_water
    return max(0.0, need) * 0.1  # 1 t/ha is 0.1 kg/m2


@formula(
    "residual sodium carbonate = (bicarbonate + carbonate) - (calcium + magnesium)",
    result=("charge_concentration", "meq/l"),
    sources=(Source("rsc_limits", "", "definition and classes"),),
    example={
        "bicarbonate": "5 meq/l",
        "carbonate": "0 meq/l",
        "calcium": "2 meq/l",
        "magnesium": "1 meq/l",
    },
    bicarbonate=_MEQ_L,
    carbonate=_MEQ_L,
    calcium=_MEQ_L,
    magnesium=_MEQ_L,
)
def residual_sodium_carbonate(
    bicarbonate: float, carbonate: float, calcium: float, magnesium: float
) -> float:
    """Carbonate that would throw down a water's calcium and magnesium [meq/l].

    Negative where the water holds more calcium and magnesium than carbonate.

    Parameters
    ----------
    bicarbonate, carbonate, calcium, magnesium : in the water [meq/l], 0 and up

    Raises ValueError for a negative input.
    """
    not_negative(bicarbonate=bicarbonate, carbonate=carbonate, calcium=calcium, magnesium=magnesium)
    return bicarbonate + carbonate - calcium - magnesium

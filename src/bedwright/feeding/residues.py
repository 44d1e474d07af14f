"""Nitrogen that a crop's remains free or bind when all of them have rotted in the soil."""

from __future__ import annotations

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula


@formula(
    "nitrogen = dry x carbon x (1 / C:N - 1 / balanced C:N)",
    result=("mass_per_area", "kg/m2"),
    sources=(Source("nrcs_c_to_n", "Table 1", "the diet that neither frees nor binds is 24"),),
    example={"dry": "20 lb/100 ft2", "c_to_n": "80 -", "carbon": "40 %", "balanced": "24 -"},
    dry=("mass_per_area", "kg/m2"),
    c_to_n=("ratio", "-"),
    carbon=("fraction", "%"),
    balanced=("ratio", "-"),
)
def residue_nitrogen(dry: float, c_to_n: float, carbon: float, balanced: float) -> float:
    """Nitrogen freed, below 0 bound, by remains that rot as a whole [kg/m2; kg if dry is in kg].

    Parameters
    ----------
    dry : dry matter of the remains [kg/m2] or [kg], 0 and up
    c_to_n : carbon to nitrogen of the remains [-], above 0
    carbon : of the dry matter [%], 0 to 100
    balanced : the C:N at which soil life neither frees nor binds [-], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(dry=dry)
    positive(c_to_n=c_to_n, balanced=balanced)
    within(0, 100, carbon=carbon)
    return dry * carbon / 100 * (1 / c_to_n - 1 / balanced)

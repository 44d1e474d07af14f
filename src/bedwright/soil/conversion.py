"""From what a laboratory prints to what lies in a bed."""

from __future__ import annotations

from bedwright.guards import not_negative, positive, within
from bedwright.soil.forms import CALCIUM, MAGNESIUM, POTASSIUM, SODIUM, form_factor
from bedwright.working import Source, formula

_MG_PER_KG = 1e6
# Charge of the exchangeable cations: chemistry. mg/kg per meq/100 g = 10 x mass / charge.
_EQUIVALENT_G = {
    "calcium": CALCIUM / 2,
    "magnesium": MAGNESIUM / 2,
    "potassium": POTASSIUM,
    "sodium": SODIUM,
}
_FURROW_SLICE_KG_M2 = 2_000_000 * 0.45359237 / 4046.8564224  # 2 million lb on an acre
_FURROW_SLICE_M = 20 / 3 * 0.0254  # 6 2/3 in

_FRACTION = ("fraction", "mg/kg")
_DEPTH = ("depth", "m")
_DENSITY = ("density", "kg/m3")
_AREA_MASS = ("mass_per_area", "kg/m2")


@formula(
    "mass per area = concentration x bulk density x depth",
    result=_AREA_MASS,
    sources=(Source("computed", "", "the mass of the sampled layer times its concentration"),),
    example={"concentration": "10 ppm", "bulk_density": "1.3 kg/l", "depth": "12 in"},
    concentration=_FRACTION,
    bulk_density=_DENSITY,
    depth=_DEPTH,
)
def mass_in_layer(concentration: float, bulk_density: float, depth: float) -> float:
    """Mass of a nutrient in the sampled layer [kg/m2].

    Parameters
    ----------
    concentration : in dry soil [mg/kg], 0 and up
    bulk_density : of the dry soil [kg/m3], above 0
    depth : of the layer [m], above 0
    """
    positive(bulk_density=bulk_density, depth=depth)
    not_negative(concentration=concentration)
    return concentration / _MG_PER_KG * bulk_density * depth


@formula(
    "mass per area = concentration x 2 million lb per acre x depth / 6 2/3 in",
    result=_AREA_MASS,
    sources=(
        Source("nofa_soil_handbook", "appendix A", "ppm x 2 = lb/ac"),
        Source("iastate_interpreting_soil_reports", "", "the same rule"),
    ),
    example={"concentration": "50 ppm", "depth": "6.667 in"},
    concentration=_FRACTION,
    depth=_DEPTH,
)
def mass_in_furrow_slices(concentration: float, depth: float) -> float:
    """Mass per area [kg/m2] by the laboratories' acre furrow slice of 2 million pounds.

    Used only to undo a laboratory's own conversion: it assumes 1.32 kg/l whatever the soil.

    Parameters
    ----------
    concentration : [mg/kg], 0 and up
    depth : of the sample [m], above 0
    """
    positive(depth=depth)
    not_negative(concentration=concentration)
    return concentration / _MG_PER_KG * _FURROW_SLICE_KG_M2 * depth / _FURROW_SLICE_M


@formula(
    "concentration = mass per area / (2 million lb per acre x depth / 6 2/3 in)",
    result=_FRACTION,
    sources=(Source("nofa_soil_handbook", "appendix A", "lb/ac / 2 = ppm"),),
    example={"mass": "100 lb/ac", "depth": "6.667 in"},
    mass=_AREA_MASS,
    depth=_DEPTH,
)
def concentration_from_area_mass(mass: float, depth: float) -> float:
    """Concentration [mg/kg] behind a figure that a laboratory prints per acre.

    Parameters
    ----------
    mass : as printed [kg/m2], 0 and up
    depth : of the sample [m], above 0
    """
    positive(depth=depth)
    not_negative(mass=mass)
    return mass * _MG_PER_KG * _FURROW_SLICE_M / (_FURROW_SLICE_KG_M2 * depth)


@formula(
    "concentration = parts per two million / 2",
    result=_FRACTION,
    sources=(
        Source("nofa_soil_handbook", "appendix A", "ppm x 2 = lb/ac"),
        Source("iastate_interpreting_soil_reports", "", "lb/ac printed as ppm x 2"),
    ),
    example={"mass": "280 lb/ac"},
    mass=_AREA_MASS,
)
def concentration_from_pp2m(mass: float) -> float:
    """Concentration [mg/kg] behind pounds per acre that a laboratory made by doubling ppm.

    Laboratories double the ppm of a plow-layer sample of 6 to 8 in, whatever its exact depth.

    Parameters
    ----------
    mass : as printed [kg/m2], 0 and up
    """
    not_negative(mass=mass)
    return mass * _MG_PER_KG / _FURROW_SLICE_KG_M2


@formula(
    "concentration = charge x 10 x atomic weight / charge number",
    result=_FRACTION,
    sources=(Source("iupac_2021", "abridged table", ""),),
    example={"cation": "calcium", "charge": "4 meq/100 g"},
    cation=("word", "calcium magnesium potassium sodium"),
    charge=("charge_fraction", "meq/100 g"),
)
def concentration_from_charge(cation: str, charge: float) -> float:
    """Concentration [mg/kg] of an exchangeable cation printed in meq/100 g.

    Parameters
    ----------
    cation : calcium, magnesium, potassium or sodium
    charge : [meq/100 g], 0 and up

    Raises ValueError for another cation.
    """
    not_negative(charge=charge)
    return charge * 10 * _equivalent_g(cation)


@formula(
    "charge = concentration / (10 x atomic weight / charge number)",
    result=("charge_fraction", "meq/100 g"),
    sources=(Source("iupac_2021", "abridged table", ""),),
    example={"cation": "calcium", "concentration": "800 ppm"},
    cation=("word", "calcium magnesium potassium sodium"),
    concentration=_FRACTION,
)
def charge_from_concentration(cation: str, concentration: float) -> float:
    """Charge [meq/100 g] of an exchangeable cation printed in mg/kg.

    Parameters
    ----------
    cation : calcium, magnesium, potassium or sodium
    concentration : [mg/kg], 0 and up

    Raises ValueError for another cation.
    """
    not_negative(concentration=concentration)
    return concentration / (10 * _equivalent_g(cation))


@formula(
    "charge = concentration / (atomic weight / charge number)",
    result=("charge_concentration", "meq/l"),
    sources=(Source("rayment_lyons_2011", "method 14H1", "mg/l divided by the equivalent weight"),),
    example={"cation": "sodium", "concentration": "230 mg/l"},
    cation=("word", "calcium magnesium potassium sodium"),
    concentration=("concentration", "mg/l"),
)
def charge_in_water(cation: str, concentration: float) -> float:
    """Charge [meq/l] of a cation in water or in an extract.

    Parameters
    ----------
    cation : calcium, magnesium, potassium or sodium
    concentration : [mg/l], 0 and up

    Raises ValueError for another cation.
    """
    not_negative(concentration=concentration)
    return concentration / _equivalent_g(cation)


@formula(
    "mass in the wanted form = mass x share of the element in the given form / in the wanted form",
    result=_AREA_MASS,
    sources=(Source("iupac_2021", "abridged table", ""),),
    example={"mass": "100 lb/ac", "given": "P", "wanted": "P2O5"},
    mass=_AREA_MASS,
    given=("word", "N NO3 P P2O5 K K2O Ca CaO Mg MgO S SO4"),
    wanted=("word", "N NO3 P P2O5 K K2O Ca CaO Mg MgO S SO4"),
)
def in_form(mass: float, given: str, wanted: str) -> float:
    """A nutrient's mass [kg/m2] stated in another form (P as P2O5, NO3 as N).

    Parameters
    ----------
    mass : [kg/m2], 0 and up
    given, wanted : forms of one element

    Raises FormError (a TypeError) for forms of different elements.
    """
    not_negative(mass=mass)
    return mass * form_factor(given, wanted)


@formula(
    "mg/l of soil = mg/kg / (0.02525 x organic matter % + 0.6541)",
    result=("concentration", "mg/l"),
    sources=(Source("ros_olsen_volume", "UK functions", "volume weight of scooped soil"),),
    example={"concentration": "20 ppm", "organic_matter": "3 %"},
    concentration=_FRACTION,
    organic_matter=("fraction", "%"),
)
def olsen_per_litre(concentration: float, organic_matter: float) -> float:
    """Olsen P per liter of scooped soil [mg/l], the basis of the British and Irish index.

    Parameters
    ----------
    concentration : Olsen P [mg/kg], 0 and up
    organic_matter : of the soil [%], 0 to 100

    Raises ValueError for an input outside its range.
    """
    not_negative(concentration=concentration)
    within(0, 100, organic_matter=organic_matter)
    slope, intercept = 0.02525, 0.6541  # ros_olsen_volume
    return concentration / (slope * organic_matter + intercept)


def _equivalent_g(cation: str) -> float:
    try:
        return _EQUIVALENT_G[cation]
    except KeyError:
        raise ValueError(
            f"{cation!r} is not a cation that is counted here: {', '.join(_EQUIVALENT_G)}"
        ) from None

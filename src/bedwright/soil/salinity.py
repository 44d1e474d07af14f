"""Salt: readings brought to the saturation extract, and what they cost the crop."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bedwright.guards import not_negative, positive, within
from bedwright.reference import Library, Row
from bedwright.working import Figure, Source, formula, step

_EC = ("conductivity", "dS/m")


@formula(
    "ECe = slope x reading + intercept (or its logarithmic form), never below the reading itself",
    result=_EC,
    sources=(),
    reading=_EC,
    form=("word", "linear log10 ln"),
    slope=("ratio", "-"),
    intercept=("ratio", "-"),
    example={"reading": "0.8 dS/m", "form": "linear", "slope": "2.35", "intercept": "-0.36"},
)
def ec_e_of_extract(reading: float, form: str, slope: float, intercept: float) -> float:
    """Conductivity of the saturation extract from that of a thinner extract [dS/m].

    A saturated paste holds less water than any dilution, so the result is never below the
    reading: regressions that fall below it at low readings are out of their range.

    Parameters
    ----------
    reading : conductivity of the extract [dS/m], 0 and up
    form : linear, log10 or ln
    slope : of the published regression [-], above 0
    intercept : of the published regression [dS/m, or - in a logarithmic form]

    Raises ValueError for another form or a coefficient that is not a number.
    """
    not_negative(reading=reading)
    positive(slope=slope)
    within(-math.inf, math.inf, intercept=intercept)
    if form == "linear":
        value = slope * reading + intercept
    elif form in ("log10", "ln"):
        if reading <= 0:
            return 0.0
        value = (
            10 ** (slope * math.log10(reading) + intercept)
            if form == "log10"
            else math.exp(slope * math.log(reading) + intercept)
        )
    else:
        raise ValueError(f"{form!r} is not a form of conversion: linear, log10 or ln")
    return max(value, reading)


@formula(
    "ECe = reading x 100 x parts of water / water held at saturation",
    result=_EC,
    sources=(Source("fao_soil_description_2006", "saturation water table", ""),),
    reading=_EC,
    parts_of_water=("ratio", "-"),
    saturation_water=("fraction", "%"),
    example={"reading": "0.2 dS/m", "parts_of_water": "5", "saturation_water": "29 %"},
)
def ec_e_by_dilution(reading: float, parts_of_water: float, saturation_water: float) -> float:
    """Conductivity at saturation if every salt stayed dissolved [dS/m].

    Parameters
    ----------
    reading : of the 1:n extract [dS/m], 0 and up
    parts_of_water : water for each part of soil by weight, the n of 1:n [-], above 0
    saturation_water : water in the saturated paste [% of dry soil], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(reading=reading)
    positive(parts_of_water=parts_of_water, saturation_water=saturation_water)
    return reading * 100 * parts_of_water / saturation_water


def to_saturation(library: Library, extract: str, reading: Figure, texture_group: str) -> Figure:
    """A reading brought to the saturation extract, with the spread of the published conversions.

    Parameters
    ----------
    extract : saturated_paste (returned as it is), water_1_1, water_1_2, water_2_5 or water_1_5
    reading : conductivity [dS/m]
    texture_group : coarse, medium, fine, or ``any`` where the texture is not known

    Raises LookupError for an extract without a conversion.
    """
    if extract == "saturated_paste":
        return reading.named("ec_e")
    rows = [row for row in library.rows("extract_conversions") if row["extract"] == extract]
    if not rows:
        raise LookupError(f"there is no conversion from {extract!r} to the saturation extract")
    fitting = [row for row in rows if row["texture_group"] in (texture_group, "any")]
    chosen = _chosen(fitting or rows, texture_group)
    values = [_converted(row, reading.value) for row in (fitting or rows)]
    return Figure(
        "ec_e",
        _converted(chosen, reading.value),
        "dS/m",
        "computed",
        low=min(values),
        high=max(values),
        sources=(chosen.source,),
        formula="ec_e_of_extract",
        inputs=(reading,),
        note=f"{len(values)} published conversions",
    )


def _chosen(rows: list[Row], texture_group: str) -> Row:
    used = [row for row in rows if row.used]
    own = [row for row in used if row["texture_group"] == texture_group]
    return (own or used or rows)[0]


def _converted(row: Row, reading: float) -> float:
    slope, intercept = row.number("slope"), row.number("intercept")
    if slope is None or intercept is None:
        raise LookupError(f"extract_conversions.csv line {row.line} is not complete")
    return float(ec_e_of_extract(reading, row["form"], slope, intercept))


@formula(
    "yield, % = 100 - slope x (ECe - threshold), from 0 to 100",
    result=("ratio", "%"),
    sources=(
        Source("fao_y4263e", "annex", "after Maas and Grattan 1999"),
        Source("maas_1990_salt", "", "thresholds and slopes"),
    ),
    example={"ec_e": "4 dS/m", "threshold": "2.5 dS/m", "slope": "9.9"},
    ec_e=_EC,
    threshold=_EC,
    slope=("ratio", "-"),
)
def relative_yield(ec_e: float, threshold: float, slope: float) -> float:
    """Yield left by the root zone's salt [% of what the crop gives without it].

    Parameters
    ----------
    ec_e : mean of the root zone's saturation extract [dS/m], 0 and up
    threshold : the crop bears without loss [dS/m], above 0
    slope : loss for each dS/m above it [% per dS/m], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(ec_e=ec_e)
    positive(threshold=threshold, slope=slope)
    return min(100.0, max(0.0, 100.0 - slope * (ec_e - threshold)))


@formula(
    "ECe at a yield = threshold + (100 - yield) / slope",
    result=_EC,
    sources=(Source("fao_y4263e", "annex", "the yield response solved for ECe"),),
    example={"yield_kept": "90 %", "threshold": "2.5 dS/m", "slope": "9.9"},
    yield_kept=("fraction", "%"),
    threshold=_EC,
    slope=("ratio", "-"),
)
def ec_e_at_yield(yield_kept: float, threshold: float, slope: float) -> float:
    """The root zone's salt at which a crop still gives a stated yield [dS/m].

    Parameters
    ----------
    yield_kept : wanted of the yield without salt [%], 0 to 100
    threshold : the crop bears without loss [dS/m], above 0
    slope : loss for each dS/m above it [% per dS/m], above 0

    Raises ValueError for an input outside its range.
    """
    within(0, 100, yield_kept=yield_kept)
    positive(threshold=threshold, slope=slope)
    return threshold + (100.0 - yield_kept) / slope


@dataclass(frozen=True)
class Leaching:
    """Leaching requirement, and the water to apply for each unit that the crop uses."""

    value: float
    water_per_use: float = step("-")


@formula(
    "leaching requirement = ECw / (5 ECe - ECw); water = crop use / (1 - requirement)",
    result=("ratio", "-"),
    sources=(
        Source("fao_29", "leaching requirement", "Rhoades"),
        Source("uc_drought_tip_92_16", "", "the measured fraction"),
    ),
    example={"ec_water": "0.6 dS/m", "ec_e": "0.4 dS/m"},
    ec_water=_EC,
    ec_e=_EC,
)
def leaching_requirement(ec_water: float, ec_e: float) -> Leaching:
    """Share of the water that must drain through to hold the root zone at ``ec_e``.

    Parameters
    ----------
    ec_water : of the irrigation water [dS/m], 0 and up
    ec_e : to be held in the root zone [dS/m], above 0

    Raises ValueError where no share would do (the water is as salty as 2.5 x the root zone).
    """
    not_negative(ec_water=ec_water)
    positive(ec_e=ec_e)
    drain = 5.0 * ec_e - ec_water  # Rhoades' factor 5: fao_29
    share = ec_water / drain if drain > 0 else math.inf
    if share >= 1:
        raise ValueError(
            f"water of {ec_water:g} dS/m cannot hold the root zone at {ec_e:g} dS/m by leaching"
        )
    return Leaching(share, 1 / (1 - share))


@dataclass(frozen=True)
class SaltRise:
    """Rise of the saturation extract's conductivity [dS/m], with the water it dissolves in."""

    value: float
    water_at_saturation: float = step("l/m2")
    concentration: float = step("g/l")


@formula(
    "rise = salts / (soil in the layer x water at saturation) / 0.64 g/l per dS/m",
    result=_EC,
    sources=(Source("omuto_salinity_code", "", "640 mg/l per dS/m, up to 5 dS/m"),),
    example={
        "salts": "100 g/m2",
        "bulk_density": "1.3 kg/l",
        "depth": "6 in",
        "saturation_water": "40 %",
    },
    salts=("mass_per_area", "kg/m2"),
    bulk_density=("density", "kg/m3"),
    depth=("depth", "m"),
    saturation_water=("fraction", "%"),
)
def salt_rise(salts: float, bulk_density: float, depth: float, saturation_water: float) -> SaltRise:
    """How much spread salts raise ECe before any leaching [dS/m].

    Parameters
    ----------
    salts : soluble salts spread [kg/m2], 0 and up
    bulk_density : of the dry soil [kg/m3], above 0
    depth : of mixing [m], above 0
    saturation_water : water in the saturated paste [% of dry soil], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(salts=salts)
    positive(bulk_density=bulk_density, depth=depth, saturation_water=saturation_water)
    water = bulk_density * depth * saturation_water / 100
    concentration = salts * 1000 / water
    return SaltRise(concentration / 0.640, water, concentration)

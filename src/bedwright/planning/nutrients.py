"""What the crop asks of a bed besides nitrogen."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library, Row
from bedwright.soil.interpretation import NoTable, Reading, read_class
from bedwright.working import Figure, formula, work

# The wider group of each test group, for tables that know no more: common practice.
WIDER_GROUP = {
    "tomato": "warm_season",
    "pepper": "warm_season",
    "corn": "warm_season",
    "bean": "warm_season",
    "lettuce": "cool_season",
    "onion": "cool_season",
    "potato": "cool_season",
    "warm_season": "warm_season",
    "cool_season": "cool_season",
}
_OXIDES = (("phosphorus", "p2o5"), ("potassium", "k2o"))
_ELEMENTS = (
    ("sulfate_s", "s"),
    ("magnesium", "mg"),
    ("boron", "b"),
    ("zinc", "zn"),
    ("iron", "fe"),
    ("manganese", "mn"),
    ("copper", "cu"),
)
_CALLED_FOR = ("very_low", "low")
_NOT_FED = "cover"  # the kind of crop that is dug in where it grew


@dataclass(frozen=True)
class CropAtBed:
    """The crop of a bed: its key, groups and the fresh yield hoped for [kg/m2]."""

    key: str
    name: str
    kind: str
    test_group: str
    goal: Figure


@dataclass(frozen=True)
class Need:
    """What a bed needs of one nutrient [kg/m2], and the most it may be given.

    ``why`` is a code: by_class, removal_replaced (no test), not_called_for, ...
    """

    nutrient: str
    amount: Figure
    ceiling: Figure | None
    why: str
    reading: Reading | None = None


@formula(
    "removal = yield x content of what is carried off",
    result=("mass_per_area", "kg/m2"),
    sources=(),
    example={"fresh_yield": "20 ton/ac", "content": "6 lb/ton"},
    fresh_yield=("mass_per_area", "kg/m2"),
    content=("mass_per_mass", "kg/kg"),
)
def crop_removal(fresh_yield: float, content: float) -> float:
    """Nutrient that leaves with the harvest [kg/m2].

    Parameters
    ----------
    fresh_yield : harvested [kg/m2], 0 and up
    content : of the nutrient in the fresh harvest [kg/kg], 0 and up
    """
    from bedwright.guards import not_negative

    not_negative(fresh_yield=fresh_yield, content=content)
    return fresh_yield * content


def readings(
    evidence: Evidence, crop: CropAtBed, library: Library
) -> tuple[dict[str, Reading], tuple[Finding, ...]]:
    """Every measurement that a class table of its own extractant can read, by analyte."""
    found: dict[str, Reading] = {}
    said: list[Finding] = []
    tabled = {row["analyte"] for row in library.rows("soil_classes")}
    for (analyte, extractant), measurement in evidence.measured.items():
        if analyte not in tabled or (not extractant and analyte == "organic_matter"):
            continue
        try:
            reading = read_class(
                library, measurement, crop.test_group, WIDER_GROUP[crop.test_group], evidence.ground
            )
        except NoTable as none:
            said.append(
                finding(
                    "no_class_table",
                    "doubt",
                    analyte=analyte,
                    extractant=extractant,
                    available=", ".join(none.available),
                )
            )
            continue
        if analyte in found:
            said.append(
                finding(
                    "two_methods",
                    "note",
                    analyte=analyte,
                    used=found[analyte].measurement.extractant,
                    other=extractant,
                )
            )
            continue
        found[analyte] = reading
        said += [
            finding(f"doubt_{code}", "doubt", analyte=analyte, extractant=extractant)
            for code in reading.doubts
        ]
    return found, tuple(said)


def nutrient_needs(
    evidence: Evidence, crop: CropAtBed, read: dict[str, Reading], library: Library
) -> tuple[tuple[Need, ...], tuple[Finding, ...]]:
    """The needs for P2O5, K2O, Ca, Mg, S and micronutrients, with their ceilings."""
    needs: list[Need] = []
    said: list[Finding] = []
    for analyte, nutrient in _OXIDES:
        needs.append(_oxide(analyte, nutrient, evidence, crop, read, library, said))
    if crop.kind == _NOT_FED:
        return tuple(_not_fed(each, crop, library) for each in needs), tuple(said)
    for analyte, nutrient in _ELEMENTS:
        need = _element(analyte, nutrient, crop, read, library, said)
        if need is not None:
            needs.append(need)
    calcium = _calcium(evidence, read)
    if calcium is not None:
        needs.append(calcium)
    return tuple(needs), tuple(said)


def _not_fed(need: Need, crop: CropAtBed, library: Library) -> Need:
    """What a cover crop is given: its removal, which is nothing; the ceiling of the soil stays."""
    amount = removal(crop, need.nutrient, library).named(f"{need.nutrient}_need")
    return replace(need, amount=amount, why="removal_replaced")


def _oxide(
    analyte: str,
    nutrient: str,
    evidence: Evidence,
    crop: CropAtBed,
    read: dict[str, Reading],
    library: Library,
    said: list[Finding],
) -> Need:
    removed = removal(crop, nutrient, library)
    reading = read.get(analyte)
    if reading is None:
        said.append(finding("nutrient_not_tested", "assumed", nutrient=nutrient, taken=removed))
        return Need(nutrient, removed.named(f"{nutrient}_need"), None, "removal_replaced")
    if _in_doubt(reading):
        said.append(finding("class_in_doubt", "doubt", nutrient=nutrient))
    row = _rate(library, nutrient, reading.measurement.extractant, crop.test_group, reading.supply)
    if row is None:
        said.append(
            finding(
                "no_rate_table", "doubt", nutrient=nutrient, supply=reading.supply, taken=removed
            )
        )
        amount = removed.named(f"{nutrient}_need")
    else:
        amount = _rate_figure(f"{nutrient}_need", row)
    if nutrient == "k2o":
        return Need(nutrient, amount, None, "by_class", reading)
    ceiling = _phosphorus_ceiling(amount, removed, reading, library)
    return Need(nutrient, amount, ceiling, "by_class", reading)


def _phosphorus_ceiling(
    amount: Figure, removed: Figure, reading: Reading, library: Library
) -> Figure | None:
    """The most P2O5 in all, released or not, or None where the test leaves room for more.

    From the class that is high already, no more than the harvest carries off and a small
    surplus; from the published limit of removal (Olsen) on, or above the highest class, the
    removal alone.
    """
    if reading.supply in ("very_low", "low", "medium"):
        return None
    limit = library.parameter("p_removal_only_olsen", "mg/kg")
    measurement = reading.measurement
    full = reading.supply == "very_high" or (
        measurement.extractant == "olsen" and measurement.figure.value > limit.value
    )
    if full:
        return removed.named("p2o5_ceiling")
    surplus = library.parameter("p_surplus_high_class", "kg/m2")
    return Figure(
        "p2o5_ceiling",
        removed.value + surplus.value,
        "kg/m2",
        "computed",
        formula="removal by the harvest + allowed surplus",
        inputs=(removed, surplus),
    )


def _in_doubt(reading: Reading) -> bool:
    return any(
        code in reading.doubts
        for code in ("acid_extractant_on_free_lime", "mehlich_3_on_free_lime")
    )


def removal(crop: CropAtBed, nutrient: str, library: Library) -> Figure:
    """What the harvest carries off of ``p2o5`` or ``k2o`` [kg/m2].

    Raises LookupError for a crop whose removal no table gives.
    """
    content = library.fact("crop_facts", crop.key, f"{nutrient}_removal", "kg/kg")
    if content is None:
        raise LookupError(f"crop_facts.csv has no {nutrient}_removal of {crop.key}")
    return work(crop_removal, f"{nutrient}_removal", fresh_yield=crop.goal, content=content)


def _rate(
    library: Library, nutrient: str, extractant: str, test_group: str, supply: str
) -> Row | None:
    """The published rate: by extractant and crop group, then wider, as the table's rows allow."""
    rows = [
        row
        for row in library.rows("nutrient_rates")
        if row["nutrient"] == nutrient and row["supply"] == supply and row.used
    ]
    for group in (test_group, "any_crop"):
        for method in (extractant, ""):
            for row in rows:
                if row["test_group"] == group and row["extractant"] == method:
                    return row
    return None


def _rate_figure(name: str, row: Row) -> Figure:
    from bedwright.reference.library import figure_of

    return figure_of(name, row, "kg/m2")


def _element(
    analyte: str,
    nutrient: str,
    crop: CropAtBed,
    read: dict[str, Reading],
    library: Library,
    said: list[Finding],
) -> Need | None:
    reading = read.get(analyte)
    if reading is None:
        return None
    if reading.supply == "medium":
        said.append(finding("marginal", "note", analyte=analyte))
    if reading.supply not in _CALLED_FOR:
        return None
    row = _rate(library, nutrient, reading.measurement.extractant, crop.test_group, reading.supply)
    if row is None:
        said.append(finding("no_rate_table", "doubt", nutrient=nutrient, supply=reading.supply))
        return None
    amount = _rate_figure(f"{nutrient}_need", row)
    if amount.value == 0:
        said.append(
            finding("low_but_no_soil_dressing", "note", analyte=analyte, sources=amount.sources)
        )
        return None
    # Micronutrients turn harmful within a few times the rate: never above the source's own range.
    ceiling = Figure(f"{nutrient}_ceiling", amount.most, "kg/m2", "table", sources=amount.sources)
    return Need(nutrient, amount, ceiling, "by_class", reading)


def _calcium(evidence: Evidence, read: dict[str, Reading]) -> Need | None:
    """Calcium up to the table's optimum, where the soil is low in it and holds no free lime."""
    reading = read.get("calcium")
    if reading is None or reading.supply not in _CALLED_FOR or evidence.ground.free_lime:
        return None
    optimum = next(point for point in reading.breakpoints if point.supply == "high")
    from bedwright.soil.conversion import concentration_from_charge, mass_in_layer

    wanted, now = optimum.lower, reading.value
    if reading.unit == "meq/100 g":
        wanted, now = (concentration_from_charge("calcium", each) for each in (wanted, now))
    elif reading.unit == "lb/ac":
        wanted, now = wanted / 2, now / 2
    gap = Figure(
        "calcium_gap",
        wanted - now,
        "mg/kg",
        "computed",
        sources=(reading.row.source,),
        formula="lower end of the table's optimum - measured",
    )
    amount = work(
        mass_in_layer,
        "ca_need",
        concentration=gap,
        bulk_density=evidence.bulk_density,
        depth=evidence.depth,
    )
    return Need("ca", amount, None, "by_class", reading)

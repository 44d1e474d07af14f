"""A material as the blend sees it: what a kilogram of it brings to this soil."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.reference import Library, Row
from bedwright.working import Figure, Source

# What one kilogram can bring; the order of a blend's coefficients.
ANALYSES = ("ca", "mg", "s", "na", "cl", "b", "zn", "fe", "mn", "cu")
_MINERAL_KINDS = frozenset({"mineral", "micronutrient", "liming", "acidifier"})
_PHOSPHORUS_STEPS = ((6.5, "ph_below_6_5"), (7.3, "ph_6_5_to_7_3"))
_DRY_SALT_MG_KG_PER_DS_M = 640.0 * 5  # 640 mg/l per dS/m (omuto_salinity_code) in 5 l per kg dry


@dataclass(frozen=True)
class Caution:
    """A caution that is shown wherever the material is."""

    code: str
    source: Source


@dataclass(frozen=True)
class Material:
    """One material of the tables, or the gardener's own on the base of one of these."""

    key: str
    name: str
    kind: str
    form: str
    measure: str
    timing: str
    organic_status: str
    organic_section: str
    source: Source
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class Supply:
    """What a kilogram of a material brings on a soil of a stated pH [kg/kg unless named].

    ``None`` means that it is not known; the blend does not use such a material for that need.
    ``salts`` are counted as sodium nitrate of the same osmotic effect; ``reaction`` is kg
    CaCO3 per kg, negative where the material acidifies.
    """

    n_total: Figure
    n_season: Figure | None
    p2o5_total: Figure
    p2o5_season: Figure | None
    k2o_total: Figure
    k2o_season: Figure | None
    others: dict[str, Figure]
    salts: Figure | None
    reaction: Figure
    bulk_density: Figure | None
    max_rate: Figure | None

    def other(self, name: str) -> float:
        """Content of a secondary or micronutrient; 0 where no source lists any."""
        return self.others[name].value if name in self.others else 0.0


def material(library: Library, key: str) -> Material:
    """The material called ``key``. Raises LookupError for one that is not in the tables."""
    base = library.base_of(key)
    for row in library.rows("materials"):
        if row["material"] == base:
            return _material(library, key, base, row)
    raise LookupError(f"materials.csv holds no {key!r}")


def _material(library: Library, key: str, base: str, row: Row) -> Material:
    cautions = tuple(
        Caution(each["caution"], each.source)
        for each in library.rows("material_cautions")
        if each["material"] == base
    )
    return Material(
        key=key,
        name=library.own_name(key) or row["name"],
        kind=row["kind"],
        form=row["form"],
        measure=row["measure"],
        timing=row["timing"],
        organic_status=library.own_status(key) or row["organic_status"],
        organic_section=row["organic_section"],
        source=row.source,
        cautions=cautions,
    )


def supply(library: Library, item: Material, ph: float | None) -> Supply:
    """What a kilogram of a material brings on a soil of this pH.

    Phosphorus follows the pH: rock and bone phosphates count on acid soil and next to nothing
    on alkaline soil. Where the pH is not known the alkaline share is used, the careful one.
    """
    condition = "ph_above_7_3"
    for upper, name in reversed(_PHOSPHORUS_STEPS):
        if ph is not None and ph < upper:
            condition = name

    def fact(name: str, unit: str = "kg/kg", when: str = "") -> Figure | None:
        return library.fact("material_facts", item.key, name, unit, when)

    none = Figure("none", 0.0, "kg/kg", "table")
    n_total = fact("n_total") or none.named("n_total")
    p2o5, k2o = (
        fact("p2o5_total") or none.named("p2o5_total"),
        fact("k2o_total") or none.named("k2o_total"),
    )
    return Supply(
        n_total=n_total,
        n_season=_released(n_total, fact("n_available_first_season", "-"), item, "n_season"),
        p2o5_total=p2o5,
        p2o5_season=_released(
            p2o5, fact("p_available_first_season", "-", condition), item, "p2o5_season"
        ),
        k2o_total=k2o,
        k2o_season=_released(k2o, fact("k_available_first_season", "-"), item, "k2o_season"),
        others={name: found for name in ANALYSES if (found := fact(name)) is not None},
        salts=_salts(
            library.base_of(item.key),
            item,
            fact("salt_index", "-"),
            fact("ec_1_5", "dS/m"),
            fact("moisture", "-"),
        ),
        reaction=_reaction(fact("calcium_carbonate_equivalent"), fact("acidity")),
        bulk_density=fact("bulk_density", "kg/m3"),
        max_rate=_max_rate(library, item),
    )


def _released(total: Figure, share: Figure | None, item: Material, name: str) -> Figure | None:
    """Content that the first season sees: the total times the released share, ranges multiplied."""
    if total.value == 0:
        return total.named(name)
    if share is None:
        if item.kind not in _MINERAL_KINDS:
            return None
        share = Figure("released", 1.0, "-", "assumed", note="a soluble mineral")
    ends = [
        amount * part
        for amount in (total.value,)
        for part in (share.least, share.value, share.most)
    ]
    return Figure(
        name,
        total.value * share.value,
        "kg/kg",
        "computed",
        low=min(ends),
        high=max(ends),
        formula="content x share of the first season",
        inputs=(total, share.named("released_first_season")),
        sources=share.sources,
    )


def _salts(
    base: str, item: Material, index: Figure | None, ec: Figure | None, moisture: Figure | None
) -> Figure | None:
    if base == "gypsum":
        note = "sparingly soluble: crops bear about 2 dS/m more in soil that holds it"
        return Figure("salts", 0.0, "kg/kg", "assumed", note=note)
    if ec is not None:
        dry = 1 - (moisture.value if moisture is not None else 0.0)
        inputs = (ec,) if moisture is None else (ec, moisture)
        return Figure(
            "salts",
            ec.value * _DRY_SALT_MG_KG_PER_DS_M * 1e-6 * dry,
            "kg/kg",
            "computed",
            formula="EC(1:5) x 640 mg/l x 5 l/kg x dry share",
            inputs=inputs,
            sources=ec.sources,
        )
    if index is not None:
        return Figure(
            "salts",
            index.value / 100,
            "kg/kg",
            "computed",
            formula="salt index / 100, as sodium nitrate",
            inputs=(index,),
            sources=index.sources,
        )
    if item.kind in ("liming", "acidifier"):
        return Figure("salts", 0.0, "kg/kg", "assumed", note="next to insoluble as spread")
    return None


def _reaction(equivalent: Figure | None, acidity: Figure | None) -> Figure:
    if equivalent is not None and equivalent.value:
        return equivalent.named("reaction")
    if acidity is not None:
        return acidity.named("reaction")
    return Figure("reaction", 0.0, "kg/kg", "assumed", note="no reaction is listed")


def _max_rate(library: Library, item: Material) -> Figure | None:
    for when in ("one_dressing", "one_dressing_bare_soil", "one_year", ""):
        found = library.fact("material_facts", item.key, "max_rate", "kg/m2", when)
        if found is not None:
            return found
    base = library.base_of(item.key)
    for row in library.rows("label_rates"):
        most = row.number("high")
        if row["material"] == base and row["assumes"] == "upper_single_use" and most is not None:
            return Figure(
                "max_rate",
                row.in_kind(most, "mass_per_area"),
                "kg/m2",
                "table",
                sources=(row.source,),
            )
    return None

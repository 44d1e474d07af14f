"""Where a bed's nitrogen comes from: each source once, as a credit or as a pool."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from bedwright.feeding.materials import Material
from bedwright.feeding.pools import MaterialPools, class_parameter, material_pools
from bedwright.planning.evidence import Evidence
from bedwright.planning.prescription import Prescription
from bedwright.reference import Library
from bedwright.working import Figure

Counted = Literal["credit", "pool"]
When = Literal["at_once", "with_warmth", "with_water", "preplant", "later"]

_MATTER_CREDIT, _WATER_CREDIT, _NITRATE_CREDIT = (
    "organic_matter_credit",
    "irrigation_credit",
    "nitrate_credit",
)
_WHEN: dict[str, When] = {_NITRATE_CREDIT: "at_once", _WATER_CREDIT: "with_water"}


@dataclass(frozen=True)
class NitrogenSource:
    """One source of nitrogen [kg/m2] and how it is counted.

    ``origin`` names what it is, whichever way it is counted: no origin may stand twice.
    ``material`` and ``pools`` are set for what is spread this season.
    """

    origin: str
    counted: Counted
    when: When
    total: Figure
    material: Material | None = None
    pools: MaterialPools | None = None


class CountedTwice(ValueError):
    """A source of nitrogen that stands in the account more than once."""


def counted_once(sources: Iterable[NitrogenSource]) -> tuple[NitrogenSource, ...]:
    """The same sources. Raises CountedTwice that names every origin that stands twice."""
    found = tuple(sources)
    times = Counter(each.origin for each in found)
    twice = sorted(origin for origin, count in times.items() if count > 1)
    if twice:
        raise CountedTwice(f"counted more than once: {', '.join(twice)}")
    return found


def nitrogen_sources(
    plan: Prescription, library: Library, soil: Counted = "credit"
) -> tuple[NitrogenSource, ...]:
    """Every source of a bed's nitrogen, each once.

    Credits are those of the prescription. Where ``soil`` is ``pool``, the organic matter's
    credit gives way to a pool of the soil's own mineralizable nitrogen; a bed whose guideline
    counts the soil already, or whose older dressings stand in the credit's place, keeps its
    credits, because the measured organic matter holds these too.
    """
    found: list[NitrogenSource] = []
    for credit in plan.nitrogen.credits:
        if credit.name == _MATTER_CREDIT and soil == "pool":
            found.append(
                NitrogenSource(
                    "organic_matter",
                    "pool",
                    "with_warmth",
                    soil_pool(plan.evidence, credit, library),
                )
            )
            continue
        origin = "organic_matter" if credit.name == _MATTER_CREDIT else credit.name
        when = _WHEN.get(credit.name, "with_warmth")
        found.append(NitrogenSource(origin, "credit", when, credit))
    for line in plan.lines:
        pools = material_pools(library, line.material)
        for when, mass in (("preplant", line.preplant), ("later", line.later)):
            if mass.value <= 0 or line.supply.n_total.value <= 0:
                continue
            found.append(
                NitrogenSource(
                    f"{line.material.key} {when}",
                    "pool",
                    "preplant" if when == "preplant" else "later",
                    _spread(mass, line.supply.n_total, plan.evidence.area),
                    line.material,
                    pools,
                )
            )
    return counted_once(found)


def _spread(mass: Figure, content: Figure, area: Figure) -> Figure:
    return Figure(
        "n_spread",
        mass.value / area.value * content.value,
        "kg/m2",
        "computed",
        formula="mass / area x nitrogen content",
        inputs=(mass, area, content),
    )


def soil_pool(known: Evidence, credit: Figure, library: Library) -> Figure:
    """The soil's mineralizable nitrogen in the sampled layer [kg/m2].

    ``credit`` is the credit that it replaces; its working names the organic matter measured.
    """
    matter = next(each for each in credit.inputs if each.name == "organic_matter")
    share = class_parameter(library, "soil_organic_matter", "mineralizable_share", "-")
    content = class_parameter(library, "soil_organic_matter", "n_in_organic_matter", "-")
    layer = known.bulk_density.value * known.depth.value
    soil_n = matter.value / 100 * content.value * layer
    return Figure(
        "soil_pool",
        soil_n * share.value,
        "kg/m2",
        "computed",
        low=soil_n * share.least,
        high=soil_n * share.most,
        formula="organic matter x its nitrogen x mineralizable share x bulk density x depth",
        inputs=(matter, content, share, known.bulk_density, known.depth),
        sources=share.sources + content.sources,
    )

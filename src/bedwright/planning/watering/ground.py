"""A bed's soil as the water balance needs it: by texture, organic matter and limited depth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.garden.model_water import SoilMoisture
from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.salt import ec_e_of
from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.water.beds import Ground
from bedwright.water.root_zone import (
    BedLayers,
    available_share_of_tension,
    field_capacity_saxton_rawls_2006,
    wilting_point_saxton_rawls_2006,
)
from bedwright.water.surface import total_evaporable_water
from bedwright.working import Figure, Source, work_on

_MOST_ORGANIC_PERCENT = 8.0  # saxton_rawls_2006: the range of its soils
_MM = 1000.0


@dataclass(frozen=True, eq=False)
class BedSoil:
    """Water that a bed's soil holds; ``field_capacity`` and ``wilting_point`` [m3/m3].

    ``layers`` are the bed's soil down to its floor and what lies below; evaporable depths in m.
    ``ec_e`` is the salt by the newest soil report [dS/m], None where not tested.
    """

    texture: str
    field_capacity: Figure
    wilting_point: Figure
    layers: BedLayers
    total_evaporable_m: float
    readily_evaporable_m: float
    ec_e: Figure | None
    findings: tuple[Finding, ...]

    def ground(self, depletion_share: float, wetted_share: float, *, drip: bool) -> Ground:
        """What the balance is told of the ground under a crop."""
        return Ground(
            self.total_evaporable_m,
            self.readily_evaporable_m,
            depletion_share,
            wetted_share,
            1.0 if drip else 0.0,
        )


def bed_soil(known: Evidence, library: Library) -> BedSoil:
    """The soil water of a bed, with what was assumed for it.

    Parameters
    ----------
    known : the evidence on the bed
    library : the tables

    Field capacity and wilting point follow texture and organic matter (Saxton and Rawls), or the
    table's row for a fill that is no mineral soil. Roots are taken to stay in a raised bed's fill.
    """
    said: list[Finding] = []
    capacity, wilting = _limits(known, library, said)
    depth = np.inf
    bed = known.bed
    if bed.kind == "raised" and bed.fill_depth is not None:
        depth = bed.fill_depth.si
        said.append(finding("water_raised_bed_floor", "assumed", bed=bed.id))
    drying = library.parameter("drying_depth", "m").value
    total = total_evaporable_water(capacity.value, wilting.value, drying)
    ready = _row(library, known.texture, "readily_evaporable", "mm").value / _MM
    salt = ec_e_of(known, library)
    return BedSoil(
        texture=known.texture,
        field_capacity=capacity,
        wilting_point=wilting,
        layers=BedLayers(capacity.value - wilting.value, depth),
        total_evaporable_m=float(total),
        readily_evaporable_m=min(ready, 0.9 * float(total)),
        ec_e=None if salt is None else salt[1],
        findings=tuple(said),
    )


def _limits(known: Evidence, library: Library, said: list[Finding]) -> tuple[Figure, Figure]:
    try:
        sand, clay = (
            _row(library, known.texture, name, "kg/kg") for name in ("sand_share", "clay_share")
        )
    except LookupError:  # a fill that is no mineral soil
        made = [_row(library, known.texture, name, "m3/m3")
                for name in ("field_capacity", "wilting_point")]  # fmt: skip
        said.append(finding("water_fill_is_rough", "doubt", bed=known.bed.id))
        return made[0], made[1]
    measured = known.first("organic_matter")
    if measured is None:
        matter = library.parameter("water_organic_matter", "%")
        said.append(finding("water_organic_assumed", "assumed", matter=matter))
    else:
        matter = measured.figure
    if matter.value > _MOST_ORGANIC_PERCENT:
        said.append(finding("water_organic_beyond", "doubt", matter=matter))
        note = f"held to {_MOST_ORGANIC_PERCENT:g} %"
        matter = Figure("organic_matter", _MOST_ORGANIC_PERCENT, "%", "assumed", note=note)
    given: dict[str, Figure] = {
        "sand": sand.named("sand"),
        "clay": clay.named("clay"),
        "organic_percent": Figure(
            "organic_percent", matter.value, "%", matter.origin, note=matter.note,
            sources=matter.sources, inputs=(matter,),
        ),
    }  # fmt: skip
    capacity = work_on(field_capacity_saxton_rawls_2006, given, "field_capacity")
    wilting = work_on(wilting_point_saxton_rawls_2006, given, "wilting_point")
    return capacity, wilting


def _row(library: Library, texture: str, name: str, unit: str) -> Figure:
    for row in library.rows("soil_water"):
        if row["texture"] == texture and row["property"] == name and row.used:
            return figure_of(name, row, unit)
    raise LookupError(f"soil_water.csv has no {name} of {texture}")


def left_share(reading: SoilMoisture, soil: BedSoil, library: Library) -> Figure:
    """Share of the available water that a reading says is left [-].

    Parameters
    ----------
    reading : by feel, by tension or as a share
    soil : of the bed
    """
    if reading.available is not None:
        return Figure("left_share", reading.available.si, "-", "measured",
                      note=reading.available.text)  # fmt: skip
    if reading.feel is not None:
        key = f"feel_{reading.feel.replace(' ', '_')}"
        found = library.parameter(key, "-")
        return Figure("left_share", found.value, "-", "measured", found.low, found.high,
                      found.sources, note=reading.feel)  # fmt: skip
    assert reading.tension is not None
    kpa = reading.tension.si / 1000
    share = available_share_of_tension(kpa, soil.field_capacity.value, soil.wilting_point.value)
    return Figure("left_share", float(share), "-", "measured", note=reading.tension.text,
                  sources=(Source("saxton_rawls_2006"),))  # fmt: skip

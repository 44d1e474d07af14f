"""What was or will be spread, as a mass per area, whatever measure the gardener used."""

from __future__ import annotations

from bedwright.feeding.materials import Material
from bedwright.garden.model import Application
from bedwright.reference import Library
from bedwright.units import Quantity
from bedwright.working import Figure


def applied_kg_m2(
    applied: Application, item: Material, area_m2: float, library: Library
) -> Figure | None:
    """The mass per area of something spread [kg/m2], or None where its density is not known."""
    return mass_per_area(applied.amount, item, area_m2, library)


def mass_per_area(
    amount: Quantity, item: Material, area_m2: float, library: Library
) -> Figure | None:
    """An amount stated as mass, mass per area, volume or depth, as a mass per area [kg/m2].

    Volumes and depths need the material's bulk density; None where no source gives one.
    """
    stated = Figure("amount", amount.si, "as stated", "stated", note=amount.text)
    if amount.kind == "mass_per_area":
        return Figure("mass", amount.si, "kg/m2", "stated", note=amount.text)
    if amount.kind == "mass":
        return Figure(
            "mass",
            amount.si / area_m2,
            "kg/m2",
            "computed",
            formula="mass / area",
            inputs=(stated,),
        )
    density = library.fact("material_facts", item.key, "bulk_density", "kg/m3")
    if density is None:
        return None
    depth = amount.si if amount.kind == "depth" else amount.si / area_m2
    return Figure(
        "mass",
        depth * density.value,
        "kg/m2",
        "computed",
        low=depth * density.least,
        high=depth * density.most,
        formula="depth x bulk density",
        inputs=(stated, density),
    )

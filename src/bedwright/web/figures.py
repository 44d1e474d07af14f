"""The numbers of a bed by the keys under which pages open their working."""

from __future__ import annotations

from bedwright.season import BedPlan
from bedwright.working import Figure


def bed_figures(bed: BedPlan) -> dict[str, Figure]:
    """Every figure that a bed's page shows, by a key that is stable while the plan stands."""
    plan = bed.prescription
    found: dict[str, Figure | None] = {
        "area": plan.evidence.area,
        "nitrogen": plan.nitrogen.to_supply,
        "nitrogen-ceiling": plan.nitrogen.ceiling,
        "nitrogen-need": plan.nitrogen.crop_need,
        "nitrogen-preplant": plan.nitrogen.preplant_share,
        "lime": plan.reaction.lime,
        "sulfur": plan.reaction.sulfur,
        "salt": plan.salt.ec_e,
        "salt-yield": plan.salt.yield_left,
        "salt-ceiling": plan.salt.ceiling,
        "gypsum": plan.salt.gypsum,
    }
    for credit in plan.nitrogen.credits:
        found[f"credit-{credit.name}"] = credit
    for need in plan.needs:
        found[f"need-{need.nutrient}"] = need.amount
        found[f"ceiling-{need.nutrient}"] = need.ceiling
    for line in plan.lines:
        found[f"before-{line.material.key}"] = line.preplant
        found[f"later-{line.material.key}"] = line.later
    return {key: each for key, each in found.items() if each is not None}

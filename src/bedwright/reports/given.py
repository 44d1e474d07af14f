"""What a bed's blend brings, as figures with their working."""

from __future__ import annotations

from bedwright.planning.prescription import Line, Prescription
from bedwright.working import Figure


def given(plan: Prescription, demand: str) -> Figure | None:
    """What the blend brings to a demand by its key [kg/m2], None where it brings nothing.

    The inputs are what each material brings: its rate, and the share that counts for the demand.
    """
    total = plan.blend.supplied.get(demand, 0.0)
    asked = next((each for each in plan.demands if each.key == demand), None)
    if not total or asked is None:
        return None
    parts = []
    for line in plan.lines:
        at = plan.blend.keys.index(line.material.key)
        area = plan.evidence.area.value
        brought = (line.preplant.value * float(asked.preplant[at])
                   + line.later.value * float(asked.later[at])) / area  # fmt: skip
        if brought:
            parts.append(_brought(line, brought))
    return Figure("brought_by_the_blend", total, "kg/m2", "computed",
                  formula="sum over the materials", inputs=tuple(parts))  # fmt: skip


def released(plan: Prescription) -> Figure | None:
    """The nitrogen that the blend frees in the season [kg/m2], with its range; None for none."""
    total = plan.blend.supplied.get("n_ceiling", 0.0)
    if total <= 0:
        return None
    parts = [
        Figure(f"nitrogen_of_{line.material.key}", line.per_area * share.value, "kg/m2", "computed",
               low=line.per_area * share.least, high=line.per_area * share.most,
               formula="rate x what a season frees of a unit", inputs=(_rate(line), share))
        for line in plan.lines
        if (share := line.supply.n_season) is not None and share.value
    ]  # fmt: skip
    low, high = (sum(getattr(each, end) for each in parts) for end in ("least", "most"))
    return Figure("nitrogen_released", total, "kg/m2", "computed", low=low, high=high,
                  formula="sum over the materials", inputs=tuple(parts))  # fmt: skip


def _rate(line: Line) -> Figure:
    return Figure("rate", line.per_area, "kg/m2", "computed", formula="blend")


def _brought(line: Line, brought: float) -> Figure:
    share = Figure("share_that_counts", brought / line.per_area, "kg/kg", "computed",
                   note="of the material's mass, by the tables of its contents and of what counts "
                   "for this demand")  # fmt: skip
    return Figure(f"brought_by_{line.material.key}", brought, "kg/m2", "computed",
                  formula="rate x share that counts", inputs=(_rate(line), share))  # fmt: skip

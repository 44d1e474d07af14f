"""Label rates scaled to a bed: what a gardener without a soil report would spread."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.feeding.materials import Material, material
from bedwright.planning.prescription import Prescription
from bedwright.reference import Library
from bedwright.units import to_si
from bedwright.working import Figure


@dataclass(frozen=True)
class LabelRate:
    """A label's rate on this bed [kg], its range across labels, and what it takes for granted.

    ``ours`` is what the computation spreads of the same material [kg].
    """

    material: Material
    amount: Figure
    per: str
    assumes: str
    ours: float


# Which test would change what: test -> what it decides (codes).
TESTS = (
    ("ph", "lime_and_phosphorus"),
    ("phosphorus", "phosphorus_and_compost"),
    ("potassium", "potassium"),
    ("nitrate_n", "nitrogen"),
    ("ec", "salt"),
    ("organic_matter", "nitrogen"),
)


def label_rates(plan: Prescription, library: Library) -> tuple[LabelRate, ...]:
    """The label rates of the materials that the shed holds, for a bed's area."""
    spread = {line.material.key: line.preplant.value + line.later.value for line in plan.lines}
    shed = set(plan.blend.keys) | {each.material.key for each in plan.strikes}
    found: list[LabelRate] = []
    for row in library.rows("label_rates"):
        for key in sorted(shed):
            if library.base_of(key) != row["material"]:
                continue
            ends = [row.number(end) for end in ("low", "high")]
            low, high = (None if end is None else _bed(end, row["unit"], plan) for end in ends)
            amount = Figure(
                "label_rate",
                _bed(
                    row.typical()
                    if low is not None or row.number("typical") is not None
                    else row.number("high") or 0.0,
                    row["unit"],
                    plan,
                ),
                "kg",
                "table",
                low=low,
                high=high,
                sources=(row.source,),
                formula="rate x area",
                inputs=(plan.evidence.area,),
            )
            found.append(
                LabelRate(
                    material(library, key), amount, row["per"], row["assumes"], spread.get(key, 0.0)
                )
            )
    return tuple(found)


def _bed(rate: float, unit: str, plan: Prescription) -> float:
    return to_si(rate, unit, "mass_per_area") * plan.evidence.area.value


def missing_tests(plan: Prescription) -> tuple[tuple[str, str], ...]:
    """The tests that this bed's plan had to do without, and what each would decide."""
    measured = {analyte for analyte, _ in plan.evidence.measured}
    return tuple((test, decides) for test, decides in TESTS if test not in measured)

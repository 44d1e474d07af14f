"""The compost heaps and the compost reports as plain text."""

from __future__ import annotations

from bedwright.planning.heap import CompostQuality, HeapPlan
from bedwright.reports.fill import figure, sentence
from bedwright.reports.layout import wrapped
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_VERDICTS = {"good": "good", "caution": "take care", "reject": "no"}
_PROPERTIES = {
    "ec": "salt", "sodium": "sodium", "chloride": "chloride", "boron_hot_water": "hot-water boron",
    "ph": "pH", "c_to_n": "C:N", "germination": "germination", "respiration": "respiration",
    "ammonium_n": "ammonium N", "ammonium_to_nitrate": "ammonium to nitrate",
}  # fmt: skip


def heap_text(plan: HeapPlan, system: UnitSystem) -> str:
    """One heap: what to put on it, its heat record, cautions."""
    title = f"Compost heap {plan.heap.id}"
    lines = [title, "-" * len(title)]
    lines += [
        line
        for each in plan.findings
        if each.weight in ("act", "caution")
        for line in wrapped(sentence(each, system), "* ")
    ]
    mixed = plan.recipe
    if mixed is not None and mixed.c_to_n is not None and mixed.moisture is not None:
        lines.append("LAYER AND WET")
        for name, mass in zip(plan.names, mixed.masses, strict=True):
            if mass > 0:
                lines.append(f"  {show(float(mass), 'mass', system):<12} {name.lower()}")
        if mixed.water > 0:
            lines.append(f"  {show(mixed.water, 'mass', system):<12} water")
        lines += wrapped(
            f"That makes {show(float(mixed.masses.sum()) + mixed.water, 'mass', system)} with a "
            f"C:N of {plain(mixed.c_to_n, 3)} and {mixed.moisture * 100:.0f} % water. It smokes, "
            "steams and holds molds: wear gloves and a dust mask when you turn it.",
            "  ",
        )
    for each in plan.findings:
        if each.weight not in ("act", "caution"):
            lines += wrapped(sentence(each, system), "  ")
    return "\n".join([*lines, ""])


def compost_text(found: CompostQuality, system: UnitSystem) -> str:
    """One compost report, property by property."""
    title = f"Compost report {found.report.id}"
    lines = [title, "-" * len(title)]
    for each in found.judged:
        verdict = _VERDICTS.get(each.verdict, each.verdict)
        lines.append(
            f"  {_PROPERTIES[each.property]:<22} {figure(each.figure, system):<12} {verdict}"
        )
    for said in found.findings:
        lines += wrapped(
            sentence(said, system), "* " if said.weight in ("act", "caution") else "  "
        )
    return "\n".join([*lines, ""])

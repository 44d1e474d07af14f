"""Every step and source of one bed's prescription."""

from __future__ import annotations

from bedwright.planning.prescription import Prescription
from bedwright.reference import Library
from bedwright.reports import words
from bedwright.reports.fill import value
from bedwright.reports.layout import wrapped
from bedwright.reports.nitrogen_text import source_table, weekly_table
from bedwright.reports.reading_words import reading_words
from bedwright.reports.working import working_text
from bedwright.season import BedPlan
from bedwright.soil.interpretation import Reading
from bedwright.units import UnitSystem
from bedwright.units.show import plain


def bed_working(
    bed: BedPlan, library: Library, formula_words: dict[str, str], system: UnitSystem
) -> str:
    """The working of a bed as text: readings, nitrogen, needs, salt, materials, demands, weeks."""
    plan = bed.prescription
    lines = [f"WORKING OF BED {plan.bed.id}"]

    def show(title: str, *figures: object) -> None:
        lines.append(f" {title}")
        for each in figures:
            if each is not None:
                lines.extend(working_text(each, library, formula_words))  # type: ignore[arg-type]

    show("Area", plan.evidence.area)
    lines.append(" Soil tests as read")
    for reading in plan.read.values():
        lines += _reading(reading, library)
    show("Nitrogen", plan.nitrogen.to_supply, plan.nitrogen.ceiling, plan.nitrogen.preplant_share)
    for need in plan.needs:
        show(f"Need: {words.NUTRIENTS[need.nutrient]}", need.amount, need.ceiling)
    show("Reaction", plan.reaction.lime, plan.reaction.sulfur)
    show("Salt", plan.salt.ec_e, plan.salt.yield_left, plan.salt.ceiling, plan.salt.gypsum)
    for line in plan.lines:
        brings = line.supply
        show(
            f"Material: {line.material.name}",
            line.preplant,
            line.later,
            brings.n_season,
            brings.p2o5_season,
            brings.k2o_season,
            brings.salts,
            brings.bulk_density,
        )
    lines += _demands(plan)
    lines += [*weekly_table(bed.nitrogen, system), *source_table(bed.nitrogen, system)]
    for found in bed.findings:
        for source in found.sources:
            lines += wrapped(
                f" {found.code.replace('_', ' ')}: "
                f"{library.sources[source.source_id].cite()}; {source.place}",
                "",
                "   ",
            )
    return "\n".join(lines)


def _reading(reading: Reading, library: Library) -> list[str]:
    told = reading_words(reading, library)
    text = (
        f"{told.analyte} by {told.method}: {told.value} is {told.word} ({told.classes}); "
        f"table for {told.table}"
    )
    lines = wrapped(text, "  ", "    ")
    lines += wrapped(f"source: {told.source}", "    ", "      ")
    for table, word in told.others:
        lines += wrapped(f"another table ({table}) says: {word}", "    ")
    return lines


def _demands(plan: Prescription) -> list[str]:
    lines = [" The blend's demands, per square meter"]
    for each in plan.demands:
        bounds = []
        if each.lower is not None:
            bounds.append(f"at least {plain(each.lower * 1000, 4)} g")
        if each.upper is not None:
            bounds.append(f"at most {plain(each.upper * 1000, 4)} g")
        given = plan.blend.supplied.get(each.key, 0.0)
        held = ", reached" if each.key in plan.blend.binding else ""
        name = words.NUTRIENTS.get(each.key, each.key)
        lines += wrapped(
            f"{name}: {' and '.join(bounds)}; blend {plain(given * 1000, 4)} g{held}", "  ", "    "
        )
    return lines


def demand_sentences(plan: Prescription, system: UnitSystem) -> list[str]:
    """What the blend had to keep, in the reader's units, with what it comes to."""
    said = []
    for each in plan.demands:
        bounds = [
            f"at {word} {value(bound, 'kg/m2', system)}"
            for word, bound in (("least", each.lower), ("most", each.upper))
            if bound is not None
        ]
        given = plan.blend.supplied.get(each.key, 0.0)
        held = ", reached" if each.key in plan.blend.binding else ""
        name = words.NUTRIENTS.get(each.key, each.key)
        brought = value(given, "kg/m2", system)
        said.append(f"{name}: {' and '.join(bounds)}; the blend brings {brought}{held}")
    return said

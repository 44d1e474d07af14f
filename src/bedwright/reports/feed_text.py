"""The garden's blend alone, as text: what to buy, the recipes, the alternatives."""

from __future__ import annotations

from bedwright.planning.garden_blend import Alternative
from bedwright.planning.grouping import RecipeGroup
from bedwright.planning.relax import Relaxation
from bedwright.reports import words
from bedwright.reports.fill import value
from bedwright.reports.layout import wrapped
from bedwright.reports.text import shed_text
from bedwright.season import SeasonBlend
from bedwright.units import UnitSystem, show

_ALTERNATIVES = {
    "cheapest": "cheapest",
    "least_phosphorus": "least phosphorus",
    "fewest_bags": "fewest bags carried",
}


def feed_text(
    plan: SeasonBlend,
    others: tuple[Alternative, ...],
    relaxed: dict[int, tuple[Relaxation, ...]],
) -> str:
    """The blend of the garden: the shed, each recipe, and what else could be done.

    ``relaxed`` holds, by the position of a recipe group, what giving up each clashing demand
    would do.
    """
    garden = plan.document.garden
    system = garden.garden.units
    title = f"{garden.garden.name}: one blend for all beds, as of {plan.as_of.isoformat()}"
    lines = [*wrapped(title), "=" * min(len(title), 78), "", shed_text(plan, system)]
    for at, group in enumerate(plan.shared.groups):
        lines += [*_recipe(plan, group, system), *_relaxed(relaxed.get(at, ()), plan, system), ""]
    lines += _others(plan, others, system)
    return "\n".join(lines).rstrip() + "\n"


def _recipe(plan: SeasonBlend, group: RecipeGroup, system: UnitSystem) -> list[str]:
    first = group.beds[0]
    beds = ", ".join(bed.bed.id for bed in group.beds)
    title = f"Recipe for {beds}: {first.crop.name.lower()}, {show(group.area_m2, 'area', system)}"
    lines = [*wrapped(title), "-" * min(len(title), 78)]
    mixed = plan.shared.by_planting[first.planting]
    spread = [
        (offer.material.name.lower(), before, later)
        for (offer, _), before, later in zip(first.used, mixed.preplant, mixed.later, strict=True)
        if before + later > 0
    ]
    if not spread:
        lines.append("  Nothing to spread.")
    for name, before, later in spread:
        parts = []
        for rate, when in ((before, "before planting"), (later, "later")):
            if rate > 0:
                parts.append(f"{value(float(rate), 'kg/m2', system, digits=3)} {when}")
        lines += wrapped(f"{name}: {', '.join(parts)}", "  ", "    ")
    if mixed.binding:
        held = "; ".join(words.NUTRIENTS.get(key, key) for key in mixed.binding)
        lines += wrapped(f"What decides the amounts: {held}.", "  ")
    if mixed.clash:
        held = "; ".join(words.NUTRIENTS.get(key, key) for key in mixed.clash)
        lines += wrapped(f"These demands clash: {held}.", "  * ")
    return lines


def _relaxed(relaxed: tuple[Relaxation, ...], plan: SeasonBlend, system: UnitSystem) -> list[str]:
    lines: list[str] = []
    currency = plan.document.garden.garden.currency if plan.prices_stated else "kg of material"
    for each in relaxed:
        name = words.NUTRIENTS.get(each.key, each.key)
        reached, wanted = (value(x, "kg/m2", system) for x in (each.reached, each.wanted))
        more = f"{abs(each.cost):.2f} {currency} {'more' if each.cost >= 0 else 'less'}"
        rest = "everything else is met" if each.meets_the_rest else "another clash remains"
        text = f"Giving up {name}: {reached} instead of {wanted}, {more} in materials; {rest}."
        lines += wrapped(text, "    ", "      ")
    return lines


def _others(plan: SeasonBlend, others: tuple[Alternative, ...], system: UnitSystem) -> list[str]:
    if not others:
        return []
    title = "Other blends of the same garden"
    lines = [title, "-" * len(title)]
    shared = plan.shared
    rows = [("this plan", shared.money, shared.phosphorus_kg, shared.carried)]
    rows += [(_ALTERNATIVES[x.name], x.money, x.phosphorus_kg, x.carried) for x in others]
    unit = plan.document.garden.garden.currency if plan.prices_stated else "kg bought"
    for name, money, phosphate, carried in rows:
        mass = show(phosphate, "mass", system)
        lines.append(f"  {name:<20} {money:>8.2f} {unit}; phosphate {mass}; carried {carried}")
    return lines

"""Why a material is not used, in words."""

from __future__ import annotations

from bedwright.planning.why_not import Forced, WhyNot
from bedwright.reports import words
from bedwright.reports.fill import value
from bedwright.reports.layout import wrapped
from bedwright.season import SeasonBlend
from bedwright.units import UnitSystem, show


def why_text(plan: SeasonBlend, found: WhyNot, name: str, names: dict[str, str]) -> str:
    """The answer to 'why is this material not used?'. ``names`` are the materials' by key."""
    system = plan.document.garden.garden.units
    title = f"Why is no {name.lower()} used?"
    lines: list[str] = []
    if found.verdict == "used":
        title = f"{name} is used"
        lines += wrapped(f"On {', '.join(found.used_on)}.")
    if found.verdict == "not_in_shed":
        lines += wrapped(
            "It is not in the shed. List it in [[stock]], with a package and a price if you have "
            "them, and ask again."
        )
    for each in found.struck:
        lines += wrapped(f"Not on {', '.join(each.beds)}: {words.STRIKES[each.reason]}.")
    if found.forced is not None:
        lines += _forced(found.forced, plan, name, names, system)
    return "\n".join([*wrapped(title), "-" * min(len(title), 78), *lines]) + "\n"


def _forced(
    forced: Forced, plan: SeasonBlend, name: str, names: dict[str, str], system: UnitSystem
) -> list[str]:
    beds = ", ".join(forced.beds)
    dose = value(forced.dose, "kg/m2", system, digits=3)
    if forced.money is None or forced.phosphorus_kg is None or forced.carried is None:
        if forced.breaks == ("shed",):
            why = "the shed can't give the rest of the garden its share then"
        elif forced.breaks:
            broken = "; ".join(words.NUTRIENTS.get(key, key) for key in forced.breaks)
            why = f"it can't be kept together with: {broken}"
        else:
            why = "its own greatest rate stands in the way"
        return wrapped(f"Even {dose} of it on {beds} would break a limit: {why}.")
    garden = plan.document.garden.garden
    unit = garden.currency if plan.prices_stated else "kg of material bought"
    changes = [
        f"{abs(forced.money):.2f} {unit} {'more' if forced.money >= 0 else 'less'}",
        f"{show(abs(forced.phosphorus_kg), 'mass', system)} "
        f"{'more' if forced.phosphorus_kg >= 0 else 'less'} phosphate",
    ]
    if forced.carried:
        bags = f"{abs(forced.carried)} bag{'s' if abs(forced.carried) > 1 else ''}"
        changes.append(f"{bags} {'more' if forced.carried > 0 else 'fewer'} to carry")
    text = f"It may be used, but nothing is gained: {dose} of {name.lower()} on {beds}, where it "
    text += f"does least harm, would mean {', '.join(changes)} for the whole garden."
    if forced.gives_way:
        less = ", ".join(names.get(key, key).lower() for key in forced.gives_way)
        text += f" There would be less of: {less}."
    return wrapped(text)

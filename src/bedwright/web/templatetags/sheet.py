"""Tags that every template may use: masses one can hold, figures and findings in words."""

from __future__ import annotations

from django import template

from bedwright.language import named as name_here
from bedwright.planning.garden_blend import Purchase
from bedwright.reports import fill
from bedwright.reports import words as said
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.working import Figure

register = template.Library()


@register.filter
def shown(figure: Figure, system: UnitSystem) -> str:
    """A figure with its range in the gardener's units."""
    return fill.figure(figure, system)


@register.simple_tag
def mass(kilograms: float, system: UnitSystem) -> str:
    """A mass in pounds and ounces, or kilograms."""
    return show(kilograms, "mass", system)


@register.simple_tag
def measured(line: object, kilograms: float, system: UnitSystem) -> str:
    """A mass of a material in cups, quarts or buckets."""
    return fill.measure(line, kilograms, system)  # type: ignore[arg-type]


@register.filter
def said_of(finding: object, system: UnitSystem) -> str:
    """A finding as a sentence."""
    return fill.sentence(finding, system)  # type: ignore[arg-type]


@register.filter
def caution(code: str) -> str:
    """A caution in words."""
    return said.CAUTIONS[code]


@register.filter
def spaced(name: str) -> str:
    """A name of the engine as words."""
    return name_here(name.replace("_", " "))


@register.filter
def here(name: str) -> str:
    """A crop's or a material's name in the reader's language."""
    return name_here(name)


@register.simple_tag
def total(purchase: Purchase) -> str:
    """What packages cost together."""
    return f"{purchase.count * purchase.price:.2f}"


@register.simple_tag
def percent(share: float | None) -> str:
    """A share as per cent, as a label prints it."""
    return "?" if share is None else plain(share * 100, 2)

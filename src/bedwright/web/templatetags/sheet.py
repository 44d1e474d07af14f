"""Tags that every template may use: numbers that open their working, masses one can hold."""

from __future__ import annotations

from django import template
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from bedwright.reports import fill
from bedwright.reports import words as said
from bedwright.season import BedPlan
from bedwright.units import UnitSystem, show
from bedwright.working import Figure

register = template.Library()


@register.simple_tag
def door(bed: BedPlan, key: str, text: str) -> SafeString:
    """A number that opens its working in the margin, or on a page of its own without script."""
    address = reverse("working", args=[bed.prescription.bed.id, key])
    return format_html(
        '<a class="door" href="{}" hx-get="{}" hx-target="#margin" hx-swap="innerHTML">{}</a>',
        address, address, text,
    )  # fmt: skip


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

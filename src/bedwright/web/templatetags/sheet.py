"""Tags that every template may use: numbers that open their working, masses one can hold."""

from __future__ import annotations

from django import template
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from bedwright.planning.garden_blend import Purchase
from bedwright.reports import fill
from bedwright.reports import words as said
from bedwright.reports.parts import Number, Sentence
from bedwright.season import BedPlan
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain
from bedwright.web.figures import Doors
from bedwright.working import Figure

register = template.Library()


@register.simple_tag
def door(bed: BedPlan | Doors | str, key: str, text: str) -> SafeString:
    """A number that opens its working in the margin, or on a page of its own without script.

    ``bed`` is the bed whose number it is, its id, or the doors of a page.
    """
    if isinstance(bed, BedPlan):
        bed = bed.prescription.bed.id
    elif isinstance(bed, Doors):
        bed = bed.bed
    address = reverse("working", args=[bed, key]) if bed else reverse("garden-working", args=[key])
    return format_html(
        '<a class="door" href="{}" hx-get="{}" hx-target="#margin" hx-swap="innerHTML">{}</a>',
        address, address, text,
    )  # fmt: skip


@register.simple_tag
def told(sentence: Sentence, doors: Doors) -> SafeString:
    """A sentence, each number in it a door where its working is known."""
    return format_html_join("", "{}", ((_part(each, doors),) for each in sentence))


def _part(part: str | Number, doors: Doors) -> str:
    if not isinstance(part, Number):
        return part
    key = doors.key_of(part.figure)
    return part.text if key is None else door(doors, key, part.text)


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
    return name.replace("_", " ")


@register.simple_tag
def total(purchase: Purchase) -> str:
    """What packages cost together."""
    return f"{purchase.count * purchase.price:.2f}"


@register.simple_tag
def percent(share: float | None) -> str:
    """A share as per cent, as a label prints it."""
    return "?" if share is None else plain(share * 100, 2)

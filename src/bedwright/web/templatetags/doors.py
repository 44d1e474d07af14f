"""Tags that every template may use: numbers that open their working."""

from __future__ import annotations

from django import template
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from bedwright.reports import fill
from bedwright.reports.parts import Number, Sentence
from bedwright.reports.worked import figure_name as named
from bedwright.season import BedPlan
from bedwright.units import UnitSystem
from bedwright.web.figures import Doors
from bedwright.working import Figure

register = template.Library()
_SHORT = 12  # letters of a number with its unit that stay on one line


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


@register.simple_tag
def number_door(number: Number | str, doors: Doors) -> str:
    """A number that stands alone, as a door where its working is known."""
    return _part(number, doors)


@register.simple_tag
def figure_door(figure: Figure, doors: Doors, system: UnitSystem) -> str:
    """A figure with its range, as a door where its working is known."""
    return _part(Number(fill.figure(figure, system), figure), doors)


@register.filter
def figure_name(name: str) -> str:
    """What a figure is called."""
    return named(name)


def _part(part: str | Number, doors: Doors) -> str:
    if not isinstance(part, Number):
        return part
    key = doors.key_of(part.figure)
    text = part.text if len(part.text) > _SHORT else part.text.replace(" ", "\u00a0")
    return text if key is None else door(doors, key, text)

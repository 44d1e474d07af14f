"""Entries in words, as the journal lists them."""

from __future__ import annotations

from collections.abc import Callable

from django.utils.translation import gettext as _
from django.utils.translation import pgettext

from bedwright.feeding.materials import material
from bedwright.garden import Document
from bedwright.journal import Bought, Did, Entry, Measured, Picked, Saw
from bedwright.journal.names import crop_key, material_key
from bedwright.language import named
from bedwright.planning.ledger_entries import crop_name
from bedwright.reference import Library, UnknownName
from bedwright.reports.words_work import TASKS
from bedwright.units.show import plain

_Word = Callable[[], str]


def entry_words(entry: Entry, document: Document, library: Library) -> str:
    """An entry as a short sentence, amounts as they were written.

    ``library`` holds the garden's own materials; a name that is known no more stands as written.
    """
    return " ".join(_said(entry, document, library).split()) + "."


def _said(entry: Entry, document: Document, library: Library) -> str:
    filled = {
        "material": _material(getattr(entry, "material", None), document, library),
        "crop": _crop(getattr(entry, "crop", None), document, library),
        "amount": _text(getattr(entry, "amount", None)),
        "count": str(getattr(entry, "count", None) or ""),
    }
    if isinstance(entry, Did):
        return _did(entry, filled)
    if isinstance(entry, Picked):
        return _picked(entry, filled)
    if isinstance(entry, Saw):
        return SEEN[entry.what]()
    if isinstance(entry, Measured):
        return _measured(entry)
    if isinstance(entry, Bought):
        bought = _("Bought %(amount)s %(material)s") % filled
        price = entry.price.text if entry.price is not None else ""
        return bought + (_(" for %(price)s") % {"price": price} if price else "")
    return _("Used up: %(material)s") % filled


def _picked(entry: Picked, filled: dict[str, str]) -> str:
    parts = [_text(entry.mass)] if entry.mass is not None else []
    if entry.count is not None:
        parts.append(f"{entry.count} {entry.of or ''}".strip())
    said = _("Picked %(amount)s %(crop)s") % {**filled, "amount": ", ".join(parts)}
    return f"{said}, {QUALITY[entry.quality]()}" if entry.quality else said


def _did(entry: Did, filled: dict[str, str]) -> str:
    said = {
        "spread": _("Spread %(amount)s %(material)s"),
        "sowed": _("Sowed %(count)s %(crop)s"),
        "set out": _("Set out %(count)s %(crop)s"),
        "worked": _("Worked the bed") if entry.bed else _("Worked"),
    }[entry.what] % filled
    if entry.task is not None:
        told = {"task": TASKS[entry.task], "crop": filled["crop"].lower()}
        said = _("Done: %(task)s, %(crop)s") % told if entry.crop else _("Done: %(task)s") % told
    if entry.hours is not None:
        said += _(", %(hours)s h") % {"hours": plain(entry.hours, 3)}
    return said


def _measured(entry: Measured) -> str:
    if entry.what == "minimum":
        return _("Minimum of the night: %(value)s") % {"value": _text(entry.minimum)}
    if entry.what == "moisture":
        said = MOISTURE[str(entry.moisture)]()
        at = _(" at %(depth)s") % {"depth": entry.depth.text} if entry.depth is not None else ""
        return _("Soil %(moisture)s") % {"moisture": said} + at
    lines = [f"{r.analyte.replace('_', ' ')} {r.value} {r.unit or ''}".strip()
             for r in entry.results]  # fmt: skip
    return _("Soil test: %(results)s") % {"results": "; ".join(lines)}


QUALITY: dict[str, _Word] = {
    "good": lambda: pgettext("quality", "good"),
    "fair": lambda: pgettext("quality", "fair"),
    "poor": lambda: pgettext("quality", "poor"),
}
SEEN: dict[str, _Word] = {
    "pest": lambda: _("Saw a pest"),
    "disease": lambda: _("Saw a disease"),
    "weather": lambda: _("Saw the weather"),
    "note": lambda: _("Noted"),
    "photograph": lambda: _("Took a photograph"),
}
MOISTURE: dict[str, _Word] = {
    "dry": lambda: pgettext("soil", "dry"),
    "slightly moist": lambda: pgettext("soil", "slightly moist"),
    "moist": lambda: pgettext("soil", "moist"),
    "wet": lambda: pgettext("soil", "wet"),
}


def _text(amount: object) -> str:
    return str(getattr(amount, "text", "") or "")


def _material(word: str | None, document: Document, library: Library) -> str:
    if word is None:
        return ""
    try:
        return named(material(library, material_key(word, document, library)).name).lower()
    except (UnknownName, LookupError):
        return word


def _crop(word: str | None, document: Document, library: Library) -> str:
    if word is None:
        return ""
    try:
        return named(crop_name(library, crop_key(word, document, library)))
    except UnknownName:
        return word

"""Reading an entry as it was sent, and saying what is wrong with it in words for who wrote it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from pydantic import ValidationError

from bedwright.garden import Document
from bedwright.garden.results import ResultError
from bedwright.journal.entries import KINDS, Entry, Measured
from bedwright.journal.names import crop_key, material_key
from bedwright.journal.soil_tests import results_of
from bedwright.reference import Library, UnknownName
from bedwright.units import Quantity

_FIRST_YEAR = 1900  # as for the document's history
_PLAIN = {
    "missing": "this is needed",
    "extra_forbidden": "this does not belong to the entry",
    "literal_error": "this is not one of the choices",
    "string_too_long": "these are too many words",
    "string_too_short": "this is empty",
    "string_pattern_mismatch": "this holds a slash or a line break, which a name cannot",
    "uuid_parsing": "the entry's id is not one",
    "too_long": "these are too many",
    "greater_than": "this must be more than 0",
    "greater_than_equal": "this must be 1 or more",
    "less_than_equal": "this is too much",
    "finite_number": "this is not a number",
    "int_type": "this is not a whole number",
    "float_parsing": "this is not a number",
    "float_type": "this is not a number",
}


@dataclass(frozen=True)
class EntryFault:
    """One thing wrong with an entry: its field ("" for the whole), why, and what would be right."""

    field: str
    problem: str
    remedy: str = ""

    def __str__(self) -> str:
        said = f"{self.problem[:1].upper()}{self.problem[1:]}."
        return f"{said} {self.remedy}".strip()


class EntryError(ValueError):
    """An entry that cannot be kept: all its faults together."""

    def __init__(self, faults: list[EntryFault]) -> None:
        self.faults = tuple(faults)
        super().__init__(" ".join(str(each) for each in faults))


def read_entry(sent: dict[str, Any]) -> Entry:
    """An entry from plain data: ``kind``, ``id``, ``on``, ``bed`` and the fields of its kind.

    Raises EntryError with every fault that was found.
    """
    kind = KINDS.get(str(sent.get("kind")))
    if kind is None:
        raise EntryError([EntryFault("kind", "this is no kind of entry",
                                     f"Kinds: {', '.join(KINDS)}.")])  # fmt: skip
    try:
        return kind.model_validate(sent)
    except ValidationError as invalid:
        faults = [_fault(each) for each in invalid.errors(include_url=False)]
        raise EntryError(list(dict.fromkeys(faults))) from None


def plain_entry(entry: Entry) -> dict[str, Any]:
    """An entry as plain data that :func:`read_entry` reads back: text, numbers, lists."""
    found: dict[str, Any] = {}
    for name in type(entry).model_fields:
        value = getattr(entry, name)
        if value is None or value == []:
            continue
        if name == "results":
            value = [each.model_dump(exclude_none=True) for each in value]
        elif isinstance(value, Quantity):
            value = value.text
        elif isinstance(value, date):
            value = value.isoformat()
        elif name == "id":
            value = str(value)
        found[name] = value
    return found


def check_entry(entry: Entry, document: Document, library: Library, latest: date) -> None:
    """Check an entry against the garden: its bed, names, results; nothing after ``latest``.

    ``library`` holds the garden's own materials. Raises EntryError.
    """
    faults: list[EntryFault] = []
    if entry.on > latest:
        faults.append(EntryFault("on", f"{entry.on} is yet to come", "Correct the date."))
    if entry.on.year < _FIRST_YEAR:
        faults.append(EntryFault("on", f"{entry.on} lies too far back", "Correct the date."))
    beds = [bed.id for bed in document.garden.bed]
    if entry.bed is not None and entry.bed not in beds:
        faults.append(
            EntryFault("bed", f"there is no bed {entry.bed}", f"Beds: {', '.join(beds)}.")
        )
    for field, key in (("material", material_key), ("crop", crop_key)):
        word = getattr(entry, field, None)
        if word is None:
            continue
        try:
            key(word, document, library)
        except UnknownName as unknown:
            near = f"Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
            faults.append(EntryFault(field, f"{word!r} is not a known {field}", near))
    if isinstance(entry, Measured) and entry.results:
        try:
            results_of(entry, library)
        except ResultError as error:
            faults.append(EntryFault("results", error.problem, error.remedy))
    if faults:
        raise EntryError(faults)


def _fault(error: Any) -> EntryFault:
    field = str(error["loc"][0]) if error["loc"] else ""
    context = error.get("ctx", {})
    if error["type"] == "wrong":
        return EntryFault(field, context["problem"], context["remedy"])
    return EntryFault(field, _PLAIN.get(error["type"], "this cannot be read"))

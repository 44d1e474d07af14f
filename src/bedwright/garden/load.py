"""Loading a garden document: text, format, fields, and what the fields say of one another."""

from __future__ import annotations

import copy
import difflib
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from bedwright.garden.check import cross_check
from bedwright.garden.checked import Checked
from bedwright.garden.faults import Fault, GardenError, field_name
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.lines import LineIndex, index_lines
from bedwright.garden.model import Garden
from bedwright.garden.model_rotation import OwnCrop
from bedwright.garden.results import ReadResult
from bedwright.garden.soil_csv import read_text
from bedwright.garden.upgrade import upgrade
from bedwright.reference import Library

_MOST_BYTES = 5_000_000
_MOST_FAULTS = 200
_MOST_BITS = 63
_ENDLESS_KEY = re.compile(r"""(?<![\w"'.-])(?:[\w"'-]+[ \t]*\.[ \t]*){100}""")


@dataclass(frozen=True)
class Document:
    """A garden document that holds together, with what its laboratory results mean.

    ``weather`` are the bytes of the weather file that it names, not yet read. ``pinned`` are the
    pins that stand among the wants, by the want's place: see planning/pinned_wants.py.
    """

    file: str
    text: str
    garden: Garden
    lines: LineIndex
    soil: dict[str, tuple[ReadResult, ...]] = field(default_factory=dict)
    water: dict[str, tuple[ReadResult, ...]] = field(default_factory=dict)
    keys: dict[FieldPath, str] = field(default_factory=dict)
    weather: bytes | None = field(default=None, repr=False)
    cultivars: dict[FieldPath, int] = field(default_factory=dict)
    pinned: dict[int, int] = field(default_factory=dict)

    def cultivar(self, *path: str | int) -> OwnCrop | None:
        """The gardener's own words on the crop named at ``path``, which outrank the tables."""
        at = self.cultivars.get(path)
        return None if at is None else self.garden.crop[at]

    def key(self, *path: str | int) -> str:
        """The table key that the name at ``path`` stands for (a crop's, a material's)."""
        return self.keys[path]

    def part_of_want(self, at: int) -> int | None:
        """The part of its bed that a want is for; None for all of it."""
        return self.garden.pin[self.pinned[at]].part if at in self.pinned else None

    def line(self, *path: str | int) -> int:
        """The line at which a field stands."""
        return self.lines.line(path)


def load(path: Path, library: Library, as_of: date) -> Document:
    """Read and check a garden document.

    ``as_of`` is the day on which it is read: what was sampled, spread or counted cannot lie
    after it. Raises GardenError with every fault that was found.
    """
    text = read_text(path, _MOST_BYTES, "garden document")
    return load_text(text, str(path), path.parent, library, as_of)


def load_text(text: str, file: str, folder: Path, library: Library, as_of: date) -> Document:
    """As :func:`load`, for a text; files that it names are looked for in ``folder``."""
    try:
        return _load(text, file, folder, library, as_of)
    except RecursionError:
        raise GardenError([Fault(file, 0, "", "the document is nested too deeply")]) from None


def _load(text: str, file: str, folder: Path, library: Library, as_of: date) -> Document:
    data = _parse(text, file)
    lines = index_lines(text)
    huge = list(_huge_numbers(data, ()))
    if huge:
        raise GardenError(
            [
                Fault(file, lines.line(path), field_name(path), "the number is too large")
                for path in huge
            ]
        )
    try:
        data = upgrade(data)
    except ValueError as error:
        raise GardenError([Fault(file, lines.line(("format",)), "format", str(error))]) from None
    garden, faults, places = _fields(data, file, lines)
    checked = Checked()
    if garden is not None:
        checked = cross_check(garden, data, library, folder, as_of)
        for other_file, line, path, problem, remedy in checked.faults:
            place = places.original(path)
            at = line or (0 if other_file else lines.line(place))
            faults.append(Fault(other_file or file, at, field_name(place), problem, remedy))
    if faults:
        raise GardenError(sorted(set(faults))[:_MOST_FAULTS])
    if garden is None:
        raise GardenError([Fault(file, 0, "", "the document cannot be read")])
    return Document(
        file,
        text,
        garden,
        lines,
        checked.soil,
        checked.water,
        checked.keys,
        checked.weather,
        checked.cultivars,
    )


def _parse(text: str, file: str) -> dict[str, Any]:
    if _ENDLESS_KEY.search(text):  # tomllib's time grows with the square of a key's words
        raise GardenError([Fault(file, 0, "", "the document is nested too deeply")])
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        message = str(error)
        line = 0
        if "(at line " in message:
            message, _, place = message.partition(" (at line ")
            line = int(place.split(",")[0])
        raise GardenError(
            [Fault(file, line, "", f"this is not TOML: {message[:1].lower()}{message[1:]}")]
        ) from None
    except ValueError:  # an integer of thousands of digits
        raise GardenError([Fault(file, 0, "", "a number in it has too many digits")]) from None


def _huge_numbers(value: Any, path: FieldPath) -> Iterator[FieldPath]:
    """Where integers stand that TOML, which has 64 bits for them, does not allow."""
    if isinstance(value, int) and value.bit_length() > _MOST_BITS:
        yield path
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _huge_numbers(each, (*path, key))
    elif isinstance(value, list):
        for position, each in enumerate(value):
            yield from _huge_numbers(each, (*path, position))


class _Places:
    """Where the items of each list stood in the document, when faulty ones are left out."""

    def __init__(self, data: dict[str, Any]) -> None:
        self.rest = copy.deepcopy(data)
        self._positions = {
            key: list(range(len(items))) for key, items in data.items() if isinstance(items, list)
        }

    def original(self, path: FieldPath) -> FieldPath:
        """The path in the document as written."""
        if len(path) < 2 or not isinstance(path[1], int) or path[0] not in self._positions:
            return path
        return (path[0], self._positions[str(path[0])][path[1]], *path[2:])

    def leave_out(self, paths: list[FieldPath]) -> bool:
        """Drop the list items and plain parts that hold faults; False where nothing is left."""
        dropped: dict[str, set[int]] = {}
        done = False
        for path in paths:
            if len(path) >= 2 and isinstance(path[1], int):
                dropped.setdefault(str(path[0]), set()).add(path[1])
            elif (
                path[:1] == ("garden",) and len(path) > 1 and isinstance(self.rest["garden"], dict)
            ):
                place = self.rest["garden"]
                done = place.pop(path[1], None) is not None or path[1] == "name" or done
                place.setdefault("name", "a garden whose place has faults")
            elif path and path[0] in self.rest and path[0] not in ("garden", "bed"):
                del self.rest[str(path[0])]
                done = True
        for key, at in dropped.items():
            kept = [n for n in range(len(self.rest[key])) if n not in at]
            if kept or key != "bed":
                self.rest[key] = [self.rest[key][n] for n in kept]
                self._positions[key] = [self._positions[key][n] for n in kept]
                done = True
        return done


def _fields(
    data: dict[str, Any], file: str, lines: LineIndex
) -> tuple[Garden | None, list[Fault], _Places]:
    """The typed document, and the faults of its fields.

    Where fields are faulty, the list items that hold them are left out and the rest is read
    again, so that what the sound parts say of one another is checked in the same go.
    """
    faults: list[Fault] = []
    places = _Places(data)
    while True:
        try:
            return Garden.model_validate(places.rest), faults, places
        except ValidationError as invalid:
            errors = invalid.errors(include_url=False)
        faults += [
            _fault(each, places.original(tuple(each["loc"])), file, lines) for each in errors
        ]
        if not places.leave_out([each["loc"] for each in errors]):
            return None, faults, places


# pydantic's kinds of error -> (what is wrong, what would be right); {input} is what was written.
_PLAIN = {
    "string_pattern_mismatch": ("{input} holds a slash or a line break, which a name cannot", ""),
    "literal_error": ("{input} is not one of the choices", "Choose {expected}."),
    "enum": ("{input} is not one of the choices", "Choose {expected}."),
    "model_type": ("this should be a table of fields", ""),
    "model_attributes_type": ("this should be a table of fields", ""),
    "dict_type": ("this should be a table of fields", ""),
    "string_type": ("{input} is not text", "Put it in quotes."),
    "bool_type": ("{input} is not yes or no", "Write true or false."),
    "too_short": ("the list is empty", "It needs at least one entry."),
    "int_type": ("{input} is not a whole number", ""),
    "int_parsing": ("{input} is not a whole number", ""),
    "int_from_float": ("{input} is not a whole number", ""),
    "less_than_equal": ("{input} is too much", "At most {le}."),
    "greater_than_equal": ("{input} is too little", "At least {ge}."),
    "list_type": ("{input} is not a list", "Put it in square brackets."),
    "tuple_type": ("{input} is not a list", "Put it in square brackets."),
}


def _fault(error: Any, path: FieldPath, file: str, lines: LineIndex) -> Fault:
    kind, context = error["type"], error.get("ctx", {})
    problem, remedy = error["msg"], ""
    if kind == "wrong":
        problem, remedy = context["problem"], context["remedy"]
    elif kind == "missing":
        corner = isinstance(path[-1], int)
        problem = "a corner has two lengths" if corner else f"{path[-1]} is missing"
    elif kind == "extra_forbidden":
        known = _known_fields(path[:-1])
        near = difflib.get_close_matches(str(path[-1]), known, n=1, cutoff=0.6)
        problem = f"{path[-1]!r} is not a field here"
        remedy = f"Did you mean {near[0]}?" if near else f"Fields: {', '.join(known)}."
    elif kind in _PLAIN:
        filled = {"input": repr(error["input"])[:200], **context}
        problem, remedy = (part.format_map(filled) for part in _PLAIN[kind])
    else:
        problem = f"{error['input']!r}: {problem[:1].lower()}{problem[1:]}"
    return Fault(file, lines.line(path), field_name(path), problem[:300], remedy)


@cache
def _schema() -> dict[str, Any]:
    from bedwright.garden.schema import garden_schema

    return garden_schema()


def _known_fields(path: FieldPath) -> list[str]:
    """The fields of the part of the document at ``path``."""
    schema = _schema()
    node: dict[str, Any] = schema
    for each in path:
        if isinstance(each, int):
            node = node.get("items", {})
        else:
            node = node.get("properties", {}).get(each, {})
        for option in node.get("anyOf", []):
            if "$ref" in option:
                node = option
        if "$ref" in node:
            node = schema["$defs"][node["$ref"].rsplit("/", 1)[1]]
    return list(node.get("properties", {}))

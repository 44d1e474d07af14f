"""A laboratory's words understood: analyte, extractant, and the value in one unit per quantity."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from bedwright.reference import Library, UnknownName
from bedwright.units import KINDS, UnitError, to_si
from bedwright.units.parse import Quantity, parse, unit_factor

# quantity of analytes.csv -> kinds of quantity that a report may print it in
_KINDS: dict[str, tuple[str, ...]] = {
    "mass_fraction": (
        "fraction",
        "mass_per_area",
        "charge_fraction",
        "concentration",
        "charge_concentration",
    ),
    "charge_fraction": ("charge_fraction",),
    "percent": ("fraction",),
    "conductivity": ("conductivity",),
    "concentration": ("concentration", "charge_concentration"),
    "reaction": ("ratio",),
    "ratio": ("ratio",),
}
_HOUSE_UNIT = {
    "fraction": "mg/kg",
    "mass_per_area": "kg/m2",
    "charge_fraction": "meq/100 g",
    "conductivity": "dS/m",
    "concentration": "mg/l",
    "charge_concentration": "meq/l",
    "ratio": "-",
}
_LOWEST_PH, _HIGHEST_PH = 2.0, 12.0  # no garden soil or water lies beyond: judgement
_MOST = {  # SI; no soil or water of a garden reads more: judgement
    "fraction": 1.0,
    "mass_per_area": 1e3,
    "charge_fraction": 10.0,
    "conductivity": 20.0,
    "concentration": 1e3,
    "charge_concentration": 1e4,
    "ratio": 1e4,
}
_METHOD_NEEDED = frozenset({"ec", "buffer_ph", "exchangeable_acidity", "lead", "arsenic"})
# Methods agree well enough for the nitrogen credit of organic matter.
_METHOD_OPTIONAL = frozenset({"organic_matter"})
_WATER_KINDS = ("concentration", "charge_concentration")
_PH_WORDS = frozenset({"units", "ph units", "su", "s.u.", "std units", "standard units"})
_SHORTEST_METHOD = 3  # letters: shorter phrases (M3 apart) stand in analyte names by chance


@dataclass(frozen=True)
class ReadResult:
    """One value of a report, understood.

    ``kind`` is the kind of quantity as printed and ``unit`` the unit of ``value``: mg/kg,
    kg/m2 (printed per area), meq/100 g, meq/l, mg/l, dS/m, % or a plain number.
    """

    analyte: str
    form: str
    extractant: str
    value: float
    kind: str
    unit: str
    text: str
    where: str


class ResultError(ValueError):
    """A result that cannot be understood: which of its fields, why, and what would be right."""

    def __init__(self, field: str, problem: str, remedy: str = "") -> None:
        self.field, self.problem, self.remedy = field, problem, remedy
        super().__init__(f"{problem} {remedy}".strip())


def read_result(
    library: Library,
    analyte: str,
    value: object,
    unit: str | None,
    method: str | None,
    where: str,
    *,
    of_water: bool = False,
) -> ReadResult:
    """Understand one line of a soil or water report. Raises ResultError that names the field.

    A method that stands in the analyte's own words (``Olsen P``) counts where none is named. In
    a water report (``of_water``) ppm are mg/l.
    """
    named = _method_in(library, analyte) if method is None else None
    key, extractant = _analyte_and_method(library, analyte, method, named)
    row = next(each for each in library.rows("analytes") if each["analyte"] == key)
    kinds = _KINDS[row["quantity"]]
    if of_water and row["quantity"] == "mass_fraction":
        kinds = _WATER_KINDS
    quantity = _quantity(row["quantity"], kinds, value, unit)
    house = "%" if row["quantity"] == "percent" else _HOUSE_UNIT[quantity.kind]
    number = quantity.si / _factor(house, quantity.kind)
    if quantity.si < 0:
        raise ResultError("value", f"{quantity.text!r} is less than 0")
    if row["quantity"] == "reaction" and not _LOWEST_PH <= number <= _HIGHEST_PH:
        raise ResultError("value", f"a pH of {number:g}", "A soil's pH lies between 2 and 12.")
    if quantity.si > _MOST[quantity.kind]:
        more = "than the whole" if quantity.kind == "fraction" else "than a garden can hold"
        raise ResultError("value", f"{quantity.text!r} is more {more}")
    return ReadResult(
        key, row["form"], extractant, number, quantity.kind, house, quantity.text, where
    )


@cache
def _factor(unit: str, kind: str) -> float:
    return to_si(1.0, unit, kind)


def needs_method(library: Library, analyte: str) -> bool:
    """Whether a value of this analyte means nothing without its extractant."""
    if analyte in _METHOD_OPTIONAL:
        return False
    return analyte in _METHOD_NEEDED or any(
        row["analyte"] == analyte and row["extractant"] != "none"
        for row in library.rows("soil_classes")
    )


def _analyte_and_method(
    library: Library, analyte: str, method: str | None, named: tuple[str, str] | None
) -> tuple[str, str]:
    """The keys of analyte and extractant, the latter perhaps named within the former."""
    try:
        key = _resolve(library, "analyte_names", "analyte", analyte, "analyte")
    except ResultError as unknown:
        if named is None:
            raise
        rest = re.sub(r"[()\[\],:]", " ", analyte.lower().replace(named[0], " ")).strip()
        try:
            key = library.resolve("analyte_names", "analyte", rest)
        except UnknownName:
            raise unknown from None
    if named is not None:
        row = next(each for each in library.rows("extractants") if each["extractant"] == named[1])
        return key, named[1] if key in row["analytes"].split() else ""
    return key, _extractant(library, key, method)


def _method_in(library: Library, analyte: str) -> tuple[str, str] | None:
    """The longest extractant phrase that stands in an analyte's words, and its key."""
    text = analyte.lower()
    found = [
        (row["phrase"], row["extractant"])
        for row in library.rows("extractant_names")
        if len(row["phrase"]) >= _SHORTEST_METHOD
        and re.search(rf"(?<!\w){re.escape(row['phrase'])}(?!\w)", text)
    ]
    return max(found, key=lambda each: len(each[0]), default=None)


def _extractant(library: Library, analyte: str, method: str | None) -> str:
    if method is None:
        return ""
    key = _resolve(library, "extractant_names", "extractant", method, "method")
    row = next(each for each in library.rows("extractants") if each["extractant"] == key)
    if analyte not in row["analytes"].split():
        fitting = [
            each["name"]
            for each in library.rows("extractants")
            if analyte in each["analytes"].split()
        ]
        raise ResultError(
            "method",
            f"{method!r} is no method for {analyte.replace('_', ' ')}",
            f"Methods that are: {', '.join(fitting)}." if fitting else "Leave the method out.",
        )
    return key


def _resolve(library: Library, table: str, what: str, phrase: str, field: str) -> str:
    try:
        return library.resolve(table, what, phrase)
    except UnknownName as unknown:
        nearest = f"Nearest: {', '.join(unknown.nearest)}." if unknown.nearest else ""
        raise ResultError(field, f"{phrase!r} is not a known {what}", nearest) from None


def _quantity(quantity: str, kinds: tuple[str, ...], value: object, unit: str | None) -> Quantity:
    if quantity == "reaction" and unit is not None and unit.strip().lower() in _PH_WORDS:
        unit = None
    if str(value).lstrip().startswith("<"):
        raise ResultError(
            "value",
            f"{value!r} is less than the laboratory can measure",
            "Leave the line out: below a limit is not a value.",
        )
    if unit is not None and _has_unit(str(value)):
        raise ResultError(
            "value", f"{value!r} has its unit, yet {unit!r} stands apart", "Write the unit once."
        )
    text = f"{value}" if unit is None else f"{value} {unit}"
    if quantity == "reaction" and _has_unit(text):
        raise ResultError("value", f"{text!r}: pH has no unit")
    first: UnitError | None = None
    for each in kinds:
        try:
            return parse(text, each)
        except UnitError as error:
            first = first or error
    fits = tuple(dict.fromkeys(fit for each in kinds for fit in KINDS[each].fits))
    problem = first.problem if first else f"{text!r} cannot be read"
    remedy = f"Units that fit: {', '.join(fits)}." if quantity != "reaction" else ""
    raise ResultError("value", problem, remedy)


def _has_unit(text: str) -> bool:
    unit = re.sub(r"^\s*[+-]?[\d.,]+(?:[eE][+-]?\d+)?", "", text).strip()
    try:
        return unit not in ("", "-") and bool(unit_factor(unit))
    except UnitError:
        return False

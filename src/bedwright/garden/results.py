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
_METHOD_NEEDED = frozenset({"ec", "buffer_ph", "exchangeable_acidity"})
_METHOD_OPTIONAL = frozenset(
    {"organic_matter"}
)  # methods agree well enough for its nitrogen credit


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
    library: Library, analyte: str, value: object, unit: str | None, method: str | None, where: str
) -> ReadResult:
    """Understand one line of a soil or water report. Raises ResultError that names the field."""
    key = _resolve(library, "analyte_names", "analyte", analyte, "analyte")
    row = next(each for each in library.rows("analytes") if each["analyte"] == key)
    extractant = _extractant(library, key, method)
    quantity = _quantity(row["quantity"], value, unit)
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


def _quantity(quantity: str, value: object, unit: str | None) -> Quantity:
    kinds = _KINDS[quantity]
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

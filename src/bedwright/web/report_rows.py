"""The lines of a laboratory's report as rows of a form: what each analyte may be printed in.

Every analyte has its own row with the units and the methods that fit it, so that nothing is
guessed; a row that is left empty is no line of the report.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.results import ResultError, needs_method, read_result
from bedwright.garden.soil_csv import COLUMNS
from bedwright.reference import Library
from bedwright.web.forms_of_parts import plain_number
from bedwright.web.standing import tables

# The order in which a soil report is read; the others follow.
USUAL = (
    "ph", "buffer_ph", "organic_matter", "carbonate", "ec", "nitrate_n", "ammonium_n",
    "phosphorus", "potassium", "calcium", "magnesium", "sodium", "sulfate_s", "boron", "zinc",
    "iron", "manganese", "copper", "cec",
)  # fmt: skip
_NOT_OF_SOIL = ("bicarbonate", "carbonate_alkalinity", "residual_sodium_carbonate", "moisture")
_UNITS: dict[str, tuple[str, ...]] = {  # quantity of analytes.csv -> units that reports print
    "mass_fraction": ("ppm", "mg/kg", "lb/ac", "kg/ha", "meq/100 g", "%", "mg/l", "meq/l"),
    "charge_fraction": ("meq/100 g", "cmol/kg"),
    "percent": ("%", "g/kg"),
    "conductivity": ("dS/m", "mmho/cm", "mS/cm", "uS/cm"),
    "concentration": ("mg/l", "meq/l"),
}
_MOST_ROWS = 200
_NO_SOIL_METHOD = ("water_sample",)


@dataclass(frozen=True)
class Row:
    """One row: ``of`` is the place of the result that it shows in the report, or nothing.

    ``key`` is the analyte's, empty where the words printed are not known. ``method`` and ``unit``
    are what is chosen; ``methods`` are (words for the document, words shown).
    """

    at: int
    of: str
    key: str
    analyte: str
    label: str
    value: str = ""
    unit: str = ""
    units: tuple[str, ...] = ()
    method: str = ""
    methods: tuple[tuple[str, str], ...] = ()
    must_have_method: bool = False
    faults: tuple[str, ...] = field(default=())

    @property
    def usual(self) -> bool:
        """Whether the row stands open: a usual line of a report, or one that holds something."""
        return self.key in USUAL or not self.key or bool(self.value) or bool(self.faults)


def blank_rows() -> list[Row]:
    """A row for every analyte of a soil report."""
    return [_row(at, key) for at, key in enumerate(_order())]


def stated_rows(results: list[dict[str, Any]]) -> list[Row]:
    """The rows of a report's results, then those that it does not have."""
    given = [
        _filled(str(of), str(each.get("analyte", "")), each.get("value", ""),
                str(each.get("unit", "")), str(each.get("method", "")))
        for of, each in enumerate(results)
    ]  # fmt: skip
    return _complete(given)


def typed_rows(typed: Mapping[str, str]) -> list[Row]:
    """The rows as they were typed."""
    rows = []
    for at in range(_MOST_ROWS):
        analyte = typed.get(f"analyte_{at}")
        if analyte is None:
            break
        rows.append(
            _filled(typed.get(f"of_{at}", ""), analyte.strip()[:200],
                    typed.get(f"value_{at}", "").strip()[:100],
                    typed.get(f"unit_{at}", "").strip()[:40],
                    typed.get(f"method_{at}", "").strip()[:100])
        )  # fmt: skip
    return _numbered(rows)


def csv_rows(content: bytes) -> list[Row]:
    """The rows of a CSV file with the columns analyte, value, unit, extractant.

    Raises ValueError with the reason for a file that is no such.
    """
    try:
        table = list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=None)))
    except (UnicodeDecodeError, csv.Error):
        raise ValueError(_("The file is not CSV in UTF-8. Save it as such.")) from None
    header = tuple(cell.strip().lower() for cell in table[0]) if table else ()
    if header != COLUMNS:
        raise ValueError(
            _("The first line of the file should be %(columns)s.") % {"columns": ",".join(COLUMNS)}
        )
    lines = [each for each in table[1:] if any(cell.strip() for cell in each)]
    if not lines:
        raise ValueError(_("The file holds no results."))
    if len(lines) > _MOST_ROWS // 2:
        raise ValueError(_("The file holds more lines than a report has."))
    padded = ([*(cell.strip()[:100] for cell in each), "", "", "", ""][:4] for each in lines)
    return _complete([_filled("", *each) for each in padded])


def with_one_more(rows: list[Row], key: str) -> list[Row]:
    """The rows with another one for an analyte, for a report that has it by two methods."""
    last = max((n for n, each in enumerate(rows) if each.key == key), default=len(rows) - 1)
    return _numbered([*rows[: last + 1], _row(0, key), *rows[last + 1 :]])


def checked(rows: list[Row]) -> tuple[list[Row], list[tuple[str, dict[str, Any]]]]:
    """The rows with their faults, and the results that the sound ones state, each with ``of``."""
    library = tables()
    shown: list[Row] = []
    results: list[tuple[str, dict[str, Any]]] = []
    for row in rows:
        if not row.value:
            shown.append(row if row.key else _with(row, [_("Give its value, or leave it out.")]))
            continue
        result, fault = _result(row, library)
        shown.append(_with(row, [fault]) if fault else row)
        if not fault:
            results.append((row.of, result))
    return [each for each in shown if each.key or each.analyte], results


def _result(row: Row, library: Library) -> tuple[dict[str, Any], str]:
    result: dict[str, Any] = {"analyte": row.analyte}
    try:
        number = plain_number(row.value)
        result["value"] = _as_number(number)
        if row.unit:
            result["unit"] = row.unit
        if row.method:
            result["method"] = row.method
        read = read_result(library, row.analyte, number, row.unit or None, row.method or None, "")
        if not read.extractant and needs_method(library, read.analyte):
            return result, _(
                "Choose the method: the same soil reads otherwise by each. Where the "
                "report names none, ask the laboratory."
            )
    except ResultError as error:
        return result, f"{error.problem[:1].upper()}{error.problem[1:]}. {error.remedy}".strip()
    except ValueError as error:
        return result, f"{error}."
    return result, ""


def _as_number(text: str) -> int | float | str:
    try:
        return int(text)
    except ValueError:
        pass
    try:
        value = float(text)
    except ValueError:
        return text
    return value if repr(value) == text else text  # 7.40 stays as it is printed


def _complete(given: list[Row]) -> list[Row]:
    """Rows in the order of a report, one at least for every analyte."""
    rows = [each for each in given if not each.key]
    for key in _order():
        rows += [each for each in given if each.key == key] or [_row(0, key)]
    rest = [each for each in given if each.key and each.key not in _order()]
    return _numbered([*rows, *rest])


def _numbered(rows: list[Row]) -> list[Row]:
    return [Row(**{**vars(each), "at": at}) for at, each in enumerate(rows)]


def _with(row: Row, faults: list[str]) -> Row:
    return Row(**{**vars(row), "faults": tuple(faults)})


def _row(at: int, key: str) -> Row:
    row = _analytes()[key]
    units = _UNITS.get(row["quantity"], ())
    return Row(
        at, "", key, row["name"], _label(row["name"], row["form"]), unit=units[0] if units else "",
        units=units, methods=_methods(key), must_have_method=needs_method(tables(), key),
    )  # fmt: skip


def _filled(of: str, analyte: str, value: Any, unit: str, method: str) -> Row:
    """A row for words as printed; a unit that stands in the value is taken out of it."""
    library = tables()
    key, extractant = _known(library, analyte, method)
    if not key:
        key = _by_reading(library, analyte, value, unit, method)
    number, inside = _apart(value)
    unit = unit or inside
    if not key:
        given = [(method, method)] if method else []
        every = [(row["name"], row["name"]) for row in library.rows("extractants")]
        return Row(0, of, "", analyte, analyte, number, unit, (unit,) if unit else (), method,
                   tuple(dict.fromkeys((*given, *every))))  # fmt: skip
    blank = _row(0, key)
    units = blank.units if not unit or unit in blank.units else (unit, *blank.units)
    if blank.units and not unit and value == "":
        unit = blank.unit
    methods = _methods(key)
    if method:
        label = dict(_by_key(key)).get(extractant, "")
        if label:
            methods = tuple((method, w) if k == extractant else (n, w) for k, (n, w) in
                            zip(_method_keys(key), methods, strict=True))  # fmt: skip
        else:
            methods = ((method, _("%(words)s (not known)") % {"words": method}), *methods)
    return Row(0, of, key, analyte, blank.label, number, unit, units, method, methods,
               blank.must_have_method)  # fmt: skip


def _apart(value: Any) -> tuple[str, str]:
    if not isinstance(value, str):
        return f"{value}", ""
    number, _space, unit = value.strip().partition(" ")
    return number, unit.strip()


def _known(library: Library, analyte: str, method: str) -> tuple[str, str]:
    """The keys of an analyte and of its method, empty where they are not known."""
    from bedwright.reference import UnknownName

    try:
        key = library.resolve("analyte_names", "analyte", analyte)
    except UnknownName:
        return "", ""
    try:
        return key, library.resolve("extractant_names", "extractant", method)
    except UnknownName:
        return key, ""


def _by_reading(library: Library, analyte: str, value: Any, unit: str, method: str) -> str:
    """The key of an analyte whose words name its method too: ``Olsen P``."""
    try:
        return read_result(library, analyte, value, unit or None, method or None, "").analyte
    except ResultError:
        return ""


@cache
def _analytes() -> dict[str, Any]:
    return {row["analyte"]: row for row in tables().rows("analytes")}


def analyte_choices() -> list[tuple[str, str]]:
    """Every analyte of a soil report: the words for the document, the words shown."""
    return [(each.analyte, each.label) for each in blank_rows()]


@cache
def _order() -> tuple[str, ...]:
    others = [key for key in _analytes() if key not in USUAL and key not in _NOT_OF_SOIL]
    return (*USUAL, *others)


def _by_key(key: str) -> list[tuple[str, str]]:
    return [
        (row["extractant"], row["name"])
        for row in tables().rows("extractants")
        if key in row["analytes"].split() and row["extractant"] not in _NO_SOIL_METHOD
    ]


def _method_keys(key: str) -> list[str]:
    return [each for each, _name in _by_key(key)]


def _methods(key: str) -> tuple[tuple[str, str], ...]:
    return tuple((name, name) for _key, name in _by_key(key))


def _label(name: str, form: str) -> str:
    return f"{name} ({form})" if len(form) > 2 and form not in name else name  # an oxide or ion

"""What a soil test says: the class of a value by the table of its own extractant.

A value is never read with another method's table. Where a method leaves the ground on which
it was calibrated, the reading carries a doubt.
"""

from __future__ import annotations

import contextlib
from dataclasses import dataclass

from bedwright.guards import not_negative
from bedwright.reference import Library, Row
from bedwright.soil.conversion import charge_from_concentration, concentration_from_charge
from bedwright.units.parse import unit_factor
from bedwright.working import Figure

SUPPLIES = ("very_low", "low", "medium", "high", "very_high")
_FREE_LIME_PH = 7.4  # a soil at or above this pH is taken to hold lime unless the report says not
_PER_ACRE = 2.0  # lb/ac for each ppm: nofa_soil_handbook, appendix A
_PPM = 1e-6
_EXCHANGEABLE = ("calcium", "magnesium", "potassium", "sodium")


class NoTable(LookupError):
    """There is no class table for this analyte by this extractant."""

    def __init__(self, analyte: str, extractant: str, available: tuple[str, ...]) -> None:
        self.analyte, self.extractant, self.available = analyte, extractant, available
        super().__init__(
            f"no class table for {analyte} by {extractant or 'a method not named'}; "
            f"there are tables by: {', '.join(available) or 'none'}"
        )


@dataclass(frozen=True)
class Measurement:
    """A value of a soil report in the engine's terms.

    ``unit`` is mg/kg, meq/100 g, meq/l, mg/l, dS/m, % or - (pH); ``extractant`` the table key.
    """

    analyte: str
    extractant: str
    figure: Figure


@dataclass(frozen=True)
class Breakpoint:
    """One class of a table: from ``lower`` (inclusive) to ``upper`` (None: open)."""

    word: str
    supply: str
    lower: float
    upper: float | None


@dataclass(frozen=True)
class Reading:
    """A measurement with its class, the table's break points, doubts and other tables' words."""

    measurement: Measurement
    table_id: str
    test_group: str
    word: str
    supply: str
    unit: str
    value: float
    breakpoints: tuple[Breakpoint, ...]
    row: Row
    doubts: tuple[str, ...]
    others: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Ground:
    """What is known of the soil that decides whether a method stands on its own ground."""

    ph: float | None
    carbonate_percent: float | None
    gypsum: bool
    compost_filled: bool

    @property
    def free_lime(self) -> bool | None:
        """Whether the soil holds free lime: measured, else taken from the pH; None if unknown."""
        if self.carbonate_percent is not None:
            return self.carbonate_percent >= 1
        return None if self.ph is None else self.ph >= _FREE_LIME_PH


def read_class(
    library: Library, measurement: Measurement, test_group: str, group_kind: str, ground: Ground
) -> Reading:
    """The class of a measurement for a crop group.

    The table used is the one in use for the crop's own test group, else for its wider group
    (``warm_season`` or ``cool_season``), else for any crop. Raises NoTable where the
    extractant has none, ValueError for a value that is not a number of 0 or more.
    """
    not_negative(**{measurement.analyte: measurement.figure.value})
    rows = _rows(library, measurement.analyte, measurement.extractant)
    if not rows:
        raise NoTable(measurement.analyte, measurement.extractant, _available(library, measurement))
    for group in (test_group, group_kind, "any_crop"):
        chosen = [row for row in rows if row["test_group"] == group and row.used]
        if chosen:
            break
    else:
        raise NoTable(measurement.analyte, measurement.extractant, _available(library, measurement))
    points = _breakpoints(chosen)
    value = _in_unit(measurement, chosen[0]["unit"])
    at = _place(points, value)
    return Reading(
        measurement=measurement,
        table_id=chosen[0]["table_id"],
        test_group=group,
        word=points[at].word,
        supply=points[at].supply,
        unit=chosen[0]["unit"],
        value=value,
        breakpoints=points,
        row=sorted(chosen, key=lambda row: row.number("lower") or 0)[at],
        doubts=doubts(measurement, ground),
        others=_others(rows, chosen[0]["table_id"], measurement, test_group, group_kind),
    )


def doubts(measurement: Measurement, ground: Ground) -> tuple[str, ...]:
    """Codes of the reasons to doubt a measurement on this soil."""
    found: list[str] = []
    analyte, extractant = measurement.analyte, measurement.extractant
    if ground.free_lime and extractant in ("bray_1", "bray_2", "mehlich_1"):
        found.append("acid_extractant_on_free_lime")
    if ground.free_lime and extractant == "mehlich_3" and analyte == "phosphorus":
        found.append("mehlich_3_on_free_lime")
    if ground.free_lime and analyte in ("calcium", "cec", "base_saturation_ca"):
        found.append("exchangeable_calcium_on_free_lime")
    if extractant == "olsen" and ground.ph is not None and ground.ph < 6.0:
        found.append("olsen_on_acid_soil")
    if ground.gypsum and extractant.startswith("water_"):
        found.append("dilution_with_gypsum")
    if ground.compost_filled and measurement.figure.unit == "mg/kg":
        found.append("field_table_on_light_soil")
    return tuple(found)


def _rows(library: Library, analyte: str, extractant: str) -> list[Row]:
    return [
        row
        for row in library.rows("soil_classes")
        if row["analyte"] == analyte and row["extractant"] == (extractant or "none")
    ]


def _available(library: Library, measurement: Measurement) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(
            row["extractant"]
            for row in library.rows("soil_classes")
            if row["analyte"] == measurement.analyte
        )
    )


def _breakpoints(rows: list[Row]) -> tuple[Breakpoint, ...]:
    points = [
        Breakpoint(row["class"], row["supply"], row.number("lower") or 0.0, row.number("upper"))
        for row in rows
    ]
    return tuple(sorted(points, key=lambda each: each.lower))


def _place(points: tuple[Breakpoint, ...], value: float) -> int:
    below = [at for at, point in enumerate(points) if value >= point.lower]
    return below[-1] if below else 0


def _others(
    rows: list[Row], used: str, measurement: Measurement, test_group: str, group_kind: str
) -> tuple[tuple[str, str], ...]:
    """The words of the tables that are not in use, for the reader who asks."""
    found: dict[str, str] = {}
    groups = (test_group, group_kind, "any_crop")
    for table_id in dict.fromkeys(row["table_id"] for row in rows if row["table_id"] != used):
        for group in groups:
            own = [r for r in rows if r["table_id"] == table_id and r["test_group"] == group]
            if own:
                points = _breakpoints(own)
                with contextlib.suppress(NoTable):  # a table in a unit that says something else
                    place = _place(points, _in_unit(measurement, own[0]["unit"]))
                    found[table_id] = points[place].word
                break
    return tuple(found.items())


def _in_unit(measurement: Measurement, unit: str) -> float:
    """The measurement in a table's unit; per-acre tables speak of a furrow slice of ppm x 2.

    Raises NoTable where the two units cannot be turned into each other.
    """
    analyte, value, given = measurement.analyte, measurement.figure.value, measurement.figure.unit
    if unit == given:
        return value
    factor, dimension = unit_factor(given)
    wanted_factor, wanted = unit_factor(unit)
    if dimension == wanted:
        return value * factor / wanted_factor
    if given == "lb/ac":
        ppm = value / _PER_ACRE
    elif given == "meq/100 g" and analyte in _EXCHANGEABLE:
        ppm = float(concentration_from_charge(analyte, value))
    elif dimension == ():
        ppm = value * factor / _PPM
    else:
        raise NoTable(analyte, measurement.extractant, (f"a table in {unit}",))
    if unit == "lb/ac":
        return ppm * _PER_ACRE
    if unit == "meq/100 g" and analyte in _EXCHANGEABLE:
        return float(charge_from_concentration(analyte, ppm))
    if wanted == ():
        return ppm * _PPM / wanted_factor
    raise NoTable(analyte, measurement.extractant, (f"a table in {unit}",))

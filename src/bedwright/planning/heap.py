"""The gardener's compost: the recipe, the temperature record, the quality, the herbicide test."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.feeding.compost import (
    Feedstocks,
    Heat,
    Recipe,
    Targets,
    heat,
    hot_water_boron,
    recipe,
)
from bedwright.garden.model_heap import CompostReport, Feedstock, Heap
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library, Row, UnknownName
from bedwright.reference.library import figure_of, fold
from bedwright.units import to_si
from bedwright.working import Figure, Source, work

_ANIMAL = frozenset({"manure", "animal"})
_HERBICIDE = frozenset({"manure", "straw", "hay"})
_BIOASSAY = (
    Source("wsu_bioassay_2011", "general procedures", "peas or beans, two to three weeks"),
    Source("ncsu_herbicide_carryover", "opening", "herbicides and what carries them"),
)
# What a compost report may hold -> (unit of the limits' table, how the document's SI is turned).
_REPORTED = {
    "ec": "dS/m",
    "sodium": "%",
    "chloride": "%",
    "boron_hot_water": "mg/kg",
    "ph": "-",
    "c_to_n": "-",
    "ammonium_n": "mg/kg",
    "germination": "%",
    "respiration": "mg/g",
}
_FROM_SI = {"dS/m": 10.0, "%": 100.0, "mg/kg": 1e6, "-": 1.0}


@dataclass(frozen=True)
class HeapPlan:
    """What is said of one heap. ``names`` go with the recipe's masses."""

    heap: Heap
    keys: tuple[str, ...]
    names: tuple[str, ...]
    recipe: Recipe | None
    heat: Heat | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Judged:
    """One property of a compost report with the verdict of the limits' table."""

    property: str
    figure: Figure
    verdict: str
    row: Row


@dataclass(frozen=True)
class CompostQuality:
    """A compost report read against the limits."""

    report: CompostReport
    judged: tuple[Judged, ...]
    findings: tuple[Finding, ...]


def feedstock_key(library: Library, phrase: str) -> str:
    """The feedstock that a phrase stands for. Raises UnknownName with all that are known."""
    rows = library.rows("compost_feedstocks")
    for row in rows:
        if fold(phrase) in (fold(row["feedstock"]), fold(row["name"])):
            return row["feedstock"]
    known = tuple(dict.fromkeys(row["name"].lower() for row in rows))
    raise UnknownName("feedstock", phrase, known)


def heap_plan(heap: Heap, library: Library) -> HeapPlan:
    """The recipe of a heap, and what its record says.

    Raises UnknownName for a feedstock that the tables do not hold, unless the document states
    its moisture, nitrogen and carbon.
    """
    said: list[Finding] = []
    keys, names, kinds = [], [], []
    columns: list[tuple[float, float, float]] = []
    for each in heap.feedstocks:
        key, name, kind, contents = _contents(each, library)
        keys.append(key)
        names.append(name)
        kinds.append(kind)
        columns.append(contents)
        if kind in _HERBICIDE and each.origin == "unknown":
            said.append(
                finding("herbicide_bioassay", "act", feedstock=name.lower(), sources=_BIOASSAY)
            )
    mixed = _recipe(heap, keys, columns, library, said) if keys else None
    record = _heat(heap, library, said)
    if any(kind in _ANIMAL for kind in kinds):
        _raw_manure(heap, record, said)
    return HeapPlan(heap, tuple(keys), tuple(names), mixed, record, tuple(said))


def _contents(
    each: Feedstock, library: Library
) -> tuple[str, str, str, tuple[float, float, float]]:
    """Carbon, nitrogen and moisture of a feedstock as it lies [kg/kg]."""
    stated = {"moisture": each.moisture, "nitrogen": each.nitrogen, "carbon": each.carbon}
    try:
        key = feedstock_key(library, each.feedstock)
    except UnknownName:
        if any(value is None for value in stated.values()):
            raise
        key = each.feedstock
    rows = [row for row in library.rows("compost_feedstocks") if row["feedstock"] == key]
    facts = {
        row["property"]: figure_of(row["property"], row, "-").value for row in rows if row.used
    }
    name = rows[0]["name"] if rows else each.feedstock
    kind = rows[0]["kind"] if rows else "plant"
    moisture = each.moisture.si if each.moisture is not None else facts["moisture"]
    dry = 1 - moisture

    def content(letter: str, own: float | None) -> float:
        if own is not None:  # stated contents are of the dry matter, as laboratories print them
            return own * dry
        wet = facts.get(f"{letter}_wet")
        return wet if wet is not None else facts[f"{letter}_dry"] * dry

    carbon = content("c", each.carbon.si if each.carbon is not None else None)
    nitrogen = content("n", each.nitrogen.si if each.nitrogen is not None else None)
    return key, name, kind, (carbon, nitrogen, moisture)


def _recipe(
    heap: Heap,
    keys: list[str],
    columns: list[tuple[float, float, float]],
    library: Library,
    said: list[Finding],
) -> Recipe:
    carbon, nitrogen, moisture = np.array(columns, dtype=float).T
    stocks = Feedstocks(
        tuple(keys),
        carbon,
        nitrogen,
        moisture,
        np.array([each.on_hand.si for each in heap.feedstocks], dtype=float),
    )
    ratio = library.parameter("compost_rule_c_to_n", "1")
    water = library.parameter("compost_start_moisture", "-")
    targets = Targets((ratio.least, ratio.most), (water.least, water.most))
    wanted = heap.wanted.si if heap.wanted is not None else None
    mixed = recipe(stocks, targets, wanted=wanted)
    if mixed.c_to_n is None:
        code = "heap_cannot_be_balanced" if mixed.clash else "heap_clashes_twice"
        said.append(
            finding(code, "act", heap=heap.id, clash=" ".join(mixed.clash), ratio=ratio,
                    moisture=water, sources=ratio.sources + water.sources)
        )  # fmt: skip
    elif wanted is not None and mixed.masses.sum() + mixed.water < wanted * (1 - 1e-6):
        made = Figure("mass", float(mixed.masses.sum() + mixed.water), "kg", "computed")
        goal = Figure("mass", wanted, "kg", "stated")
        said.append(finding("heap_smaller_than_wanted", "caution", made=made, wanted=goal))
    return mixed


def _heat(heap: Heap, library: Library, said: list[Finding]) -> Heat | None:
    if heap.system == "passive" or not heap.readings:
        said.append(finding("heap_without_record", "caution", heap=heap.id))
        return None
    low, high = (
        library.parameter(f"compost_rule_temperature_{end}", "F") for end in ("low", "high")
    )
    system = "windrow" if heap.system == "windrow" else "vessel"
    days = library.parameter(f"compost_rule_days_{system}", "day")
    turnings = 0
    if system == "windrow":
        turnings = round(library.parameter("compost_rule_turnings_windrow", "1").value)
    record = heat(
        np.array([each.on.toordinal() for each in heap.readings], dtype=np.int64),
        np.array([each.temperature.si for each in heap.readings], dtype=float),
        np.array([day.toordinal() for day in heap.turned], dtype=np.int64),
        low=to_si(low.value, "F", "temperature") - 1e-9,
        high=to_si(high.value, "F", "temperature") + 1e-9,
        days_needed=round(days.value),
        turnings_needed=turnings,
    )
    said.append(
        finding(
            f"heap_heat_{record.verdict}",
            "note" if record.verdict == "met" else "caution",
            heap=heap.id,
            days=float(record.days_in_range),
            run=float(record.longest_run),
            needed=days.value,
            turnings=float(record.turnings),
            turnings_needed=float(turnings),
            sources=days.sources,
        )
    )
    if record.too_hot_days:
        said.append(
            finding("heap_too_hot", "caution", heap=heap.id, days=float(record.too_hot_days))
        )
    return record


def _raw_manure(heap: Heap, record: Heat | None, said: list[Finding]) -> None:
    """A heap with manure or animal matter that does not keep the rule counts as raw manure."""
    if record is None or record.verdict not in ("met", "met_with_breaks"):
        said.append(
            finding("heap_counts_as_raw_manure", "act", heap=heap.id,
                    sources=(Source("cfr_205_203", "(c)(1)-(2)", ""),))
        )  # fmt: skip


def compost_quality(report: CompostReport, library: Library) -> CompostQuality:
    """A compost report held against the limits: salt, sodium, boron, C:N, maturity."""
    figures = {
        name: figure
        for name, unit in _REPORTED.items()
        if (figure := _reported(report, name, unit)) is not None
    }
    said: list[Finding] = []
    if "boron_hot_water" not in figures and report.boron is not None:
        figures["boron_hot_water"] = _boron(report, library, said)
    if report.ammonium_n is not None and report.nitrate_n is not None and report.nitrate_n.si > 0:
        figures["ammonium_to_nitrate"] = Figure(
            "ammonium_to_nitrate",
            report.ammonium_n.si / report.nitrate_n.si,
            "-",
            "computed",
            formula="ammonium N / nitrate N",
        )
    judged = tuple(
        found for name, figure in figures.items() if (found := _judge(name, figure, library))
    )
    for each in judged:
        if each.verdict != "good":
            weight = "act" if each.verdict == "reject" else "caution"
            said.append(
                finding(f"compost_{each.property}_{each.verdict}",
                        "act" if weight == "act" else "caution",
                        value=each.figure, sources=(each.row.source,))
            )  # fmt: skip
    for name in ("ec", "sodium", "boron_hot_water", "c_to_n", "ammonium_n"):
        if name not in figures:
            said.append(finding("compost_not_tested", "assumed", property=name))
    return CompostQuality(report, judged, tuple(said))


def _reported(report: CompostReport, name: str, unit: str) -> Figure | None:
    value = getattr(report, name)
    if value is None:
        return None
    if isinstance(value, float | int):
        return Figure(name, float(value), unit, "measured", note=f"compost report {report.id}")
    return Figure(name, value.si * _FROM_SI[unit], unit, "measured", note=value.text)


def _boron(report: CompostReport, library: Library, said: list[Finding]) -> Figure:
    assert report.boron is not None
    total = Figure("total", report.boron.si * 1e6, "mg/kg", "measured", note=report.boron.text)
    at_6, at_7_5 = (
        library.parameter(f"compost_boron_hot_water_share_ph_{at}", "-") for at in ("6", "7_5")
    )
    if report.ph is None:
        said.append(finding("compost_ph_assumed_for_boron", "assumed"))
        ph = Figure("ph", 6.0, "-", "assumed", note="the careful end: more of the boron dissolves")
    else:
        ph = Figure("ph", report.ph, "-", "measured")
    return work(
        hot_water_boron, "boron_hot_water", total=total, ph=ph, share_at_6=at_6, share_at_7_5=at_7_5
    )


def _judge(name: str, figure: Figure, library: Library) -> Judged | None:
    for row in library.rows("compost_limits"):
        upper = row.number("upper")
        if (
            row["property"] == name
            and row.used
            and (row.number("lower") or 0.0) <= figure.value
            and (upper is None or figure.value < upper)
        ):
            return Judged(name, figure, row["verdict"], row)
    return None

"""The pools of one material: how its nitrogen is split and how fast each part is set free."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bedwright.feeding.materials import Material
from bedwright.reference import Library, Row
from bedwright.reference.library import figure_of
from bedwright.working import Figure, Source


@dataclass(frozen=True)
class MaterialPools:
    """Shares and rates of a material's nitrogen, by its class in ``release_pools.csv``.

    ``mineral`` is a share of the total nitrogen, ``fast`` of the organic, ``tie_up`` of the
    organic too (nitrogen that rotting binds from the soil). Rates are per week at
    ``reference`` [C].
    """

    release_class: str
    mineral: Figure
    fast: Figure
    tie_up: Figure
    k_fast: Figure
    k_slow: Figure
    q10_fast: Figure
    q10_slow: Figure
    reference: Figure


def _rows(library: Library, name: str, kind: str) -> list[Row]:
    """The rows of the class that names a material; of the one that names its kind otherwise."""
    rows = library.rows("release_pools")
    for word in (name, kind):
        found = [row for row in rows if word in row["applies_to"].split() and row.used]
        if found:
            return found
    return []


def class_parameter(library: Library, release_class: str, parameter: str, unit: str) -> Figure:
    """One parameter of a release class. Raises LookupError where the table has none in use."""
    for row in library.rows("release_pools"):
        if row["release_class"] == release_class and row["parameter"] == parameter and row.used:
            return figure_of(parameter, row, unit)
    raise LookupError(f"release_pools.csv has no {parameter} of {release_class} in use")


def material_pools(library: Library, item: Material) -> MaterialPools | None:
    """The pools of a material; None where nothing is known of how it releases nitrogen."""
    rows = _rows(library, library.base_of(item.key), item.kind)
    if not rows:
        return None
    name = rows[0]["release_class"]
    if any(row["parameter"] == "mineral_share" for row in rows):
        none = Figure("none", 0.0, "-", "computed")
        mineral = class_parameter(library, name, "mineral_share", "-")
        one = Figure("q10", 1.0, "-", "computed")
        still = Figure("reference", 25.0, "C", "computed")
        return MaterialPools(name, mineral, none, none, none, none, one, one, still)

    def of(parameter: str, unit: str) -> Figure:
        return class_parameter(library, name, parameter, unit)

    k_fast, k_slow = of("k_fast", "1/week"), of("k_slow", "1/week")
    if any(row["parameter"] == "line_slope" for row in rows):
        ratio = library.fact("material_facts", item.key, "c_to_n", "-")
        if ratio is None:
            return None
        fast, tie_up = split_by_carbon(library, name, ratio, k_fast.value, k_slow.value)
    else:
        fast = of("fast_share", "-")
        tie_up = Figure("tie_up", 0.0, "-", "computed", note="decays without binding nitrogen")
    return MaterialPools(
        name,
        _mineral(library, item),
        fast,
        tie_up,
        k_fast,
        k_slow,
        of("q10_fast", "-"),
        of("q10_slow", "-"),
        of("reference_temperature", "C"),
    )


def _mineral(library: Library, item: Material) -> Figure:
    ammonium = library.fact("material_facts", item.key, "ammonium_n", "kg/kg")
    total = library.fact("material_facts", item.key, "n_total", "kg/kg")
    if ammonium is None or total is None or total.value == 0:
        return Figure(
            "mineral", 0.0, "-", "assumed", note="no ammonium is listed: all counted as organic"
        )
    return Figure(
        "mineral",
        min(1.0, ammonium.value / total.value),
        "-",
        "computed",
        low=min(1.0, ammonium.least / total.value),
        high=min(1.0, ammonium.most / total.value),
        formula="ammonium N / total N",
        inputs=(ammonium, total),
    )


def split_by_carbon(
    library: Library, name: str, ratio: Figure, k_fast: float, k_slow: float
) -> tuple[Figure, Figure]:
    """Fast share and tie-up of a fresh material from its C:N, by the published 4-week line.

    The share out after four weeks fixes the fast share; where the slow pool alone gives more
    than the line allows, the difference is bound.
    """
    slope = class_parameter(library, name, "line_slope", "%")
    offset = class_parameter(library, name, "line_offset", "%")
    cap = class_parameter(library, name, "line_cap", "%")
    weeks = class_parameter(library, name, "line_weeks", "week").value
    quick, slow = -math.expm1(-k_fast * weeks), -math.expm1(-k_slow * weeks)

    def split(c_to_n: float) -> tuple[float, float]:
        out = min(cap.value, slope.value / c_to_n + offset.value) / 100
        if out >= slow:
            return min(1.0, (out - slow) / (quick - slow)), 0.0
        return 0.0, (slow - out) / quick

    narrow, middle, wide = (split(each) for each in (ratio.least, ratio.value, ratio.most))
    sources: tuple[Source, ...] = slope.sources
    text = "share out after 4 weeks = 600 / C:N - 30"
    fast = Figure("fast_share", middle[0], "-", "computed", wide[0], narrow[0], sources,
                  formula=text, inputs=(ratio,))  # fmt: skip
    tie_up = Figure("tie_up", middle[1], "-", "computed", narrow[1], wide[1], sources,
                    formula=text, inputs=(ratio,))  # fmt: skip
    return fast, tie_up


def ammonia_share(library: Library, item: Material, placement: str, condition: str = "") -> Figure:
    """Share of a material's ammonium that goes to the air.

    ``placement`` is ``surface`` or ``in_1_day`` to ``in_5_days``; ``condition`` is
    ``warm_dry``, ``cool_wet`` or empty. A row without a condition holds where none of the
    condition is listed. Raises LookupError where the table has neither.
    """
    key = library.base_of(item.key)
    for word in (key, item.kind):
        for wanted in dict.fromkeys((condition, "")):
            for row in library.rows("ammonia_loss"):
                fits = word in row["applies_to"].split() and row["placement"] == placement
                if fits and row.used and row["condition"] == wanted:
                    return figure_of("ammonia_share", row, "-")
    raise LookupError(f"ammonia_loss.csv has no {placement} of {key}")

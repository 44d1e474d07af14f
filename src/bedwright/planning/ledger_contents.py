"""What a kilogram of each material brings to the ledger, as arrays over the materials."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.ledger import matter_kept, shares_of_original
from bedwright.feeding.materials import Material, supply
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.working import Figure

Array = NDArray[np.float64]

_ORGANIC = frozenset({"meal", "manure", "compost", "residue", "seaweed"})
_NUTRIENTS = ("n", "p2o5", "k2o")


@dataclass(frozen=True)
class Contents:
    """Contents of the materials [kg/kg]; with three ends first where a range is carried.

    ``organic_n`` is the organic part of ``n``; ``release`` its shares by year, of what was
    spread; ``matter`` organic matter and ``kept`` what of it stays after the first season.
    ``unknown`` lists, for each material, what no source states.
    """

    n: Array
    p2o5: Array
    k2o: Array
    organic_n: Array
    release: Array
    salts: Array
    reaction: Array
    matter: Array
    kept: Array
    unknown: tuple[tuple[str, ...], ...]


def contents(materials: tuple[Material, ...], library: Library) -> Contents:
    """What each material brings; 0 where it brings none, and named in ``unknown`` if not known."""
    count = len(materials)
    nutrients = {name: np.zeros((3, count)) for name in _NUTRIENTS}
    organic, salts, reaction, matter, kept = (np.zeros(count) for _ in range(5))
    series = [_series(item, library) for item in materials]
    years = max((len(each) for each in series), default=1)
    release = np.zeros((count, years))
    unknown: list[tuple[str, ...]] = []
    for at, item in enumerate(materials):
        missing = []
        for name in _NUTRIENTS:
            figure = library.fact("material_facts", item.key, f"{name}_total", "kg/kg")
            if figure is not None:
                nutrients[name][:, at] = figure.least, figure.value, figure.most
            elif item.kind in _ORGANIC:
                missing.append(name)
        brings = supply(library, item, None)
        reaction[at] = brings.reaction.value
        if brings.salts is not None:
            salts[at] = brings.salts.value
        else:
            missing.append("salt")
        if item.kind in _ORGANIC:
            organic[at] = _organic_n(item, nutrients["n"][1, at], library)
            release[at, : len(series[at])] = series[at]
            amount = _matter(item, nutrients["n"][1, at], library)
            if amount is None:
                missing.append("matter")
            else:
                matter[at] = amount
                kept[at] = _kept(amount, organic[at], float(release[at, 0]), library)
        unknown.append(tuple(missing))
    return Contents(
        nutrients["n"], nutrients["p2o5"], nutrients["k2o"], organic, release, salts, reaction,
        matter, kept, tuple(unknown),
    )  # fmt: skip


def unknown_findings(item: Material, missing: tuple[str, ...]) -> tuple[Finding, ...]:
    """What the ledger cannot count of a material."""
    return tuple(
        finding("ledger_content_not_known", "assumed", material=item.name, part=part)
        for part in missing
    )


def _organic_n(item: Material, total: float, library: Library) -> float:
    """The organic part of a material's nitrogen [kg/kg]: stated, or all of it but the ammonium."""
    stated = library.fact("material_facts", item.key, "organic_n", "kg/kg")
    if stated is not None:
        return min(stated.value, total)
    ammonium = library.fact("material_facts", item.key, "ammonium_n", "kg/kg")
    return max(0.0, total - (ammonium.value if ammonium is not None else 0.0))


def _series(item: Material, library: Library) -> Array:
    """Shares of the organic nitrogen released in the first, second, ... year.

    The decay series in use for the material or its kind; where there is none, the share of the
    first season and nothing after it: a meal's rest joins the soil's own matter.
    """
    keys = (item.key, library.base_of(item.key), item.kind)
    for key in dict.fromkeys(keys):
        rows = [
            row
            for row in library.rows("decay_series")
            if row.used and key in row["applies_to"].split()
        ]
        if rows:
            rows.sort(key=lambda row: int(row["year"]))
            return shares_of_original(np.array([row.typical() for row in rows]), rows[0]["basis"])
    first = library.fact("material_facts", item.key, "n_available_first_season", "-")
    return np.array([min(1.0, max(0.0, first.value)) if first is not None else 0.0])


def _matter(item: Material, nitrogen: float, library: Library) -> float | None:
    """Organic matter of a material [kg/kg], from its carbon, or from nitrogen and C:N."""
    carbon = library.fact("material_facts", item.key, "c", "kg/kg")
    value = carbon.value if carbon is not None else None
    if value is None:
        ratio: Figure | None = library.fact("material_facts", item.key, "c_to_n", "-")
        if ratio is None or nitrogen == 0:
            return None
        value = nitrogen * ratio.value
    return min(1.0, value * library.parameter("matter_per_carbon", "1").value)


def _kept(matter: float, organic_n: float, first_share: float, library: Library) -> float:
    left = 1 - first_share
    kept: float = matter_kept(
        matter,
        organic_n * left,
        left,
        library.parameter("humus_c_to_n", "1").value,
        library.parameter("matter_per_carbon", "1").value,
    )
    return kept

"""Soil-borne diseases and pests: whom they live on, who cleans the soil of them, how long to wait.

A host of a family counts for every crop of that family; a row on a crop itself goes before it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.working import Figure

Kind = Literal["disease", "pest", "nematode"]
_HOST, _SYMPTOMLESS, _CLEANS, _SAFE = "host", "symptomless", "cleans", "safe"
_YEARS = "yr"


@dataclass(frozen=True)
class SoilBorne:
    """One problem of the soil, its crops by their keys.

    ``hosts`` suffer of it; ``symptomless`` feed it without showing it; ``cleaning`` lower it.
    ``named_safe`` are crops and covers that a source names as no hosts. A crop in none of these
    is not known to be touched.
    """

    key: str
    name: str
    kind: Kind
    agent: str
    hosts: frozenset[str]
    symptomless: frozenset[str]
    cleaning: frozenset[str]
    named_safe: frozenset[str]
    years: Mapping[str, Figure]
    bans: Mapping[str, Figure]

    def feeds(self, crop: str) -> bool:
        """Whether a crop keeps the problem alive, with or without showing it."""
        return crop in self.hosts or crop in self.symptomless

    def years_away(self, crop: str) -> Figure | None:
        """Full years without a host before this one [yr]; None where no source gives any.

        Of a crop that is banned it is how long the problem is known to last at least.
        """
        if not self.feeds(crop):
            return None
        for kept in (self.years, self.bans):
            figure = kept.get(crop, kept.get(""))
            if figure is not None:
                return figure
        return None

    def banned(self, crop: str) -> bool:
        """Whether a crop should never stand again where the problem has been found."""
        if not self.feeds(crop):
            return False
        return crop in self.bans or ("" in self.bans and crop not in self.years)


def soil_borne(library: Library) -> tuple[SoilBorne, ...]:
    """Every problem of the tables, in their order; rows that are not in use are left out."""
    families: dict[str, set[str]] = {}
    for row in library.rows("crops"):
        families.setdefault(row["family"], set()).add(row["crop"])
    relations: dict[str, dict[str, str]] = {}
    for kind in ("family", "crop"):  # a row on a crop itself goes before that on its family
        for row in library.rows("soil_borne_hosts"):
            if row["host_kind"] == kind and row.used:
                crops = families[row["host"]] if kind == "family" else {row["host"]}
                told = relations.setdefault(row["problem"], {})
                told.update(dict.fromkeys(crops, row["relation"]))
    years: dict[str, dict[str, Figure]] = {}
    bans: dict[str, dict[str, Figure]] = {}
    for row in library.rows("soil_borne_years"):
        if row.used:
            kept = bans if row["ban"] == "yes" else years
            figure = figure_of("years_away", row, _YEARS)
            kept.setdefault(row["problem"], {})[row["host"]] = figure
    return tuple(
        SoilBorne(
            key=row["problem"],
            name=row["name"],
            kind=row["kind"],  # type: ignore[arg-type]
            agent=row["agent"],
            hosts=_related(relations, row["problem"], _HOST),
            symptomless=_related(relations, row["problem"], _SYMPTOMLESS),
            cleaning=_related(relations, row["problem"], _CLEANS),
            named_safe=_related(relations, row["problem"], _SAFE),
            years=years.get(row["problem"], {}),
            bans=bans.get(row["problem"], {}),
        )
        for row in library.rows("soil_borne")
    )


def _related(relations: dict[str, dict[str, str]], problem: str, relation: str) -> frozenset[str]:
    told = relations.get(problem, {})
    return frozenset(crop for crop, said in told.items() if said == relation)

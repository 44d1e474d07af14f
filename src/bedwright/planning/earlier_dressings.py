"""Nitrogen that comes from what was spread on a bed before: this season, and in earlier ones."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.feeding.materials import Material, material, supply
from bedwright.garden import Document
from bedwright.garden.model import Application
from bedwright.planning.amounts import applied_kg_m2
from bedwright.planning.evidence import Evidence
from bedwright.reference import Library, Row
from bedwright.reference.library import figure_of
from bedwright.soil import nitrogen as n
from bedwright.working import Figure, total, work

_HALF_YEAR = 6  # months: what is spring in the north is fall in the south


@dataclass(frozen=True)
class EarlierDressings:
    """Credits of earlier dressings [kg/m2], each figure one material on one day.

    ``carried_before`` and ``carried_after`` are the carry-over of earlier seasons' dressings,
    spread before and after the soil was sampled; ``fresh_before`` and ``fresh_after`` what this
    season's own dressings give in their first season.
    """

    carried_before: tuple[Figure, ...]
    carried_after: tuple[Figure, ...]
    fresh_before: tuple[Figure, ...]
    fresh_after: tuple[Figure, ...]


def earlier_dressings(
    document: Document, evidence: Evidence, library: Library, season: date
) -> EarlierDressings:
    """The credits of all that the history says was spread on the bed before ``season``."""
    found: dict[str, list[Figure]] = {
        "carried_before": [], "carried_after": [], "fresh_before": [], "fresh_after": []
    }  # fmt: skip
    latitude = document.garden.garden.latitude
    south = latitude is not None and latitude.si < 0
    ends = round(library.parameter("season_ends_month", "month").value)
    this = _season_of(season, ends, south)
    for at, past in enumerate(document.garden.history):
        if past.bed != evidence.bed.id:
            continue
        for place, applied in enumerate(past.applied):
            item = material(library, document.keys[("history", at, "applied", place, "material")])
            year = this - _season_of(applied.on, ends, south) + 1
            if year < 1 or applied.on >= season:
                continue
            sampled = evidence.sampled
            side = "before" if sampled is not None and applied.on <= sampled else "after"
            if year == 1:
                credit, kind = _fresh(applied, item, evidence, library), "fresh"
            else:
                credit, kind = _carry_over(applied, item, evidence, library, year), "carried"
            if credit is not None and credit.value != 0:
                found[f"{kind}_{side}"].append(credit)
    return EarlierDressings(**{kind: _merged(credits) for kind, credits in found.items()})


def _season_of(day: date, ends: int, south: bool) -> int:
    """The growing season to which a day belongs, by the year in which the season ends.

    What is spread after a season's last month feeds the next one.
    """
    month = (ends - 1 + _HALF_YEAR) % 12 + 1 if south else ends
    return day.year + (1 if day.month > month else 0)


def _merged(credits: list[Figure]) -> tuple[Figure, ...]:
    """Dressings of one material on one day as one figure, so that each stands once."""
    by_name: dict[str, list[Figure]] = {}
    for each in credits:
        by_name.setdefault(each.name, []).append(each)
    return tuple(
        same[0] if len(same) == 1 else total(name, same, "kg/m2") for name, same in by_name.items()
    )


def _fresh(
    applied: Application, item: Material, evidence: Evidence, library: Library
) -> Figure | None:
    mass = applied_kg_m2(applied, item, evidence.area.value, library)
    content = supply(library, item, evidence.ph.value if evidence.ph else None).n_season
    if mass is None or content is None:
        return None
    low, high = mass.value * content.least, mass.value * content.most
    return Figure(
        f"fresh_{item.key}_{applied.on.isoformat()}",
        max(0.0, mass.value * content.value),
        "kg/m2",
        "computed",
        low=max(0.0, low),
        high=max(0.0, high),
        formula="mass spread x nitrogen that it gives in its first season",
        inputs=(mass, content),
    )


def _carry_over(
    applied: Application, item: Material, evidence: Evidence, library: Library, year: int
) -> Figure | None:
    row = _decay(library, item, year)
    if row is None:
        return None
    mass = applied_kg_m2(applied, item, evidence.area.value, library)
    content = library.fact("material_facts", item.key, "organic_n", "-")
    if content is None:
        content = library.fact("material_facts", item.key, "n_total", "-")
    if mass is None or content is None:
        return None
    organic = Figure(
        "organic_n",
        mass.value * content.value,
        "kg/m2",
        "computed",
        formula="mass spread x nitrogen content",
        inputs=(mass, content),
    )
    return work(
        n.carry_over_credit,
        f"carry_over_{item.key}_{applied.on.isoformat()}",
        organic_n=organic,
        share=figure_of("share", row, "-"),
        sources=(row.source,),
    )


def _decay(library: Library, item: Material, year: int) -> Row | None:
    for row in library.rows("decay_series"):
        names = row["applies_to"].split()
        fits = item.key in names or item.kind in names
        if fits and row.used and row["year"] == str(year) and row["basis"] == "original":
            return row
    return None

"""What the years have shown, in words: by year, and parted by what was done."""

from __future__ import annotations

from bedwright.language import named
from bedwright.planning.compare.years import CropYears, Split
from bedwright.reference import Library
from bedwright.reports.words_compare import COMPARE
from bedwright.units import UnitSystem, show

_FEW = 6  # harvests on one side: fewer carry little weight, as fewer pairs do


def harvest_counts(crop: CropYears) -> str:
    """A crop with how many harvests, beds and seasons are in."""
    beds = {each.bed for each in crop.harvests}
    return COMPARE["years_crop"].format(
        crop=named(crop.name), count=len(crop.harvests), beds=len(beds), years=len(crop.by_year)
    )


def year_rows(crop: CropYears, system: UnitSystem) -> list[str]:
    """A crop's mean by year, and the beds that it stands on."""
    found = []
    for each in crop.by_year:
        key = "year" if each.harvests == 1 else "year_range"
        mean, low, high = (_yield(one, system) for one in (each.mean, each.low, each.high))
        found.append(
            COMPARE[key].format(
                year=each.key, mean=mean, low=low, high=high, beds=", ".join(each.beds)
            )
        )
    return found


def split_said(each: Split, system: UnitSystem, library: Library) -> list[str]:
    """Harvests with something against those without it, and what can't be told apart."""
    what = COMPARE[f"with_{each.by}"].format(name=named(each.name).lower())
    told = COMPARE["split_start" if each.by == "start" else "split"].format(
        what=what[:1].upper() + what[1:], mean=_yield(each.having.mean, system),
        count=each.having.harvests, other=_yield(each.lacking.mean, system),
        others=each.lacking.harvests, difference=_more(each.difference, system),
    )  # fmt: skip
    lines = [told]
    if each.within is None:
        lines.append(COMPARE["within_none"])
    else:
        years = ", ".join(str(year) for year in each.common_years)
        lines.append(COMPARE["within"].format(years=years, difference=_more(each.within, system)))
    if each.together:
        things = ", ".join(_thing(one, library) for one in each.together)
        lines.append(COMPARE["together"].format(things=things))
    if min(each.having.harvests, each.lacking.harvests) < _FEW:
        lines.append(COMPARE["few_harvests"])
    return lines


def _thing(key: str, library: Library) -> str:
    if key in ("year", "bed", "cultivar"):
        return COMPARE[f"{key}_word"]
    from bedwright.feeding.materials import material

    return named(material(library, key).name).lower()


def _more(difference: float, system: UnitSystem) -> str:
    key = "more" if difference >= 0 else "less"
    return COMPARE[key].format(by=_yield(abs(difference), system))


def _yield(kg_m2: float, system: UnitSystem) -> str:
    return show(kg_m2, "mass_per_area", system)

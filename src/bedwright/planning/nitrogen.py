"""A bed's nitrogen for the season: the crop's need, the credits, and the split."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.garden import Document
from bedwright.planning.earlier_dressings import EarlierDressings, earlier_dressings
from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nutrients import CropAtBed
from bedwright.reference import Library
from bedwright.soil import nitrogen as n
from bedwright.soil.conversion import mass_in_layer
from bedwright.working import Figure, total, work, work_on

_OLD_SAMPLE_DAYS = 120  # judgement: nitrate of an autumn sample may be gone by spring
_SHALLOW_M = 0.28  # a foot is the depth that nitrate guidelines speak of


@dataclass(frozen=True)
class NitrogenNeed:
    """Nitrogen of a season [kg/m2]: crop need, credits, what is left, its ceiling and split."""

    crop_need: Figure
    credits: tuple[Figure, ...]
    to_supply: Figure
    ceiling: Figure
    preplant_share: Figure
    side_dressings: int
    findings: tuple[Finding, ...]


def nitrogen_need(
    document: Document, evidence: Evidence, crop: CropAtBed, library: Library, season: date
) -> NitrogenNeed:
    """The nitrogen to supply to a bed's crop of the season that begins on ``season``."""
    said: list[Finding] = []
    need = _crop_need(crop, library)
    credits = _credits(document, evidence, crop, library, season, said)
    credited = total("credits", list(credits), "kg/m2")
    left = max(0.0, need.value - credited.value)
    to_supply = Figure(
        "n_to_supply",
        left,
        "kg/m2",
        "computed",
        low=max(0.0, need.value - credited.most),
        high=max(0.0, need.value - credited.least),
        formula="crop need - credits, not below 0",
        inputs=(need, credited),
    )
    floor = library.parameter("n_ceiling_floor", "kg/m2")
    ceiling = Figure(
        "n_ceiling",
        max(floor.value, need.most - credited.value),
        "kg/m2",
        "computed",
        formula="highest guideline - credits, not below the floor",
        inputs=(need, credited, floor),
    )
    return NitrogenNeed(
        need, credits, to_supply, ceiling, *_split(crop, library, said), findings=tuple(said)
    )


def _crop_need(crop: CropAtBed, library: Library) -> Figure:
    guideline = library.fact("crop_facts", crop.key, "n_season_need", "kg/m2")
    own_yield = library.fact("crop_facts", crop.key, "yield", "kg/m2")
    if guideline is None or own_yield is None:
        raise LookupError(f"crop_facts.csv has no n_season_need or yield of {crop.key}")
    ends = {
        "low": Figure("low", guideline.least, "kg/m2", "table", sources=guideline.sources),
        "high": Figure("high", guideline.most, "kg/m2", "table", sources=guideline.sources),
    }
    middle = Figure("guideline", guideline.value, "kg/m2", "table", sources=guideline.sources)
    plain = Figure("guideline_yield", own_yield.value, "kg/m2", "table", sources=own_yield.sources)
    inputs = {
        "guideline": middle,
        **ends,
        "yield_goal": _flat(crop.goal),
        "guideline_yield": plain,
    }
    worked = work_on(n.season_need, inputs, "n_crop_need")
    return worked.ranged(guideline.least, guideline.most)


def _flat(figure: Figure) -> Figure:
    """A figure without its range: the guideline's own range already covers it."""
    return Figure(
        "yield_goal",
        figure.value,
        figure.unit,
        figure.origin,
        sources=figure.sources,
        note=figure.note,
    )


def _split(crop: CropAtBed, library: Library, said: list[Finding]) -> tuple[Figure, int]:
    share = library.fact("crop_facts", crop.key, "preplant_n_share", "-")
    if share is None:
        share = library.parameter("preplant_n_share_default", "-").named("preplant_n_share")
        said.append(
            finding("preplant_share_assumed", "assumed", share=share, sources=share.sources)
        )
    count = library.fact("crop_facts", crop.key, "side_dressings", "-")
    if count is not None:
        return share, round(count.value)
    return share, 0 if share.value >= 1 else 1


def _credits(
    document: Document,
    evidence: Evidence,
    crop: CropAtBed,
    library: Library,
    season: date,
    said: list[Finding],
) -> tuple[Figure, ...]:
    credits: list[Figure] = []
    earlier = earlier_dressings(document, evidence, library, season)
    nitrate = evidence.first("nitrate_n")
    if nitrate is not None and nitrate.figure.unit == "mg/kg":
        credits.append(
            work(
                mass_in_layer,
                "nitrate_credit",
                concentration=nitrate.figure,
                bulk_density=evidence.bulk_density,
                depth=evidence.depth,
            )
        )
        if evidence.sampled is not None and (season - evidence.sampled).days > _OLD_SAMPLE_DAYS:
            said.append(
                finding("nitrate_sampled_long_ago", "doubt", sampled=evidence.sampled.isoformat())
            )
        if evidence.depth.value < _SHALLOW_M:
            said.append(finding("nitrate_sampled_shallow", "note", depth=evidence.depth))
    else:
        said.append(finding("nitrate_not_tested", "assumed"))
    water = _water(document, evidence, library, said)
    if water is not None:
        credits.append(water)
    credits = _with_fresh(credits, earlier, said)
    credits += _soil_nitrogen(evidence, crop, library, earlier, said)
    return tuple(credits)


def _with_fresh(
    credits: list[Figure], earlier: EarlierDressings, said: list[Finding]
) -> list[Figure]:
    """Credit this season's dressings; of those before the sample and its nitrate, the larger."""
    found = [*credits, *earlier.fresh_after]
    if earlier.fresh_after:
        said.append(finding("spread_since_sample", "doubt"))
    held = sum(each.value for each in earlier.fresh_before)
    nitrate = next((each for each in credits if each.name == "nitrate_credit"), None)
    if not earlier.fresh_before:
        return found
    if nitrate is None:
        return [*found, *earlier.fresh_before]
    fresh = total("fresh", list(earlier.fresh_before), "kg/m2")
    if held > nitrate.value:
        said.append(finding("fresh_instead_of_nitrate", "note", other=nitrate))
        return [each for each in found if each is not nitrate] + list(earlier.fresh_before)
    said.append(finding("nitrate_instead_of_fresh", "note", other=fresh))
    return found


def _soil_nitrogen(
    evidence: Evidence,
    crop: CropAtBed,
    library: Library,
    earlier: EarlierDressings,
    said: list[Finding],
) -> list[Figure]:
    """The organic matter's release and the carry-over of earlier dressings, each counted once.

    What was spread before the sample was taken is part of the organic matter that was measured:
    of the two credits the larger counts. What was spread after it adds.
    """
    if library.fact("crop_facts", crop.key, "need_net_of_soil_n", "-") is not None:
        said.append(finding("need_is_net_of_soil_n", "note"))
        return []
    before, after = list(earlier.carried_before), list(earlier.carried_after)
    matter = evidence.first("organic_matter")
    if matter is None:
        said.append(finding("organic_matter_not_tested", "assumed"))
        return before + after
    release = library.parameter("om_n_release", "kg/m2/%")
    ceiling = library.parameter("om_rule_ceiling", "%").named("ceiling")
    credit = work(
        n.organic_matter_credit,
        "organic_matter_credit",
        organic_matter=matter.figure,
        release_per_percent=release,
        ceiling=ceiling,
    )
    if matter.figure.value > ceiling.value:
        said.append(
            finding("organic_matter_above_rule", "doubt", measured=matter.figure, ceiling=ceiling)
        )
    older = sum(each.value for each in before)
    if older > credit.value:
        said.append(finding("carry_over_instead_of_matter", "note", other=credit))
        return before + after
    if before:
        said.append(
            finding(
                "matter_instead_of_carry_over", "note", other=total("carry_over", before, "kg/m2")
            )
        )
    return [credit, *after]


def _water(
    document: Document, evidence: Evidence, library: Library, said: list[Finding]
) -> Figure | None:
    """Nitrogen of the irrigation water, where its nitrate and the season's depth are stated."""
    for report in document.garden.water_report:
        zones = report.water_zones
        if zones is not None and evidence.bed.water_zone not in zones:
            continue
        for read in document.water[report.id]:
            if read.analyte not in ("nitrate_n", "nitrate"):
                continue
            figure = Figure(
                read.analyte,
                read.value,
                "mg/l",
                "measured",
                note=f"{read.text}, water report {report.id}",
            )
            if read.analyte == "nitrate":
                figure = work(n.nitrate_n_of_nitrate, "nitrate_n", nitrate=figure)
            if report.season_depth is None:
                said.append(finding("water_depth_not_stated", "assumed", nitrate_n=figure))
                return None
            depth = Figure(
                "water_depth",
                report.season_depth.si * 1000,
                "mm",
                "stated",
                note=report.season_depth.text,
            )
            return work(
                n.irrigation_credit,
                "irrigation_credit",
                nitrate_n=figure.named("nitrate_n"),
                water_depth=depth,
            )
    return None

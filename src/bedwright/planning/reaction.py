"""A bed's reaction: lime where it is sour, sulfur or a clear no where it is limy."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nutrients import CropAtBed
from bedwright.reference import Library
from bedwright.soil.acidify import sulfur_by_texture, sulfur_to_dissolve_lime
from bedwright.soil.lime import lime_by_texture, lime_from_table, lime_mehlich_buffer
from bedwright.working import Figure, work

_TARGET_PH = 6.5  # Western Oregon, mixed vegetables on small acreage: OSU EM 9057, 2013
_ACT_BELOW = 0.2  # tri_state_e2567: lime when the pH is 0.2 to 0.3 below the target
_ACIDIFY_ABOVE = 0.5  # judgement: above the crop's range by this much before sulfur is spoken of
_TABLE_OF_BUFFER = {
    "sikora_buffer": "sikora_oregon",
    "exchangeable_acidity": "penn_state_acidity",
}
_ASSUMED_LIME_PERCENT = 1.0  # the least that counts as free lime: rayment_lyons_2011, method 19D1


@dataclass(frozen=True)
class Reaction:
    """What the bed's pH asks for.

    ``lime`` is the requirement as pure CaCO3 [kg/m2], None where none is asked for; ``sulfur``
    likewise; ``limed_soil`` is True where nothing that raises pH may be spread.
    """

    lime: Figure | None
    sulfur: Figure | None
    no_base: bool
    findings: tuple[Finding, ...]


def reaction(evidence: Evidence, crop: CropAtBed, library: Library) -> Reaction:
    """Read the pH, the buffer test and the free lime of a bed."""
    ph = evidence.ph
    if ph is None:
        return Reaction(None, None, True, (finding("ph_not_tested", "assumed"),))
    low = library.fact("crop_facts", crop.key, "ph_low", "-")
    high = library.fact("crop_facts", crop.key, "ph_high", "-")
    if ph.value < _TARGET_PH - _ACT_BELOW:
        return _lime(evidence, ph, library)
    said: list[Finding] = []
    sulfur = None
    no_base = ph.value >= _TARGET_PH
    if high is not None and ph.value > high.value + _ACIDIFY_ABOVE:
        sulfur, found = _acidify(evidence, ph, high, library)
        said += found
    elif low is not None and ph.value < low.value:
        said.append(finding("ph_below_crop_range", "note", ph=ph, low=low))
    return Reaction(None, sulfur, no_base, tuple(said))


def _lime(evidence: Evidence, ph: Figure, library: Library) -> Reaction:
    target = Figure("target_ph", _TARGET_PH, "-", "assumed", note="mixed vegetables")
    said: list[Finding] = []
    lime = _by_buffer(evidence, ph, target, library, said)
    if lime is None:
        group = evidence.texture_group if evidence.texture_group != "organic" else "medium"
        lime = lime_by_texture(library, group, ph.value, target.value)
        lime = Figure(
            lime.name,
            lime.value,
            lime.unit,
            "computed",
            low=lime.low,
            high=lime.high,
            sources=lime.sources,
            formula=lime.formula,
            note=lime.note,
            inputs=(ph, target),
        )
        said.append(finding("lime_without_buffer_test", "assumed", lime=lime, sources=lime.sources))
    first, dressings = _first_dressing(lime, library)
    if dressings > 1:
        said.append(
            finding(
                "lime_in_dressings",
                "act",
                whole=lime,
                now=first,
                dressings=float(dressings),
                sources=library.parameter("lime_split_two_from", "kg/m2").sources,
            )
        )
    said.insert(0, finding("lime_needed", "act", ph=ph, target=target, lime=lime))
    magnesium = evidence.first("magnesium")
    if magnesium is None:
        said.append(finding("magnesium_decides_lime", "note"))
    return Reaction(first, None, False, tuple(said))


def _by_buffer(
    evidence: Evidence, ph: Figure, target: Figure, library: Library, said: list[Finding]
) -> Figure | None:
    for (analyte, extractant), measurement in evidence.measured.items():
        figure = measurement.figure
        if analyte == "buffer_ph" and extractant == "mehlich_buffer":
            if figure.value > 6.6:
                continue
            none = Figure("residual_credit", 0.0, "kg/m2", "assumed", note="no earlier lime stated")
            return work(
                lime_mehlich_buffer,
                "lime_requirement",
                ph=ph,
                buffer_ph=figure,
                target_ph=target,
                residual_credit=none,
            )
        table = _TABLE_OF_BUFFER.get(extractant if analyte == "buffer_ph" else analyte)
        if table is None:
            if analyte == "buffer_ph":
                said.append(finding("buffer_without_table", "doubt", extractant=extractant))
            continue
        rows = library.rows("lime_buffer")
        try:
            return work(
                lime_from_table,
                "lime_requirement",
                reading=figure,
                ph=ph,
                target_ph=target,
                settings={"method": table, "rows": rows},
                sources=(next(r for r in rows if r["method"] == table).source,),
            )
        except ValueError as outside:
            said.append(finding("buffer_outside_table", "doubt", problem=str(outside)))
    return None


def _first_dressing(lime: Figure, library: Library) -> tuple[Figure, int]:
    """This season's part of a large requirement, by the laboratory's rule of split dressings."""
    two = library.parameter("lime_split_two_from", "kg/m2").value
    three = library.parameter("lime_split_three_from", "kg/m2").value
    dressings = 3 if lime.value >= three else 2 if lime.value >= two else 1
    if dressings == 1:
        return lime, 1
    part = Figure(
        "lime_now",
        lime.value / dressings,
        lime.unit,
        "computed",
        formula=f"requirement / {dressings} dressings",
        inputs=(lime,),
    )
    return part, dressings


def _acidify(
    evidence: Evidence, ph: Figure, high: Figure, library: Library
) -> tuple[Figure | None, list[Finding]]:
    """The verdict on sulfur: by texture without free lime, the stoichiometric amount with it."""
    if evidence.ground.free_lime:
        carbonate = evidence.first("carbonate")
        share = (
            carbonate.figure
            if carbonate is not None
            else Figure(
                "carbonate",
                _ASSUMED_LIME_PERCENT,
                "%",
                "assumed",
                note="free lime by the pH; the least that counts",
            )
        )
        sulfur = work(
            sulfur_to_dissolve_lime,
            "sulfur_to_dissolve_lime",
            carbonate=share.named("carbonate"),
            bulk_density=evidence.bulk_density,
            depth=evidence.mixing_depth,
        )
        return None, [
            finding("sulfur_not_worth_it", "note", ph=ph, high=high, sulfur=sulfur, carbonate=share)
        ]
    group = evidence.texture_group if evidence.texture_group != "organic" else "medium"
    sulfur = sulfur_by_texture(library, group, ph.value, max(high.value, 6.5))
    return sulfur, [
        finding(
            "sulfur_would_help", "note", ph=ph, high=high, sulfur=sulfur, sources=sulfur.sources
        )
    ]

"""Salt, sodium and boron at a bed: what they cost the crop, and how much more the bed can bear."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.garden import Document
from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nutrients import CropAtBed
from bedwright.reference import Library
from bedwright.soil import salinity, sodium
from bedwright.soil.conversion import charge_in_water
from bedwright.working import Figure, work, work_on

_EXTRACTS = ("saturated_paste", "water_1_1", "water_1_2", "water_2_5", "water_1_5")
_DEFAULT_ESP_TARGET = 10.0  # judgement: well below Handbook 60's 15, above the Australian 6
_CLEAR_LOSS_PERCENT = 90.0


@dataclass(frozen=True)
class SaltState:
    """What is known of a bed's salt, and the salts that may still be spread [kg/m2].

    ``ec_e`` is None where it was not measured; ``ceiling`` is then None too and nothing is
    limited, which the findings say. ``sodic`` soils want gypsum even where the exchange capacity,
    and so the amount, is not known.
    """

    ec_e: Figure | None
    yield_left: Figure | None
    ceiling: Figure | None
    gypsum: Figure | None
    sodic: bool
    findings: tuple[Finding, ...]


def salt_state(
    document: Document, evidence: Evidence, crop: CropAtBed, library: Library
) -> SaltState:
    """Salt and sodium of a bed as they bear on its crop."""
    said: list[Finding] = []
    ec_e = _ec_e(evidence, library, said)
    gypsum, sodic = _sodium(evidence, said)
    _water(document, evidence, crop, library, said)
    if ec_e is None:
        said.append(finding("salt_not_tested", "assumed"))
        return SaltState(None, None, None, gypsum, sodic, tuple(said))
    threshold = library.fact("crop_facts", crop.key, "ec_e_threshold", "dS/m")
    slope = library.fact("crop_facts", crop.key, "ec_e_slope", "%/(dS/m)")
    if threshold is None or slope is None:
        said.append(finding("salt_tolerance_not_known", "note", ec_e=ec_e))
        return SaltState(
            ec_e, None, _ceiling(evidence, ec_e, None, library), gypsum, sodic, tuple(said)
        )
    left = work(salinity.relative_yield, "yield_left", ec_e=ec_e, threshold=threshold, slope=slope)
    kept = document.garden.limits.yield_kept
    wanted = Figure("yield_kept", kept.si * 100, "%", "stated", note=kept.text)
    limit = work(
        salinity.ec_e_at_yield, "ec_e_limit", yield_kept=wanted, threshold=threshold, slope=slope
    )
    if ec_e.value > limit.value:
        said.append(finding("salt_over_limit", "act", ec_e=ec_e, limit=limit, yield_left=left))
        said += _leach_depth(ec_e, library)
    elif left.least < 100:
        said.append(finding("salt_costs_yield", "caution", ec_e=ec_e, yield_left=left))
    return SaltState(
        ec_e, left, _ceiling(evidence, ec_e, limit, library), gypsum, sodic, tuple(said)
    )


def ec_e_of(evidence: Evidence, library: Library) -> tuple[str, Figure] | None:
    """A bed's ECe [dS/m] by the surest extract of its report, with that extract; None untested.

    Parameters
    ----------
    evidence : on the bed
    library : the tables
    """
    group = evidence.texture_group if evidence.texture_group != "organic" else "any"
    for extract in _EXTRACTS:
        measurement = evidence.measured.get(("ec", extract))
        if measurement is not None:
            return extract, salinity.to_saturation(library, extract, measurement.figure, group)
    return None


def _ec_e(evidence: Evidence, library: Library, said: list[Finding]) -> Figure | None:
    found = ec_e_of(evidence, library)
    if found is None:
        return None
    extract, ec_e = found
    if extract != "saturated_paste":
        said.append(
            finding("salt_by_dilution", "doubt", extract=extract, ec_e=ec_e, sources=ec_e.sources)
        )
    return ec_e


def _ceiling(
    evidence: Evidence, ec_e: Figure, limit: Figure | None, library: Library
) -> Figure | None:
    """Salts that may be spread before ECe passes the limit [kg/m2, as sodium nitrate]."""
    if limit is None:
        return None
    floor = library.parameter("salt_rise_floor", "dS/m")
    room = max(limit.value - ec_e.value, floor.value)
    rise = Figure(
        "salt_rise_allowed",
        room,
        "dS/m",
        "computed",
        inputs=(limit, ec_e, floor),
        formula="limit - ECe, not below the floor",
    )
    one = salinity.salt_rise(
        1.0,
        evidence.bulk_density.value,
        evidence.mixing_depth.value,
        evidence.saturation_water.value,
    )
    return Figure(
        "salt_ceiling",
        room / one.value,
        "kg/m2",
        "computed",
        formula="allowed rise x 0.64 g/l per dS/m x water at saturation in the mixed layer",
        inputs=(rise, evidence.bulk_density, evidence.mixing_depth, evidence.saturation_water),
    )


def _sodium(evidence: Evidence, said: list[Finding]) -> tuple[Figure | None, bool]:
    """The gypsum that would displace the sodium, if it can be worked out, and whether it is due."""
    sar = evidence.first("sar")
    esp = evidence.first("esp", "base_saturation_na")
    cec = evidence.first("cec")
    ratio: Figure | None = sar.figure if sar is not None else _sar(evidence)
    percent: Figure | None = esp.figure.named("esp") if esp is not None else None
    if percent is None and ratio is not None:
        percent = work(sodium.exchangeable_sodium_percentage, "esp", sar=ratio.named("sar"))
    if percent is None and cec is not None:
        percent = _esp_of_cec(evidence, cec.figure)
    if percent is None:
        return None, False
    if percent.value < _DEFAULT_ESP_TARGET:
        said.append(finding("sodium_fine", "note", esp=percent))
        return None, False
    if cec is None:
        said.append(finding("sodic_without_cec", "act", esp=percent))
        return None, True
    target = Figure("target_esp", _DEFAULT_ESP_TARGET, "%", "assumed", note="judgement")
    gypsum = work(
        sodium.gypsum_requirement,
        "gypsum_requirement",
        esp=percent,
        target_esp=target,
        cec=cec.figure,
        bulk_density=evidence.bulk_density,
        depth=evidence.mixing_depth,
    )
    said.append(finding("sodic", "act", esp=percent, gypsum=gypsum))
    return gypsum, True


def _sar(evidence: Evidence) -> Figure | None:
    """SAR from an extract whose cations the report gives in meq/l or mg/l."""
    charges: dict[str, Figure] = {}
    for cation in ("sodium", "calcium", "magnesium"):
        for (analyte, _), measurement in evidence.measured.items():
            if analyte != cation or measurement.figure.unit not in ("meq/l", "mg/l"):
                continue
            figure = measurement.figure
            if figure.unit == "mg/l":
                figure = work(
                    charge_in_water, cation, concentration=figure, settings={"cation": cation}
                )
            charges[cation] = figure
    if len(charges) < 3:
        return None
    return work_on(sodium.sodium_adsorption_ratio, charges, "sar")


def _esp_of_cec(evidence: Evidence, cec: Figure) -> Figure | None:
    from bedwright.soil.conversion import charge_from_concentration

    for (analyte, _), measurement in evidence.measured.items():
        if analyte == "sodium" and measurement.figure.unit in ("mg/kg", "meq/100 g"):
            charge = measurement.figure.value
            if measurement.figure.unit == "mg/kg":
                charge = charge_from_concentration("sodium", charge)
            # More sodium than the exchange holds is sodium in solution beside it.
            return Figure(
                "esp",
                min(100.0, 100 * charge / cec.value),
                "%",
                "computed",
                formula="100 x exchangeable sodium / CEC",
                inputs=(measurement.figure, cec),
            )
    return None


def _water(
    document: Document, evidence: Evidence, crop: CropAtBed, library: Library, said: list[Finding]
) -> None:
    """The leaching that the irrigation water asks for, and its boron and chloride."""
    for report in document.garden.water_report:
        if report.water_zones is not None and evidence.bed.water_zone not in report.water_zones:
            continue
        read = {each.analyte: each for each in document.water[report.id]}
        if "ec" in read:
            _leaching(read["ec"].value, crop, library, said)
        boron = read.get("boron")
        threshold = library.fact("crop_facts", crop.key, "boron_threshold", "mg/l")
        if boron is not None and threshold is not None and boron.value > threshold.least:
            said.append(
                finding(
                    "boron_in_water",
                    "caution",
                    threshold=threshold,
                    boron=Figure("boron", boron.value, "mg/l", "measured"),
                )
            )
        nitrate = read.get("nitrate_n")
        limit = _drinking_limit(library)
        if nitrate is not None and limit is not None and nitrate.value > limit.value:
            said.append(
                finding(
                    "nitrate_above_drinking",
                    "caution",
                    limit=limit,
                    nitrate_n=Figure("nitrate_n", nitrate.value, "mg/l", "measured"),
                    sources=limit.sources,
                )
            )


def _leaching(ec_water: float, crop: CropAtBed, library: Library, said: list[Finding]) -> None:
    threshold = library.fact("crop_facts", crop.key, "ec_e_threshold", "dS/m")
    if threshold is None:
        return
    water = Figure("ec_water", ec_water, "dS/m", "measured")
    try:
        share = work(
            salinity.leaching_requirement, "leaching_requirement", ec_water=water, ec_e=threshold
        )
    except ValueError:
        said.append(finding("water_too_salty_for_crop", "act", ec_water=water, threshold=threshold))
        return
    if share.value >= 0.05:
        said.append(
            finding("leaching_needed", "note", ec_water=water, threshold=threshold, share=share)
        )


def _leach_depth(ec_e: Figure, library: Library) -> list[Finding]:
    """The published depth of water that a very salty garden bed wants before planting."""
    for row in library.rows("salinity_classes"):
        upper = row.number("upper")
        if (
            row["property"] == "ec_e_preplant_leaching"
            and ec_e.value >= (row.number("lower") or 0.0)
            and (upper is None or ec_e.value < upper)
        ):
            return [finding(row["class"], "act", ec_e=ec_e, sources=(row.source,))]
    return []


def _drinking_limit(library: Library) -> Figure | None:
    for row in library.rows("water_classes"):
        if row["analyte"] == "nitrate_n" and "drinking" in row["scheme"]:
            value = row.number("lower") or row.number("upper")
            if value:
                return Figure("drinking_limit", value, "mg/l", "table", sources=(row.source,))
    return None

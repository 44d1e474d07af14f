"""What soil, water and manure say of a crop on a bed: bars, and the yield that salt leaves."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from bedwright.garden import Bed, Document, Want
from bedwright.planning.assignment.bars import Setting
from bedwright.planning.assignment.model import Bar, Candidate
from bedwright.planning.evidence import evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.manure_dates import ManureDates, manure_dates, raw_manure_about
from bedwright.planning.nutrients import CropAtBed
from bedwright.planning.rotation.problem import FloatArray
from bedwright.planning.salt import salt_state
from bedwright.soil.salinity import leaching_requirement, relative_yield
from bedwright.working import Figure, work


def manure_bar(setting: Setting) -> Bar:
    """Raw manure was worked in too few days before the harvest."""
    barred = setting.none()
    spread: dict[tuple[int, int], ManureDates] = {}
    if raw_manure_about(setting.document, setting.library):
        for unit, place in enumerate(setting.units):
            for at, candidate in enumerate(setting.candidates):
                if candidate.resting:
                    continue
                dates = _manure(setting, candidate, place.bed)
                if dates.spread:
                    spread[unit, at] = dates
    for (unit, at), dates in spread.items():
        allowed = max(day for _, _, day in dates.spread)
        for option, each in enumerate(setting.options):
            if each.candidate == at and each.first_harvest is not None:
                barred[unit, option] = each.first_harvest < allowed

    def say(unit: int, option: int) -> Finding:
        dates = spread[unit, setting.options[option].candidate]
        material, on, allowed = max(dates.spread, key=lambda found: found[2])
        return finding("rotation_raw_manure", "note", crop=setting.crop(option).name.lower(),
                       material=material.lower(), spread=on.isoformat(),
                       allowed=allowed.isoformat(), sources=dates.interval.sources)  # fmt: skip

    return Bar("manure", barred, say)


def _manure(setting: Setting, candidate: Candidate, bed: str) -> ManureDates:
    """The interval of a crop on a bed, asked as if it were wanted there."""
    document = setting.document
    want = Want(crop=candidate.key, beds=[bed], first_pick=date.max)
    garden = document.garden.model_copy(update={"want": [want]})
    asked = replace(
        document, garden=garden, keys={**document.keys, ("want", 0, "crop"): candidate.key}
    )
    return manure_dates(asked, want, 0, bed, setting.library)


def trellis_bar(setting: Setting) -> Bar:
    """A crop that climbs, where trellises stand and this bed has none.

    A garden without a standing trellis puts one up wherever the crop goes: nothing is barred.
    """
    garden = setting.document.garden
    standing = {bed.id for bed in garden.bed if bed.trellis}

    def climbs(candidate: Candidate) -> bool:
        own = None if candidate.own is None else garden.crop[candidate.own].trellis
        if own is not None:
            return own == "trellis"
        rows = setting.library.habits(candidate.key)
        return any(row["property"] == "trellis" and row["word"] == "trellis" for row in rows)

    def lacks_one(unit: int, candidate: Candidate) -> bool:
        return bool(standing) and setting.units[unit].bed not in standing and climbs(candidate)

    def say(unit: int, option: int) -> Finding:
        beds = ", ".join(bed.id for bed in garden.bed if bed.trellis)
        return finding(
            "rotation_no_trellis", "note", crop=setting.crop(option).name.lower(), beds=beds
        )

    return Bar("trellis", setting.by_crop(lacks_one), say)


def water_bar(setting: Setting) -> Bar:
    """The bed's irrigation water is too salty for the crop, however much is let through."""
    salty = {unit.bed: _ec_water(setting.document, unit.bed) for unit in setting.units}

    def too_salty(unit: int, candidate: Candidate) -> bool:
        water = salty[setting.units[unit].bed]
        threshold = setting.library.fact("crop_facts", candidate.key, "ec_e_threshold", "dS/m")
        if water is None or threshold is None:
            return False
        try:
            leaching_requirement(water, threshold.value)
        except ValueError:
            return True
        return False

    def say(unit: int, option: int) -> Finding:
        crop = setting.crop(option)
        threshold = setting.library.fact("crop_facts", crop.key, "ec_e_threshold", "dS/m")
        assert threshold is not None
        water = Figure("ec_water", salty[setting.units[unit].bed] or 0.0, "dS/m", "measured")
        return finding("rotation_water_too_salty", "note", crop=crop.name.lower(),
                       water=water, threshold=threshold)  # fmt: skip

    return Bar("water", setting.by_crop(too_salty), say)


def _ec_water(document: Document, bed: str) -> float | None:
    zone = next(each.water_zone for each in document.garden.bed if each.id == bed)
    covering = [
        each
        for each in document.garden.water_report
        if each.water_zones is None or zone in each.water_zones
    ]
    newest = max(covering, key=lambda each: each.sampled, default=None)
    if newest is None:
        return None
    return next((x.value for x in document.water[newest.id] if x.analyte == "ec"), None)


def salt_yields(setting: Setting) -> FloatArray:
    """The share of its yield that each bed's salt leaves each crop, (units, candidates), 0 to 1;
    NaN where the salt was not measured or the crop's tolerance is not known."""
    found = np.full((len(setting.units), len(setting.candidates)), np.nan)
    beds = {bed.id: bed for bed in setting.document.garden.bed}
    measured: dict[str, Figure | None] = {}
    for unit, each in enumerate(setting.units):
        if each.bed not in measured:
            measured[each.bed] = _ec_e(setting, beds[each.bed])
        ec_e = measured[each.bed]
        if ec_e is None:
            continue
        for at, candidate in enumerate(setting.candidates):
            limits = [
                setting.library.fact("crop_facts", candidate.key, name, unit_)
                for name, unit_ in (("ec_e_threshold", "dS/m"), ("ec_e_slope", "%/(dS/m)"))
            ]
            threshold, slope = limits
            if threshold is not None and slope is not None:
                left = work(
                    relative_yield, "yield_left", ec_e=ec_e, threshold=threshold, slope=slope
                )
                found[unit, at] = left.value / 100
    return found


def _ec_e(setting: Setting, bed: Bed) -> Figure | None:
    known = evidence(setting.document, bed, setting.library)
    some = setting.candidates[0]
    crop = CropAtBed(some.key, some.name, "", "", Figure("yield_goal", 0.0, "kg/m2", "assumed"))
    return salt_state(setting.document, known, crop, setting.library).ec_e

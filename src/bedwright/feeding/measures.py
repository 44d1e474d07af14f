"""Masses in the measures that a gardener handles: level cups, bucketfuls, bags."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.guards import not_negative, positive

# US customary measures, m3: NIST Handbook 44, appendix C.
CUP_M3, GALLON_M3 = 0.0002365882365, 0.003785411784
LITER_M3 = 0.001
BUCKET_GALLONS, METRIC_BUCKET_LITERS = 5, 10  # the usual pail in each system: common practice
_CUPS_UP_TO, _QUARTS_UP_TO = 8.0, 16.0  # cups; a hand counts no more: judgement


@dataclass(frozen=True)
class Measure:
    """A count of one measure: ``count`` of ``unit`` (cup, quart, bucket, liter, teaspoon...)."""

    count: float
    unit: str


def us_measure(mass_kg: float, bulk_density_kg_m3: float, *, bulky: bool) -> Measure:
    """The US measure in which a gardener would count a mass.

    Small amounts come in teaspoons and tablespoons, then level cups, quarts and, for bulky
    materials or large amounts, 5-gallon buckets. ``mass_kg`` 0 and up, density above 0.
    """
    volume = _volume(mass_kg, bulk_density_kg_m3)
    cups = volume / CUP_M3
    if bulky or cups > _QUARTS_UP_TO * 4:
        buckets = volume / (BUCKET_GALLONS * GALLON_M3)
        if buckets >= 0.25:
            return Measure(_to_part(buckets, 4 if buckets < 10 else 1), "bucket")
    if cups > _CUPS_UP_TO:
        return Measure(_to_part(cups / 4, 2), "quart")
    if cups >= 0.25:
        return Measure(_to_part(cups, 4 if cups < 4 else 2), "cup")
    spoons = cups * 16
    return (
        Measure(_to_part(spoons, 2), "tablespoon")
        if spoons >= 1
        else Measure(_to_part(spoons * 3, 4), "teaspoon")
    )


def metric_measure(mass_kg: float, bulk_density_kg_m3: float, *, bulky: bool) -> Measure:
    """The metric measure: milliliters, liters, or 10-liter buckets."""
    volume = _volume(mass_kg, bulk_density_kg_m3)
    liters = volume / LITER_M3
    if (bulky and liters >= METRIC_BUCKET_LITERS / 4) or liters > 5 * METRIC_BUCKET_LITERS:
        return Measure(_to_part(liters / METRIC_BUCKET_LITERS, 4), "bucket")
    if liters >= 1:
        return Measure(_to_part(liters, 10), "liter")
    whole = round(liters * 1000, -1 if liters >= 0.1 else 0)
    return Measure(max(float(whole), 1.0), "milliliter")


def _volume(mass_kg: float, bulk_density_kg_m3: float) -> float:
    not_negative(mass_kg=mass_kg)
    positive(bulk_density_kg_m3=bulk_density_kg_m3)
    return mass_kg / bulk_density_kg_m3


def _to_part(value: float, parts: int) -> float:
    """Rounded to whole parts of one: quarters, halves; never to nothing."""
    return max(round(value * parts), 1) / parts

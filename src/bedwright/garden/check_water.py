"""What a document says of its water zones and readings, held against its beds and itself."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from bedwright.garden.checked import Checked
from bedwright.garden.model import Garden
from bedwright.garden.model_water import Gauge, SoilMoisture


def check_water(garden: Garden, checked: Checked, as_of: date) -> None:
    """Check that zones have beds and that readings are of beds, of the past, and told once."""
    zones = {bed.water_zone for bed in garden.bed if bed.water_zone is not None}
    for at, zone in enumerate(garden.water_zone):
        if zone.id not in zones:
            checked.fault(
                ("water_zone", at, "id"),
                f"no bed lies in the water zone {zone.id!r}",
                f"Zones: {', '.join(sorted(zones)) or 'none'}; water_zone of a bed names its own.",
            )
    for path, problem, remedy in reading_faults(
        garden.gauge, garden.soil_moisture, [bed.id for bed in garden.bed], as_of
    ):
        checked.fault(path, problem, remedy)


def reading_faults(
    gauges: Sequence[Gauge], moistures: Sequence[SoilMoisture], beds: Sequence[str], as_of: date
) -> list[tuple[tuple[Any, ...], str, str]]:
    """Faults of readings: the field's path, the problem, the remedy."""
    found: list[tuple[tuple[Any, ...], str, str]] = []
    days: set[date] = set()
    for at, each in enumerate(gauges):
        if each.on in days:
            found.append((("gauge", at, "on"), f"there are two gauges of {each.on}", "Keep one."))
        days.add(each.on)
    read: set[tuple[str, date]] = set()
    for at, soil in enumerate(moistures):
        if soil.bed not in beds:
            found.append((("soil_moisture", at, "bed"), f"there is no bed {soil.bed!r}",
                          f"Beds: {', '.join(sorted(beds))}."))  # fmt: skip
        if (soil.bed, soil.on) in read:
            problem = f"bed {soil.bed!r} has two readings of {soil.on}"
            found.append((("soil_moisture", at, "on"), problem, "Keep one."))
        read.add((soil.bed, soil.on))
    dated = [("gauge", at, each.on) for at, each in enumerate(gauges)]
    dated += [("soil_moisture", at, each.on) for at, each in enumerate(moistures)]
    for name, at, on in dated:
        if on > as_of:
            found.append(((name, at, "on"), f"{on} lies after {as_of}, the day of reading",
                          "Correct the date, or read as of a later day."))  # fmt: skip
    return found

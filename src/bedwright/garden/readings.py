"""Reading a file of gauge and soil readings that lies beside a garden document."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from pydantic import ValidationError

from bedwright.garden.check_water import reading_faults
from bedwright.garden.faults import Fault, GardenError, field_name
from bedwright.garden.lines import index_lines
from bedwright.garden.model_water import Readings
from bedwright.garden.soil_csv import read_text

_MOST_BYTES = 1_000_000


def read_readings(file: Path | None, beds: Sequence[str], as_of: date) -> Readings:
    """The readings of a TOML file with ``[[gauge]]`` and ``[[soil_moisture]]``; none without one.

    Parameters
    ----------
    file : to be read, None for none
    beds : ids of the garden's beds
    as_of : no reading may lie after it

    Raises GardenError with every fault.
    """
    if file is None:
        return Readings()
    text = read_text(file, _MOST_BYTES, "file of readings")
    name = str(file)
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise GardenError([Fault(name, 0, "", f"this is not TOML: {error}")]) from None
    lines = index_lines(text)
    try:
        found = Readings.model_validate(data)
    except ValidationError as error:
        raise GardenError(
            [
                Fault(
                    name,
                    lines.line(each["loc"]),
                    field_name(each["loc"]),
                    str(each.get("ctx", {}).get("problem", each["msg"])),
                    str(each.get("ctx", {}).get("remedy", "")),
                )
                for each in error.errors()
            ]
        ) from None
    faults = [
        Fault(name, lines.line(path), field_name(path), problem, remedy)
        for path, problem, remedy in reading_faults(found.gauge, found.soil_moisture, beds, as_of)
    ]
    if faults:
        raise GardenError(faults)
    return found

"""The register of single formulas, each workable alone with its working and source."""

from __future__ import annotations

import difflib
from collections.abc import Callable
from typing import Any

from bedwright.climate import (
    chill,
    day_length,
    degree_days,
    hourly,
    human_heat,
    normal_dates,
    soil_temperature,
    solar,
)
from bedwright.crops import emergence, frost_damage, responses, stages
from bedwright.feeding import (
    arithmetic,
    compost,
    heap,
    ledger,
    outlook,
    residues,
    response,
    salt_ledger,
    volumes,
)
from bedwright.light import photons, scene, shadow, split
from bedwright.planning import nutrients
from bedwright.planning.layout import pairs, rows, seeds, trellis
from bedwright.planning.work import lifting
from bedwright.reference import Library
from bedwright.soil import acidify, conversion, lime, nitrogen, salinity, sodium
from bedwright.trials import credibility, shown
from bedwright.units import KINDS, UnitError, parse
from bedwright.units.parse import unit_factor
from bedwright.water import (
    air,
    coefficients,
    evapotranspiration,
    radiation,
    root_zone,
    salt,
    surface,
)
from bedwright.water import irrigation as drip_lines
from bedwright.water import watering as runs
from bedwright.working import Figure, FormulaInfo, Source, info_of, work_on

_ROOMS = (
    conversion,
    nitrogen,
    lime,
    acidify,
    salinity,
    sodium,
    arithmetic,
    volumes,
    heap,
    compost,
    response,
    ledger,
    salt_ledger,
    outlook,
    residues,
    nutrients,
    solar,
    day_length,
    degree_days,
    hourly,
    chill,
    soil_temperature,
    human_heat,
    normal_dates,
    responses,
    stages,
    frost_damage,
    emergence,
    shadow,
    split,
    photons,
    scene,
    rows,
    pairs,
    seeds,
    trellis,
    lifting,
    air,
    radiation,
    evapotranspiration,
    coefficients,
    surface,
    root_zone,
    drip_lines,
    runs,
    salt,
    shown,
    credibility,
)


class ReckonError(ValueError):
    """A formula that is not known, or inputs that do not fit it; every fault in one message."""


def _formulas() -> dict[str, Callable[..., Any]]:
    found: dict[str, Callable[..., Any]] = {}
    for room in _ROOMS:
        for each in vars(room).values():
            if callable(each) and hasattr(each, "__formula__"):
                found[info_of(each).name] = each
    return dict(sorted(found.items()))


def formulas() -> tuple[FormulaInfo, ...]:
    """What every registered formula says of itself, by name."""
    return tuple(info_of(each) for each in _formulas().values())


def reckon(name: str, given: dict[str, str], library: Library) -> Figure:
    """Work one formula. ``given`` maps its inputs to text with units.

    Parameters of the tables (a rate, a ceiling) are taken from these unless they are given.
    Raises ReckonError that names every missing, unknown or unreadable input.
    """
    known = _formulas()
    if name not in known:
        near = difflib.get_close_matches(name, known, n=3, cutoff=0.4)
        hint = f" Nearest: {', '.join(near)}." if near else ""
        raise ReckonError(f"there is no formula {name!r}.{hint}")
    function = known[name]
    info = info_of(function)
    faults: list[str] = []
    figures: dict[str, Figure] = {}
    settings: dict[str, Any] = {}
    sources: tuple[Source, ...] = ()
    for key, (kind, unit) in info.inputs.items():
        text = given.get(key)
        try:
            if kind == "parameter":
                figures[key] = _parameter(key, unit, text, library)
            elif kind == "table":
                settings[key] = library.rows(unit)
                sources = _table_sources(unit, given, library)
            elif text is None:
                faults.append(f"{key} is missing; {_hint(info, key)}")
            elif kind == "word":
                settings[key] = _word(text)
            else:
                figures[key] = _figure(key, kind, unit, text)
        except UnitError as error:
            faults.append(f"{key}: {error}")
    unknown = [key for key in given if key not in info.inputs]
    faults += [
        f"{key} is not an input of {name}; inputs: {', '.join(info.inputs)}" for key in unknown
    ]
    if faults:
        raise ReckonError("\n".join(faults))
    try:
        return work_on(function, figures, settings=settings, sources=sources)
    except (ValueError, TypeError) as error:
        raise ReckonError(str(error)) from error


def _hint(info: FormulaInfo, key: str) -> str:
    kind, _ = info.inputs[key]
    example = info.example.get(key)
    if example:
        return f'such as {key}="{example}"'
    return f"units that fit: {', '.join(KINDS[kind].fits)}" if kind in KINDS else "give a word"


def _figure(key: str, kind: str, unit: str, text: str) -> Figure:
    quantity = parse(text, kind)
    return Figure(key, quantity.si / unit_factor(unit)[0], unit, "stated", note=text)


def _parameter(key: str, unit: str, text: str | None, library: Library) -> Figure:
    name, _, wanted = unit.partition(" ")
    if text is None:
        return library.parameter(name, wanted).named(key)
    number, _, given = text.partition(" ")
    try:
        value = float(number)
    except ValueError:
        raise UnitError(f"{text!r} does not begin with a number") from None
    factor, dimension = unit_factor(given or "-")
    wanted_factor, wanted_dimension = unit_factor(wanted)
    if dimension != wanted_dimension:
        raise UnitError(f"{text!r} is not in {wanted}", (wanted,))
    return Figure(key, value * factor / wanted_factor, wanted, "stated", note=text)


def _word(text: str) -> Any:
    """A word, or a list of numbers such as ``78.8,10,2.4``."""
    parts = text.split(",")
    if len(parts) > 1:
        try:
            return tuple(float(part) for part in parts)
        except ValueError:
            return text
    return text


def _table_sources(table: str, given: dict[str, str], library: Library) -> tuple[Source, ...]:
    method = given.get("method")
    for row in library.rows(table):
        if method is not None and row.words.get("method") == method:
            return (row.source,)
    return ()

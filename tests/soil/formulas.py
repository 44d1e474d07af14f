"""Every declared formula of the soil rooms and of the arithmetic of bags, with inputs to try."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from functools import cache
from typing import Any

import bedwright.soil
from bedwright.feeding import (
    arithmetic,
    compost,
    heap,
    ledger,
    outlook,
    response,
    salt_ledger,
    volumes,
)
from bedwright.reference import Library
from bedwright.soil import forms
from bedwright.units import to_si, unit_factor
from bedwright.working import FormulaInfo, info_of

NOT_NUMBERS = ("word", "table")

# Formulas whose inputs are lists, tables or parameters, which an example in words cannot give.
OWN_INPUTS: dict[str, dict[str, Any]] = {
    "fineness_factor": {"shares": (78.8, 10.0, 2.4), "efficiencies": (100.0, 60.0, 20.0)},
    "moisture_of_mixture": {"masses": (10.0, 6.8), "moistures": (77.0, 35.0)},
    "carbon_to_nitrogen_of_mixture": {
        "masses": (50.0, 10.0),
        "carbons": (40.0, 10.0),
        "nitrogens": (1.0, 1.2),
    },
    "share_passing": {
        "leaching_fraction": 0.15,
        "depth": 0.3,
        "root_depth": 0.6,
        "quarters": (0.4, 0.3, 0.2, 0.1),
    },
    "organic_matter_credit": {"release_per_percent": 0.00195, "ceiling": 5.0},
}


@cache
def formulas() -> dict[str, Callable[..., Any]]:
    """The declared formulas by name."""
    modules = [
        importlib.import_module(f"bedwright.soil.{each.name}")
        for each in pkgutil.iter_modules(bedwright.soil.__path__)
    ]
    found = {}
    rooms = (arithmetic, volumes, heap, compost, response, ledger, salt_ledger, outlook)
    for module in (*modules, *rooms):
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and hasattr(function, "__formula__"):
                found[name] = function
    assert forms.__name__ in {module.__name__ for module in modules}
    return found


def numeric(info: FormulaInfo) -> list[str]:
    """The parameters that are single numbers."""
    return [key for key, (kind, _) in info.inputs.items() if kind not in NOT_NUMBERS]


@cache
def inputs(name: str) -> dict[str, Any]:
    """Inputs of the formula's own example in its engine units."""
    info = info_of(formulas()[name])
    found = dict(OWN_INPUTS.get(name, {}))
    for key, (kind, unit) in info.inputs.items():
        if key in found:
            continue
        if kind == "table":
            found[key] = Library().rows(unit)
        elif kind == "word" and key in info.example:
            found[key] = info.example[key]
        elif key in info.example:
            found[key] = in_engine_unit(info.example[key], kind, unit)
    assert found.keys() == info.inputs.keys(), f"{name} lacks an example of its inputs"
    return found


def in_engine_unit(text: str, kind: str, unit: str) -> float:
    """``9.9`` or ``5 lb/100 ft2`` in the unit in which the formula works."""
    value, _, given = text.partition(" ")
    return to_si(float(value), given or "-", kind) / unit_factor(unit)[0]


def number(result: Any) -> float:
    """The value of a result that may be a record."""
    return float(getattr(result, "value", result))

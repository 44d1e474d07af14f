"""Figures with their working as plain data."""

from __future__ import annotations

from datetime import date
from typing import Any

from bedwright.planning.findings import Finding
from bedwright.working import Figure

_DIGITS = 12  # enough to tell plans apart, few enough that the last bits of a sum do not


def rounded(number: float) -> float:
    """A number to so many digits that a plan comes out the same on its next run."""
    return float(f"{number:.{_DIGITS}g}")


def number_or_null(number: float | None) -> float | None:
    """A rounded number where there is one."""
    return None if number is None else rounded(number)


def day_or_null(on: date | None) -> str | None:
    """A day as it is written in data, where there is one."""
    return None if on is None else on.isoformat()


def figure_or_null(figure: Figure | None) -> dict[str, Any] | None:
    """A figure with its working, where there is one."""
    return None if figure is None else figure_dict(figure)


def figure_dict(figure: Figure) -> dict[str, Any]:
    """A figure with its working, as plain data."""
    found: dict[str, Any] = {
        "name": figure.name,
        "value": rounded(figure.value),
        "unit": figure.unit,
        "origin": figure.origin,
    }
    if figure.low is not None or figure.high is not None:
        found["range"] = [rounded(figure.least), rounded(figure.most)]
    if figure.note:
        found["note"] = figure.note
    if figure.formula:
        found["formula"] = figure.formula
    if figure.sources:
        found["sources"] = [
            {"id": each.source_id, "place": each.place, "note": each.note}
            for each in figure.sources
        ]
    if figure.steps:
        found["steps"] = [
            {"name": name, "value": rounded(amount), "unit": unit}
            for name, amount, unit in figure.steps
        ]
    if figure.inputs:
        found["inputs"] = [figure_dict(each) for each in figure.inputs]
    return found


def finding_dict(found: Finding) -> dict[str, Any]:
    """A finding as plain data: its code, weight, values and sources."""
    return {
        "code": found.code,
        "weight": found.weight,
        "values": {
            key: figure_dict(each) if isinstance(each, Figure) else each
            for key, each in found.values.items()
        },
        "sources": [each.source_id for each in found.sources],
    }

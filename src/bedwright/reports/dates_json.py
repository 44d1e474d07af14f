"""Planting dates as plain data: keys and values, no prose, with the schema that they satisfy."""

from __future__ import annotations

from typing import Any

import numpy as np

from bedwright.planning.timing_model import DateOutlook, Judged, Spread, TurnDates, WantDates
from bedwright.reports.schema_parts import (
    NUMBER_OR_NULL,
    TEXT,
    TEXT_OR_NULL,
    listed,
    or_null,
    table,
)

_DIGITS = 6  # of a mean over some tens of years


def dates_dict(want: WantDates) -> dict[str, Any]:
    """One want's dates: shares of the years, days, and the work about a date."""
    return {
        "crop": want.crop,
        "start": want.start,
        "protection": want.cover,
        "asked": want.asked,
        "risk_accepted": _number(want.risk),
        "soil_needed_c": _number(want.soil_needed_c),
        "turns": [_turn(each) for each in want.turns],
        "stated": None if want.stated is None else _judged(want.stated),
    }


def _number(value: float | None) -> float | None:
    if value is None or np.isnan(value):
        return None
    return float(f"{value:.{_DIGITS}g}")


def _turn(turn: TurnDates) -> dict[str, Any]:
    window = turn.window
    return {
        "turn": turn.turn,
        "why": turn.why,
        "best": None if turn.best is None else _judged(turn.best),
        "window": None if window is None else [each.isoformat() for each in window],
        "last_worth": None if turn.last_worth is None else turn.last_worth.isoformat(),
    }


def _judged(judged: Judged) -> dict[str, Any]:
    return {
        "date": _outlook(judged.chosen),
        "week_earlier": _outlook(judged.earlier),
        "week_later": _outlook(judged.later),
        "work": [{"what": code, "on": on.isoformat()} for code, on in judged.work],
        "sowings": [each.isoformat() for each in judged.sowings],
    }


def _outlook(each: DateOutlook) -> dict[str, Any]:
    return {
        "on": each.on.isoformat(),
        "years": each.years,
        "killed": _number(each.killed),
        "killed_range": [_number(share) for share in each.killed_range],
        "damaged": _number(each.damaged),
        "lost": _number(each.lost),
        "soil_warm": _number(each.soil_warm),
        "bolted": _number(each.bolted),
        **{name: _spread(getattr(each, name)) for name in _SPREADS},
    }


_SPREADS = (
    "set_days",
    "harvest_days",
    "first_flower",
    "first_harvest",
    "last_harvest",
    "cover_off",
    "hot_days",
)


def _spread(spread: Spread | None) -> list[float | None] | None:
    """Low, mean and high [days]."""
    if spread is None:
        return None
    return [_number(each) for each in (spread.low, spread.mean, spread.high)]


def dates_schema() -> dict[str, Any]:
    """The schema of :func:`dates_dict`, or null where no weather is stated."""
    spread = or_null({**listed(NUMBER_OR_NULL), "minItems": 3, "maxItems": 3})
    outlook = table(
        on=TEXT,
        years={"type": "integer"},
        killed=NUMBER_OR_NULL,
        killed_range=listed(NUMBER_OR_NULL),
        damaged=NUMBER_OR_NULL,
        lost=NUMBER_OR_NULL,
        soil_warm=NUMBER_OR_NULL,
        bolted=NUMBER_OR_NULL,
        **dict.fromkeys(_SPREADS, spread),
    )
    judged = table(
        date=outlook,
        week_earlier=outlook,
        week_later=outlook,
        work=listed(table(what=TEXT, on=TEXT)),
        sowings=listed(TEXT),
    )
    turn = table(
        turn=TEXT,
        why=TEXT,
        best=or_null(judged),
        window=or_null(listed(TEXT)),
        last_worth=TEXT_OR_NULL,
    )
    dates = table(
        crop=TEXT,
        start=TEXT,
        protection=TEXT_OR_NULL,
        asked=TEXT_OR_NULL,
        risk_accepted=NUMBER_OR_NULL,
        soil_needed_c=NUMBER_OR_NULL,
        turns=listed(turn),
        stated=or_null(judged),
    )
    return or_null(dates)

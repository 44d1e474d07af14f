"""Whether a record is long and whole enough for a statement on odds."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.climate.freeze_odds import FreezeOdds
from bedwright.guards import positive


@dataclass(frozen=True)
class RecordStrength:
    """How well a statement is founded.

    ``code`` is "enough", "short" (below the climate agencies' period), "too_short", "few_events"
    (enough seasons, too few with a freeze to know their dates) or "no_events" (none of them
    had one). ``left_out`` seasons could not be told for missing days. ``rarest_chance`` [-] is
    that of an event seen once in the seasons: a rarer one is extrapolated.
    """

    code: str
    seasons: float
    with_event: float
    left_out: int
    rarest_chance: float


def record_strength(
    odds: FreezeOdds, *, seasons_enough: int, seasons_least: int, events_least: int
) -> tuple[RecordStrength, ...]:
    """How well the odds of each threshold are founded.

    Parameters
    ----------
    odds : of the last or the first freeze; with weights the effective seasons count
    seasons_enough : seasons of the climate agencies' odds, above ``seasons_least``
    seasons_least : seasons below which the record is too short, above 0
    events_least : seasons with a freeze below which their dates are not known well, above 0

    Raises ValueError where the limits are out of order.
    """
    positive(seasons_least=seasons_least, events_least=events_least)
    if seasons_enough <= seasons_least:
        raise ValueError(f"seasons_enough {seasons_enough} must be above {seasons_least}")
    found = []
    for row in range(len(odds.thresholds_c)):
        seasons, events = float(odds.seasons[row]), float(odds.freeze_seasons[row])
        if seasons < seasons_least:
            code = "too_short"
        elif events == 0:
            code = "no_events"
        elif events < events_least:
            code = "few_events"
        else:
            code = "short" if seasons < seasons_enough else "enough"
        left_out = int((~odds.known[row]).sum())
        rarest = 1 / (seasons + 1)
        found.append(RecordStrength(code, seasons, events, left_out, rarest))
    return tuple(found)

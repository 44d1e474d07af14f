"""The pins of this season as wants: beds are made ready for them as for any crop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from bedwright.garden import Document, Want
from bedwright.garden.model_rotation import Pin
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.dates import Timer
from bedwright.planning.assignment.long_dates import long_slots
from bedwright.planning.assignment.options import horizon_of
from bedwright.reference import Library


def with_pins(document: Document, library: Library, as_of: date) -> Document:
    """The document with each pin of a crop for this season as a want after those stated.

    This season's are those harvested in the first of the years ahead, and those planted in it. A
    pin that repeats a want of its bed is that want. A cover without a day is given that of the
    years ahead, where the garden's weather tells one. ``library`` is under the garden's own facts.
    Raises WeatherError for a weather file that can't be used.
    """
    season = horizon_of(document, as_of).years[0]
    wants = list(document.garden.want)
    keys, cultivars = dict(document.keys), dict(document.cultivars)
    pinned = dict(document.pinned)
    days = _CoverDays(document, library, as_of)
    for at, pin in enumerate(document.garden.pin):
        if pin.crop is None or at in pinned.values() or _is_wanted(document, at, pin):
            continue
        on = pin.set_out or days.of(at, pin)
        if season not in (pin.year, None if on is None else on.year):
            continue
        place = len(wants)
        pinned[place] = at
        keys[("want", place, "crop")] = document.key("pin", at, "crop")
        if ("pin", at, "crop") in cultivars:
            cultivars[("want", place, "crop")] = cultivars[("pin", at, "crop")]
        values: dict[str, Any] = {"crop": pin.crop, "beds": [pin.bed], "set_out": on}
        wants.append(Want(**values, turn=pin.turn, note=pin.note))
    if len(pinned) == len(document.pinned):
        return document
    garden = document.garden.model_copy(update={"want": wants})
    return replace(document, garden=garden, keys=keys, cultivars=cultivars, pinned=pinned)


def _is_wanted(document: Document, at: int, pin: Pin) -> bool:
    """Whether a want of the bed says the same: its crop, and no other day or turn."""
    key = document.key("pin", at, "crop")
    return any(
        pin.bed in want.beds
        and document.key("want", place, "crop") == key
        and (None in (want.set_out, pin.set_out) or want.set_out == pin.set_out)
        and (None in (want.turn, pin.turn) or want.turn == pin.turn)
        for place, want in enumerate(document.garden.want)
        if place not in document.pinned
    )


class _CoverDays:
    """The days of covers that are pinned without one, by the weather, read when first asked."""

    def __init__(self, document: Document, library: Library, as_of: date) -> None:
        self._document, self._library, self._as_of = document, library, as_of
        self._timer: Timer | None = None

    def of(self, at: int, pin: Pin) -> date | None:
        candidate = candidate_at(self._document, self._library, "pin", at)
        if candidate.life != "cover" or self._document.garden.weather is None:
            return None
        if self._timer is None:
            self._timer = Timer.of(self._document, self._library)
        return next(self._days(at, pin, self._timer), None)

    def _days(self, at: int, pin: Pin, timer: Timer) -> Iterator[date]:
        """Days of sowing whose stand ends in the pin's year, the best first."""
        if timer.weather is None:
            return
        candidate = candidate_at(self._document, self._library, "pin", at)
        slots = [each for each in long_slots(candidate, timer) if pin.turn in (None, each.turn)]
        for slot in sorted(slots, key=lambda each: not each.best):
            for year in (pin.year - 2, pin.year - 1, pin.year):
                on = timer.season_start(year) + timedelta(days=slot.offset)
                ends = on + timedelta(days=round(slot.last))
                if on >= self._as_of and ends.year == pin.year:
                    yield on

"""The steps of the daily soil water balance, worked on rows of beds in place.

Most of a day does not depend on the days before it. That part is worked for a span of days at
once, so that what is left to be walked day by day is short. What is carried from day to day is
water that is there rather than depletion: ``held``, which roots can still take [m], and ``free``,
how freely the surface evaporates, which is Kr where it is below 1.

The last argument of a ufunc is the array that it writes to, given by place for speed where
numpy allows that.

Used by :mod:`bedwright.water.balance`; equation numbers are those of FAO-56.
"""

from __future__ import annotations

from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from bedwright.water.balance_rooms import Choices, Days, Room, State, aligned, bedwise, rows_of
from bedwright.water.beds import BedDays, Refill

FloatArray = NDArray[np.float64]

_SHARE_PER_M = 0.04 * 1000  # fao_56 p. 162: p of the table + 0.04 (5 - ETc in mm/d)
_SHARE_AT_FIVE_MM = 0.04 * 5
_LEAST_KEPT, _MOST_KEPT = 0.2, 0.9  # fao_56 p. 162: 0.1 <= p <= 0.8
_SPAN = 8192  # bed-days worked ahead, whose arrays fit a core's nearer cache: judgement, measured


class Block:
    """Some beds, all days. Every step writes into arrays that are made once.

    ``made`` are the arrays to be filled: transpiration, evaporation, drainage, depletion and
    irrigation, (days, beds) [m].
    """

    def __init__(
        self,
        days: BedDays,
        state: State,
        irrigation: FloatArray | Refill,
        made: tuple[FloatArray, ...],
        part: slice,
        choices: Choices,
    ) -> None:
        self.choices, self.state = choices, state
        self.rule = irrigation if isinstance(irrigation, Refill) else None
        beds, self.count = len(state.depletion), days.shape[0]
        self.days = Days(*(rows_of(each, part, self.count) for each in (
            days.et0_m, days.rain_m, days.basal, days.ceiling, days.cover, days.available_m,
            days.salt_stress, days.growth_m, days.wetted_share,
            irrigation.allowed if isinstance(irrigation, Refill) else irrigation, *made,
        )))  # fmt: skip
        self.span = min(max(1, _SPAN // beds), self.count)
        self.room = Room(*aligned((len(fields(Room)), self.span, beds)))
        self.morning, self.some = aligned((2, beds))
        self.ran = np.empty(beds, dtype=np.bool_)
        # a row of constants is quicker in a ufunc than one number spread over the beds
        self.zero, self.one, self.least_kept, self.most_kept = aligned((4, beds))
        for row, each in zip(
            (self.zero, self.one, self.least_kept, self.most_kept),
            (0.0, 1.0, _LEAST_KEPT / _SHARE_PER_M, _MOST_KEPT / _SHARE_PER_M),
            strict=True,
        ):
            row.fill(each)
        self.brimful = state.total * state.per_range
        self.free = self.brimful - state.surface * state.per_range
        self.held = self.days.available[0] - state.depletion
        self.roots_grow = len(days.available_m) > 1
        at_five_mm = 0.0 if choices.fixed_depletion_share else _SHARE_AT_FIVE_MM
        kept_at_rest = 1 - at_five_mm - state.share
        self.may_keep_little = bool(np.any(kept_at_rest < _LEAST_KEPT))
        self.room.per_range[:] = state.per_range
        self.room.kept_at_rest[:] = kept_at_rest / _SHARE_PER_M
        self.room.wetted[:] = state.wetted
        self._strips(self.room)
        self.rain_wetted = state.rain_wetted > 0
        self.mulched = bool(np.any(state.factor < 1)), bool(np.any(state.open_share < 1))
        if self.rule is not None:
            self.per_kept = 1 / (1 - bedwise(self.rule.leaching_share, part, beds))
            self.trigger = bedwise(self.rule.trigger_share, part, beds) * state.share
            self.most = bedwise(self.rule.most_m, part, beds)

    def run(self) -> None:
        """All days in order."""
        for first in range(0, self.count, self.span):
            span = slice(first, min(first + self.span, self.count))
            days, room = self.days.part(span), self.room.part(slice(span.stop - first))
            if self.roots_grow:
                self._reach(days, room, self.days.available[first - 1] if first else None)
            self._ask(days, room)
            if self.rule is None:
                self._arrive(days, room)
            self._walk(days, room)
            self.held = self.held.copy()  # the next line makes depletion of it
            np.subtract(days.available, days.depleted, out=days.depleted)
        np.copyto(self.state.depletion, self.days.depleted[-1])
        np.copyto(self.state.rain_wetted, self.rain_wetted)
        np.divide(self.brimful - self.free, self.state.per_range, out=self.state.surface)

    # What is worked ahead ---------------------------------------------------------------------

    def _reach(self, days: Days, room: Room, before: FloatArray | None) -> None:
        """Water in the soil that roots reach on each day."""
        np.subtract(days.available[1:], days.available[:-1], out=room.gained[1:])
        np.subtract(days.available[0], days.available[0] if before is None else before,
                    out=room.gained[0])  # fmt: skip
        if days.growth is not None:
            room.gained -= days.growth
            np.maximum(room.gained, 0.0, out=room.gained)  # rounding

    def _ask(self, days: Days, room: Room) -> None:
        """What the crop asks for, what that leaves to evaporation, and from where on it is short
        (84, p. 162).
        """
        np.multiply(days.basal, days.et0, out=days.crop)
        np.multiply(days.ceiling, days.et0, out=room.top)
        np.subtract(room.top, days.crop, out=room.spare)
        np.maximum(room.spare, 0.0, out=room.spare)
        np.multiply(days.available, _SHARE_PER_M, out=room.scale)
        if self.choices.fixed_depletion_share:
            np.multiply(room.kept_at_rest, room.scale, out=room.kept)
        else:
            np.add(days.crop, room.kept_at_rest, out=room.kept)
        if days.salt is not None:
            days.crop *= days.salt  # with drought the two are multiplied (92)
        if self.mulched[0]:
            room.spare *= self.state.factor
            room.top *= self.state.factor

    def _arrive(self, days: Days, room: Room) -> None:
        """Water that arrives, its depth where it falls, and what can evaporate from the ground
        that it wets (71, 75, drip as on p. 147).
        """
        exposed, strip = room.exposed, room.drying
        if days.wetted is not None:
            self._wetted_last(days.wetted, days.irrigated, room)
        np.multiply(days.cover, room.shaded, out=strip)
        np.subtract(room.wetted, strip, out=strip)
        rained_on = self._rained_on(days)
        if rained_on is not None:
            np.maximum(strip, rained_on, out=strip)
        np.subtract(1.0, days.cover, out=exposed)
        if self.mulched[1]:
            np.minimum(exposed, self.state.open_share, out=exposed)
        np.minimum(exposed, strip, out=exposed)
        np.multiply(exposed, room.top, out=days.bare)
        np.minimum(days.bare, room.spare, out=days.bare)  # Kr is at most 1
        np.divide(room.per_range, exposed, out=room.drying)
        np.add(days.rain, days.irrigated, out=room.arriving)
        np.multiply(days.irrigated, room.per_wetted, out=room.fallen)
        np.multiply(days.rain, room.per_range, out=exposed)
        room.fallen += exposed

    def _wetted_last(self, given: FloatArray, irrigations: FloatArray, room: Room) -> None:
        """Share of the ground that the last irrigation wetted, where it is not always the same."""
        for row, wetted, irrigated in zip(room.wetted, given, irrigations, strict=True):
            np.copyto(self.state.wetted, wetted, where=irrigated > 0)
            np.copyto(row, self.state.wetted)
        self._strips(room)

    def _strips(self, room: Room) -> None:
        np.multiply(room.wetted, self.state.shade, out=room.shaded)
        np.divide(room.per_range, room.wetted, out=room.per_wetted)

    def _rained_on(self, days: Days) -> NDArray[np.bool_] | None:
        """Where rain wetted all the ground last; None where it did nowhere."""
        last = self.rain_wetted
        soaks = days.rain >= self.choices.rain_wets_m
        if not (soaks.any() or last.any()):
            return None
        rests = days.irrigated == 0
        rained_on = np.empty(rests.shape, dtype=np.bool_)
        for row, rest, soak in zip(rained_on, rests, soaks, strict=True):
            if self.choices.rain_outranks_drip:
                np.logical_and(last, rest, row)
                np.logical_or(row, soak, row)
            else:
                np.logical_or(last, soak, row)
                np.logical_and(row, rest, row)
            last = row
        self.rain_wetted = last
        return rained_on

    # What is walked day by day ----------------------------------------------------------------

    def _walk(self, days: Days, room: Room) -> None:
        """The days of a span, each from the state that the day before left."""
        held, early = self.held, self.choices.early
        grows_first = self.roots_grow and (self.rule is not None or not early)
        if self.roots_grow and not grows_first:
            room.arriving += room.gained  # nothing is asked between the two
        for day, (crop, bare, drained, left, available, gained, arriving) in enumerate(
            zip(days.crop, days.bare, days.drained, days.depleted, days.available, room.gained,
                room.arriving, strict=True)
        ):  # fmt: skip
            if grows_first:
                held = np.add(held, gained, self.morning)
            if self.rule is not None:
                today = slice(day, day + 1)
                self._refill(days.water[day], days.irrigated[day], held, available)
                self._arrive(days.part(today), room.part(today))
            if early:
                np.add(held, arriving, drained)
                held = _drain(drained, available, left)
            self._evaporate(bare, room.spare[day], room.fallen[day])
            self._transpire(crop, bare, held, room.kept[day], room.scale[day])
            # an emptied root zone gives no more than it holds: evaporation goes short first
            if early:
                _draw(crop, bare, held, left)
            else:
                np.add(held, arriving, drained)
                _draw(crop, bare, drained, drained)
                _drain(drained, available, left)
            self._dry(bare, room.drying[day])
            held = left
        self.held = held

    def _refill(
        self,
        allowed: NDArray[np.bool_],
        irrigated: FloatArray,
        held: FloatArray,
        available: FloatArray,
    ) -> None:
        """Today's irrigation by the rule [m]."""
        depletion = available - held
        np.greater_equal(depletion, self.trigger * available, self.ran)
        self.ran &= allowed
        depletion *= self.per_kept
        np.minimum(depletion, self.most, out=depletion)
        np.multiply(depletion, self.ran, irrigated)

    def _evaporate(self, bare: FloatArray, spare: FloatArray, fallen: FloatArray) -> None:
        """Evaporation [m] by Ke = min(Kr (Kc max - Kcb), few Kc max) (71, 74). Water that arrives
        wets the surface layer; what is too much for it passes below (79).
        """
        free = self.free
        if not self.choices.early:
            np.multiply(free, spare, self.some)
        free += fallen
        np.minimum(free, self.brimful, out=free)
        if self.choices.early:
            np.multiply(free, spare, self.some)
        np.minimum(bare, self.some, out=bare)

    def _transpire(
        self, crop: FloatArray, bare: FloatArray, held: FloatArray, kept: FloatArray,
        scale: FloatArray,
    ) -> None:  # fmt: skip
        """Hold what the crop asks for by Ks (84)."""
        if not self.choices.fixed_depletion_share:
            kept += bare
            if self.may_keep_little:
                np.maximum(kept, self.least_kept, out=kept)
            np.minimum(kept, self.most_kept, out=kept)
            kept *= scale
        np.divide(held, kept, kept)
        np.minimum(kept, self.one, out=kept)
        crop *= kept

    def _dry(self, bare: FloatArray, drying: FloatArray) -> None:
        """What evaporates leaves the surface layer (77)."""
        np.multiply(bare, drying, self.some)
        self.free -= self.some
        np.maximum(self.free, self.zero, out=self.free)


def _draw(crop: FloatArray, bare: FloatArray, held: FloatArray, left: FloatArray) -> None:
    """Take the day's use from what is held; an emptied root zone gives no more than that, and
    evaporation goes short first.
    """
    np.minimum(crop, held, out=crop)
    np.subtract(held, crop, left)
    np.minimum(bare, left, out=bare)
    left -= bare


def _drain(full: FloatArray, available: FloatArray, held: FloatArray) -> FloatArray:
    """Split what would be held [m] into what is, and what goes beyond field capacity (88)."""
    np.minimum(full, available, out=held)
    full -= held
    return held

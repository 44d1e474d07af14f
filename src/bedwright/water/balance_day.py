"""The steps of one day's soil water balance, worked on rows of beds in place.

The last argument of a ufunc is the array that it writes to, given by place for speed where
numpy allows that.

Used by :mod:`bedwright.water.balance`; equation numbers are those of FAO-56.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative, within
from bedwright.water.beds import BedDays, Ground, Refill, Start

FloatArray = NDArray[np.float64]

_HAIR_M = 1e-12
_CANOPY_SHADE = 2 / 3  # fao_56 p. 147: wetting under the plants is shaded by 2/3 of the cover
_SHARE_PER_M = 0.04 * 1000  # fao_56 p. 162: p of the table + 0.04 (5 - ETc in mm/d)
_SHARE_AT_FIVE_MM = 0.04 * 5
_LEAST_KEPT, _MOST_KEPT = 0.2, 0.9  # fao_56 p. 162: 0.1 <= p <= 0.8


@dataclass(frozen=True)
class Choices:
    """How the balance is to be worked; see :func:`bedwright.water.balance.daily_balance`."""

    early: bool
    fixed_depletion_share: bool
    rain_wets_m: float
    rain_outranks_drip: bool


@dataclass(eq=False)
class State:
    """Beds' constants and state, each (beds,); the state is worked on in place."""

    depletion: FloatArray
    surface: FloatArray
    rain_wetted: FloatArray
    share: FloatArray
    total: FloatArray
    per_range: FloatArray
    wetted: FloatArray
    shade: FloatArray  # what the canopy takes off the wetted strip, for each unit of cover
    open_share: FloatArray
    factor: FloatArray

    @classmethod
    def begin(cls, days: BedDays, ground: Ground, start: Start, beds: int) -> State:
        """The state before the first day. Raises ValueError where the soil can't be so."""

        def each(values: ArrayLike) -> FloatArray:
            return np.array(np.broadcast_to(np.asarray(values, dtype=np.float64), (beds,)))

        total = each(ground.total_evaporable_m)
        state = cls(
            depletion=each(start.depletion_m),
            surface=each(start.surface_depletion_m),
            rain_wetted=each(start.all_wetted),
            share=each(ground.depletion_share),
            total=total,
            per_range=1 / (total - each(ground.readily_evaporable_m)),
            wetted=each(ground.wetted_share if start.wetted_share is None else start.wetted_share),
            shade=_CANOPY_SHADE * each(ground.drip_under_canopy),
            open_share=each(ground.open_share),
            factor=each(ground.evaporation_factor),
        )
        not_negative(depletion_m=state.depletion, surface_depletion_m=state.surface)
        within(0, 1, all_wetted=state.rain_wetted, wetted_share=state.wetted)
        above = float(np.max(state.depletion - days.available_m[0]))
        if above > _HAIR_M:
            raise ValueError(f"depletion_m is {above:g} m more than the root zone holds")
        state.depletion = np.minimum(state.depletion, days.available_m[0])
        if np.any(state.surface > total + _HAIR_M):
            raise ValueError("surface_depletion_m is more than the surface layer holds")
        return state

    def part(self, part: slice) -> State:
        """The same of some beds, as views: what is worked on them shows here."""
        return State(**{name: values[part] for name, values in vars(self).items()})


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
        self.choices, self.state, self.rule = choices, state, irrigation
        beds = len(state.depletion)
        self.exposed, self.arriving, self.need, self.some, self.other = np.empty((5, beds))
        self.ran = np.empty(beds, dtype=np.bool_)
        # a row of constants is quicker in a ufunc than one number spread over the beds
        self.zero, self.one, self.share_per_m, self.least_kept, self.most_kept = (
            np.full(beds, each) for each in (0.0, 1.0, _SHARE_PER_M, _LEAST_KEPT, _MOST_KEPT)
        )
        self.some_rain_wetted = bool(np.any(state.rain_wetted > 0))
        self.kept_at_rest = 1 - _SHARE_AT_FIVE_MM - state.share
        self.kept_fixed = 1 - state.share
        self.may_keep_little = bool(np.any(self.kept_at_rest < _LEAST_KEPT))
        self.mulched = bool(np.any(state.factor < 1)), bool(np.any(state.open_share < 1))
        self._strips()
        amounts: NDArray[Any]
        if isinstance(irrigation, Refill):
            self.per_kept = 1 / (1 - _bedwise(irrigation.leaching_share, part, beds))
            self.trigger = _bedwise(irrigation.trigger_share, part, beds) * state.share
            self.most = _bedwise(irrigation.most_m, part, beds)
            amounts = irrigation.allowed
        else:
            amounts = irrigation
        inputs = [
            days.et0_m, days.rain_m, days.basal, days.ceiling, days.cover, days.available_m,
            days.salt_stress, days.growth_m, days.wetted_share, amounts,
        ]  # fmt: skip
        self.inputs = [_rows(each, part, days.shape[0]) for each in inputs]
        soaking = _rows(days.rain_m, part, days.shape[0]) >= choices.rain_wets_m
        self.inputs += [soaking, np.any(soaking, axis=1)]
        self.outputs = [_rows(each, part, days.shape[0]) for each in made]

    def _strips(self) -> None:
        self.shaded = self.state.wetted * self.state.shade
        self.per_wetted = 1 / self.state.wetted

    def run(self) -> None:
        """All days in order."""
        depletion = self.state.depletion
        for given, made in zip(
            zip(*self.inputs, strict=True), zip(*self.outputs, strict=True), strict=True
        ):
            et0, rain, basal, ceiling, cover, available, salt, growth, wetted, amount = given[:10]
            crop, bare, drained, depleted, irrigated = made
            if growth is not None:
                depletion = np.add(depletion, growth, depleted)
                np.minimum(depletion, available, out=depletion)  # rounding
            if isinstance(self.rule, Refill):
                self._refill(amount, irrigated, depletion, available)
            self._wet(rain, irrigated, cover, wetted, *given[10:])
            self._evaporate(et0, basal, ceiling, bare)
            np.multiply(basal, et0, crop)
            self._transpire(crop, bare, drained, depletion, depleted, available, salt)
            self._draw(crop, bare, drained, depletion, depleted, available)
            self._dry(bare)
            depletion = depleted
        np.copyto(self.state.depletion, depletion)

    def _refill(
        self,
        allowed: NDArray[np.bool_],
        irrigated: FloatArray,
        depletion: FloatArray,
        available: FloatArray,
    ) -> None:
        """Today's irrigation by the rule [m]."""
        need, limit = self.need, self.some
        np.multiply(self.trigger, available, limit)
        np.greater_equal(depletion, limit, self.ran)
        self.ran &= allowed
        np.multiply(depletion, self.per_kept, need)
        np.minimum(need, self.most, out=need)
        np.multiply(need, self.ran, irrigated)

    def _wet(
        self,
        rain: FloatArray,
        irrigated: FloatArray,
        cover: FloatArray,
        wetted: FloatArray | None,
        soaking: NDArray[np.bool_],
        soaked: np.bool_,
    ) -> None:
        """Water that arrives [m], its depth where it falls, and the share of ground that is both
        wetted and exposed (75, drip as on p. 147).
        """
        state, exposed, drip, depth = self.state, self.exposed, self.some, self.need
        if wetted is not None or self.some_rain_wetted or soaked:
            self._wetted_last(soaking if soaked else None, irrigated, wetted)
        np.subtract(self.one, cover, exposed)
        if self.mulched[1]:
            np.minimum(exposed, state.open_share, out=exposed)
        np.multiply(cover, self.shaded, drip)
        np.subtract(state.wetted, drip, drip)
        if self.some_rain_wetted:
            np.maximum(drip, state.rain_wetted, out=drip)
        np.minimum(exposed, drip, out=exposed)
        np.add(rain, irrigated, self.arriving)
        np.multiply(irrigated, self.per_wetted, depth)
        depth += rain

    def _wetted_last(
        self,
        soaking: NDArray[np.bool_] | None,
        irrigated: FloatArray,
        wetted: FloatArray | None,
    ) -> None:
        """Whether rain or the drip line wetted each bed's ground last, and how much of it."""
        state, outranks = self.state, self.choices.rain_outranks_drip
        if wetted is not None:
            np.greater(irrigated, self.zero, self.ran)
            np.copyto(state.wetted, wetted, where=self.ran)
            self._strips()
        np.equal(irrigated, self.zero, self.ran)  # from here on: who did not run
        if not outranks and soaking is not None:
            np.maximum(state.rain_wetted, soaking, out=state.rain_wetted)
        np.minimum(state.rain_wetted, self.ran, out=state.rain_wetted)
        if outranks and soaking is not None:
            np.maximum(state.rain_wetted, soaking, out=state.rain_wetted)
        self.some_rain_wetted = soaking is not None or bool(np.any(state.rain_wetted))

    def _soak(self) -> None:
        """Water that arrives wets the surface layer; what is too much passes below (79)."""
        surface = self.state.surface
        surface -= self.need
        np.maximum(surface, self.zero, out=surface)

    def _evaporate(
        self, et0: FloatArray, basal: FloatArray, ceiling: FloatArray, bare: FloatArray
    ) -> None:
        """Evaporation [m] by Ke = min(Kr (Kc max - Kcb), few Kc max) (71 and 74)."""
        some, other = self.some, self.other
        if self.choices.early:
            self._soak()
        np.subtract(self.state.total, self.state.surface, some)
        if not self.choices.early:
            self._soak()
        some *= self.state.per_range
        np.minimum(some, self.one, out=some)
        np.subtract(ceiling, basal, other)
        np.maximum(other, self.zero, out=other)
        some *= other
        np.multiply(self.exposed, ceiling, other)
        np.minimum(some, other, out=bare)
        bare *= et0
        if self.mulched[0]:
            bare *= self.state.factor

    def _transpire(
        self,
        crop: FloatArray,
        bare: FloatArray,
        drained: FloatArray,
        depletion: FloatArray,
        depleted: FloatArray,
        available: FloatArray,
        salt: FloatArray | None,
    ) -> None:
        """Hold the crop's use by Ks (84, 92); water that comes early drains before Ks is read."""
        kept, stress = self.need, self.some
        if self.choices.fixed_depletion_share:
            np.multiply(self.kept_fixed, available, kept)
        else:
            np.add(crop, bare, kept)
            kept *= self.share_per_m
            kept += self.kept_at_rest
            if self.may_keep_little:
                np.maximum(kept, self.least_kept, out=kept)
            np.minimum(kept, self.most_kept, out=kept)
            kept *= available
        if self.choices.early:
            np.subtract(depletion, self.arriving, depleted)
            _drain(depleted, drained, self.zero)
            depletion = depleted
        np.subtract(available, depletion, stress)
        stress /= kept
        np.minimum(stress, self.one, out=stress)
        if salt is not None:
            stress *= salt
        crop *= stress

    def _draw(
        self,
        crop: FloatArray,
        bare: FloatArray,
        drained: FloatArray,
        depletion: FloatArray,
        depleted: FloatArray,
        available: FloatArray,
    ) -> None:
        """Take the day's use from the root zone; an emptied one gives no more than it holds."""
        np.add(depleted if self.choices.early else depletion, crop, depleted)
        depleted += bare
        if not self.choices.early:
            depleted -= self.arriving
            _drain(depleted, drained, self.zero)
        short = self.need
        np.subtract(depleted, available, short)
        if np.maximum.reduce(short) > 0.0:
            np.maximum(short, self.zero, out=short)
            depleted -= short
            np.minimum(short, bare, out=self.some)
            bare -= self.some
            short -= self.some
            crop -= short
            # rounding must leave nothing below wilting point, nor a flow below 0
            np.minimum(depleted, available, out=depleted)
            np.maximum(crop, self.zero, out=crop)

    def _dry(self, bare: FloatArray) -> None:
        """Depletion of the surface layer at the day's end (77)."""
        surface = self.state.surface
        np.divide(bare, self.exposed, self.some)
        surface += self.some
        np.minimum(surface, self.state.total, out=surface)


def _drain(depletion: FloatArray, drained: FloatArray, zero: FloatArray) -> None:
    """What fills the root zone beyond field capacity leaves it (88)."""
    np.negative(depletion, drained)
    np.maximum(drained, zero, out=drained)
    depletion += drained


def _rows(values: NDArray[Any] | None, part: slice, days: int) -> Any:
    """The block's share of a series, to be walked day by day; a single column serves all beds."""
    if values is None:
        return [None] * days
    wide = values if values.shape[1] == 1 else values[:, part]
    return np.broadcast_to(wide, (days, wide.shape[1])) if len(wide) < days else wide


def _bedwise(values: ArrayLike, part: slice, beds: int) -> FloatArray:
    array = np.asarray(values, dtype=np.float64)
    return np.broadcast_to(array[part] if array.ndim else array, (beds,))

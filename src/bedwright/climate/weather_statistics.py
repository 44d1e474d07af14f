"""What the weather generator draws from, month by month."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.guards import not_negative, positive, within

T_MAX, T_MIN, RADIATION = 0, 1, 2
DRY, WET = 0, 1


@dataclass(frozen=True, eq=False)
class WeatherStatistics:
    """The parameters of a Richardson weather generator, January first.

    ``p_wet_after_wet`` and ``p_wet_after_dry`` (12,) are chances; ``rain_wet_day_mm`` [mm] the
    mean and ``rain_shape`` [-] the gamma shape of the rain of a wet day (12,). ``mean`` and
    ``sd`` are (variables, 2, 12): maximum and minimum temperature [C] and, where it is known,
    radiation [MJ/m2], on dry (0) and wet (1) days. ``correlation`` and ``lag_correlation``
    (12, variables, variables) are those of the residuals: of one day, and of a day (rows) with
    the day before (columns). ``wet_day_mm`` is the least rain of a wet day. ``years`` is how
    many years it was fitted to, 0 where it was not fitted. ``assumptions`` are codes of what
    was not known and was assumed. Where rain is not known the generated record has none.

    Raises ValueError where shapes do not agree or a value lies outside its range.
    """

    p_wet_after_wet: FloatArray
    p_wet_after_dry: FloatArray
    rain_wet_day_mm: FloatArray
    rain_shape: FloatArray
    mean: FloatArray
    sd: FloatArray
    correlation: FloatArray
    lag_correlation: FloatArray
    wet_day_mm: float
    years: int = 0
    assumptions: tuple[str, ...] = ()
    rain_known: bool = True

    def __post_init__(self) -> None:
        within(0, 1, p_wet_after_wet=self.p_wet_after_wet, p_wet_after_dry=self.p_wet_after_dry)
        positive(rain_wet_day_mm=self.rain_wet_day_mm, rain_shape=self.rain_shape)
        positive(wet_day_mm=self.wet_day_mm)
        not_negative(sd=self.sd)
        within(-1, 1, correlation=self.correlation, lag_correlation=self.lag_correlation)
        if not np.all(np.isfinite(self.mean)):
            raise ValueError("mean holds a value that is not a number")
        count = len(self.mean)
        if count not in (RADIATION, RADIATION + 1):
            raise ValueError(f"mean has {count} variables; there must be 2 or 3")
        by_month = dict.fromkeys(
            ("p_wet_after_wet", "p_wet_after_dry", "rain_wet_day_mm", "rain_shape"), (12,)
        )
        by_kind = dict.fromkeys(("mean", "sd"), (count, 2, 12))
        matrices = dict.fromkeys(("correlation", "lag_correlation"), (12, count, count))
        for name, wanted in (by_month | by_kind | matrices).items():
            found = getattr(self, name).shape
            if found != wanted:
                raise ValueError(f"{name} has the shape {found}; it must be {wanted}")

    @property
    def has_radiation(self) -> bool:
        """Whether radiation is one of the variables."""
        return len(self.mean) > RADIATION

    @property
    def wet_fraction(self) -> FloatArray:
        """The share of wet days to which each month's chances tend (12,)."""
        return stationary_wet_fraction(self.p_wet_after_wet, self.p_wet_after_dry)


def stationary_wet_fraction(p_wet_after_wet: FloatArray, p_wet_after_dry: FloatArray) -> FloatArray:
    """The share of wet days to which a chain of wet and dry days tends.

    Parameters
    ----------
    p_wet_after_wet : chance of a wet day after a wet one [-], 0 to 1
    p_wet_after_dry : chance of a wet day after a dry one [-], 0 to 1

    Returns 0 where a wet day never follows a dry one (also where it would then stay wet).
    """
    wet, dry = np.asarray(p_wet_after_wet, float), np.asarray(p_wet_after_dry, float)
    leaving = 1 - wet + dry
    return np.asarray(np.divide(dry, leaving, out=np.zeros_like(leaving), where=leaving > 0))

"""What is wrong or doubtful in a weather file: a code and its values; shells put it into words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

import numpy as np

from bedwright.climate.record import DayArray, FloatArray

_EACH_TOLD = 5  # so many are told one by one, more are told together: judgement

Data = Mapping[str, float | str]


@dataclass(frozen=True)
class Fault:
    """One thing to say of a weather file or record.

    ``day`` and ``value`` are those of the first (or only) place, ``data`` fills the sentence that
    the shell keeps for ``code``.
    """

    code: str
    day: date | None = None
    value: float | None = None
    data: Data = field(default_factory=lambda: MappingProxyType({}))


class WeatherError(ValueError):
    """A weather file that cannot be used, with the faults that say why."""

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__(", ".join(f"{each.code} {dict(each.data)}" for each in faults))


def day_of(when: np.datetime64) -> date:
    """A numpy day as a date of the standard library."""
    return date.fromisoformat(str(when.astype("datetime64[D]")))


def told(
    one: str, many: str, days: DayArray, values: FloatArray, **data: float | str
) -> list[Fault]:
    """Few places each as a fault of code ``one``; many as a single fault of code ``many``.

    Parameters
    ----------
    one, many : the codes
    days : where it was found, in order
    values : what was found there [any unit]
    data : said with each
    """
    if len(days) <= _EACH_TOLD:
        return [
            Fault(one, day_of(day), float(value), MappingProxyType(dict(data)))
            for day, value in zip(days, values, strict=True)
        ]
    counted: dict[str, float | str] = {
        **data,
        "count": len(days),
        "last_day": day_of(days[-1]).isoformat(),
    }
    return [Fault(many, day_of(days[0]), float(values[0]), MappingProxyType(counted))]

"""Whether the light of a place is enough for a crop that asks for so much of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive
from bedwright.light.scene import Numbers


class LightFit(StrEnum):
    """How the light of a place suits a crop."""

    ENOUGH = "enough"  # as much as it asks for
    THIN = "thin"  # it grows, and yields less
    DARK = "dark"  # below the least


@dataclass(frozen=True)
class LightNeed:
    """What a crop asks for [mol/m2/d]: ``least_mol_m2`` to grow, ``wanted_mol_m2`` to do well.

    Raises ValueError unless 0 <= least <= wanted and wanted > 0.
    """

    least_mol_m2: float
    wanted_mol_m2: float

    def __post_init__(self) -> None:
        not_negative(least_mol_m2=self.least_mol_m2)
        positive(wanted_mol_m2=self.wanted_mol_m2)
        if self.least_mol_m2 > self.wanted_mol_m2:
            raise ValueError(
                f"least_mol_m2 is {self.least_mol_m2:g}; it must not be more than wanted_mol_m2, "
                f"{self.wanted_mol_m2:g}"
            )


def light_fit(light_mol_m2_d: Numbers, need: LightNeed) -> NDArray[np.str_]:
    """The :class:`LightFit` of each place, as its word, for any shape of light [mol/m2/d].

    Raises ValueError for light below 0.
    """
    not_negative(light_mol_m2_d=light_mol_m2_d)
    light = np.asarray(light_mol_m2_d, dtype=np.float64)
    enough = light >= need.wanted_mol_m2
    thin = light >= need.least_mol_m2
    return np.where(enough, LightFit.ENOUGH.value, np.where(thin, LightFit.THIN, LightFit.DARK))

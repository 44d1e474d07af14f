"""Which source of calcium suits a soil, and what calcium does not cure."""

from __future__ import annotations

from enum import StrEnum

from bedwright.guards import within
from bedwright.working import Source

# Bounds of the decision: gypsum dissolves alike at every pH, calcite a hundredfold less for each
# unit of pH (computed with PHREEQC 3 and its phreeqc.dat), so lime serves sour soil only.
_SOUR = 6.0
SOURCES = (
    Source("rayment_lyons_2011", "methods 16A-D", "lime only where the pH asks for it"),
    Source("ohio_state_gypsum", "NRCS 333 page", "gypsum gives calcium and sulfur, no pH change"),
)
BLOSSOM_END_ROT_SOURCES = (
    Source("taylor_2002", "abstract", "wetter soil halved it; gypsum did not differ from none"),
    Source("udel_blossom_end_rot", "weekly crop update", "fruit calcium is in by nickel size"),
)


class CalciumSource(StrEnum):
    """What to use where calcium is wanted."""

    NONE = "none_needed"
    LIME = "lime"
    GYPSUM = "gypsum"
    GYPSUM_FOR_SODIUM = "gypsum_for_sodium"


def calcium_source(
    ph: float, free_lime: bool, calcium_supply: str | None, sodic: bool
) -> CalciumSource:
    """The calcium source for a soil.

    Parameters
    ----------
    ph : in water, 2 to 12 [-]
    free_lime : whether the soil holds free lime [yes or no]
    calcium_supply : class of the exchangeable calcium, None where it was not measured [class]
    sodic : whether sodium must be displaced [yes or no]
    """
    within(2, 12, ph=ph)
    if sodic:
        return CalciumSource.GYPSUM_FOR_SODIUM
    low = calcium_supply in ("very_low", "low")
    if free_lime or (not low and ph >= _SOUR):
        return CalciumSource.NONE
    return CalciumSource.LIME if ph < _SOUR else CalciumSource.GYPSUM

"""What several bags thrown together are: the analysis of the mixture, not the sum of labels."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.guards import not_negative, positive

NUTRIENTS = ("n", "p2o5", "k2o")


@dataclass(frozen=True)
class Part:
    """One bag of a mixture: its mass [kg], its label and what its first season gives [kg/kg]."""

    material: str
    mass_kg: float
    label: tuple[float, float, float]
    first_season: tuple[float | None, float | None, float | None]


@dataclass(frozen=True)
class Mixture:
    """A mixture's true analysis, what its labels suggest, and what the first season sees.

    ``analysis`` and ``first_season`` are shares of the mixture's mass (N, P2O5, K2O);
    ``summed_labels`` is what one gets by adding the bags' figures as if they were one bag.
    ``first_season`` is None for a nutrient of which a part's release is not known.
    """

    mass_kg: float
    analysis: tuple[float, float, float]
    summed_labels: tuple[float, float, float]
    first_season: tuple[float | None, float | None, float | None]

    def shortfall(self, nutrient: int) -> float | None:
        """Times that the summed labels promise more than the first season gives."""
        given = self.first_season[nutrient]
        if not self.summed_labels[nutrient] or given is None:
            return None
        return self.summed_labels[nutrient] / given if given > 0 else float("inf")


def mixture(parts: tuple[Part, ...]) -> Mixture:
    """The analysis of bags mixed by mass.

    Mass is conserved: each nutrient is weighted by its bag's share of the whole. Raises
    ValueError for no parts, or a mass that is not above 0.
    """
    if not parts:
        raise ValueError("a mixture needs at least one part")
    for part in parts:
        positive(mass_kg=part.mass_kg)
        not_negative(label=part.label)
    whole = sum(part.mass_kg for part in parts)
    shares = [part.mass_kg / whole for part in parts]

    def weighted(values: list[float | None]) -> float | None:
        known = [value for value in values if value is not None]
        if len(known) < len(values):
            return None
        return sum(share * value for share, value in zip(shares, known, strict=True))

    analysis = tuple(weighted([part.label[at] for part in parts]) or 0.0 for at in range(3))
    first = tuple(weighted([part.first_season[at] for part in parts]) for at in range(3))
    summed = tuple(sum(part.label[at] for part in parts) for at in range(3))
    return Mixture(whole, analysis, summed, first)  # type: ignore[arg-type]

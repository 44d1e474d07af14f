"""What the tests of whole beds without blocks, and of factors, came to, in words."""

from __future__ import annotations

from bedwright.planning.compare.model import Compared, Shown
from bedwright.planning.compare.told_factors import effect_name
from bedwright.reports.words_compare import COMPARE
from bedwright.trials.factorial import FactorialComparison
from bedwright.trials.unblocked import GroupComparison
from bedwright.units.show import plain


def percent(share: float) -> str:
    """A share in percent: of two digits."""
    return COMPARE["share"].format(share=plain(share * 100, 2))


def result_of_beds(each: Compared, found: Shown) -> list[str]:
    """Means of beds without blocks, their difference with its interval, and the tests."""
    ways, unit = each.stated.ways, each.stated.unit
    means = ", ".join(
        COMPARE["value_of_beds"].format(way=way, value=f"{plain(mean, 4)} {unit}", beds=len(beds))
        for way, mean, beds in zip(ways, found.means, found.by_way, strict=True)
    )
    told = [COMPARE["means"].format(means=means)]
    made, drawn = found.in_beds, found.randomised
    if made is None or drawn is None:
        return told
    if made.difference is not None and made.interval is not None and made.t is not None:
        told.append(
            COMPARE["difference"].format(
                first=ways[0], second=ways[1], unit=unit, mean=plain(made.difference, 3),
                low=plain(made.interval[0], 3), high=plain(made.interval[1], 3),
                confidence=percent(1 - made.level),
            )
        )  # fmt: skip
        told.append(
            COMPARE["pooled"].format(
                t=plain(made.t, 4), degrees=made.degrees_of_freedom, p=plain(made.p, 3),
                drawn=plain(drawn.p, 3),
            )
        )  # fmt: skip
        return told
    key = "one_way" if len(set(made.counts)) == 1 else "one_way_unequal"
    told.append(
        COMPARE[key].format(
            f=plain(made.f, 4), treatments=len(ways) - 1, degrees=made.degrees_of_freedom,
            p=plain(made.p, 3), drawn=plain(drawn.p, 3), least=_least(made, unit), unit=unit,
        )
    )  # fmt: skip
    return told


def _least(made: GroupComparison, unit: str) -> str:
    """The least significant difference; where numbers of beds are unlike, by these numbers."""
    counts = made.counts
    if len(set(counts)) == 1:
        return plain(float(made.least[0, 1]), 3)
    by_counts = {
        tuple(sorted((counts[one], counts[other]))): float(made.least[one, other])
        for one in range(len(counts))
        for other in range(one)
    }
    return "; ".join(
        COMPARE["least_of_beds"].format(one=one, other=other, least=plain(least, 3), unit=unit)
        for (one, other), least in sorted(by_counts.items())
    )


def result_of_factors(each: Compared, found: Shown) -> list[str]:
    """Means of combinations and levels, and each effect with its interval and tests."""
    stated, made = each.stated, found.of_factors
    told = []
    if found.means:
        told.append(_means("means", list(zip(stated.every_way, found.means, strict=True)), each))
    if made is None:
        return told
    if not made.confounded:
        least = made.critical * (2 * made.error / made.blocks) ** 0.5
        told.append(
            COMPARE["least_of_combinations"].format(least=plain(least, 3), unit=stated.unit)
        )
    levels = [
        (level, made.mean + sign * made.of(at).effect / 2)
        for at, factor in enumerate(stated.factors)
        for level, sign in zip(factor, (1, -1), strict=True)
    ]
    told.append(_means("means_of_levels", levels, each))
    told += _effects(each, made)
    if any(len(one.factors) > 1 for one in made.effects):
        told.append(COMPARE["interaction_about"])
    return told


def _means(key: str, means: list[tuple[str, float]], each: Compared) -> str:
    values = [
        COMPARE["value"].format(way=name, value=f"{plain(mean, 4)} {each.stated.unit}")
        for name, mean in means
    ]
    return COMPARE[key].format(means=", ".join(values))


def _effects(each: Compared, made: FactorialComparison) -> list[str]:
    told = []
    for one in made.effects:
        first, second = each.stated.factors[one.factors[0]]
        told.append(
            COMPARE["main_effect" if len(one.factors) == 1 else "interaction"].format(
                first=first, second=second, name=effect_name(each.stated, one.factors),
                effect=plain(one.effect, 3), unit=each.stated.unit,
                error=plain(one.standard_error, 3), confidence=percent(1 - made.level),
                low=plain(one.interval[0], 3), high=plain(one.interval[1], 3),
                f=plain(one.f, 4), degrees=made.degrees_of_freedom, p=plain(one.p, 3),
                drawn=plain(one.p_drawn, 3),
            )
        )  # fmt: skip
    return told

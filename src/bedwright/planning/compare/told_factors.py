"""What can and can't be said of factors: each of them, and how they work on each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bedwright.garden.model_compare import Comparison
from bedwright.planning.compare.model import Power, Shown
from bedwright.planning.compare.told_beds import WIDER
from bedwright.planning.findings import Finding, Weight, finding
from bedwright.trials.factorial import Effect, FactorialComparison
from bedwright.trials.factorial_design import (
    degrees_of_error,
    effects_of,
    least_p_of_factorial,
)
from bedwright.trials.shown import contrast_shown

_MOST = 40  # blocks


def effect_name(stated: Comparison, factors: Sequence[int]) -> str:
    """An effect by the first levels of its factors."""
    return " x ".join(stated.factors[each][0] for each in factors)


def factors_design(stated: Comparison, power: Sequence[Power], level: float) -> Iterator[Finding]:
    """What is to be minded before anything is sown."""
    blocks, factors, halves = len(stated.blocks), len(stated.factors), stated.halves
    step = 2 if halves else 1

    def enough(count: int) -> bool:
        return (
            degrees_of_error(count, factors, halves=halves) > 0
            and least_p_of_factorial(count, factors, halves=halves) <= level
        )

    wanted = float(next((n for n in range(2, _MOST, step) if enough(n)), _MOST))
    if blocks == 1:
        yield finding("compare_one_block", "act")
    elif power[0].difference is None:
        yield finding("compare_no_degrees", "act", blocks=float(blocks), wanted=wanted)
    elif power[0].least_p > level:
        yield finding(
            "compare_too_few", "caution", blocks=float(blocks), least=power[0].least_p,
            level=level, wanted=wanted,
        )  # fmt: skip
    if halves and factors == 2:
        first, second = (one[0] for one in stated.factors)
        yield finding("compare_confounded_two", "caution", first=first, second=second)
    elif halves:
        names = effect_name(stated, range(factors))
        yield finding("compare_confounded_three", "note", names=names)
    effects = len(effects_of(factors, halves=halves))
    yield finding(
        "compare_many_effects", "note", effects=float(effects), share=1 - (1 - level) ** effects
    )


def factors_result(
    stated: Comparison, shown: Shown, level: float, spread: float
) -> Iterator[Finding]:
    """What the tests say of each effect, interactions first: they decide how to read the rest."""
    made = shown.of_factors
    if made is None:
        yield from _nothing(stated, shown)
        return
    # where the order was not drawn here, nothing of it is more than a doubt
    weight: Weight = "act" if stated.laid is None else "doubt"
    sure = [each for each in made.effects if each.p < level and each.p_drawn <= level]
    unsettled = [each for each in made.effects if (each.p < level) != (each.p_drawn <= level)]
    for each in sorted(sure, key=lambda each: -len(each.factors)):
        if len(each.factors) == 3:
            names = effect_name(stated, each.factors)
            yield finding("compare_interaction_three", weight, names=names)
        elif len(each.factors) == 2:
            yield _interaction(stated, made, each, weight)
        else:
            yield _main(stated, each, sure, weight)
    for each in unsettled:
        yield finding(
            "compare_effect_unsettled", "doubt", effect=effect_name(stated, each.factors),
            p=each.p, p_drawn=each.p_drawn,
        )  # fmt: skip
    if not sure and not unsettled:
        yield finding("compare_not_clear", "doubt")
    yield from _could_show(made, sure, level, spread)


def _main(stated: Comparison, each: Effect, sure: Sequence[Effect], weight: Weight) -> Finding:
    (factor,) = each.factors
    first, second = stated.factors[factor]
    way, other = (first, second) if each.effect > 0 else (second, first)
    if any(factor in one.factors and len(one.factors) > 1 for one in sure):
        return finding("compare_main_misleads", "caution", way=way, other=other)
    code = "compare_main" if stated.laid is None else "compare_main_not_drawn"
    return finding(code, weight, way=way, other=other, by=abs(each.effect), unit=stated.unit)


def _interaction(
    stated: Comparison, made: FactorialComparison, each: Effect, weight: Weight
) -> Finding:
    factor, by = each.factors
    one, two, off = made.simple(factor, by)
    first, first_other = stated.factors[factor]
    second, second_other = stated.factors[by]
    return finding(
        "compare_interaction", weight, first=first, first_other=first_other, second=second,
        second_other=second_other, one=one, two=two, off=off, unit=stated.unit,
    )  # fmt: skip


def _nothing(stated: Comparison, shown: Shown) -> Iterator[Finding]:
    """Why blocks that are whole can't be judged."""
    blocks = len(shown.blocks)
    if blocks == 1:
        return  # that one block shows nothing, or that others are left out, is told already
    if degrees_of_error(blocks, len(stated.factors), halves=stated.halves) < 1:
        yield finding("compare_blocks_left", "doubt", blocks=float(blocks))
    elif stated.halves and sum(1 for each in shown.by_way if each) <= stated.block_size:
        yield finding("compare_one_half", "doubt")
    else:
        yield finding("compare_no_spread_factors", "doubt")


def _could_show(
    made: FactorialComparison, sure: Sequence[Effect], level: float, spread: float
) -> Iterator[Finding]:
    if made.mean <= 0:
        return
    seen = made.error**0.5 / made.mean
    if seen > spread * WIDER:
        yield finding("compare_spread_wider", "note", seen=seen, stated=spread)
    if not 0 < seen <= 1 or len(sure) == len(made.effects):
        return
    error = max(each.standard_error for each in made.effects) / made.mean
    least = contrast_shown(error, made.degrees_of_freedom, level=max(level, 0.001))
    yield finding("compare_could_show_factors", "note", share=least, blocks=float(made.blocks))
    if any(len(each.factors) > 1 for each in made.effects) and not any(
        len(each.factors) > 1 for each in sure
    ):
        # an effect of two is half of what two effects differ by
        yield finding("compare_interactions_not_shown", "note", share=2 * least)

"""Comparisons in words: the same sentences for paper, pages and the command."""

from __future__ import annotations

from bedwright.planning.compare.model import Compared, Plot, Power
from bedwright.planning.findings import Finding
from bedwright.reports.compare_results import percent, result_of_beds, result_of_factors
from bedwright.reports.days_said import day_year_words
from bedwright.reports.words_compare import COMPARE, COMPARE_FINDINGS
from bedwright.units.show import plain

_SHARES = frozenset({"share", "seen", "stated"})


def compare_sentence(found: Finding) -> str:
    """A finding of a comparison as a sentence."""
    values = {
        key: percent(float(each)) if key in _SHARES and isinstance(each, float)
        else plain(each, 3) if isinstance(each, float)
        else str(each)
        for key, each in found.values.items()
    }  # fmt: skip
    return COMPARE_FINDINGS[found.code].format(**values)


def plot_said(plot: Plot) -> str:
    """Where a plot lies and which way it has."""
    key = "plot_bed" if plot.strip is None else "plot_strip"
    return COMPARE[key].format(bed=plot.bed, strip=plot.strip, strips=plot.strips, way=plot.way)


def laid_said(each: Compared) -> list[str]:
    """How the order came about, and what to leave out at the edges."""
    stated = each.stated
    drawn = COMPARE["drawn_beds" if stated.beds else "drawn"]
    told = [COMPARE["not_drawn"] if stated.laid is not None else drawn.format(seed=stated.seed)]
    if stated.edge is not None:
        told.append(COMPARE["edge"].format(edge=stated.edge.text))
    return told


def power_said(each: Compared) -> list[str]:
    """What the comparison can show as it is laid out, and what more blocks would."""
    key = "spread_stated" if each.spread_stated else "spread_usual"
    told = [COMPARE[key].format(spread=percent(each.spread))]
    first, *more = each.power
    if each.stated.beds:
        told.append(_power("power_beds", first, beds=len(each.plots)))
        return told + [_power("power_beds_more", one) for one in more]
    if each.stated.factors:
        key = (
            "power_factors_halves"
            if len(each.stated.factors) == 2 and each.stated.halves
            else ("power_factors")
        )
        told.append(_power(key, first))
        return told + [_power("power_factors_more", one) for one in more]
    if first.difference is None:
        told.append(COMPARE["power_one"])
    else:
        told.append(_power("power", first))
    told += [_power("power_more", one) for one in more]
    return told


def _power(key: str, power: Power, *, beds: int = 0) -> str:
    if power.difference is None:
        key = "power_one" if power.blocks == 1 else "power_nothing"
        return COMPARE[key].format(blocks=power.blocks)
    return COMPARE[key].format(
        blocks=power.blocks, fewest=power.blocks, beds=beds,
        difference=percent(power.difference), twice=percent(2 * power.difference),
    )  # fmt: skip


def ways_said(each: Compared) -> str:
    """What is compared: the ways, or every combination of the factors."""
    factors = each.stated.factors
    if not factors:
        return COMPARE["ways"].format(ways=", ".join(each.stated.ways))
    either = [COMPARE["either"].format(first=first, second=second) for first, second in factors]
    return COMPARE["combined"].format(factors="; ".join(either))


def values_said(each: Compared) -> list[tuple[str, list[str]]]:
    """What each block's plots gave, by block: way and value, in the order of the ways. Without
    blocks what each way's beds gave, by way."""
    stated = each.stated
    if stated.beds:
        return [
            (way, [_bed_value(each, plot) for plot in each.plots if plot.way == way])
            for way in stated.ways
        ]
    found = []
    for block, plots in each.groups:
        held = {plot.way for plot in plots}
        row = [
            COMPARE["value"].format(way=way, value=_value(each, (block or 0, way)))
            for way in stated.every_way
            if way in held
        ]
        found.append((COMPARE["block"].format(block=block), row))
    return found


def _bed_value(each: Compared, plot: Plot) -> str:
    return COMPARE["bed_value"].format(bed=plot.bed, value=_value(each, (plot.block, plot.way)))


def _value(each: Compared, key: tuple[int, str]) -> str:
    value = each.sums.get(key)
    return COMPARE["missing"] if value is None else f"{plain(value, 4)} {each.stated.unit}"


def result_said(each: Compared) -> list[str]:
    """Means, the difference with its interval, and the tests; empty without results."""
    found, unit = each.shown, each.stated.unit
    if found is None:
        return []
    if each.stated.beds:
        return result_of_beds(each, found)
    if each.stated.factors:
        return result_of_factors(each, found)
    means = ", ".join(
        COMPARE["value"].format(way=way, value=f"{plain(mean, 4)} {unit}")
        for way, mean in zip(each.stated.ways, found.means, strict=True)
    )
    told = [COMPARE["means"].format(means=means)]
    drawn = "" if found.randomised is None else plain(found.randomised.p, 3)
    if found.paired is not None:
        made = found.paired
        told.append(
            COMPARE["difference"].format(
                first=each.stated.ways[0], second=each.stated.ways[1], unit=unit,
                mean=plain(made.mean, 3), low=plain(made.interval[0], 3),
                high=plain(made.interval[1], 3), confidence=percent(made.confidence),
            )
        )  # fmt: skip
        told.append(
            COMPARE["paired"].format(
                t=plain(made.t, 4), degrees=made.degrees_of_freedom, p=plain(made.p, 3),
                drawn=drawn,
            )
        )  # fmt: skip
    elif found.in_blocks is not None:
        block = found.in_blocks
        told.append(
            COMPARE["blocks"].format(
                f=plain(block.f, 4), treatments=len(found.means) - 1,
                degrees=block.degrees_of_freedom, p=plain(block.p, 3), drawn=drawn,
                least=plain(block.least, 3), unit=unit,
            )
        )  # fmt: skip
    return told


def days_told(each: Compared) -> str:
    """The days on which it was measured; empty without."""
    days = sorted({one.on for one in each.readings})
    if not days:
        return ""
    return COMPARE["days"].format(days=", ".join(day_year_words(day) for day in days))

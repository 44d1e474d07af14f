"""Comparisons as the pages tell them."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from bedwright.drawings.compared import compared_drawing
from bedwright.language import named
from bedwright.planning.compare.model import Compared, Plot
from bedwright.planning.compare.own_figures import OwnFigure
from bedwright.planning.compare.years import CropYears
from bedwright.reference import Library
from bedwright.reports.compare_own import own_said
from bedwright.reports.compare_results import percent
from bedwright.reports.compare_said import (
    compare_sentence,
    days_told,
    laid_said,
    power_said,
    result_said,
    ways_said,
)
from bedwright.reports.compare_years import harvest_counts, split_said, year_rows
from bedwright.reports.words_compare import COMPARE
from bedwright.units import UnitSystem
from bedwright.units.show import plain


@dataclass(frozen=True)
class PlotTold:
    """One plot: where it lies, its way, and what it gave, "" where it is not measured."""

    plot: Plot
    where: str
    value: str


@dataclass(frozen=True)
class BlockTold:
    """A block's plots in the order in which they lie; "" for beds without blocks."""

    block: int | str
    plots: tuple[PlotTold, ...]


@dataclass(frozen=True)
class ComparedTold:
    """One comparison on the page."""

    id: str
    question: str
    about: str
    acts: list[str]
    rest: list[str]
    blocks: list[BlockTold]
    in_blocks: bool
    laid: list[str]
    power: list[str]
    results: list[str]
    days: str
    chart: SafeString
    chart_words: str
    measured: bool
    whole: bool
    by_journal: bool


@dataclass(frozen=True)
class CropTold:
    """One crop over the years: its years, and what parts its harvests."""

    title: str
    years: list[str]
    splits: list[list[str]]


def compared_told(each: Compared) -> ComparedTold:
    """A comparison with its chart."""
    stated = each.stated
    blocks = []
    for block, held in each.groups:
        plots = tuple(_plot(each, plot) for plot in held)
        blocks.append(BlockTold("" if block is None else block, plots))
    about = COMPARE["crop"].format(
        crop=named(each.crop), measured=stated.measured, unit=stated.unit
    )
    words = _chart_words(each)
    drawn = compared_drawing(each, COMPARE["chart"].format(name=stated.id), words, "compared")
    return ComparedTold(
        id=stated.id,
        question=stated.question,
        about=f"{about} {ways_said(each)}",
        acts=[compare_sentence(one) for one in each.findings if one.weight == "act"],
        rest=[compare_sentence(one) for one in each.findings if one.weight != "act"],
        blocks=blocks,
        in_blocks=any(block is not None for block, _ in each.groups),
        laid=laid_said(each),
        power=power_said(each),
        results=result_said(each),
        days=days_told(each),
        chart=mark_safe(drawn),  # our own drawing escapes every word that it is given
        chart_words=words if drawn else "",
        measured=bool(each.readings),
        whole=each.shown is not None
        and len(each.shown.blocks) == len({plot.block for plot in each.plots}),
        by_journal=stated.journal is not None,
    )


def _plot(each: Compared, plot: Plot) -> PlotTold:
    key = "where_bed" if plot.strip is None else "where_strip"
    where = COMPARE[key].format(bed=plot.bed, strip=plot.strip, strips=plot.strips)
    value = each.sums.get((plot.block, plot.way))
    return PlotTold(plot, where, "" if value is None else f"{plain(value, 4)} {each.stated.unit}")


def _chart_words(each: Compared) -> str:
    stated = each.stated
    if stated.factors:
        return COMPARE["chart_factors"].format(
            unit=stated.unit, confidence=percent(stated.confidence.si)
        )
    if stated.beds or len(stated.ways) > 2:
        return COMPARE["chart_blocks"].format(unit=stated.unit)
    return COMPARE["chart_paired"].format(
        first=stated.ways[0], second=stated.ways[1], unit=stated.unit,
        confidence=percent(stated.confidence.si),
    )  # fmt: skip


def years_told(
    crops: tuple[CropYears, ...], system: UnitSystem, library: Library
) -> list[CropTold]:
    """Every crop that was harvested."""
    return [
        CropTold(
            harvest_counts(crop),
            year_rows(crop, system),
            [split_said(split, system, library) for split in crop.splits],
        )
        for crop in crops
    ]


def own_told(own: tuple[OwnFigure, ...], system: UnitSystem) -> list[str]:
    """Every figure of one's own beside the table's."""
    return [own_said(each, system) for each in own]

"""A figure's working as a tree of words, for shells to set: text in lines, pages in lists."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.language import named, said
from bedwright.reference import Library
from bedwright.reports.days_said import days_said
from bedwright.reports.words_working import (
    BROUGHT,
    CARRIED,
    FIGURE_NAMES,
    FRESH,
    NITROGEN_OF,
    ORIGINS,
)
from bedwright.units.show import plain
from bedwright.working import Figure, Source

_DEEPEST = 9  # figures within figures that are told
_NO_UNIT = ("-", "as stated")


@dataclass(frozen=True)
class Worked:
    """One figure of a working.

    ``value`` is the exact number in the engine's unit and ``range`` its ends, or nothing;
    ``origin`` is the code, ``came_from`` its words. ``formula`` is said in words. ``steps`` are
    values on the way. ``inputs`` are worked the same way.
    """

    figure: Figure
    name: str
    value: str
    range: tuple[str, str] | None
    origin: str
    came_from: str
    note: str
    formula: str
    steps: tuple[tuple[str, str], ...]
    sources: tuple[str, ...]
    inputs: tuple[Worked, ...]


def worked(figure: Figure, library: Library, formulas: Mapping[str, str], depth: int = 0) -> Worked:
    """The working of a figure; ``formulas`` are the formulas' own words, by name.

    Raises KeyError for a source that the library does not know.
    """
    unit = "" if figure.unit in _NO_UNIT else f" {figure.unit}"
    ranged = figure.low is not None or figure.high is not None
    return Worked(
        figure=figure,
        name=figure_name(figure.name),
        value=f"{plain(figure.value, 4)}{unit}",
        range=(plain(figure.least, 4), plain(figure.most, 4)) if ranged else None,
        origin=figure.origin,
        came_from=ORIGINS[figure.origin],
        note=figure.note,
        formula=formulas.get(figure.formula, figure.formula),
        steps=tuple(
            (figure_name(name), f"{plain(amount, 4)} {unit}".rstrip())
            for name, amount, unit in figure.steps
        ),
        sources=tuple(cited(each, library) for each in figure.sources),
        inputs=tuple(worked(each, library, formulas, depth + 1) for each in figure.inputs)
        if depth < _DEEPEST - 1
        else (),
    )


def cited(source: Source, library: Library) -> str:
    """A source with the place in it and what is to be known of it."""
    parts = [library.sources[source.source_id].cite(), source.place, source.note]
    return "; ".join(each for each in parts if each)


def figure_name(name: str) -> str:
    """What a figure is called."""
    if name in FIGURE_NAMES:
        return FIGURE_NAMES[name]
    for start, words in (("carry_over_", CARRIED), ("fresh_", FRESH)):
        if name.startswith(start) and name[-10:-6].isdigit():
            material = name.removeprefix(start)[:-11]
            material = named(material.replace("_", " "))
            return said(words).format(material=material, day=days_said(name[-10:]))
    for start, words in (("brought_by_", BROUGHT), ("nitrogen_of_", NITROGEN_OF)):
        if name.startswith(start):
            material = named(name.removeprefix(start).replace("_", " "))
            return said(words).format(material=material)
    return name.replace("_", " ")

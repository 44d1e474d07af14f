"""How a soil test was read, in words: its class, the table's limits, the source."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.language import named
from bedwright.reference import Library
from bedwright.reports import words
from bedwright.reports.words_why import METHODS
from bedwright.reports.worked import cited
from bedwright.soil.interpretation import Reading
from bedwright.units.show import plain
from bedwright.working import Figure


@dataclass(frozen=True)
class ReadingWords:
    """One soil test: what was measured and how, its class ``word``, and what that means.

    ``classes`` are the table's limits; ``others`` what other tables say: (table, word).
    """

    figure: Figure
    analyte: str
    method: str
    value: str
    word: str
    supply: str
    classes: str
    table: str
    source: str
    others: tuple[tuple[str, str], ...]


def method_said(extractant: str) -> str:
    """A method's short name: "Olsen", "DTPA"; another language has its own."""
    spaced = extractant.replace("_", " ")
    found = named(spaced)
    return METHODS.get(extractant, spaced) if found == spaced else found


def reading_words(reading: Reading, library: Library) -> ReadingWords:
    """A reading in words."""
    measurement = reading.measurement
    return ReadingWords(
        figure=measurement.figure,
        analyte=words.ANALYTES.get(measurement.analyte, measurement.analyte),
        method=method_said(measurement.extractant),
        value=f"{plain(reading.value)} {reading.unit}",
        word=named(reading.word.replace("_", " ")),
        supply=words.SUPPLY[reading.supply],
        classes=", ".join(
            f"{point.word.replace('_', ' ')} from {plain(point.lower)}"
            for point in reading.breakpoints
        ),
        table=reading.test_group.replace("_", " "),
        source=cited(reading.row.source, library),
        others=tuple((table, word.replace("_", " ")) for table, word in reading.others),
    )

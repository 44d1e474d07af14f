"""A figure's working as text: formula, inputs, where each came from, the source."""

from __future__ import annotations

from bedwright.reference import Library
from bedwright.reports.layout import wrapped
from bedwright.units.show import plain
from bedwright.working import Figure

_DEEPEST = 8


def working_text(figure: Figure, library: Library, words: dict[str, str]) -> list[str]:
    """The working of a figure as indented lines; ``words`` are the formulas' own, by name."""
    lines: list[str] = []
    _walk(figure, library, words, 0, lines)
    return lines


def _walk(
    figure: Figure, library: Library, words: dict[str, str], depth: int, lines: list[str]
) -> None:
    pad = "  " * (depth + 1)
    text = f"{figure.name.replace('_', ' ')} = {_number(figure)}"
    if figure.origin != "computed":
        text += f" ({figure.origin}{': ' + figure.note if figure.note else ''})"
    elif figure.note:
        text += f" ({figure.note})"
    lines += wrapped(text, pad, pad + "  ")
    if figure.formula:
        lines += wrapped(
            f"by: {words.get(figure.formula, figure.formula)}", pad + "  ", pad + "    "
        )
    for name, amount, unit in figure.steps:
        lines.append(f"{pad}  on the way: {name.replace('_', ' ')} = {plain(amount, 4)} {unit}")
    for source in figure.sources:
        entry = library.sources[source.source_id]
        parts = [entry.cite(), source.place, source.note]
        lines += wrapped(
            f"source: {'; '.join(each for each in parts if each)}", pad + "  ", pad + "    "
        )
    if depth < _DEEPEST:
        for each in figure.inputs:
            _walk(each, library, words, depth + 1, lines)


def _number(figure: Figure) -> str:
    unit = "" if figure.unit in ("-", "as stated") else f" {figure.unit}"
    text = f"{plain(figure.value, 4)}{unit}"
    if figure.low is not None or figure.high is not None:
        text += f" (range {plain(figure.least, 4)} to {plain(figure.most, 4)})"
    return text

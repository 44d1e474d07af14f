"""A figure's working as text: formula, inputs, where each came from, the source."""

from __future__ import annotations

from bedwright.reference import Library
from bedwright.reports.layout import wrapped
from bedwright.reports.worked import Worked, worked
from bedwright.working import Figure


def working_text(figure: Figure, library: Library, words: dict[str, str]) -> list[str]:
    """The working of a figure as indented lines; ``words`` are the formulas' own, by name."""
    lines: list[str] = []
    _walk(worked(figure, library, words), 0, lines)
    return lines


def _walk(told: Worked, depth: int, lines: list[str]) -> None:
    pad = "  " * (depth + 1)
    text = f"{told.name} = {told.value}"
    if told.range is not None:
        text += f" (range {' to '.join(told.range)})"
    if told.origin != "computed":
        text += f" ({told.origin}{': ' + told.note if told.note else ''})"
    elif told.note:
        text += f" ({told.note})"
    lines += wrapped(text, pad, pad + "  ")
    if told.formula:
        lines += wrapped(f"by: {told.formula}", pad + "  ", pad + "    ")
    for name, amount in told.steps:
        lines.append(f"{pad}  on the way: {name} = {amount}")
    for source in told.sources:
        lines += wrapped(f"source: {source}", pad + "  ", pad + "    ")
    for each in told.inputs:
        _walk(each, depth + 1, lines)

"""Sentences whose numbers still know their figures, so that a page can open their working."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from string import Formatter

from bedwright.working import Figure


@dataclass(frozen=True)
class Number:
    """A number as it stands in a sentence, and the figure behind it."""

    text: str
    figure: Figure


Part = str | Number
Sentence = tuple[Part, ...]


def joined(parts: Iterable[Part]) -> str:
    """A sentence as plain text."""
    return "".join(each.text if isinstance(each, Number) else each for each in parts)


def filled(template: str, values: Mapping[str, Part]) -> Sentence:
    """A template with its places filled. Raises KeyError for a place without a value."""
    found: list[Part] = []
    for literal, name, _, _ in Formatter().parse(template):
        if literal:
            found.append(literal)
        if name is not None:
            found.append(values[name])
    return tuple(found)

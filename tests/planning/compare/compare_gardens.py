"""A small garden with comparisons, and how it is read."""

from datetime import date
from pathlib import Path

from bedwright.garden import Document, load_text
from bedwright.reference import Library

AS_OF = date(2026, 11, 25)
# the published-style hand example of docs/comparisons.md
FIRST = (14.2, 15.1, 13.8, 16.0, 14.9, 15.5)
SECOND = (13.1, 14.6, 13.0, 14.7, 14.8, 14.2)
BEDS = "".join(
    f'[[bed]]\nid = "{name}"\nlength = "{length} ft"\nwidth = "4 ft"\n'
    for name, length in (("A", 60), ("B", 60), ("C", 20), ("D", 20), ("E", 30), ("F", 20))
)
HEAD = f'format = 2\n[garden]\nname = "Small"\n{BEDS}'


def comparison(
    blocks: str, *, ways: tuple[str, ...] = ("compost", "none"), more: str = "seed = 7\n"
) -> str:
    """A comparison's table with these blocks."""
    listed = ", ".join(f'"{way}"' for way in ways)
    return (
        '[[comparison]]\nid = "carrots"\nquestion = "Does compost give more?"\ncrop = "carrot"\n'
        f'ways = [{listed}]\nblocks = {blocks}\nmeasured = "fit to sell"\nunit = "lb"\n{more}'
    )


def result(block: int, way: str, value: str, on: str = "2026-07-14") -> str:
    """One result's table."""
    return f'[[comparison.result]]\nblock = {block}\nway = "{way}"\non = {on}\nvalue = {value}\n'


def six_pairs() -> str:
    """Six pairs of strips with their results."""
    text = comparison('[["A"], ["A"], ["A"], ["B"], ["B"], ["B"]]')
    for at, (one, other) in enumerate(zip(FIRST, SECOND, strict=True), 1):
        text += result(at, "compost", f'"{one} lb"') + result(at, "none", f'"{other} lb"')
    return HEAD + text


def read(text: str, library: Library) -> Document:
    """The garden of a text."""
    return load_text(text, "g.toml", Path(), library, AS_OF)

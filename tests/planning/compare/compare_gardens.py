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
# Each a bed of its own, all of one size, so that nothing is evened.
MORE = "".join(f'[[bed]]\nid = "P{n}"\nlength = "20 ft"\nwidth = "4 ft"\n' for n in range(1, 11))
TEN = "[" + ", ".join(f'"P{n}"' for n in range(1, 11)) + "]"
TWO = 'factors = [["compost", "no compost"], ["mulch", "bare"]]\n'
THREE = TWO.replace("]]", '], ["net", "no net"]]')
FOUR_BLOCKS = 'blocks = [["A"], ["A"], ["A"], ["A"]]\n'
TEN_BEDS = f'ways = ["compost", "none"]\nbeds = {TEN}\n'


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


def design(stated: str, results: str = "", *, more: str = "seed = 7\n") -> str:
    """A garden with a comparison laid out in some way."""
    return (
        HEAD + MORE + '[[comparison]]\nid = "x"\nquestion = "What works?"\ncrop = "carrot"\n'
        f'measured = "fit to sell"\nunit = "lb"\n{stated}{more}{results}'
    )


def of_bed(bed: str, value: str, on: str = "2026-07-14") -> str:
    """What one bed gave, without blocks."""
    return f'[[comparison.result]]\nbed = "{bed}"\non = {on}\nvalue = "{value} lb"\n'


def of_block(block: int, way: str, value: float) -> str:
    """What a way gave in a block."""
    return (
        f'[[comparison.result]]\nblock = {block}\nway = "{way}"\non = 2026-07-14\n'
        f'value = "{value} lb"\n'
    )

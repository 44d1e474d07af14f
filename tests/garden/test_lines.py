"""Every value of a TOML text is found at the line on which it stands."""

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.garden.lines import index_lines

TEXT = """\
format = 2 # first

[garden]
"quoted # [key]" = "a # [string] = 1"
dotted . inner."two words" = 3
many = [
  1, # one
  [2,
   3],
  { a = 4, b.c = [5] },
]
long = \"\"\"
first = 1
[bed]
\"\"\"
after = 6
[[bed]]
id = "A"
[bed.deep.er]
x = 7
[[bed.part]]
y = 8
[[bed.part]]
y = 9
[[bed]]
id = "B"
[[bed.part]]
y = 10
"""
PLACES = [
    (("format",), 1),
    (("garden", "quoted # [key]"), 4),
    (("garden", "dotted", "inner", "two words"), 5),
    (("garden", "many"), 6),
    (("garden", "many", 0), 7),
    (("garden", "many", 1, 0), 8),
    (("garden", "many", 1, 1), 9),
    (("garden", "many", 2, "a"), 10),
    (("garden", "many", 2, "b", "c", 0), 10),
    (("garden", "long"), 12),
    (("garden", "after"), 16),
    (("bed", 0), 17),
    (("bed", 0, "id"), 18),
    (("bed", 0, "deep", "er", "x"), 20),
    (("bed", 0, "part", 0, "y"), 22),
    (("bed", 0, "part", 1, "y"), 24),
    (("bed", 1, "id"), 26),
    (("bed", 1, "part", 0, "y"), 28),
]


@pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize(("path", "line"), PLACES, ids=str)
def test_a_value_is_found_on_its_line(path: tuple[str | int, ...], line: int, newline: str):
    assert index_lines(TEXT.replace("\n", newline)).line(path) == line


def test_what_is_not_there_answers_with_its_nearest_parent():
    index = index_lines(TEXT)

    assert index.line(("bed", 1, "length")) == 25
    assert index.line(("garden", "many", 2, "z")) == 10
    assert index.line(("absent", "altogether")) == 0


# Documents at random: written line by line, with the line of each leaf written down on the way.

PLAIN_KEY = st.text("abcdefgh_-019", min_size=1, max_size=4)
ODD_KEY = st.text('ab #[]{}=.,"\\é\t', max_size=5)
WORDS = st.text("ab #[]{}=,'é\n", max_size=8)


def quoted(text: str) -> str:
    plain = text.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t").replace("\n", "\\n")
    return f'"{plain}"'


class Writer:
    """A TOML text in the making: it knows on which line it stands."""

    def __init__(self) -> None:
        self.text = ""
        self.leaves: dict[tuple[str | int, ...], int] = {}

    @property
    def line(self) -> int:
        return self.text.count("\n") + 1

    def write(self, text: str) -> None:
        self.text += text


def write_key(draw: st.DrawFn, out: Writer, taken: set[str], most: int) -> tuple[str, ...]:
    """A key of one to ``most`` words whose first word is new here."""
    words = draw(st.lists(PLAIN_KEY | ODD_KEY, min_size=1, max_size=most))
    while words[0] in taken:
        words[0] += "x"
    taken.add(words[0])
    dot = draw(st.sampled_from([".", " . "]))
    plain = set("abcdefgh_-019x")
    out.write(dot.join(word if word and set(word) <= plain else quoted(word) for word in words))
    return tuple(words)


def write_value(draw: st.DrawFn, out: Writer, path: tuple[str | int, ...], depth: int) -> None:
    shape = draw(st.sampled_from(["leaf", "leaf", "array", "table"] if depth else ["leaf"]))
    if shape == "leaf":
        out.leaves.setdefault(path, out.line)
        words = draw(WORDS)
        style = draw(st.sampled_from(["basic", "literal", "long", "number", "date"]))
        if style == "long":
            out.write(
                '"""' + words + draw(st.sampled_from(["", "\\\n  ", '""', "\\u00e9"])) + '"""'
            )
        elif style == "literal" and "'" not in words and "\n" not in words:
            out.write(f"'{words}'")
        elif style == "number":
            out.write(
                draw(st.sampled_from(["1", "-2.5e3", "+inf", "nan", "0xff", "1_000", "true"]))
            )
        elif style == "date":
            out.write(
                draw(st.sampled_from(["2026-04-30", "07:32:00", "2026-04-30 07:32:00.5-07:00"]))
            )
        else:
            out.write(quoted(words))
    elif shape == "array":
        gap = draw(st.sampled_from([" ", "\n  ", " # note ] }\n", "\n\n"]))
        out.write("[" + gap)
        for position in range(draw(st.integers(1, 3))):
            write_value(draw, out, (*path, position), depth - 1)
            out.write("," + gap)
        out.write("]")
    else:
        out.write("{ ")
        taken: set[str] = set()
        for position in range(draw(st.integers(1, 2))):
            out.write(", " if position else "")
            write_pair(draw, out, path, taken, depth - 1)
        out.write(" }")


def write_pair(
    draw: st.DrawFn, out: Writer, parent: tuple[str | int, ...], taken: set[str], depth: int
) -> None:
    words = write_key(draw, out, taken, 3)
    out.write(draw(st.sampled_from([" = ", "="])))
    write_value(draw, out, (*parent, *words), depth)


def write_pairs(
    draw: st.DrawFn, out: Writer, parent: tuple[str | int, ...], taken: set[str]
) -> None:
    for _ in range(draw(st.integers(0, 3))):
        out.write(draw(st.sampled_from(["", "\n", "# a = [1]\n", "  "])))
        write_pair(draw, out, parent, taken, 2)
        out.write(draw(st.sampled_from(["\n", " # [not] = a table\n"])))


@st.composite
def documents(draw: st.DrawFn) -> tuple[str, dict[tuple[str | int, ...], int]]:
    out = Writer()
    taken: set[str] = set()
    write_pairs(draw, out, (), taken)
    for _ in range(draw(st.integers(0, 3))):
        if draw(st.booleans()):
            out.write("[")
            words = write_key(draw, out, taken, 2)
            out.write("]\n")
            write_pairs(draw, out, words, set())
        else:
            start = Writer()
            words = write_key(draw, start, taken, 1)
            for position in range(draw(st.integers(1, 3))):
                out.write(f"[[{start.text}]]\n")
                inner: set[str] = {"sub"}
                write_pairs(draw, out, (*words, position), inner)
                for sub in range(draw(st.integers(0, 2))):
                    out.write(f"[[{start.text}.sub]]\n")
                    write_pairs(draw, out, (*words, position, "sub", sub), set())
    return out.text, out.leaves


def leaves(value: Any, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    if isinstance(value, dict):
        return {each for key, inner in value.items() for each in leaves(inner, (*path, key))}
    if isinstance(value, list):
        return {each for at, inner in enumerate(value) for each in leaves(inner, (*path, at))}
    return {path}


@given(documents())
def test_every_leaf_of_any_document_is_found_on_the_line_where_it_was_written(document):
    text, written = document
    data = tomllib.loads(text)

    index = index_lines(text)

    assert leaves(data) == set(written)
    assert {path: index.line(path) for path in written} == written

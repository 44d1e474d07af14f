"""Where in a TOML text each table, key and list item stands, by path, in bytes.

``lines.py`` says at which line a field stands, for messages; this says which bytes it takes.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field

import tree_sitter
import tree_sitter_toml

from bedwright.garden.faults import Path


@dataclass(frozen=True)
class Table:
    """A ``[table]``, an item of ``[[tables]]``, or what stands above the first of them.

    ``start`` is where its header begins, ``end`` where its last own line ends that is no comment.
    """

    path: Path
    start: int
    end: int
    item: bool


@dataclass(frozen=True)
class Pair:
    """A key with its value; ``table`` is the path of the table or inline table that holds it."""

    path: Path
    table: Path
    inline: bool
    node: tree_sitter.Node
    value: tree_sitter.Node


@dataclass
class Places:
    """The places of a text. Tables stand in the text's order."""

    data: bytes
    tables: list[Table] = field(default_factory=list)
    pairs: dict[Path, Pair] = field(default_factory=dict)
    items: dict[Path, tree_sitter.Node] = field(default_factory=dict)

    def table(self, path: Path) -> Table | None:
        """The table with a header of its own at ``path``."""
        return next((each for each in self.tables if each.path == path), None)

    def value(self, path: Path) -> tree_sitter.Node | None:
        """The value that stands at ``path`` as a key's or a list's."""
        pair = self.pairs.get(path)
        return pair.value if pair is not None else self.items.get(path)

    def line_start(self, place: int) -> int:
        """The first byte of the line of ``place``."""
        return self.data.rfind(b"\n", 0, place) + 1

    def line_end(self, place: int) -> int:
        """The end of the line of ``place``, before its line break."""
        end = self.data.find(b"\n", place)
        if end < 0:
            return len(self.data)
        return end - 1 if self.data[end - 1 : end] == b"\r" else end


def places(text: str) -> Places:
    """The places of a text that ``tomllib`` accepts."""
    data = text.encode("utf-8")
    parser = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language()))
    found = Places(data)
    counts: dict[Path, int] = {}
    own: list[tree_sitter.Node] = []
    for node in parser.parse(data).root_node.named_children:
        if node.type == "pair":
            own.append(node)
        elif node.type in ("table", "table_array_element"):
            _table(node, found, counts)
    for pair in own:
        _pair(pair, (), False, found)
    end = found.line_end(own[-1].end_byte) if own else 0
    found.tables.insert(0, Table((), 0, end, False))
    return found


def _table(node: tree_sitter.Node, found: Places, counts: dict[Path, int]) -> None:
    key = node.named_children[0]
    path: Path = ()
    words = _words(key)
    item = node.type == "table_array_element"
    for position, word in enumerate(words):
        path = (*path, word)
        if item and position == len(words) - 1:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    pairs = [each for each in node.named_children[1:] if each.type == "pair"]
    last = pairs[-1] if pairs else key
    found.tables.append(Table(path, node.start_byte, found.line_end(last.end_byte), item))
    for each in pairs:
        _pair(each, path, False, found)


def _pair(node: tree_sitter.Node, table: Path, inline: bool, found: Places) -> None:
    key, value = (each for each in node.named_children if each.type != "comment")
    path = (*table, *_words(key))
    found.pairs[path] = Pair(path, table, inline, node, value)
    _value(value, path, found)


def _value(node: tree_sitter.Node, path: Path, found: Places) -> None:
    if node.type == "array":
        for position, item in enumerate(members(node)):
            found.items[(*path, position)] = item
            _value(item, (*path, position), found)
    elif node.type == "inline_table":
        for pair in members(node):
            _pair(pair, path, True, found)


def members(node: tree_sitter.Node) -> list[tree_sitter.Node]:
    """The items of a list or the pairs of an inline table, without comments."""
    return [each for each in node.named_children if each.type != "comment"]


def _words(node: tree_sitter.Node) -> list[str]:
    if node.type == "dotted_key":
        return [word for part in node.named_children for word in _words(part)]
    text = (node.text or b"").decode("utf-8")
    return [next(iter(tomllib.loads(f"{text} = 0")))] if node.type == "quoted_key" else [text]

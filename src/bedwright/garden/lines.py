"""At which line of a TOML text each key and list item stands.

``tomllib`` gives values without lines, so the text is parsed a second time into a syntax tree.
"""

from __future__ import annotations

import tomllib

import tree_sitter
import tree_sitter_toml

from bedwright.garden.faults import Path


class LineIndex:
    """Lines by path; a path that is not there answers with the line of its nearest parent."""

    def __init__(self, lines: dict[Path, int]) -> None:
        self._lines = lines

    def line(self, path: Path) -> int:
        """The line of ``path``, or of the nearest parent that stands in the text (0: none)."""
        for length in range(len(path), 0, -1):
            found = self._lines.get(path[:length])
            if found is not None:
                return found
        return 0


def index_lines(text: str) -> LineIndex:
    """Index a text that ``tomllib`` accepts."""
    parser = tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language()))
    root = parser.parse(text.encode("utf-8")).root_node
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    for node in root.named_children:
        if node.type == "pair":
            _pair(node, (), lines)
        elif node.type in ("table", "table_array_element"):
            _table(node, lines, counts)
    return LineIndex(lines)


def _table(node: tree_sitter.Node, lines: dict[Path, int], counts: dict[Path, int]) -> None:
    key, *pairs = node.named_children
    path: Path = ()
    words = _key_words(key)
    for position, word in enumerate(words):
        path = (*path, word)
        last = position == len(words) - 1
        if last and node.type == "table_array_element":
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    _set(lines, path, node)
    for pair in pairs:
        if pair.type == "pair":
            _pair(pair, path, lines)


def _pair(node: tree_sitter.Node, parent: Path, lines: dict[Path, int]) -> None:
    key, value = (each for each in node.named_children if each.type != "comment")
    path: Path = parent
    for word in _key_words(key):
        path = (*path, word)
        lines.setdefault(path, key.start_point.row + 1)
    _value(value, path, lines)


def _value(node: tree_sitter.Node, path: Path, lines: dict[Path, int]) -> None:
    if node.type == "array":
        items = [each for each in node.named_children if each.type != "comment"]
        for position, item in enumerate(items):
            _set(lines, (*path, position), item)
            _value(item, (*path, position), lines)
    elif node.type == "inline_table":
        for pair in node.named_children:
            if pair.type == "pair":
                _pair(pair, path, lines)


def _set(lines: dict[Path, int], path: Path, node: tree_sitter.Node) -> None:
    lines.setdefault(path, node.start_point.row + 1)
    for length in range(1, len(path)):
        lines.setdefault(path[:length], node.start_point.row + 1)


def _key_words(node: tree_sitter.Node) -> list[str]:
    if node.type == "dotted_key":
        return [word for part in node.named_children for word in _key_words(part)]
    text = (node.text or b"").decode("utf-8")
    if node.type == "quoted_key":
        return [next(iter(tomllib.loads(f"{text} = 0")))]
    return [text]

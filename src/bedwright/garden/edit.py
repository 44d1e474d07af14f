"""Edits of a garden document's text: one field, one item, everything else byte for byte.

A path is the way to a field as faults have it: ``("bed", 2, "length")``, ``("limits", "budget")``,
``("soil_report", 0, "results", 1, "value")``. Values are text, numbers, booleans, dates, and lists
and mappings of these. Every function takes the text and gives the changed text; none looks at what
the fields mean (``load_text`` does).

Where something new goes: a field after the example line that the template has for it (``#key =``),
else after the last field of its table; an item after the last of its kind; a new table after the
commented example of one (``#[table]``), else at the end. What was added and is removed again leaves
the text as it was.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from bedwright.garden.faults import Path
from bedwright.garden.toml_places import Places, Table, places
from bedwright.garden.toml_splice import (
    break_before,
    spliced,
    with_member,
    without_lines,
    without_member,
)
from bedwright.garden.toml_values import key_text, table_text, value_text


class EditError(LookupError):
    """What is to be changed does not stand in the document, or cannot stand there."""


def value_at(text: str, path: Path) -> Any:
    """The value at a path as plain TOML data. Raises EditError where there is none."""
    try:
        return copy.deepcopy(_at(_data(text), path))
    except (KeyError, IndexError, TypeError):
        raise EditError(f"there is nothing at {path}") from None


def set_field(text: str, path: Path, value: Any) -> str:
    """The text with a field set; missing tables on the way are made.

    Raises EditError where the path leads through a list item that is not there.
    """
    try:
        if _same(value_at(text, path), value):
            return text
    except EditError:
        pass
    found = places(text)
    node = found.value(path)
    if node is not None:
        changed = spliced(found, node.start_byte, node.end_byte, value_text(value, lines=True))
    elif found.table(path) is not None and isinstance(value, Mapping):
        return replace_item(text, path, value)
    elif len(path) == 1 and value and isinstance(value, list | tuple) and _all_tables(value):
        for each in value:  # a list of tables gets a header for each
            text = add_item(text, path, each)
        return text
    else:
        changed = _added(found, text, path, value)
    return _held(text, changed, path, value)


def unset_field(text: str, path: Path) -> str:
    """The text without a field, a table or a list item. What is not there is no fault."""
    try:
        value_at(text, path)
    except EditError:
        return text
    found = places(text)
    pair = found.pairs.get(path)
    if pair is not None:
        if pair.inline:
            holder = found.value(pair.table)
            assert holder is not None
            changed = without_member(found, holder, pair.node)
        else:
            changed = without_lines(found, pair.node.start_byte, pair.node.end_byte)
    elif path in found.items:
        holder = found.value(path[:-1])
        assert holder is not None
        changed = without_member(found, holder, found.items[path])
    else:
        changed = _without_tables(text, path)
    return _held(text, changed, path, _GONE)


def add_item(text: str, path: Path, item: Any) -> str:
    """The text with an item more at the end of a list: ``("stock",)`` with a stock's fields.

    A list of tables that is not there is made. Raises EditError where ``path`` is no list.
    """
    try:
        there = value_at(text, path)
    except EditError:
        there = []
    if not isinstance(there, list):
        raise EditError(f"{path} is no list")
    place = (*path, len(there))
    found = places(text)
    node = found.value(path)
    if node is not None:
        changed = with_member(found, node, value_text(item))
    elif not isinstance(item, Mapping) or any(isinstance(each, int) for each in path[:-1]):
        return set_field(text, path, [item])
    else:
        header = f"[[{_dotted(path)}]]"
        family = [each for each in found.tables if each.path[: len(path)] == path]
        after = _last_end(found, family) if family else None
        changed = _with_table(found, header, table_text(header, item), after)
    return _held(text, changed, place, item)


def remove_item(text: str, path: Path) -> str:
    """The text without the list item at ``path``. Raises EditError where it is not there."""
    value_at(text, path)
    return unset_field(text, path)


def replace_item(text: str, path: Path, fields: Mapping[str, Any]) -> str:
    """The text with the fields of a table or list item made equal to ``fields``.

    What stays the same keeps its line and its comments. Raises EditError where nothing is there.
    """
    there = value_at(text, path)
    if not isinstance(there, dict):
        return set_field(text, path, fields)
    for key in there:
        if key not in fields:
            text = unset_field(text, (*path, key))
    for key, value in fields.items():
        text = set_field(text, (*path, key), value)
    return text


_GONE = object()


def _all_tables(value: list[Any] | tuple[Any, ...]) -> bool:
    return all(isinstance(each, Mapping) for each in value)


@lru_cache(maxsize=8)
def _data(text: str) -> dict[str, Any]:
    """The text's data, for looking only: the next edit begins where the last one ended."""
    return tomllib.loads(text)


def _at(data: Any, path: Path) -> Any:
    for each in path:
        data = data[each]
    return data


def _same(there: Any, value: Any) -> bool:
    return bool(there == value) and value_text(there) == value_text(value)


def _held(text: str, changed: str, path: Path, value: Any) -> str:
    """``changed``, once it is sure that it differs from ``text`` in this and nothing else."""
    expected = copy.deepcopy(_data(text))
    holder: Any = expected
    for at, each in enumerate(path[:-1]):
        if isinstance(each, str):
            holder = holder.setdefault(each, [] if isinstance(path[at + 1], int) else {})
        else:
            holder = holder[each]
    if value is _GONE:
        del holder[path[-1]]
    elif isinstance(path[-1], int) and path[-1] == len(holder):
        holder.append(value)
    else:
        holder[path[-1]] = value
    try:
        got = _data(changed)
    except tomllib.TOMLDecodeError as error:
        raise EditError(f"{path} cannot be changed here: {error}") from None
    if _pruned(got) != _pruned(expected):
        raise EditError(f"{path} cannot be changed without changing something else")
    return changed


def _pruned(data: Any) -> Any:
    """Without empty tables and lists: the last item's leaving takes its list along."""
    if isinstance(data, Mapping):
        kept = {str(key): _pruned(each) for key, each in data.items()}
        return {key: each for key, each in kept.items() if each not in ({}, [])}
    if isinstance(data, list | tuple):
        return [_pruned(each) for each in data]
    return data


def _dotted(path: Path) -> str:
    return ".".join(key_text(each) for each in path if isinstance(each, str))


def _added(found: Places, text: str, path: Path, value: Any) -> str:
    """A field that is not there, in the nearest of its parents that is."""
    depth = next(
        (n for n in range(len(path) - 1, 0, -1) if _there(text, path[:n])), 0
    )  # how much of the path stands
    parent, rest = path[:depth], path[depth:]
    if any(isinstance(each, int) for each in rest):
        raise EditError(f"there is no list item at {path}")
    node = found.value(parent) if parent else None
    if node is not None:
        if node.type != "inline_table":
            raise EditError(f"{parent} is no table")
        return with_member(found, node, f"{key_text(str(rest[0]))} = {_nested(rest[1:], value)}")
    table = found.table(parent)
    if table is not None and (table.item or len(rest) == 1):
        return _with_pair(found, table, rest, value)
    dotted = [each for each in found.pairs.values()
              if parent and each.path[: depth] == parent and len(each.table) < depth]  # fmt: skip
    if dotted:  # the parent is spelled out in its fields' own keys
        holder = found.table(dotted[-1].table)
        if holder is None:
            raise EditError(f"{parent} is spelled out within a line")
        line = f"{_dotted(path[len(holder.path) :])} = {value_text(value, lines=True)}"
        end = found.line_end(dotted[-1].node.end_byte)
        return spliced(found, end, end, f"\n{line}")
    header = f"[{_dotted(path[:-1])}]"
    if any(isinstance(each, int) for each in path[:-1]) and _later_item(found, path):
        raise EditError(f"{path} would stand in another list item")
    family = [each for each in found.tables if parent and each.path[:depth] == parent]
    lines = table_text(header, {str(path[-1]): value})
    return _with_table(found, header, lines, _last_end(found, family) if family else None)


def _later_item(found: Places, path: Path) -> bool:
    for at, each in enumerate(path):
        if isinstance(each, int) and found.table((*path[:at], each + 1)) is not None:
            return True
    return False


def _there(text: str, path: Path) -> bool:
    try:
        value_at(text, path)
    except EditError:
        return False
    return True


def _nested(words: Path, value: Any) -> str:
    for each in reversed(words):
        value = {str(each): value}
    return value_text(value)


def _with_pair(found: Places, table: Table, words: Path, value: Any) -> str:
    for each in reversed(words[1:]):
        value = {str(each): value}
    key = key_text(str(words[0]))
    line = f"{key} = {value_text(value, lines=True)}"
    if not table.path and table.end == 0:
        return spliced(found, 0, 0, f"{line}\n")
    following = [each.start for each in found.tables if each.start > table.start]
    stop = min(following) if following else len(found.data)
    place = _after_example(found, table.start, stop, rf"#{re.escape(key)}\s*=")
    end = table.end if place is None else place
    return spliced(found, end, end, f"\n{line}")


def _after_example(found: Places, start: int, stop: int, pattern: str) -> int | None:
    """The end of the commented example line of a field, before any commented table begins."""
    place = found.line_start(start)
    while place < stop:
        end = found.line_end(place)
        line = found.data[place:end].decode("utf-8")
        if line.startswith("#[") and place > start:
            return None
        if re.match(pattern, line) and not line.rstrip().endswith("["):
            return end
        place = found.data.find(b"\n", end) + 1 or len(found.data)
    return None


def _with_table(found: Places, header: str, lines: list[str], after: int | None) -> str:
    if not found.data.strip():
        return spliced(found, 0, 0, "\n".join(lines) + "\n")
    if after is None:
        after = _after_example_table(found, header)
    return spliced(found, after, after, "\n\n" + "\n".join(lines))


def _after_example_table(found: Places, header: str) -> int:
    """The end of the commented example of a table, or of the text."""
    marks = (f"#{header}", f"#[{header}]")
    place = 0
    while place < len(found.data):
        end = found.line_end(place)
        taken = any(each.start <= place < each.end for each in found.tables)
        if not taken and found.data[place:end].decode("utf-8").strip() in marks:
            return _end_of_block(found, end)
        place = found.data.find(b"\n", end) + 1 or len(found.data)
    return max(len(found.data.rstrip()), *(each.end for each in found.tables))


def _last_end(found: Places, family: list[Table]) -> int:
    """The end of the last table of a family, with the commented fields that stand below it."""
    last = max(family, key=lambda each: each.end)
    end = last.end
    place = found.data.find(b"\n", end) + 1 or len(found.data)
    while place < len(found.data):
        stop = found.line_end(place)
        line = found.data[place:stop].decode("utf-8")
        if line.startswith(("#[", "[")) or (line and not line.startswith("#")):
            break
        if re.match(r"#[\w-]+\s*=", line):
            end = _end_of_block(found, stop)
        place = found.data.find(b"\n", max(stop, end)) + 1 or len(found.data)
    return end


def _end_of_block(found: Places, end: int) -> int:
    """The end of the comment lines that stand together with the line that ends at ``end``."""
    while True:
        following = found.data.find(b"\n", end) + 1
        if not following:
            return end
        stop = found.line_end(following)
        if not found.data[following:stop].startswith(b"#"):
            return end
        end = stop


def _without_tables(text: str, path: Path) -> str:
    """Without a table or item with its own header, and those below it."""
    found = places(text)
    family = [each for each in found.tables if each.path[: len(path)] == path]
    data = found.data
    for each in reversed(family):
        first = found.line_start(each.start)
        if first == 0:
            following = data.find(b"\n", each.end) + 1 or len(data)
            data = data[following:]
            continue
        start = break_before(found, first)
        before = found.line_start(start)
        if before > 0 and not data[before:start].strip():  # the empty line that parted it
            start = break_before(found, before)
        data = data[:start] + data[each.end :]
    keys = [each for each in found.pairs.values() if each.path[: len(path)] == path
            and len(each.table) < len(path)]  # fmt: skip
    if keys and not family:
        for pair in reversed(keys):
            found = places(data.decode("utf-8"))
            node = found.pairs[pair.path].node
            data = without_lines(found, node.start_byte, node.end_byte).encode("utf-8")
    return data.decode("utf-8")

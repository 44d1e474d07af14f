"""Bytes put into a TOML text or taken out of it: lines, list items, pairs of inline tables."""

from __future__ import annotations

import tree_sitter

from bedwright.garden.toml_places import Places, members


def spliced(found: Places, start: int, end: int, put: str) -> str:
    """The text with ``put`` in place of the bytes from ``start`` to ``end``."""
    data = found.data
    if b"\r\n" in data:
        put = put.replace("\n", "\r\n")
    return (data[:start] + put.encode("utf-8") + data[end:]).decode("utf-8")


def without_lines(found: Places, start: int, end: int) -> str:
    """Without the lines from ``start`` to ``end``, and the line break before them."""
    first, last = found.line_start(start), found.line_end(end)
    if first == 0:
        following = found.data.find(b"\n", last) + 1 or len(found.data)
        return spliced(found, 0, following, "")
    return spliced(found, break_before(found, first), last, "")


def break_before(found: Places, line: int) -> int:
    """Where the line break before a line's first byte begins."""
    return line - 2 if found.data[line - 2 : line] == b"\r\n" else line - 1


def with_member(found: Places, holder: tree_sitter.Node, put: str) -> str:
    """A list or inline table with a member more, in the style of those that it has."""
    table = holder.type == "inline_table"
    inside = members(holder)
    opens = holder.start_byte + 1
    if not inside:
        if holder.start_point.row != holder.end_point.row:
            end = found.line_end(opens)
            return spliced(found, end, end, f"\n  {put},")
        return spliced(found, holder.start_byte, holder.end_byte,
                        f"{{ {put} }}" if table else f"[{put}]")  # fmt: skip
    last = inside[-1]
    comma = _comma_after(holder, last)
    alone = not table and found.data[found.line_start(last.start_byte) : last.start_byte].isspace()
    if not alone:
        end = comma or last.end_byte
        more = f" {put}," if comma else f", {put}"
        return spliced(found, end, end, more)
    start = found.line_start(last.start_byte)
    indent = found.data[start : last.start_byte].decode("utf-8")
    end = found.line_end(comma or last.end_byte)
    if comma is not None:
        return spliced(found, end, end, f"\n{indent}{put},")
    with_comma = spliced(found, end, end, f"\n{indent}{put}").encode("utf-8")
    return (with_comma[: last.end_byte] + b"," + with_comma[last.end_byte :]).decode("utf-8")


def _comma_after(holder: tree_sitter.Node, member: tree_sitter.Node) -> int | None:
    """Where the comma after a member ends."""
    after = [each for each in holder.children if each.start_byte >= member.end_byte]
    for each in after:
        if each.type == ",":
            return each.end_byte
        if each.type != "comment":
            return None
    return None


def without_member(found: Places, holder: tree_sitter.Node, member: tree_sitter.Node) -> str:
    """The text without a list's item or an inline table's pair, and without its line or comma."""
    inside = members(holder)
    at = [each.start_byte for each in inside].index(member.start_byte)
    comma = _comma_after(holder, member)
    start, end = member.start_byte, comma or member.end_byte
    first, last = found.line_start(start), found.line_end(end)
    before = inside[at - 1] if at else None
    if found.data[first:start].isspace() and _rest_is_comment(found, end, last):
        data = without_lines(found, start, end)
        if comma is None and before is not None:
            text = data.encode("utf-8")
            place = _comma_after(holder, before) or before.end_byte
            return (text[: place - 1] + text[place:]).decode("utf-8")
        return data
    if comma is not None:
        if before is None:
            while found.data[end : end + 1] == b" ":
                end += 1
        else:
            start = _comma_after(holder, before) or start
        return spliced(found, start, end, "")
    if before is not None:
        return spliced(found, before.end_byte, end, "")
    if len(inside) == 1:
        return spliced(found, holder.start_byte, holder.end_byte,
                        "{}" if holder.type == "inline_table" else "[]")  # fmt: skip
    return spliced(found, start, end, "")


def _rest_is_comment(found: Places, end: int, last: int) -> bool:
    rest = found.data[end:last].strip()
    return not rest or rest.startswith(b"#")

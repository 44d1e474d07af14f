"""Text of lines and cells taken apart by whole columns: fast, lean, and never put off by a slip."""

from __future__ import annotations

import contextlib
import re

import numpy as np
import numpy.typing as npt

from bedwright.climate.record import FloatArray, IntArray

BytesArray = npt.NDArray[np.uint8]
BoolArray = npt.NDArray[np.bool_]

_NEWLINE, _QUOTE, _SPACE, _MINUS, _PLUS, _ZERO = b'\n" -+0'
_WIDEST = 40  # a longer cell is neither a date nor a number
_MISSING_WORDS = frozenset({b"na", b"nan", b"n/a", b"null", b"none", b"m", b"-", b"--", b"missing"})
_EXPONENT = re.compile(rb"[+-]?(?:\d+\.?\d*|\.\d+)[eE][+-]?\d{1,3}")


class Lines:
    """The lines of a text that are not empty: where each starts and ends, and its number."""

    def __init__(self, text: bytes, skip: int = 0) -> None:
        self.buffer: BytesArray = np.frombuffer(text, dtype=np.uint8)
        breaks = np.flatnonzero(self.buffer == _NEWLINE)
        starts = np.concatenate(([0], breaks + 1))
        ends = np.concatenate((breaks, [len(self.buffer)]))
        numbers = np.arange(1, len(starts) + 1)
        kept = (ends > starts) & (numbers > skip)
        self.starts: IntArray = starts[kept]
        self.ends: IntArray = ends[kept]
        self.numbers: IntArray = numbers[kept]

    def __len__(self) -> int:
        return len(self.starts)

    def matrix(self, first: int, stop: int, rows: BoolArray | None = None) -> BytesArray:
        """The characters of columns ``first`` to ``stop`` of each line, blank past its end."""
        starts = self.starts if rows is None else self.starts[rows]
        ends = self.ends if rows is None else self.ends[rows]
        return _gathered(self.buffer, starts + first, ends, stop - first, _SPACE)

    def text(self, at: int, most: int = 60) -> str:
        """A line as it stands in the file, cut to ``most`` characters, for a message."""
        start = int(self.starts[at])
        cut = bytes(self.buffer[start : min(int(self.ends[at]), start + most)])
        return cut.decode("utf-8", errors="replace")


class Cells:
    """The cells of separated lines. Quotes hold a separator together, within one line only."""

    def __init__(self, lines: Lines, separator: bytes) -> None:
        self.lines = lines
        buffer = lines.buffer
        marks = np.flatnonzero(buffer == separator[0])
        if len(lines) and np.any(buffer == _QUOTE):
            marks = marks[~_quoted(lines, marks)]
        self._marks = marks
        self._first = np.searchsorted(marks, lines.starts)
        self.counts: IntArray = np.searchsorted(marks, lines.ends) - self._first + 1

    def __len__(self) -> int:
        return len(self.lines)

    def spans(self, column: int) -> tuple[IntArray, IntArray]:
        """Where the cells of a column start and end, without blanks and quotes around them."""
        lines, marks = self.lines, self._marks
        there = self.counts > column
        last = self.counts == column + 1
        padded = np.concatenate((marks, [0]))
        most = len(padded) - 1
        before = padded[np.clip(self._first + column - 1, 0, most)] + 1 if column else lines.starts
        after = np.where(last, lines.ends, padded[np.clip(self._first + column, 0, most)])
        starts = np.where(there, before, lines.ends)
        ends = np.where(there, after, lines.ends)
        return _trimmed(lines.buffer, starts, ends)

    def characters(self, column: int, widest: int = _WIDEST) -> tuple[BytesArray, IntArray]:
        """The characters of a column's cells, zero past their ends, and the cells' lengths."""
        starts, ends = self.spans(column)
        lengths = ends - starts
        width = int(min(widest, lengths.max(initial=0)))
        return _gathered(self.lines.buffer, starts, ends, width, 0), lengths

    def cell(self, row: int, column: int) -> str:
        """One cell as text."""
        starts, ends = self.spans(column)
        raw = bytes(self.lines.buffer[int(starts[row]) : int(ends[row])])
        return raw.decode("utf-8", errors="replace")

    def numbers(self, column: int, decimal: bytes = b".") -> tuple[FloatArray, BoolArray]:
        """The numbers of a column, NaN where the cell is empty; and which cells are no number."""
        return parsed(*self.characters(column), decimal)


def parsed(
    characters: BytesArray, lengths: IntArray, decimal: bytes = b"."
) -> tuple[FloatArray, BoolArray]:
    """Numbers from rows of characters, NaN where there is none; and which rows are wrong.

    Parameters
    ----------
    characters : one row per cell, the cell from the left [character codes]
    lengths : how many characters each cell has, 0 and up
    decimal : the sign before the decimals, a point or a comma
    """
    rows, width = characters.shape
    value = np.zeros(rows)
    decimals = np.zeros(rows, dtype=np.int64)
    digits = np.zeros(rows, dtype=np.int64)
    dotted = np.zeros(rows, dtype=np.bool_)
    right = lengths <= min(width, 18)  # 18 digits: more would not be read exactly
    for at in range(width):
        character = characters[:, at]
        live = lengths > at
        digit = live & (character >= _ZERO) & (character <= _ZERO + 9)
        value = np.where(digit, value * 10 + (character.astype(np.float64) - _ZERO), value)
        digits += digit
        decimals += digit & dotted
        point = live & (character == decimal[0])
        sign = (character == _MINUS) | (character == _PLUS) if at == 0 else False
        right &= ~live | digit | sign | (point & ~dotted)
        dotted |= point
    right &= digits > 0
    value = value / np.power(10.0, decimals)
    if width:
        value = np.where(characters[:, 0] == _MINUS, -value, value)
    wrong = ~right & (lengths > 0)
    value[~right] = np.nan
    if np.any(wrong):
        _reread(characters, lengths, wrong, value)
    return value, wrong


def _reread(characters: BytesArray, lengths: IntArray, wrong: BoolArray, value: FloatArray) -> None:
    """Words for missing are no fault, and a number may have an exponent."""
    for at in np.flatnonzero(wrong & (lengths <= characters.shape[1])):
        text = characters[at, : int(lengths[at])].tobytes()
        if text.lower() in _MISSING_WORDS:
            wrong[at] = False
        elif _EXPONENT.fullmatch(text):
            with contextlib.suppress(ValueError):
                value[at] = float(text)
            wrong[at] = not np.isfinite(value[at])


def _gathered(
    buffer: BytesArray, starts: IntArray, ends: IntArray, width: int, blank: int
) -> BytesArray:
    made: BytesArray = np.full((len(starts), width), blank, dtype=np.uint8)
    if not len(buffer):
        return made
    for at in range(width):
        place = starts + at
        inside = place < ends
        made[inside, at] = buffer[place[inside]]
    return made


def _trimmed(buffer: BytesArray, starts: IntArray, ends: IntArray) -> tuple[IntArray, IntArray]:
    starts, ends = starts.copy(), ends.copy()
    for _ in range(_WIDEST):
        moved = False
        rows = np.flatnonzero(starts < ends)
        left = buffer[starts[rows]]
        blank = rows[(left == _SPACE) | (left == _QUOTE)]
        starts[blank] += 1
        moved |= bool(len(blank))
        rows = rows[starts[rows] < ends[rows]]
        right = buffer[ends[rows] - 1]
        blank = rows[(right == _SPACE) | (right == _QUOTE)]
        ends[blank] -= 1
        moved |= bool(len(blank))
        if not moved:
            break
    return starts, ends


def _quoted(lines: Lines, marks: IntArray) -> BoolArray:
    """Whether each mark stands between quotes that were opened in its own line."""
    inside = np.logical_xor.accumulate(lines.buffer == _QUOTE)
    line = np.clip(np.searchsorted(lines.starts, marks, side="right") - 1, 0, None)
    before = lines.starts[line] - 1
    open_before = np.where(before >= 0, inside[np.maximum(before, 0)], False)
    return np.asarray(inside[marks] ^ open_before, dtype=np.bool_)

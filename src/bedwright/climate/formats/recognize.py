"""Which format a weather file has, by its content, and reading it."""

from __future__ import annotations

import re
import zlib

from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.formats.assemble import WeatherFile
from bedwright.climate.formats.ghcn import read_by_station, read_dly
from bedwright.climate.formats.plain import find_header, read_plain
from bedwright.climate.formats.summaries import UNITS, read_summaries
from bedwright.climate.limits import WeatherLimits

_DLY = re.compile(rb"[A-Z0-9_\-]{11}[12]\d{3}(?:0[1-9]|1[0-2])[A-Z0-9*#]{4}[ \-\d]{5}")
_BY_STATION = re.compile(rb"\"?[A-Z0-9_\-]{11}\"?,\"?[12]\d{7}\"?,\"?[A-Z0-9*#]{4}\"?,\s*-?\d")
_LOOK_AT = 50  # lines by which a format is recognized
_GZIP, _UTF8_MARK, _UTF16_MARKS = b"\x1f\x8b", b"\xef\xbb\xbf", (b"\xff\xfe", b"\xfe\xff")
_MOST_BYTES = 300_000_000  # unpacked; two centuries by the minute take less
_PAGE = re.compile(rb"\s*<(?:!doctype|html|head|body|\?xml)", re.IGNORECASE)


def read_weather(
    data: bytes, name: str, limits: WeatherLimits, units: str | None = None
) -> WeatherFile:
    """The record in a weather file, whichever known format it has.

    Parameters
    ----------
    data : the file, also packed with gzip
    name : what the file is called; the record's name where the file states none
    limits : the thresholds of ``weather_limits.csv``
    units : "tenths", "metric" or "standard" for a file that doesn't say; None to infer them

    Raises WeatherError with codes for a file that can't be used, ValueError for other ``units``.
    """
    if units is not None and units not in UNITS:
        raise ValueError(f"units are {units!r}; they must be one of {', '.join(UNITS)}")
    text = _text(data)
    first = [line for line in text[:60_000].split(b"\n")[:_LOOK_AT] if line.strip()]
    if any(_DLY.match(line) for line in first):
        return read_dly(text)
    if any(_BY_STATION.match(line) for line in first):
        return read_by_station(text)
    header = {cell.strip().strip(b'"').strip().upper() for cell in first[0].split(b",")}
    if {b"STATION", b"DATE"} <= header:
        return read_summaries(text, limits, units)
    found = find_header(text)
    if found is not None:
        if units == "tenths":
            raise WeatherError(Fault(code="weather_tenths_not_here"))
        return read_plain(found, limits, name, units)
    shown = first[0][:60].decode("utf-8", "replace")
    raise WeatherError(
        Fault(code="weather_format_unknown", data={"text": shown, "lines": text.count(b"\n") + 1})
    )


def _text(data: bytes) -> bytes:
    """The text of a file with plain line ends. Raises WeatherError for what is no text."""
    if data.startswith(_GZIP):
        data = _unpacked(data)
    data = data.removeprefix(_UTF8_MARK)
    if data.startswith(_UTF16_MARKS) or b"\0" in data:
        raise WeatherError(Fault(code="weather_not_text"))
    if not data.strip():
        raise WeatherError(Fault(code="weather_empty"))
    if _PAGE.match(data):
        raise WeatherError(Fault(code="weather_is_a_page"))
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return data


def _unpacked(data: bytes) -> bytes:
    unpacking = zlib.decompressobj(wbits=31)
    try:
        text = unpacking.decompress(data, _MOST_BYTES)
    except zlib.error:
        raise WeatherError(Fault(code="weather_not_unpacked")) from None
    if not unpacking.eof:
        raise WeatherError(Fault(code="weather_not_unpacked"))
    return text

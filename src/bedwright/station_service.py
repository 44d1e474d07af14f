"""Fetching a station's record from a public weather service; nothing is asked unless called.

A record comes in chunks of a year. Whole chunks are kept in a folder and used again, so that a
fetch that was broken off goes on where it stopped.
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
import re
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from bedwright import __version__
from bedwright.garden.save import write_whole
from bedwright.reference import Library

if TYPE_CHECKING:
    import urllib3

_STATION = re.compile(r"[A-Z]{2}[A-Z0-9][A-Z0-9]{8}")
_BUSY = frozenset({429, 500, 502, 503, 504})
_SETTLED_DAYS = 90  # the agency still adds and corrects days of a year that ended later: judgement
_LEADING = ("STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME")
_FLAGS = "_ATTRIBUTES"
_REDIRECTS = 3
Progress = Callable[[int, int, int], None]  # chunks done, chunks in all, the year just done


@dataclass(frozen=True)
class Service:
    """A service of ``weather_services.csv``: where it is and what to ask it for."""

    address: str
    dataset: str
    elements: tuple[str, ...]
    units: str

    @property
    def host(self) -> str:
        """The name of the server, for messages."""
        return urlsplit(self.address).hostname or self.address


@dataclass(frozen=True)
class Patience:
    """How often and how long to wait for a service that is slow or busy [s]."""

    attempts: int = 5
    first_wait_s: float = 1.0
    longest_wait_s: float = 60.0
    longest_retry_after_s: int = 600
    timeout_s: float = 60.0


@dataclass(frozen=True)
class Fetched:
    """What came: the file, its days, the chunks used again and the years without any day."""

    path: Path
    days: int
    chunks: int
    reused: int
    empty_years: tuple[int, ...] = ()


class ServiceError(Exception):
    """Why a record did not come: a code and its values; shells put it into words."""

    def __init__(self, code: str, **data: str | int) -> None:
        self.code, self.data = code, data
        super().__init__(f"{code} {data}")


class _BrokenAnswer(Exception):
    """An answer that is not a table of the days asked for; its beginning as the argument."""


@dataclass(frozen=True)
class _Chunk:
    """A year's answer: its columns and its rows, each a dictionary."""

    columns: tuple[str, ...] = ()
    rows: tuple[dict[str, str], ...] = field(default=())


def service_of(library: Library, name: str = "ncei_access") -> Service:
    """A service of the table. Raises LookupError for a name that isn't there."""
    rows = [row for row in library.rows("weather_services") if row["service"] == name]
    if not rows:
        raise LookupError(f"weather_services.csv holds no {name!r}")
    of = {row["property"]: row["value"] for row in rows}
    elements = tuple(row["value"] for row in rows if row["property"] == "data_type")
    return Service(of["address"], of["dataset"], elements, of["units"])


def fetch(
    station: str,
    out_path: Path,
    start: date,
    end: date,
    service: Service,
    *,
    today: date,
    cache: Path | None = None,
    progress: Progress | None = None,
    patience: Patience | None = None,
) -> Fetched:
    """Fetch a station's days and write them as one daily-summaries CSV, whole or not at all.

    Parameters
    ----------
    station : the agency's name of it, 11 letters and digits
    out_path : the file to write
    start, end : first and last day
    service : whom to ask
    today : years that ended lately are asked for again, for the agency still adds to them
    cache : the folder of the chunks; ``out_path`` with ``.parts`` where left out
    progress : called after each chunk
    patience : how often and how long to wait

    Raises ServiceError with a code for everything that keeps the record from coming.
    """
    if not _STATION.fullmatch(station):
        raise ServiceError("service_station_name", station=station)
    if start > end:
        raise ServiceError("service_span", start=start.isoformat(), end=end.isoformat())
    folder = cache or out_path.with_name(f"{out_path.name}.parts")
    asking = _Asking(station, service, patience or Patience(), folder)
    chunks: list[_Chunk] = []
    empty, reused = [], 0
    spans = list(_years(start, end))
    for done, (first, last) in enumerate(spans, 1):
        kept = asking.kept(first, last) if today - last > timedelta(_SETTLED_DAYS) else None
        chunk = kept if kept is not None else asking.asked(first, last)
        reused += kept is not None
        chunks.append(chunk)
        if not chunk.rows:
            empty.append(first.year)
        if progress is not None:
            progress(done, len(spans), first.year)
    days = sum(len(each.rows) for each in chunks)
    if not days:
        raise ServiceError(
            "service_nothing",
            host=service.host,
            station=station,
            start=start.isoformat(),
            end=end.isoformat(),
        )
    _write(out_path, _joined(chunks))
    return Fetched(out_path, days, len(spans), reused, tuple(empty))


def _years(start: date, end: date) -> Iterator[tuple[date, date]]:
    for year in range(start.year, end.year + 1):
        yield max(start, date(year, 1, 1)), min(end, date(year, 12, 31))


def _write(path: Path, text: str) -> None:
    try:
        write_whole(path, text)
    except OSError as error:
        raise ServiceError(
            "service_not_written", path=str(path), reason=error.strerror or str(error)
        ) from None


def _joined(chunks: list[_Chunk]) -> str:
    """One table of all chunks, whichever columns each of them has."""
    found = dict.fromkeys(column for chunk in chunks for column in chunk.columns)
    leading = [each for each in _LEADING if each in found]
    columns = leading + [each for each in found if each not in leading]
    made = io.StringIO()
    writer = csv.DictWriter(made, columns, restval="", lineterminator="\n", quoting=csv.QUOTE_ALL)
    writer.writeheader()
    for chunk in chunks:
        writer.writerows(chunk.rows)
    return made.getvalue()


def _read(text: str, station: str, first: date, last: date) -> _Chunk:
    """A chunk's table. Raises _BrokenAnswer for anything but days of this station and span."""
    if not text.strip():
        return _Chunk()
    begins = " ".join(text[:80].split())
    try:
        table = list(csv.reader(io.StringIO(text), strict=True))
    except csv.Error:
        raise _BrokenAnswer(begins) from None
    header, rows = tuple(table[0]), [row for row in table[1:] if row]
    if not {"STATION", "DATE"} <= set(header) or len(set(header)) != len(header):
        raise _BrokenAnswer(begins)
    if not text.endswith("\n") or any(len(row) != len(header) for row in rows):
        raise _BrokenAnswer(" ".join(text[-80:].split()))
    read = tuple(dict(zip(header, row, strict=True)) for row in rows)
    low, high = first.isoformat(), last.isoformat()
    for row in read:
        if row["STATION"] != station or not low <= row["DATE"] <= high:
            raise _BrokenAnswer(f"{row['STATION']} {row['DATE']}")
    return _Chunk(header, read)


class _Asking:
    """Asks a service for one station's chunks, and keeps them."""

    def __init__(self, station: str, service: Service, patience: Patience, folder: Path) -> None:
        self.station, self.service = station, service
        self.patience, self.folder = patience, folder
        self._pool: urllib3.PoolManager | None = None

    def _file(self, first: date, last: date) -> Path:
        name = f"{self.station}-{self.service.units}-{first:%Y%m%d}-{last:%Y%m%d}.csv"
        return self.folder / name

    def kept(self, first: date, last: date) -> _Chunk | None:
        """The chunk as it was kept, or None; one that is not whole is thrown away."""
        path = self._file(first, last)
        try:
            for partial in self.folder.glob(f".{path.name}.*"):  # of a write that was broken off
                partial.unlink(missing_ok=True)
            chunk = _read(path.read_bytes().decode("utf-8"), self.station, first, last)
        except (OSError, UnicodeDecodeError, _BrokenAnswer):
            chunk = _Chunk()
        if chunk.rows:
            return chunk
        with contextlib.suppress(OSError):  # what can't be thrown away is written over, or told
            path.unlink(missing_ok=True)
        return None

    def asked(self, first: date, last: date) -> _Chunk:
        """The chunk as the service answers it. Raises ServiceError."""
        begins = ""
        for attempt in range(self.patience.attempts):
            if attempt:
                wait = self.patience.first_wait_s * 2.0 ** (attempt - 1)
                time.sleep(min(wait, self.patience.longest_wait_s))
            text = self._answer(first, last)
            try:
                chunk = _read(text, self.station, first, last)
            except _BrokenAnswer as error:
                begins = str(error)
                continue
            if chunk.rows:
                _write(self._file(first, last), text)
            return chunk
        raise ServiceError(
            "service_answer_broken",
            host=self.service.host,
            year=first.year,
            text=begins,
            attempts=self.patience.attempts,
            cache=str(self.folder),
        )

    def _answer(self, first: date, last: date) -> str:
        """The body of an answer with status 200. Raises ServiceError for every other."""
        import urllib3

        host, cache = self.service.host, str(self.folder)
        fields = {
            "dataset": self.service.dataset,
            "stations": self.station,
            "startDate": first.isoformat(),
            "endDate": last.isoformat(),
            "dataTypes": ",".join(self.service.elements),
            "units": self.service.units,
            "format": "csv",
            "includeAttributes": "true",
            "includeStationName": "true",
            "includeStationLocation": "1",
        }
        try:
            response = self._connections().request("GET", self.service.address, fields=fields)
        except urllib3.exceptions.MaxRetryError as error:
            reason = _reason(error.reason or error)
            raise ServiceError(
                "service_unreachable", host=host, reason=reason, cache=cache
            ) from None
        except urllib3.exceptions.HTTPError as error:
            raise ServiceError(
                "service_unreachable", host=host, reason=_reason(error), cache=cache
            ) from None
        if response.status in _BUSY:
            raise ServiceError(
                "service_busy",
                host=host,
                status=response.status,
                attempts=self.patience.attempts,
                cache=cache,
            )
        text = response.data.decode("utf-8", errors="replace")
        if response.status != 200:
            raise ServiceError(
                "service_refused", host=host, status=response.status, text=_said(text)
            )
        return text

    def _connections(self) -> urllib3.PoolManager:
        import urllib3

        if self._pool is None:
            patience = self.patience
            retries = urllib3.Retry(
                total=patience.attempts - 1,
                redirect=_REDIRECTS,
                status_forcelist=_BUSY,
                allowed_methods={"GET"},
                backoff_factor=patience.first_wait_s,
                backoff_max=patience.longest_wait_s,
                retry_after_max=patience.longest_retry_after_s,
                raise_on_status=False,
            )
            self._pool = urllib3.PoolManager(
                headers={"User-Agent": f"bedwright/{__version__}", "Accept": "text/csv"},
                timeout=urllib3.Timeout(patience.timeout_s),
                retries=retries,
            )
        return self._pool


def _reason(error: BaseException) -> str:
    return " ".join(str(error).split())[:120] or type(error).__name__


def _said(text: str) -> str:
    """What an answer that is no table says: the message of its JSON, or its beginning."""
    try:
        found = json.loads(text)
    except ValueError:
        found = None
    if isinstance(found, dict) and isinstance(found.get("errorMessage"), str):
        return str(found["errorMessage"])[:200]
    return " ".join(text.split())[:80] or "nothing"

"""A whole garden as one zip: document, files, revisions, journal, photographs, tables as CSV.

The same garden gives the same bytes but for the moment of making in ``manifest.json``. Whoever
looks into it without bedwright finds texts, CSV and pictures. :mod:`taking_in` reads it.
"""

from __future__ import annotations

import hashlib
import json
import zipfile
from collections.abc import Iterator
from datetime import datetime
from typing import IO, Any

from bedwright import __version__
from bedwright.journal.tables import to_csv, to_json
from bedwright.web.document_tables import csv_tables
from bedwright.web.journal_tables import history_rows, journal_rows
from bedwright.web.models import Garden, GardenCalendar, Photograph, Revision
from bedwright.web.photographs import photograph_path

FORMAT = 1
WHAT = "bedwright garden"
MANIFEST = "manifest.json"
_MOMENT = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip knows: the same for every export


def take_out(garden: Garden, stream: IO[bytes], now: datetime) -> None:
    """Write a garden into ``stream`` as a zip. Raises OSError where a photograph is gone."""
    sums: dict[str, str] = {}
    with zipfile.ZipFile(stream, "w", allowZip64=True) as made:
        for name, content in _files(garden):
            sums[name] = hashlib.sha256(content).hexdigest()
            packed = zipfile.ZIP_STORED if name.endswith(".jpg") else zipfile.ZIP_DEFLATED
            made.writestr(_entry(name, packed), content)
        manifest = {
            "what": WHAT,
            "format": FORMAT,
            "made_at": now.isoformat(timespec="seconds"),
            "program": __version__,
            "sha256": sums,
        }
        made.writestr(_entry(MANIFEST, zipfile.ZIP_DEFLATED), _json(manifest))


def _files(garden: Garden) -> Iterator[tuple[str, bytes]]:
    revisions = list(garden.revisions.order_by("pk").select_related("made_by"))
    places = {each.pk: at for at, each in enumerate(revisions, 1)}
    standing = garden.standing
    files = list(garden.files.order_by("name"))
    photographs = Photograph.objects.filter(garden=garden).order_by("digest")
    about = {
        "name": garden.name,
        "invented": garden.invented,
        "made_at": garden.made_at.isoformat(),
        "standing": places[standing.pk] if standing is not None else None,
        "revisions": [_revision(each, places) for each in revisions],
        "files": [{"name": each.name, "made_at": each.made_at.isoformat()} for each in files],
        "photographs": [
            {"digest": each.digest, "width": each.width, "height": each.height,
             "bytes": each.size, "made_at": each.made_at.isoformat()}
            for each in photographs
        ],
    }  # fmt: skip
    calendar = GardenCalendar.objects.filter(garden=garden).exclude(text="").first()
    if calendar is not None:  # its secret address stays here
        about["calendar"] = {"language": calendar.language}
        yield "calendar.ics", calendar.text.encode()
    yield "garden.json", _json(about)
    if standing is not None:
        yield "garden.toml", standing.text.encode()
        for name, text in csv_tables(standing.text).items():
            yield f"tables/{name}.csv", text.encode()
    for each in files:
        yield f"files/{each.name}", bytes(each.content)
    for one in revisions:
        yield f"revisions/{places[one.pk]:05d}.toml", one.text.encode()
    # One database keeps the order of an entry's fields, another does not.
    rows = [_ordered(each) for each in journal_rows(garden)]
    history = [_ordered(each) for each in history_rows(garden)]
    history.sort(key=lambda row: (str(row["entry"]), str(row["at"])))
    yield "journal/entries.json", to_json(rows, history).encode()
    yield "journal/entries.csv", to_csv(rows).encode()
    for photograph in photographs:
        content = photograph_path(photograph.digest).read_bytes()
        yield f"photographs/{photograph.digest}.jpg", content


def _ordered(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _ordered(value[key]) for key in sorted(value)}
    return [_ordered(each) for each in value] if isinstance(value, list) else value


def _revision(each: Revision, places: dict[int, int]) -> dict[str, Any]:
    return {
        "number": each.number,
        "change": each.change,
        "made_at": each.made_at.isoformat(),
        "made_by": each.made_by.get_username() if each.made_by is not None else None,
        "parent": places[each.parent_id] if each.parent_id is not None else None,
    }


def _json(data: object) -> bytes:
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()


def _entry(name: str, packed: int) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _MOMENT)
    entry.compress_type = packed
    entry.external_attr = 0o100644 << 16
    return entry

"""A garden out of the zip that :mod:`taking_out` made: all of it, or nothing with the reason."""

from __future__ import annotations

import hashlib
import io
import json
from datetime import datetime
from pathlib import Path
from typing import IO, Any
from uuid import UUID, uuid4

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.db import transaction
from django.utils.translation import gettext as _

from bedwright.garden import write_whole
from bedwright.journal.tables import from_json
from bedwright.web.archive import Archive, ArchiveError, Most
from bedwright.web.journal_tables import bring_in
from bedwright.web.models import Entry, Garden, Photograph, Revision
from bedwright.web.photographs import photograph_path
from bedwright.web.plain_names import plain_name
from bedwright.web.standing import read, today
from bedwright.web.taking_out import FORMAT, MANIFEST, WHAT
from bedwright.web.users import UserError, check_name

_MOST = Most(files=20_000, total_bytes=1_000_000_000)
_MOST_TEXT, _MOST_FILE, _MOST_PICTURE = 50_000_000, 300_000_000, 25_000_000
_MOST_REVISIONS = 1_000_000
_MOST_NAMES = 200  # people who wrote in one garden

Data = dict[str, Any]


def take_in(stream: IO[bytes]) -> Garden:
    """A new garden from a zip, with its revisions, files, journal and photographs.

    People who are not known here are made without a password, so that their names stay beside
    what they wrote. Where the garden that was taken out is still here, the entries of the
    journal get ids of their own. Raises ArchiveError for a zip that is not taken, GardenError
    for a document with faults, EntryError and TableError for a journal that can't be kept,
    OSError; nothing is kept then.
    """
    written: list[Path] = []
    try:
        with Archive(stream, _MOST) as archive, transaction.atomic():
            return _taken(archive, written)
    except BaseException as fault:
        for each in written:
            each.unlink(missing_ok=True)
        if isinstance(fault, KeyError | TypeError | AttributeError):
            raise ArchiveError(_("what it says of the garden cannot be read")) from None
        raise


def _taken(archive: Archive, written: list[Path]) -> Garden:
    sums = _manifest(archive)
    about: Data = _data(_content(archive, sums, "garden.json", _MOST_TEXT))
    rows, history = from_json(
        _text(_content(archive, sums, "journal/entries.json", _MOST_TEXT), "journal/entries.json")
    )
    people = _people([*about["revisions"], *rows, *history])
    garden = Garden.objects.create(
        name=_short(about["name"], 200), invented=bool(about["invented"])
    )
    for each in about["files"]:
        name = str(each["name"])
        if not plain_name(name):
            raise ArchiveError(_("a file in it bears a name that leads elsewhere"))
        made = garden.files.create(
            name=name, content=_content(archive, sums, f"files/{name}", _MOST_FILE)
        )
        garden.files.filter(pk=made.pk).update(made_at=_moment(each["made_at"]))
    _revisions(garden, about, archive, sums, people)
    for each in about["photographs"]:
        _photograph(garden, each, archive, sums, written)
    bring_in(garden, *_with_own_ids(rows, history))
    if "calendar" in about:
        _calendar(garden, about["calendar"], archive, sums)
    Garden.objects.filter(pk=garden.pk).update(made_at=_moment(about["made_at"]))
    garden.refresh_from_db()
    return garden


def _revisions(
    garden: Garden, about: Data, archive: Archive, sums: dict[str, str], people: dict[str, User]
) -> None:
    made: list[Revision] = []
    told: list[Data] = about["revisions"]
    numbers = [_whole(each["number"], _MOST_REVISIONS) for each in told]
    parents = [_whole(each["parent"], len(told)) for each in told]
    standing = _whole(about["standing"], len(told))
    known = [each for each in numbers if each is not None]
    if standing is None or len(known) != len(set(known)):
        raise KeyError("number")
    for at, (each, number) in enumerate(zip(told, numbers, strict=True), 1):
        name = f"revisions/{at:05d}.toml"
        made.append(
            Revision.objects.create(
                garden=garden,
                number=number,
                text=_text(_content(archive, sums, name, _MOST_TEXT), name),
                change=_short(each["change"], 300),
                made_by=people.get(str(each["made_by"])),
            )
        )
        Revision.objects.filter(pk=made[-1].pk).update(made_at=_moment(each["made_at"]))
    for one, parent in zip(made, parents, strict=True):
        if parent is not None:
            Revision.objects.filter(pk=one.pk).update(parent=made[parent - 1])
    garden.standing = made[standing - 1]
    garden.save()
    read(garden, garden.standing.text, today())


def _photograph(
    garden: Garden, said: Data, archive: Archive, sums: dict[str, str], written: list[Path]
) -> None:
    from PIL import Image, UnidentifiedImageError

    digest = str(said["digest"])
    name = f"photographs/{digest}.jpg"
    content = _content(archive, sums, name, _MOST_PICTURE)
    try:
        path = photograph_path(digest)
        if hashlib.sha256(content).hexdigest() != digest:
            raise ValueError
        with Image.open(io.BytesIO(content), formats=("JPEG",)) as picture:
            width, height = picture.size
    except (ValueError, OSError, SyntaxError, UnidentifiedImageError, Image.DecompressionBombError):
        raise ArchiveError(_("%(name)s in it is damaged") % {"name": name}) from None
    if not path.exists():
        written.append(path)
        write_whole(path, content)
    made = Photograph.objects.create(
        garden=garden, digest=digest, width=width, height=height, size=len(content)
    )
    Photograph.objects.filter(pk=made.pk).update(made_at=_moment(said["made_at"]))


def _calendar(garden: Garden, said: Data, archive: Archive, sums: dict[str, str]) -> None:
    from bedwright.reports.calendar.earlier import CalendarError
    from bedwright.web.calendar import kept

    name = "calendar.ics"
    text = _text(_content(archive, sums, name, _MOST_TEXT), name)
    try:
        kept.bring_in(garden, text, str(said["language"]))
    except CalendarError:
        raise ArchiveError(_("%(name)s in it is damaged") % {"name": name}) from None


def _with_own_ids(rows: list[Data], history: list[Data]) -> tuple[list[Data], list[Data]]:
    """The rows as they are, or with new ids where one of the ids is taken here."""
    try:
        ids = [UUID(str(each["id"])) for each in rows]
    except ValueError:
        raise ArchiveError(_("what it says of the garden cannot be read")) from None
    if not Entry.objects.filter(pk__in=ids).exists():
        return rows, history
    new = {str(each): str(uuid4()) for each in ids}
    changed = [{**each, "id": new[str(UUID(str(each["id"])))]} for each in rows]
    kept = [{**each, "entry": new.get(str(each.get("entry")), "")} for each in history]
    for each in kept:
        before = each.get("before")
        if isinstance(before, dict) and "id" in before:
            each["before"] = {**before, "id": each["entry"]}
    return changed, kept


def _people(rows: list[Data]) -> dict[str, User]:
    """Those who wrote, by name; who is not known here is made, unable to sign in."""
    names = {str(each[key]) for each in rows for key in ("made_by", "by") if each.get(key)}
    if len(names) > _MOST_NAMES:
        raise ArchiveError(_("more people wrote in it than can be true"))
    found: dict[str, User] = {}
    for name in sorted(names):
        known = get_user_model().objects.filter(username=name).first()
        if known is None:
            try:
                check_name(name, also_own=True)
            except UserError:
                raise ArchiveError(_("what it says of the garden cannot be read")) from None
            known = User(username=name, is_active=False)
            known.set_unusable_password()
            known.save()
        found[name] = known
    return found


def _manifest(archive: Archive) -> dict[str, str]:
    data = _data(archive.read(MANIFEST, _MOST_TEXT))
    if data.get("what") != WHAT:
        raise ArchiveError(_("it is no garden that bedwright has taken out"))
    if data.get("format") != FORMAT:
        raise ArchiveError(_("another version of bedwright made it, in a form unknown here"))
    sums = {str(name): str(each) for name, each in data["sha256"].items()}
    if set(archive.names) != {*sums, MANIFEST}:
        raise ArchiveError(_("files were added to it or are missing"))
    return sums


def _content(archive: Archive, sums: dict[str, str], name: str, most: int) -> bytes:
    content = archive.read(name, most)
    if hashlib.sha256(content).hexdigest() != sums[name]:
        raise ArchiveError(_("%(name)s in it is damaged") % {"name": name})
    return content


def _data(content: bytes) -> Data:
    try:
        found = json.loads(content)
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise ArchiveError(_("what it says of the garden cannot be read"))
    return found


def _text(content: bytes, name: str) -> str:
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        raise ArchiveError(_("%(name)s in it is damaged") % {"name": name}) from None


def _short(text: Any, most: int) -> str:
    if not isinstance(text, str) or len(text) > most or "\0" in text:
        raise KeyError("text")
    return text


def _whole(number: Any, most: int) -> int | None:
    if number is None:
        return None
    if not isinstance(number, int) or not 0 < number <= most:
        raise KeyError("number")
    return number


def _moment(text: Any) -> datetime:
    try:
        found = datetime.fromisoformat(str(text))
    except ValueError:
        raise KeyError("moment") from None
    if found.tzinfo is None:
        raise KeyError("moment")
    return found
